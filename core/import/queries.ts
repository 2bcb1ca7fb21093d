import type { LedgerKind } from '../ledger/entry-contract.ts';
import type { BookTables, Db } from '../store/tables.ts';

// What an import reads before it decides, and how it writes many rows.

export async function rememberedMapping(
  db: Db,
  target: string,
  signature: string,
): Promise<Record<string, string> | null> {
  const row = await db
    .selectFrom('importMapping')
    .select('mapping')
    .where('target', '=', target)
    .where('signature', '=', signature)
    .executeTakeFirst();
  return row ? (JSON.parse(row.mapping) as Record<string, string>) : null;
}

/** Remembers how columns were matched; writes only when it differs, so that importing the same file again changes nothing. */
export async function rememberMapping(
  db: Db,
  target: string,
  signature: string,
  mapping: Record<string, string>,
  at: string,
): Promise<void> {
  const text = JSON.stringify(mapping);
  const row = await db
    .selectFrom('importMapping')
    .select('mapping')
    .where('target', '=', target)
    .where('signature', '=', signature)
    .executeTakeFirst();
  if (row?.mapping === text) return;
  await db
    .insertInto('importMapping')
    .values({ target, signature, mapping: text, at })
    .onConflict((conflict) => conflict.columns(['target', 'signature']).doUpdateSet({ mapping: text, at }))
    .execute();
}

export function clientsToMatch(db: Db) {
  return db
    .selectFrom('client')
    .select(['id', 'name', 'accountNumber', 'phone', 'phone2', 'email'])
    .orderBy('id')
    .execute();
}

export function propertiesToMatch(db: Db) {
  return db.selectFrom('property').select(['id', 'clientId', 'street', 'city', 'postcode']).orderBy('id').execute();
}

export function routesToMatch(db: Db) {
  return db.selectFrom('route').select(['id', 'name']).orderBy('id').execute();
}

export function controllersToMatch(db: Db) {
  return db
    .selectFrom('controller')
    .select(['id', 'propertyId', 'name', 'stationCount'])
    .where('retired', '=', 0)
    .orderBy('id')
    .execute();
}

export function zonesToMatch(db: Db) {
  return db.selectFrom('zone').select(['controllerId', 'station', 'name']).where('retired', '=', 0).execute();
}

export function programsToMatch(db: Db) {
  return db.selectFrom('program').select(['controllerId', 'name']).execute();
}

export function sensorsToMatch(db: Db) {
  return db
    .selectFrom('sensor')
    .select(['id', 'propertyId', 'model', 'location', 'batteryType', 'batteryCells'])
    .where('retired', '=', 0)
    .orderBy('id')
    .execute();
}

export function techniciansToMatch(db: Db) {
  return db.selectFrom('technician').select(['id', 'name']).orderBy('id').execute();
}

export function weatherDaysOf(db: Db, stationId: string) {
  return db.selectFrom('weatherDay').selectAll().where('stationId', '=', stationId).execute();
}

/** Entries of these properties between two dates, whether or not they were corrected since: an import must not bring back what was voided. */
export async function entriesToMatch(
  db: Db,
  propertyIds: readonly string[],
  from: string,
  to: string,
  kinds: readonly LedgerKind[],
) {
  const found: { propertyId: string; doneOn: string; kind: LedgerKind; detail: string; note: string }[] = [];
  for (let at = 0; at < propertyIds.length; at += 500) {
    found.push(
      ...(await db
        .selectFrom('ledgerEntry')
        .select(['propertyId', 'doneOn', 'kind', 'detail', 'note'])
        .where('propertyId', 'in', propertyIds.slice(at, at + 500))
        .where('doneOn', '>=', from)
        .where('doneOn', '<=', to)
        .where('kind', 'in', kinds)
        .execute()),
    );
  }
  return found;
}

/** Raises a controller's number of stations to what a zone list says it has. */
export async function raiseStationCount(db: Db, controllerId: string, stationCount: number): Promise<void> {
  await db
    .updateTable('controller')
    .set({ stationCount })
    .where('id', '=', controllerId)
    .where('stationCount', '<', stationCount)
    .execute();
}

const MAX_PARAMETERS = 2000;

/** Inserts rows of one table in chunks; every row must hold the same columns. `before` is called ahead of each chunk with how many are in. */
export async function insertMany(
  db: Db,
  table: keyof BookTables,
  rows: readonly Record<string, unknown>[],
  before: (inserted: number) => Promise<void> | void,
): Promise<void> {
  const first = rows[0];
  if (!first) return;
  const columns = Object.keys(first);
  const size = Math.max(1, Math.min(500, Math.floor(MAX_PARAMETERS / columns.length)));
  // Building and preparing the statement costs more than running it: full chunks share one.
  const whole =
    rows.length >= size
      ? db
          .insertInto(table)
          .values(rows.slice(0, size) as never)
          .compile()
      : null;
  for (let at = 0; at < rows.length; at += size) {
    await before(at);
    const chunk = rows.slice(at, at + size);
    if (whole && chunk.length === size) {
      const parameters: unknown[] = [];
      for (const row of chunk) for (const column of columns) parameters.push(row[column]);
      await db.executeQuery({ ...whole, parameters });
    } else {
      await db
        .insertInto(table)
        .values(chunk as never)
        .execute();
    }
  }
}

/** Adds or replaces daily records. */
export async function putWeatherDays(
  db: Db,
  rows: readonly BookTables['weatherDay'][],
  before: (written: number) => Promise<void> | void,
): Promise<void> {
  for (let at = 0; at < rows.length; at += 500) {
    await before(at);
    await db
      .insertInto('weatherDay')
      .values(rows.slice(at, at + 500))
      .onConflict((conflict) =>
        conflict.columns(['stationId', 'date']).doUpdateSet((eb) => ({
          tmaxF: eb.ref('excluded.tmaxF'),
          tminF: eb.ref('excluded.tminF'),
          rainInches: eb.ref('excluded.rainInches'),
          rhMeanPct: eb.ref('excluded.rhMeanPct'),
          windMph: eb.ref('excluded.windMph'),
          solarMjM2: eb.ref('excluded.solarMjM2'),
        })),
      )
      .execute();
  }
}
