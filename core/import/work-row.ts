import type { z } from 'zod';
import { ledgerDetailSchema, type LedgerDetail, type LedgerKind } from '../ledger/entry-contract.ts';
import { fold } from '../store/search-text.ts';
import { dateOf, lookUp, numberOf, type Planning } from './plan.ts';
import { reasonOf } from '../contract/reason-of.ts';
import { RESULT_WORDS, WORK_WORDS } from './synonyms.ts';
import { said, wordsOf } from './cell-values.ts';
import { LITERS_PER_GALLON } from '../units.ts';
import { fact } from '../text/say.ts';

export interface SensorRef {
  id: string;
  model: string;
  location: string;
  batteryType: string;
  batteryCells: number;
}

export interface WorkReading {
  detail: LedgerDetail;
  note: string;
}

type DetailInput = z.input<typeof ledgerDetailSchema>;

const CCF_GALLONS = 748.0519;
const M3_GALLONS = 1000 / LITERS_PER_GALLON;

/** What one row says was done. `sensors` are those of its property; null where the property was not found. */
export function readWork(planning: Planning, sensors: readonly SensorRef[] | null): WorkReading[] {
  const { reader } = planning;
  const written = reader.line('kind');
  if (written === '') {
    reader.problem('kind', fact('import.why.noKind'), '');
    return [];
  }
  let note = said(reader.text('note'));
  let kind: LedgerKind | undefined = lookUp(wordsOf(written), WORK_WORDS);
  if (kind === undefined) {
    reader.warn(fact('import.why.workUnknown', { kind: written.slice(0, 60) }));
    kind = 'note';
    note = [written, note].filter((part) => part !== '').join(': ');
  }
  const readings: WorkReading[] = [];
  const result = readResult(planning, note);
  const pressure = numberOf(reader, 'pressurePsi') ?? null;
  const zones = numberOf(reader, 'zonesCount') ?? null;
  const part = reader.line('part');
  const quantity = numberOf(reader, 'quantity');
  const gallons = readMeter(planning);
  const nextDue = dateOf(planning, 'nextDue') ?? null;
  const put = (input: DetailInput, text: string): void => {
    const parsed = ledgerDetailSchema.safeParse(input);
    if (parsed.success) readings.push({ detail: parsed.data, note: text });
    else
      for (const issue of parsed.error.issues)
        reader.problem(detailField(input.kind, String(issue.path[0] ?? '')), reasonOf(issue));
  };

  switch (kind) {
    case 'battery-swap':
    case 'sensor-check': {
      if (sensors === null) break;
      const sensor = pickSensor(planning, sensors, kind);
      if (!sensor) break;
      if (kind === 'battery-swap')
        put(
          {
            kind,
            sensorId: sensor.id,
            batteryType: reader.line('batteryType') || sensor.batteryType,
            cells: numberOf(reader, 'batteryCells') ?? Math.max(1, sensor.batteryCells),
          },
          note,
        );
      else
        put({ kind, sensorId: sensor.id, rainTrip: result === null ? 'not-tested' : result ? 'pass' : 'fail' }, note);
      break;
    }
    case 'start-up':
      put({ kind, staticPressurePsi: pressure, zonesRun: zones }, note);
      break;
    case 'winterization':
      put(
        {
          kind,
          method: /\b(drain|drained|gravity)\b/i.test(written) ? 'gravity-drain' : 'compressed-air',
          airPressurePsi: pressure,
          zonesBlown: zones,
        },
        note,
      );
      break;
    case 'repair': {
      const what = note === '' ? written : note;
      put(
        { kind, what: what.replace(/\s*\n\s*/g, '; ').slice(0, 300) },
        what.length > 300 || what.includes('\n') ? what : '',
      );
      break;
    }
    case 'part-used':
      if (part === '' && note === '') reader.problem('part', fact('import.why.noPart'), '');
      else if (quantity !== undefined)
        put(
          {
            kind,
            part: part || note.replace(/\s*\n\s*/g, '; ').slice(0, 160),
            quantity: quantity ?? 1,
            unitPriceCents: readCents(planning),
          },
          part === '' ? '' : note,
        );
      break;
    case 'meter-read':
      if (gallons === null)
        reader.problem(reader.has('meterGallons') ? 'meterGallons' : 'kind', fact('import.why.noReading'), '');
      else if (gallons !== undefined) put({ kind, readingGallons: gallons }, note);
      break;
    case 'backflow-test':
      if (result !== null) put({ kind, passed: result, nextDue }, note);
      else {
        reader.warn(fact('import.why.testNoResult'));
        put({ kind: 'note', text: [written, note].filter((text) => text !== '').join(': ') }, '');
      }
      break;
    case 'walk-through':
      put({ kind, topics: '' }, note);
      break;
    default:
      put({ kind: 'note', text: note === '' ? written : note }, '');
  }
  // A part or a meter reading named beside other work is an entry of its own.
  if (part !== '' && kind !== 'part-used' && quantity !== undefined)
    put({ kind: 'part-used', part, quantity: quantity ?? 1, unitPriceCents: readCents(planning) }, '');
  if (typeof gallons === 'number' && kind !== 'meter-read') put({ kind: 'meter-read', readingGallons: gallons }, '');
  return readings;
}

