import { sql, type Kysely, type RawBuilder } from 'kysely';
import { FIRST_DAY, LAST_DAY } from '../dates.ts';
import { TABLE_KEYS, type TableName } from './export-queries.ts';
import { SENSOR_BASE, ZONE_BASE } from '../ledger/index.ts';
import type { Db } from '../store/tables.ts';

// What a check of the book reads: long tables in pages, short ones whole.

/** Which entry corrects which, and how. */
export function corrections(db: Db) {
  return db
    .selectFrom('ledgerEntry as c')
    .leftJoin('ledgerEntry as e', 'e.id', 'c.correctsId')
    .select([
      'c.id',
      'c.correctsId',
      'c.correction',
      'c.kind',
      'c.propertyId',
      'e.id as correctedId',
      'e.kind as correctedKind',
      'e.propertyId as correctedPropertyId',
    ])
    .where('c.correctsId', 'is not', null)
    .execute();
}

export function sensorProjections(db: Db) {
  return db
    .selectFrom('sensor')
    .select([
      'id',
      ...SENSOR_BASE,
      'batteryDate',
      'lastCheckDate',
      'lastCheckPassed',
      'lastSignal',
      'cellsGood',
      'rainSetPointInches',
      'freezeSetPointF',
    ])
    .execute();
}

export function zoneProjections(db: Db) {
  return db
    .selectFrom('zone')
    .select(['id', ...ZONE_BASE, 'prMethod', 'precipitationRateInPerHour', 'distributionUniformity'])
    .execute();
}

export function findingRows(db: Db) {
  return db.selectFrom('finding').selectAll().execute();
}

export function backflowProjections(db: Db) {
  return db.selectFrom('property').select(['id', 'baseBackflowTestDue', 'backflowTestDue']).execute();
}

export function seasonRows(db: Db) {
  return db.selectFrom('season').selectAll().execute();
}

export function programsOfBook(db: Db) {
  return db.selectFrom('program').select(['id', 'propertyId', 'controllerId', 'name']).execute();
}

export function revisionsOfBook(db: Db) {
  return db
    .selectFrom('programRevision')
    .select(['id', 'programId', 'revisionNumber', 'ledgerEntryId', 'voidedByEntryId'])
    .orderBy('programId')
    .orderBy('revisionNumber')
    .execute();
}

/** Runs whose zone is not one of the program's own controller. */
export function strayRuns(db: Db) {
  return db
    .selectFrom('programRun as r')
    .innerJoin('programRevision as v', 'v.id', 'r.revisionId')
    .innerJoin('program as p', 'p.id', 'v.programId')
    .innerJoin('zone as z', 'z.id', 'r.zoneId')
    .select(['r.revisionId', 'r.zoneId'])
    .whereRef('z.controllerId', '!=', 'p.controllerId')
    .execute();
}

export function visitsToCheck(db: Db) {
  return db.selectFrom('visit').select(['id', 'propertyId', 'state', 'doneOn']).execute();
}

/** Entries logged on a visit that is at another property. */
export function workElsewhere(db: Db) {
  return db
    .selectFrom('visit as v')
    .innerJoin('ledgerEntry as e', 'e.visitId', 'v.id')
    .select(['e.id', 'e.visitId'])
    .whereRef('e.propertyId', '!=', 'v.propertyId')
    .execute();
}

/** Zones, sensors and programs that stand at another property than their controller. */
export async function misplaced(db: Db): Promise<{ table: string; id: string }[]> {
  const found: { table: string; id: string }[] = [];
  for (const table of ['zone', 'sensor', 'program'] as const) {
    const rows = await (db as Kysely<any>)
      .selectFrom(`${table} as t`)
      .innerJoin('controller as c', 'c.id', 't.controllerId')
      .select('t.id')
      .whereRef('c.propertyId', '!=', 't.propertyId')
      .execute();
    for (const row of rows) found.push({ table, id: String(row.id) });
  }
  return found;
}

export interface OddText {
  table: TableName;
  key: string;
  column: string;
  value: string;
}

