import { sql } from 'kysely';
import type { LedgerDetail } from './entry-contract.ts';
import {
  IN_FORM,
  kindsAbout,
  Recount,
  THINGS,
  type SensorBase,
  type Target,
  type Thing,
  type ZoneBase,
} from './effects.ts';
import type { BookTables, Db } from '../store/tables.ts';
import { toRow } from '../store/tables.ts';
import { isStanding } from './standing-queries.ts';

// Columns that the ledger decides are worked out again here, always from the ledger itself and by the one table of
// effects, so that recording, correcting and importing cannot disagree.

/** Works out again what the ledger decides about these. */
export async function project(db: Db, targets: Iterable<Target>): Promise<void> {
  const ids = new Map<Thing, Set<string>>();
  for (const { thing, id } of targets) {
    const known = ids.get(thing);
    if (known) known.add(id);
    else ids.set(thing, new Set([id]));
  }
  for (const [thing, some] of ids) await BRING[thing](db, [...some]);
}

/**
 * Works out again what work decides, recorded, corrected or imported. Where the office's form shows that too, the property
 * has a new version: a form that was opened before shows what is no longer so, and saving it would pass for the office's word.
 */
export async function projectWork(db: Db, targets: readonly Target[]): Promise<void> {
  await project(db, targets);
  const ids = (of: Thing) => targets.flatMap(({ thing, id }) => (IN_FORM[thing] && thing === of ? [id] : []));
  const [sensors, zones, properties] = [ids('sensor'), ids('zone'), ids('backflow')];
  if (sensors.length + zones.length + properties.length === 0) return;
  await db
    .updateTable('property')
    .set((eb) => ({ version: eb('version', '+', 1) }))
    .where((eb) =>
      eb.or([
        eb('id', 'in', properties),
        eb('id', 'in', eb.selectFrom('sensor').select('propertyId').where('id', 'in', sensors)),
        eb('id', 'in', eb.selectFrom('zone').select('propertyId').where('id', 'in', zones)),
      ]),
    )
    .execute();
}

const BRING: Record<Thing, (db: Db, ids: readonly string[]) => Promise<void>> = {
  sensor: bringSensors,
  zone: bringZones,
  backflow: bringBackflow,
  seasons: bringSeasons,
  findings: bringFindings,
};

const FILED_UNDER: Record<Thing, 'sensorId' | 'zoneId' | 'propertyId'> = {
  sensor: 'sensorId',
  zone: 'zoneId',
  backflow: 'propertyId',
  seasons: 'propertyId',
  findings: 'propertyId',
};

/** What the entries that stand say about these. */
async function recount(db: Db, thing: Thing, ids: readonly string[]): Promise<Recount> {
  let query = db
    .selectFrom('ledgerEntry as e')
    .select(['e.id', 'e.propertyId', 'e.bookPlace', 'e.doneOn', 'e.detail'])
    .where(`e.${FILED_UNDER[thing]}`, 'in', [...ids])
    .where('e.kind', 'in', kindsAbout(thing))
    .where(isStanding);
  const firstIds = thing === 'findings' ? await firstIdsOf(db, ids) : null;
  // Of the many repairs only those that name a finding say something about one.
  if (thing === 'findings')
    query = query.where((eb) =>
      eb.or([eb('e.kind', '=', 'finding'), sql<boolean>`json_extract(e.detail, '$.closesFindingId') IS NOT NULL`]),
    );
  const counted = new Recount();
  for (const { id, propertyId, bookPlace, doneOn, detail } of await query.execute())
    counted.take({
      id,
      firstId: firstIds?.get(id) ?? id,
      propertyId,
      place: bookPlace,
      doneOn,
      detail: JSON.parse(detail) as LedgerDetail,
    });
  return counted;
}

/** Every version of these properties' findings → the first one. */
async function firstIdsOf(db: Db, propertyIds: readonly string[]): Promise<Map<string, string>> {
  const rows = await db
    .selectFrom('ledgerEntry')
    .select(['id', 'correctsId'])
    .where('propertyId', 'in', [...propertyIds])
    .where('kind', '=', 'finding')
    .orderBy('bookPlace')
    .execute();
  const firstIds = new Map<string, string>();
  for (const { id, correctsId } of rows) firstIds.set(id, (correctsId && firstIds.get(correctsId)) ?? id);
  return firstIds;
}

