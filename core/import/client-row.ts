import type { Client } from '../clients/contract.ts';
import type { Property, Sensor } from '../properties/contract.ts';
import { isRegion, splitAddress, withUnit } from './address.ts';
import { dateOf, lookUp, numberOf, type Planning } from './plan.ts';
import { BACKFLOW_WORDS, CLIENT_KIND_WORDS, PIPE_WORDS, WATER_SUPPLY_WORDS } from './synonyms.ts';
import { isBlank, readEmail, readPhone, readPostcode, readYesNo, said, splitPhones, wordsOf } from './cell-values.ts';
import { toFeet } from '../units.ts';
import { fact } from '../text/say.ts';

// One row of a client list, read into the fields of a client, its property, controller and sensor.

export interface ClientReading extends Pick<
  Client,
  'name' | 'kind' | 'phone' | 'phone2' | 'email' | 'billingAddress' | 'notes' | 'accountNumber'
> {
  /** Pieces of cells that fit no field, kept as notes so that nothing is lost. */
  leftovers: string[];
}

export type PlaceReading = Omit<
  Property,
  'id' | 'clientId' | 'routeId' | 'restrictionId' | 'addressParity' | 'weatherStationId' | 'archived'
> & { route: string };

/** Reads who the client is. */
export function readClient(planning: Planning, place: Pick<PlaceReading, 'street'>): ClientReading {
  const { reader, settings } = planning;
  const leftovers: string[] = [];
  const company = reader.line('companyName');
  const person =
    reader.line('clientName') ||
    [reader.line('firstName'), reader.line('lastName')].filter((part) => part !== '').join(' ');
  const name = company || person;
  if (company !== '' && person !== '' && person !== company) leftovers.push(`Contact: ${person}`);

  const written = [...splitPhones(said(reader.text('phone'))), ...splitPhones(said(reader.text('phone2')))];
  const phones: string[] = [];
  for (const text of written) {
    const reading = readPhone(text, settings.phoneRegion);
    if (reading.warning) reader.warn(reading.warning);
    if (reading.rest !== '') leftovers.push(`Phone as written: ${reading.rest}`);
    if (reading.phone === '' || phones.includes(reading.phone)) continue;
    if (phones.length < 2) phones.push(reading.phone);
    else leftovers.push(`Another phone: ${reading.phone}`);
  }
  const mail = readEmail(said(reader.text('email')));
  if (mail.rest !== '') {
    leftovers.push(`E-mail as written: ${mail.rest}`);
    reader.warn(mail.email === '' ? fact('import.why.unreadMail') : fact('import.why.manyMails'));
  }
  return {
    name,
    kind: readKind(planning, name, company !== ''),
    phone: phones[0] ?? '',
    phone2: phones[1] ?? '',
    email: mail.email,
    billingAddress: said(reader.text('billingAddress')) === place.street ? '' : said(reader.text('billingAddress')),
    notes: said(reader.text('clientNotes')),
    accountNumber: reader.line('accountNumber').replace(/^(\d+)\.0$/, '$1'),
    leftovers,
  };
}

function readKind(planning: Planning, name: string, isCompany: boolean): Client['kind'] {
  const text = planning.reader.line('kind');
  const named = lookUp(wordsOf(text), CLIENT_KIND_WORDS);
  if (named) return named;
  if (text !== '') planning.reader.warn(fact('import.why.kindUnknown', { kind: text.slice(0, 40) }));
  if (/\b(hoa|association|condos?|condominiums?|homeowners|townhomes?)\b/i.test(name)) return 'association';
  return isCompany ||
    /\b(llc|inc|incorporated|corp|ltd|company|church|school|bank|restaurant|dental|clinic|hotel|properties|district|city of|town of)\b/i.test(
      name,
    )
    ? 'business'
    : 'household';
}

