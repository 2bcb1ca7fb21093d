import type { Property, Controller, EditedField, Zone, Sensor } from './contract.ts';
import { mergeEdit, TOGETHER } from './merge.ts';
import { BookError } from '../errors.ts';
import { toEntity, type Db, toRow, newSensorBase, newZoneBase } from '../store/tables.ts';
import { fact } from '../text/say.ts';
import type { Restriction } from '../settings/contract.ts';
import type { Route } from '../people/contract.ts';
import type { ParsedInputOf } from '../contract/index.ts';
import { nextVersion, mustExist } from '../store/rows.ts';
import { latestOfKind, project } from '../ledger/index.ts';
import { propertySearchText } from '../store/search-text.ts';

export async function readProperty(db: Db, propertyId: string): Promise<{ property: Property; version: number }> {
  const row = await db.selectFrom('property').selectAll().where('id', '=', propertyId).executeTakeFirst();
  if (!row) throw new BookError('not-found', fact('errors.noProperty'), 'propertyId');
  const version = row.version;
  return { property: toEntity<Property>('property', row), version };
}

export async function readControllers(db: Db, propertyId: string): Promise<Controller[]> {
  const rows = await db
    .selectFrom('controller')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .orderBy('retired')
    .orderBy('name')
    .orderBy('id')
    .execute();
  return rows.map((row) => toEntity<Controller>('controller', row));
}

/** Zones in controller and station order, retired ones last. */
export async function readZones(db: Db, propertyId: string): Promise<Zone[]> {
  const rows = await db
    .selectFrom('zone')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .orderBy('retired')
    .orderBy('controllerId')
    .orderBy('station')
    .orderBy('id')
    .execute();
  return rows.map((row) => toEntity<Zone>('zone', row));
}

export async function readSensors(db: Db, propertyId: string): Promise<Sensor[]> {
  const rows = await db
    .selectFrom('sensor')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .orderBy('retired')
    .orderBy('id')
    .execute();
  return rows.map((row) => toEntity<Sensor>('sensor', row));
}

export async function readRestriction(db: Db, id: string | null): Promise<Restriction | null> {
  if (id === null) return null;
  const row = await db.selectFrom('restriction').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toEntity<Restriction>('restriction', row) : null;
}

export async function readRoute(db: Db, id: string | null): Promise<Route | null> {
  if (id === null) return null;
  return (await db.selectFrom('route').selectAll().where('id', '=', id).executeTakeFirst()) ?? null;
}

export async function readSiblings(
  db: Db,
  clientId: string,
  exceptPropertyId: string,
): Promise<{ id: string; street: string; label: string }[]> {
  return db
    .selectFrom('property')
    .select(['id', 'street', 'label'])
    .where('clientId', '=', clientId)
    .where('id', '!=', exceptPropertyId)
    .where('archived', '=', 0)
    .orderBy('street')
    .execute();
}

/**
 * What a form says, over what the book holds now: everything it left as it was shown is as it is now. Without what it showed,
 * or with something that it did not show, all of it is the form's, and its version must be the book's.
 */
async function overPresent(
  db: Db,
  input: ParsedInputOf<'property.save'>,
): Promise<Pick<ParsedInputOf<'property.save'>, 'property' | 'controllers' | 'zones' | 'sensors' | 'version'>> {
  const { opened } = input;
  const row = await db.selectFrom('property').selectAll().where('id', '=', input.property.id).executeTakeFirst();
  if (opened === undefined || !row || opened.property.id !== row.id) return input;
  const { version } = row;
  let allShown = true;
  const merged = <T extends { id: string }>(
    table: 'property' | 'controller' | 'zone' | 'sensor',
    sent: T,
    present: T | null,
    shown: readonly T[],
    place: string,
  ): T => {
    if (present === null) return sent;
    const before = shown.find((one) => one.id === sent.id);
    if (before === undefined) {
      allShown = false;
      return sent;
    }
    const result = mergeEdit(before, sent, present, TOGETHER[table]);
    if (result.merged !== null) return result.merged;
    throw new BookError(
      'stale',
      fact('errors.changedField', { field: result.clash as EditedField }),
      `${place}.${result.clash}`,
    );
  };
  const parts = async <T extends { id: string }>(
    table: 'controller' | 'zone' | 'sensor',
    sent: readonly T[],
    shown: readonly T[],
  ) => {
    const rows = await db
      .selectFrom(table as 'zone')
      .selectAll()
      .where('id', 'in', sent.length > 0 ? sent.map((one) => one.id) : [''])
      .execute();
    const present = new Map(rows.map((one) => [one.id, toEntity<T>(table, one)]));
    return sent.map((one, index) => merged(table, one, present.get(one.id) ?? null, shown, `${table}s.${index}`));
  };
  const all = {
    property: merged('property', input.property, toEntity<Property>('property', row), [opened.property], 'property'),
    controllers: await parts('controller', input.controllers, opened.controllers),
    zones: await parts('zone', input.zones, opened.zones),
    sensors: await parts('sensor', input.sensors, opened.sensors),
  };
  return allShown ? { ...all, version } : input;
}