/** What the office said of a sensor, as its row keeps it. */
export const sensorBaseOf = (row: SensorBaseColumns): SensorBase => ({
  batteryDate: row.baseBatteryDate,
  rain: { value: row.baseRainSetPointInches, on: row.baseRainSetPointOn, place: row.baseRainSetPointPlace },
  freeze: { value: row.baseFreezeSetPointF, on: row.baseFreezeSetPointOn, place: row.baseFreezeSetPointPlace },
});
/** What the office said of a zone's rate, as its row keeps it. */
export const zoneBaseOf = (row: ZoneBaseColumns): ZoneBase => ({
  rate: {
    prMethod: row.basePrMethod,
    precipitationRateInPerHour: row.basePrecipitationRateInPerHour,
    distributionUniformity: row.baseDistributionUniformity,
  },
  on: row.baseRateOn,
  place: row.baseRatePlace,
});

export const SENSOR_BASE = [
  'baseBatteryDate',
  'baseRainSetPointInches',
  'baseRainSetPointOn',
  'baseRainSetPointPlace',
  'baseFreezeSetPointF',
  'baseFreezeSetPointOn',
  'baseFreezeSetPointPlace',
] as const;
export const ZONE_BASE = [
  'basePrMethod',
  'basePrecipitationRateInPerHour',
  'baseDistributionUniformity',
  'baseRateOn',
  'baseRatePlace',
] as const;
export type SensorBaseColumns = Pick<BookTables['sensor'], (typeof SENSOR_BASE)[number]>;
export type ZoneBaseColumns = Pick<BookTables['zone'], (typeof ZONE_BASE)[number]>;

async function bringSensors(db: Db, ids: readonly string[]): Promise<void> {
  const counted = await recount(db, 'sensor', ids);
  const sensors = await db
    .selectFrom('sensor')
    .select(['id', ...SENSOR_BASE])
    .where('id', 'in', [...ids])
    .execute();
  for (const sensor of sensors)
    await db
      .updateTable('sensor')
      .set(toRow('sensor', counted.sensor(sensor.id, sensorBaseOf(sensor))))
      .where('id', '=', sensor.id)
      .execute();
}

async function bringZones(db: Db, ids: readonly string[]): Promise<void> {
  const counted = await recount(db, 'zone', ids);
  const zones = await db
    .selectFrom('zone')
    .select(['id', ...ZONE_BASE])
    .where('id', 'in', [...ids])
    .execute();
  for (const zone of zones)
    await db
      .updateTable('zone')
      .set(toRow('zone', counted.zone(zone.id, zoneBaseOf(zone))))
      .where('id', '=', zone.id)
      .execute();
}

async function bringBackflow(db: Db, propertyIds: readonly string[]): Promise<void> {
  const counted = await recount(db, 'backflow', propertyIds);
  const properties = await db
    .selectFrom('property')
    .select(['id', 'baseBackflowTestDue'])
    .where('id', 'in', [...propertyIds])
    .execute();
  for (const { id, baseBackflowTestDue } of properties)
    await db
      .updateTable('property')
      .set({ backflowTestDue: counted.backflow(id, baseBackflowTestDue) })
      .where('id', '=', id)
      .execute();
}

async function bringSeasons(db: Db, propertyIds: readonly string[]): Promise<void> {
  const counted = await recount(db, 'seasons', propertyIds);
  await db
    .deleteFrom('season')
    .where('propertyId', 'in', [...propertyIds])
    .execute();
  for (const propertyId of propertyIds) {
    const rows = [...counted.seasons(propertyId)].map(([year, season]) => ({ propertyId, year, ...season }));
    if (rows.length > 0) await db.insertInto('season').values(rows).execute();
  }
}

async function bringFindings(db: Db, propertyIds: readonly string[]): Promise<void> {
  const counted = await recount(db, 'findings', propertyIds);
  await db
    .deleteFrom('finding')
    .where('propertyId', 'in', [...propertyIds])
    .execute();
  for (const propertyId of propertyIds) {
    const rows = [...counted.findings(propertyId)].map(([id, finding]) => ({ id, propertyId, ...finding }));
    if (rows.length > 0) await db.insertInto('finding').values(rows).execute();
  }
}

/**
 * Works out anew whatever may have come out otherwise while the last thing of a day was told by id: for sensors and
 * properties with several entries on one day.
 */
export async function projectDaysWithSeveral(db: Db): Promise<void> {
  const targets: Target[] = [];
  for (const thing of THINGS) {
    const by = FILED_UNDER[thing];
    const rows: { [by: string]: string | null }[] = await db
      .selectFrom('ledgerEntry')
      .select(by)
      .distinct()
      .where('kind', 'in', kindsAbout(thing))
      .where(by, 'is not', null)
      .groupBy([by, 'doneOn'])
      .having((eb) => eb(eb.fn.countAll(), '>', 1))
      .execute();
    targets.push(...rows.map((row) => ({ thing, id: row[by]! })));
  }
  await project(db, targets);
}