/** Reads where the property is and what is known about it. */
export function readPlace(planning: Planning): PlaceReading {
  const { reader, settings } = planning;
  let street = reader.line('street');
  let city = reader.line('city');
  let region = reader.line('region');
  let code = reader.line('postcode');
  const full = reader.text('fullAddress');
  const oneColumn = !isBlank(full)
    ? full
    : !reader.has('city') && !reader.has('postcode') && /[,\n]/.test(reader.text('street'))
      ? reader.text('street')
      : '';
  if (oneColumn !== '' && (street === '' || oneColumn !== full)) {
    const parts = splitAddress(oneColumn);
    street = parts.street;
    city ||= parts.city;
    region ||= parts.region;
    code ||= parts.postcode;
    if (parts.city === '' && city === '') reader.warn(fact('import.why.badAddress'));
  }
  const unit = reader.line('unit');
  if (/^[A-Z]{2}$/i.test(region) && isRegion(region)) region = region.toUpperCase();
  const postcode = readPostcode(code, { phoneRegion: settings.phoneRegion, region });
  if (postcode.warning) reader.warn(postcode.warning);
  const meters = numberOf(reader, 'elevationM');
  const feet = numberOf(reader, 'elevationFt');
  return {
    label: reader.line('propertyLabel'),
    street: withUnit(street, unit),
    city,
    region,
    postcode: postcode.postcode,
    latitudeDeg: numberOf(reader, 'latitudeDeg') ?? null,
    longitudeDeg: numberOf(reader, 'longitudeDeg') ?? null,
    elevationFt: feet ?? (typeof meters === 'number' ? Math.round(toFeet(meters) * 10) / 10 : null),
    timeZone: readTimeZone(planning),
    route: reader.line('route').slice(0, 80),
    accessNotes: said(reader.text('accessNotes')),
    gateCode: reader.line('gateCode'),
    dogNote: readDog(reader.text('dogNote')),
    waterSupply: enumOf(planning, 'waterSupply', WATER_SUPPLY_WORDS, 'unknown'),
    staticPressurePsi: numberOf(reader, 'staticPressurePsi') ?? null,
    pipeMaterial: enumOf(planning, 'pipeMaterial', PIPE_WORDS, 'unknown'),
    backflowKind: enumOf(planning, 'backflowKind', BACKFLOW_WORDS, 'unknown'),
    backflowLocation: reader.line('backflowLocation'),
    backflowSerial: reader.line('backflowSerial'),
    backflowTestDue: dateOf(planning, 'backflowTestDue') ?? null,
    shutoffLocation: reader.line('shutoffLocation'),
    servicesStartUp: serviceOf(planning, 'startUp'),
    servicesWinterization: serviceOf(planning, 'winterize'),
  };
}

/** A bare yes or no is an answer; anything said beyond it ("Yes - bites") is what the technician must read at the gate. */
function readDog(text: string): string {
  const answer = /^[^\s\p{P}]+[.!]?$/u.test(text.trim()) ? readYesNo(text) : undefined;
  return answer === true ? 'Dog' : answer === false || isBlank(text) ? '' : text.replace(/\s*\n\s*/g, ', ');
}

function serviceOf(planning: Planning, field: 'startUp' | 'winterize'): boolean {
  const text = planning.reader.text(field);
  const answer = readYesNo(text);
  if (answer === undefined)
    planning.reader.warn(fact('import.why.neitherYesNo', { column: planning.reader.column(field) }));
  return answer ?? true;
}

const zones = new Map<string, boolean>();
const ZONE_WORDS: Record<string, string> = {
  mountain: 'America/Denver',
  mst: 'America/Denver',
  mdt: 'America/Denver',
  mt: 'America/Denver',
  central: 'America/Chicago',
  cst: 'America/Chicago',
  cdt: 'America/Chicago',
  ct: 'America/Chicago',
  eastern: 'America/New_York',
  est: 'America/New_York',
  edt: 'America/New_York',
  et: 'America/New_York',
  pacific: 'America/Los_Angeles',
  pst: 'America/Los_Angeles',
  pdt: 'America/Los_Angeles',
  pt: 'America/Los_Angeles',
  arizona: 'America/Phoenix',
};