/** Saves a property with any of its parts; every part must belong to it, and no two live zones may share a station. */
export async function saveProperty(db: Db, given: ParsedInputOf<'property.save'>, today: string): Promise<number> {
  const input = await overPresent(db, given);
  const { property } = input;
  await mustExist(db, 'client', property.clientId, 'property.clientId', 'client');
  if (property.routeId) await mustExist(db, 'route', property.routeId, 'property.routeId', 'route');
  if (property.restrictionId)
    await mustExist(db, 'restriction', property.restrictionId, 'property.restrictionId', 'watering restriction');
  if (property.weatherStationId)
    await mustExist(db, 'weatherStation', property.weatherStationId, 'property.weatherStationId', 'weather station');

  const present = await db
    .selectFrom('property')
    .select(['version', 'backflowTestDue', 'baseBackflowTestDue'])
    .where('id', '=', property.id)
    .executeTakeFirst();
  const version = nextVersion(present?.version, input.version, 'property');
  // The ledger decides when a test is due; the form only moves the base it starts from, and only when it was changed.
  const base =
    present && present.backflowTestDue === property.backflowTestDue
      ? present.baseBackflowTestDue
      : property.backflowTestDue;
  const row: any = {
    ...toRow('property', property),
    version,
    baseBackflowTestDue: base,
    searchText: propertySearchText(property),
  };
  if (present) await db.updateTable('property').set(row).where('id', '=', property.id).execute();
  else await db.insertInto('property').values(row).execute();
  if (present) {
    await project(db, [{ thing: 'backflow', id: property.id }]);
    if (present.backflowTestDue !== property.backflowTestDue)
      await refuseOlderTest(db, property.id, property.backflowTestDue);
  }

  for (const [index, controller] of input.controllers.entries()) {
    belongs(controller.propertyId, property.id, `controllers.${index}.propertyId`);
    await saveController(db, controller, property.id, `controllers.${index}.id`);
  }
  await saveZones(db, property.id, input.zones, today);
  for (const [index, sensor] of input.sensors.entries()) {
    belongs(sensor.propertyId, property.id, `sensors.${index}.propertyId`);
    await saveSensor(db, sensor, today, `sensors.${index}`);
  }
  return version;
}

async function saveZones(db: Db, propertyId: string, zones: readonly Zone[], today: string): Promise<void> {
  for (const [index, zone] of zones.entries()) {
    belongs(zone.propertyId, propertyId, `zones.${index}.propertyId`);
    const owner = await db
      .selectFrom('controller')
      .select(['propertyId', 'stationCount', 'name'])
      .where('id', '=', zone.controllerId)
      .executeTakeFirst();
    if (owner?.propertyId !== propertyId)
      throw new BookError('bad-input', fact('errors.zoneController'), `zones.${index}.controllerId`);
    if (!zone.retired && zone.station > owner.stationCount)
      throw new BookError(
        'bad-input',
        fact('errors.stationMissing', { controller: owner.name, stations: owner.stationCount, station: zone.station }),
        `zones.${index}.station`,
      );
  }
  await makeRoom(db, propertyId, zones);
  for (const [index, zone] of zones.entries()) await saveZone(db, zone, today, `zones.${index}.id`);
}

/**
 * Refuses two zones in use on one station, then takes those that move off theirs: of two that exchange their stations, or of
 * one that is retired for another, the book would else see both on one for a moment, and refuse.
 */
