import type { Kysely } from 'kysely';
import type { BookTables, Db } from '../store/tables.ts';

// Reading whole tables, page by page, as they were at one moment.

/** Every table of a book, in the order people would look for them, with the columns that number its rows. */
export const TABLE_KEYS = {
  client: ['id'],
  property: ['id'],
  controller: ['id'],
  zone: ['id'],
  sensor: ['id'],
  program: ['id'],
  programRevision: ['id'],
  programRun: ['revisionId', 'zoneId'],
  visit: ['id'],
  ledgerEntry: ['id'],
  chainHead: ['propertyId'],
  ledgerChain: ['id'],
  season: ['propertyId', 'year'],
  finding: ['id'],
  technician: ['id'],
  truck: ['id'],
  route: ['id'],
  restriction: ['id'],
  thumbRule: ['id'],
  weatherStation: ['id'],
  weatherDay: ['stationId', 'date'],
  setting: ['key'],
  importMapping: ['target', 'signature'],
  writeLog: ['writeId'],
} as const satisfies Record<keyof BookTables, readonly string[]>;

export type TableName = keyof BookTables;
export const TABLE_NAMES = Object.keys(TABLE_KEYS) as TableName[];

const PAGE_ROWS = 2000;

/** Runs work on one unchanging view of the book, while others go on writing. */
export async function inSnapshot<T>(db: Db, work: (db: Db) => Promise<T>): Promise<T> {
  return db.isTransaction ? work(db) : (db as Kysely<BookTables>).transaction().execute(work);
}

/** A table's columns in their order. */
export async function columnsOf(db: Db, table: TableName): Promise<string[]> {
  const tables = await db.introspection.getTables();
  return tables.find((one) => one.name === table)?.columns.map((column) => column.name) ?? [];
}

export async function countRows(db: Db, table: TableName): Promise<number> {
  const { n } = await (db as Kysely<any>)
    .selectFrom(table)
    .select((eb) => eb.fn.countAll().as('n'))
    .executeTakeFirstOrThrow();
  return Number(n);
}

/** A table's rows in the order of its key, a page at a time: no page is found by counting over the ones before. */
export async function* pagesOf(db: Db, table: TableName): AsyncGenerator<Record<string, unknown>[]> {
  const keys: readonly string[] = TABLE_KEYS[table];
  const [first, second] = keys as [string, string | undefined];
  let last: Record<string, unknown> | null = null;
  for (;;) {
    let query = (db as Kysely<any>).selectFrom(table).selectAll().orderBy(first).limit(PAGE_ROWS);
    if (second !== undefined) query = query.orderBy(second);
    if (last !== null) {
      const after = last;
      query =
        second === undefined
          ? query.where(first, '>', after[first])
          : query.where((eb) =>
              eb(eb.refTuple(first, second), '>', eb.tuple(after[first] as never, after[second] as never)),
            );
    }
    const rows = (await query.execute()) as Record<string, unknown>[];
    if (rows.length > 0) yield rows;
    if (rows.length < PAGE_ROWS) return;
    last = rows.at(-1)!;
  }
}