function readTimeZone(planning: Planning): string {
  const text = planning.reader.line('timeZone');
  if (text === '') return planning.settings.timeZone;
  const zone = lookUp(wordsOf(text), ZONE_WORDS) ?? text.replaceAll(' ', '_');
  let known = zones.get(zone);
  if (known === undefined) {
    try {
      new Intl.DateTimeFormat('en', { timeZone: zone });
      known = /^[A-Za-z]/.test(zone);
    } catch {
      known = false;
    }
    if (zones.size < 1000) zones.set(zone, known);
  }
  if (known) return zone;
  planning.reader.warn(fact('import.why.zoneUnknown', { zone: text.slice(0, 40) }));
  return planning.settings.timeZone;
}

/** A word from a fixed list; one that is not known is told and left at its default. */
export function enumOf<T, const D>(
  planning: Planning,
  field: string,
  table: Readonly<Record<string, T>>,
  otherwise: D,
): T | D {
  const text = planning.reader.text(field);
  if (text === '') return otherwise;
  const found = lookUp(wordsOf(text), table);
  if (found !== undefined) return found;
  if (!isBlank(text))
    planning.reader.warn(
      fact('import.why.wordUnknown', {
        word: text.slice(0, 40),
        column: planning.reader.column(field),
        left: String(otherwise),
      }),
    );
  return otherwise;
}

export interface ExtrasReading {
  controller: { name: string; location: string; stationCount: number } | null;
  sensor: Pick<Sensor, 'senses' | 'link' | 'model' | 'batteryType' | 'batteryCells' | 'batteryDate'> | null;
}

/** Reads the controller and the sensor a row may name. */
export function readControllerAndSensor(planning: Planning): ExtrasReading {
  const { reader } = planning;
  const name = reader.line('controllerName');
  const location = reader.line('controllerLocation');
  const count = numberOf(reader, 'zoneCount');
  if (typeof count === 'number' && (!Number.isInteger(count) || count < 0 || count > 99))
    reader.problem('zoneCount', fact('import.why.zoneCount'));
  const controller =
    name !== '' || location !== '' || typeof count === 'number'
      ? {
          name: name || 'Controller',
          location,
          stationCount: typeof count === 'number' && Number.isInteger(count) && count <= 99 && count >= 0 ? count : 8,
        }
      : null;
  if (controller && controller.stationCount === 0) return { controller: null, sensor: readSensor(planning) };
  return { controller, sensor: readSensor(planning) };
}

function readSensor(planning: Planning): ExtrasReading['sensor'] {
  const { reader } = planning;
  const text = reader.text('sensor').replace(/\s*\n\s*/g, ', ');
  const answer = readYesNo(text);
  const batteryType = reader.line('batteryType');
  const batteryDate = dateOf(planning, 'batteryDate') ?? null;
  const battery = batteryType !== '' || batteryDate !== null;
  if (answer === false) {
    if (battery) reader.warn(fact('import.why.batteryNoSensor'));
    return null;
  }
  if (isBlank(text) && !battery) return null;
  const words = ` ${wordsOf(text)} `;
  const rain = words.includes(' rain ');
  const freeze = / (freeze|frost|temp|temperature) /.test(words);
  const wired = / (wired|hardwired) /.test(words);
  const bare =
    answer === true || isBlank(text) || /^(rain|freeze|and|sensor|wired|wireless|rain freeze| )+$/.test(words);
  return {
    senses: rain && !freeze ? 'rain' : freeze && !rain ? 'freeze' : 'rain-and-freeze',
    link: wired && !battery ? 'wired' : 'wireless',
    model: bare ? '' : text,
    batteryType,
    batteryCells: wired && !battery ? 0 : 1,
    batteryDate,
  };
}