function detailField(kind: LedgerKind, key: string): string {
  const fields: Record<string, string> = {
    airPressurePsi: 'pressurePsi',
    staticPressurePsi: 'pressurePsi',
    zonesBlown: 'zonesCount',
    zonesRun: 'zonesCount',
    cells: 'batteryCells',
    batteryType: 'batteryType',
    part: 'part',
    quantity: 'quantity',
    unitPriceCents: 'unitPrice',
    readingGallons: 'meterGallons',
    nextDue: 'nextDue',
    text: 'note',
  };
  return fields[key] ?? (kind === 'repair' ? 'note' : 'kind');
}

/** Which sensor was meant: the only one, or the one whose model or place the row names. */
function pickSensor(planning: Planning, sensors: readonly SensorRef[], kind: LedgerKind): SensorRef | null {
  const { reader } = planning;
  const asked = fold(reader.line('sensor'));
  if (sensors.length === 0) {
    reader.problem('kind', fact('import.why.noSensorFor', { swap: kind === 'battery-swap' }));
    return null;
  }
  if (sensors.length === 1) return sensors[0]!;
  const named =
    asked === ''
      ? []
      : sensors.filter((sensor) =>
          [sensor.model, sensor.location].some(
            (text) => text !== '' && (fold(text).includes(asked) || asked.includes(fold(text))),
          ),
        );
  if (named.length === 1) return named[0]!;
  reader.problem(reader.has('sensor') ? 'sensor' : 'kind', fact('import.why.manySensors', { count: sensors.length }));
  return null;
}

/** pass, fail or (null) not said: from its own column, else from plain words of the note. */
function readResult(planning: Planning, note: string): boolean | null {
  const written = planning.reader.text('result');
  const own = lookUp(wordsOf(written), RESULT_WORDS);
  if (own !== undefined) return own;
  if (written !== '') return null;
  if (/\b(fail|failed|did not pass|not pass)\b/i.test(note)) return false;
  return /\b(pass|passed)\b/i.test(note) ? true : null;
}

function readMeter(planning: Planning): number | null | undefined {
  const { reader } = planning;
  for (const [field, gallons] of [
    ['meterGallons', 1],
    ['meterCcf', CCF_GALLONS],
    ['meterM3', M3_GALLONS],
  ] as const) {
    const reading = numberOf(reader, field);
    if (reading === undefined) return undefined;
    if (reading !== null) return gallons === 1 ? reading : Math.round(reading * gallons * 10) / 10;
  }
  return null;
}

function readCents(planning: Planning): number | null {
  const price = numberOf(planning.reader, 'unitPrice');
  return price === null || price === undefined ? null : Math.round(price * 100);
}