async function makeRoom(db: Db, propertyId: string, zones: readonly Zone[]): Promise<void> {
  const present = await db
    .selectFrom('zone')
    .select(['id', 'controllerId', 'station'])
    .where('propertyId', '=', propertyId)
    .where('retired', '=', 0)
    .execute();
  const place = ({ controllerId, station }: Pick<Zone, 'controllerId' | 'station'>) => `${controllerId} ${station}`;
  const sent = new Map(zones.map((zone) => [zone.id, zone]));
  const taken = new Set(present.filter((zone) => !sent.has(zone.id)).map(place));
  for (const [index, zone] of zones.entries()) {
    if (zone.retired) continue;
    if (taken.has(place(zone)))
      throw new BookError(
        'bad-input',
        fact('errors.stationTwice', { station: zone.station }),
        `zones.${index}.station`,
      );
    taken.add(place(zone));
  }
  for (const [index, zone] of present.entries()) {
    const next = sent.get(zone.id);
    if (next === undefined || (!next.retired && place(next) === place(zone))) continue;
    await db
      .updateTable('zone')
      .set({ station: -1 - index })
      .where('id', '=', zone.id)
      .execute();
  }
}

/** The day and place of what the office says now. */
async function saidNow(db: Db, today: string): Promise<{ on: string; place: number }> {
  const { links } = await db.selectFrom('ledgerChain').select('links').executeTakeFirstOrThrow();
  return { on: today, place: links };
}

/** Saves a sensor. A battery date or set point that the form left as it was shown stays the ledger's; one that it changed is the office's word from now on. */
async function saveSensor(db: Db, sensor: Sensor, today: string, field: string): Promise<void> {
  const present = await db
    .selectFrom('sensor')
    .select(['propertyId', 'batteryDate', 'rainSetPointInches', 'freezeSetPointF'])
    .where('id', '=', sensor.id)
    .executeTakeFirst();
  if (present && present.propertyId !== sensor.propertyId)
    throw new BookError('bad-input', fact('errors.sensorElsewhere'), `${field}.id`);
  if (sensor.controllerId) {
    const owner = await db
      .selectFrom('controller')
      .select('propertyId')
      .where('id', '=', sensor.controllerId)
      .executeTakeFirst();
    if (owner?.propertyId !== sensor.propertyId)
      throw new BookError('bad-input', fact('errors.sensorController'), `${field}.controllerId`);
  }
  // What follows from the ledger is worked out below, whatever the form sent.
  const {
    lastCheckDate: _date,
    lastCheckPassed: _passed,
    lastSignal: _signal,
    cellsGood: _cells,
    batteryDate,
    rainSetPointInches: rain,
    freezeSetPointF: freeze,
    ...own
  } = sensor;
  if (!present) {
    const row: any = { ...toRow('sensor', sensor), ...newSensorBase(sensor) };
    await db.insertInto('sensor').values(row).execute();
  } else {
    const { on, place } = await saidNow(db, today);
    const row: any = {
      ...toRow('sensor', own),
      ...(present.batteryDate === batteryDate ? {} : { baseBatteryDate: batteryDate }),
      ...(present.rainSetPointInches === rain
        ? {}
        : { baseRainSetPointInches: rain, baseRainSetPointOn: on, baseRainSetPointPlace: place }),
      ...(present.freezeSetPointF === freeze
        ? {}
        : { baseFreezeSetPointF: freeze, baseFreezeSetPointOn: on, baseFreezeSetPointPlace: place }),
    };
    await db.updateTable('sensor').set(row).where('id', '=', sensor.id).execute();
  }
  await project(db, [{ thing: 'sensor', id: sensor.id }]);
  if (present && present.batteryDate !== batteryDate)
    await refuseOlderBattery(db, sensor.id, batteryDate, `${field}.batteryDate`);
}

/** A date that the form changed must be what is shown then; where the ledger holds a later one it is not, and that is said. */
async function refuseOlderBattery(db: Db, sensorId: string, typed: string | null, field: string): Promise<void> {
  const { batteryDate } = await db
    .selectFrom('sensor')
    .select('batteryDate')
    .where('id', '=', sensorId)
    .executeTakeFirstOrThrow();
  if (batteryDate === typed) return;
  const swap = (await latestOfKind(db, 'battery-swap', { sensorId }))!;
  throw new BookError(
    'conflict',
    fact('errors.olderBattery', { date: swap.doneOn, who: swap.technicianName, typed }),
    field,
  );
}