/** Where a calendar date, a moment or JSON stands as text: table and column. */
const DAYS = [
  ['ledgerEntry', 'doneOn'],
  ['programRevision', 'effectiveDate'],
  ['season', 'startedUpOn'],
  ['season', 'winterizedOn'],
  ['property', 'baseBackflowTestDue'],
  ['sensor', 'baseBatteryDate'],
  ['sensor', 'baseRainSetPointOn'],
  ['sensor', 'baseFreezeSetPointOn'],
  ['zone', 'baseRateOn'],
  ['weatherDay', 'date'],
] as const;
const MOMENTS = [
  ['ledgerEntry', 'recordedAt'],
  ['programRevision', 'recordedAt'],
  ['importMapping', 'at'],
  ['writeLog', 'at'],
] as const;
const JSONS = [
  ['setting', 'value'],
  ['importMapping', 'mapping'],
  ['writeLog', 'result'],
] as const;
const ODD_AT_MOST = 50;

/** Dates that no calendar has, moments that are none, and settings that are no JSON: at most 50 of each column. */
export async function* oddTexts(
  db: Db,
): AsyncGenerator<{ what: 'day' | 'moment' | 'json'; looked: number; odd: OddText[] }> {
  // SQLite moves a 30 February on to March, so a date is real only where it comes back as it went in.
  for (const [table, column] of DAYS) {
    const value = sql.ref(column);
    const odd = sql<boolean>`typeof(${value}) != 'text' OR date(${value}) IS NOT ${value} OR ${value} NOT BETWEEN ${FIRST_DAY} AND ${LAST_DAY}`;
    yield { what: 'day', ...(await oddOf(db, table, column, sql<boolean>`${value} IS NOT NULL AND (${odd})`)) };
  }
  for (const [table, column] of MOMENTS) {
    const value = sql.ref(column);
    const shape = '[12][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]*Z';
    const odd = sql<boolean>`typeof(${value}) != 'text' OR ${value} NOT GLOB ${shape} OR julianday(${value}) IS NULL OR date(substr(${value}, 1, 10)) IS NOT substr(${value}, 1, 10)`;
    yield { what: 'moment', ...(await oddOf(db, table, column, odd)) };
  }
  for (const [table, column] of JSONS) {
    const value = sql.ref(column);
    yield {
      what: 'json',
      ...(await oddOf(db, table, column, sql<boolean>`typeof(${value}) != 'text' OR NOT json_valid(${value})`)),
    };
  }
}

async function oddOf(
  db: Db,
  table: TableName,
  column: string,
  odd: RawBuilder<boolean>,
): Promise<{ looked: number; odd: OddText[] }> {
  const keys: readonly string[] = TABLE_KEYS[table];
  const { n } = await (db as Kysely<any>)
    .selectFrom(table)
    .select((eb) => eb.fn.countAll().as('n'))
    .executeTakeFirstOrThrow();
  const rows = (await (db as Kysely<any>)
    .selectFrom(table)
    .select([...keys, `${column} as oddValue`])
    .where(odd)
    .limit(ODD_AT_MOST)
    .execute()) as Record<string, unknown>[];
  const found = rows.map((row) => ({
    table,
    key: keys.map((key) => String(row[key])).join(' '),
    column,
    value: String(row['oddValue']).slice(0, 60),
  }));
  return { looked: Number(n), odd: found };
}

export type SomeIds = Record<'client' | 'property' | 'technician' | 'program' | 'zone' | 'weatherStation', string[]>;
const SOME = 3;

/** A few rows of each table to try requests on: the first and the last. */
export async function someIds(db: Db): Promise<SomeIds> {
  const ids: SomeIds = { client: [], property: [], technician: [], program: [], zone: [], weatherStation: [] };
  for (const table of Object.keys(ids) as (keyof SomeIds)[]) {
    const all = (db as Kysely<any>).selectFrom(table).select('id').limit(SOME);
    const rows = [...(await all.orderBy('id').execute()), ...(await all.orderBy('id', 'desc').execute())];
    ids[table] = [...new Set(rows.map((row) => String(row['id'])))];
  }
  return ids;
}
