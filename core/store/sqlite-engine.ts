import { sql, type Kysely } from 'kysely';
import { lockBook } from './book-lock.ts';
import { watchBook } from './book-watch.ts';
import type { Declared, Engine } from './engine.ts';
import { connect, connectInMemory, connectWithoutLocks, createBookFile, journalOf, listOf } from './sqlite.ts';

/** SQLite's own statistics, made by ANALYZE; they change no answer. Under these names another table may stand. */
const STATISTICS: ReadonlySet<string | null> = new Set([
  'CREATE TABLE sqlite_stat1(tbl,idx,stat)',
  'CREATE TABLE sqlite_stat4(tbl,idx,neq,nlt,ndlt,sample)',
]);

/** Books as files of SQLite. */
export const sqliteEngine: Engine = {
  open: connect,
  openWithoutLocks: connectWithoutLocks,
  create: createBookFile,
  inMemory: connectInMemory,
  lock: lockBook,
  watch: watchBook,
  journalOf,
  async layoutVersion(db) {
    // With a look at what is declared: of a file whose declarations are damaged the number alone could still be read.
    const { rows } = await sql<{ version: number }>`SELECT user_version AS version, (SELECT count(*) FROM sqlite_schema)
      FROM pragma_user_version`.execute(db);
    return rows[0]!.version;
  },
  async setLayoutVersion(db, version) {
    // A pragma takes no bound value.
    await sql`PRAGMA user_version = ${sql.lit(version)}`.execute(db);
  },
  async declared(db) {
    const rows = await (db as Kysely<any>)
      .selectFrom('sqlite_schema')
      .select(['type', 'name', 'tbl_name as table', 'sql as text'])
      .execute();
    return (rows as Declared[]).filter((one) => !(one.type === 'table' && STATISTICS.has(one.text)));
  },
  async encoding(db) {
    const { rows } = await sql<{ encoding: string }>`PRAGMA encoding`.execute(db);
    return rows[0]!.encoding;
  },
  listOf,
};