/** The same of the day by which the backflow assembly must be tested. */
async function refuseOlderTest(db: Db, propertyId: string, typed: string | null): Promise<void> {
  const { backflowTestDue } = await db
    .selectFrom('property')
    .select('backflowTestDue')
    .where('id', '=', propertyId)
    .executeTakeFirstOrThrow();
  if (backflowTestDue === typed) return;
  const test = (await latestOfKind(db, 'backflow-test', { propertyId }))!;
  const said = { date: test.doneOn, who: test.technicianName, due: backflowTestDue! };
  throw new BookError(
    'conflict',
    test.detail.passed ? fact('errors.olderTest', { ...said, typed }) : fact('errors.failedTest', said),
    'property.backflowTestDue',
  );
}

/** Saves a zone. A rate that the form left as it was shown stays the ledger's; one that it changed is the office's word from now on. */
async function saveZone(db: Db, zone: Zone, today: string, field: string): Promise<void> {
  const present = await db
    .selectFrom('zone')
    .select(['propertyId', 'prMethod', 'precipitationRateInPerHour', 'distributionUniformity'])
    .where('id', '=', zone.id)
    .executeTakeFirst();
  if (present && present.propertyId !== zone.propertyId)
    throw new BookError('bad-input', fact('errors.zoneElsewhere'), field);
  const row: any = toRow('zone', zone);
  const base = newZoneBase(zone);
  if (!present) {
    await db
      .insertInto('zone')
      .values({ ...row, ...base })
      .execute();
    return;
  }
  const isAsShown =
    present.prMethod === zone.prMethod &&
    present.precipitationRateInPerHour === zone.precipitationRateInPerHour &&
    present.distributionUniformity === zone.distributionUniformity;
  if (!isAsShown) {
    const { on, place } = await saidNow(db, today);
    Object.assign(row, base, { baseRateOn: on, baseRatePlace: place });
  }
  await db.updateTable('zone').set(row).where('id', '=', zone.id).execute();
  if (!isAsShown) await project(db, [{ thing: 'zone', id: zone.id }]);
}

async function saveController(db: Db, controller: Controller, propertyId: string, field: string): Promise<void> {
  const present = await db
    .selectFrom('controller')
    .select('propertyId')
    .where('id', '=', controller.id)
    .executeTakeFirst();
  if (present && present.propertyId !== propertyId)
    throw new BookError('bad-input', fact('errors.controllerElsewhere'), field);
  const row: any = toRow('controller', controller);
  if (present) await db.updateTable('controller').set(row).where('id', '=', controller.id).execute();
  else await db.insertInto('controller').values(row).execute();
}

function belongs(given: string, propertyId: string, field: string): void {
  if (given !== propertyId) throw new BookError('bad-input', fact('errors.partsId'), field);
}

export interface StopFacts {
  clientName: string;
  phone: string;
  street: string;
  city: string;
  label: string;
  gateCode: string;
  dogNote: string;
  accessNotes: string;
  shutoffLocation: string;
  waterSupply: string;
  backflowKind: string;
  backflowLocation: string;
  zoneCount: number;
  sensorCount: number;
}

/** What is needed at the gate of each of these properties. */
export async function stopFacts(db: Db, propertyIds: readonly string[]): Promise<Map<string, StopFacts>> {
  if (propertyIds.length === 0) return new Map();
  const rows = await db
    .selectFrom('property as p')
    .innerJoin('client as c', 'c.id', 'p.clientId')
    .select([
      'p.id',
      'c.name as clientName',
      'c.phone',
      'p.street',
      'p.city',
      'p.label',
      'p.gateCode',
      'p.dogNote',
      'p.accessNotes',
      'p.shutoffLocation',
      'p.waterSupply',
      'p.backflowKind',
      'p.backflowLocation',
    ])
    .select((eb) => [
      eb
        .selectFrom('zone as z')
        .select((inner) => inner.fn.countAll<number>().as('n'))
        .whereRef('z.propertyId', '=', 'p.id')
        .where('z.retired', '=', 0)
        .as('zoneCount'),
      eb
        .selectFrom('sensor as s')
        .select((inner) => inner.fn.countAll<number>().as('n'))
        .whereRef('s.propertyId', '=', 'p.id')
        .where('s.retired', '=', 0)
        .as('sensorCount'),
    ])
    .where('p.id', 'in', [...propertyIds])
    .execute();
  return new Map(
    rows.map(({ id, zoneCount, sensorCount, ...facts }) => [
      id,
      { ...facts, zoneCount: Number(zoneCount), sensorCount: Number(sensorCount) },
    ]),
  );
}

export async function readController(db: Db, id: string): Promise<Controller | null> {
  const row = await db.selectFrom('controller').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toEntity<Controller>('controller', row) : null;
}
