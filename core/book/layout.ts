import { sql, type Kysely } from 'kysely';
import { migrate, SCHEMA_VERSION } from './migrate.ts';
import { connectInMemory } from '../store/sqlite.ts';
import type { Db } from '../store/tables.ts';

// A book's layout is the exact text of what its file declares. It is held against a book made on the spot by the same
// migrations, so there is no second list of tables and triggers that could be forgotten.

interface Declared {
  type: string;
  name: string;
  table: string;
  text: string | null;
}

export interface LayoutFindings {
  /** How many tables, indexes, triggers and views were compared. */
  looked: number;
  findings: string[];
  /** False where a table is gone, changed or something else: the rows cannot be read as a book's then. */
  readable: boolean;
}

/** SQLite's own statistics, made by ANALYZE; they change no answer. Under these names another table may stand. */
const STATISTICS: ReadonlySet<string | null> = new Set([
  'CREATE TABLE sqlite_stat1(tbl,idx,stat)',
  'CREATE TABLE sqlite_stat4(tbl,idx,neq,nlt,ndlt,sample)',
]);

/** Compares what a book's file declares with a fresh book of the layout it says it has (its user_version). */
export async function layoutFindings(db: Db, version: number): Promise<LayoutFindings> {
  if (!Number.isInteger(version) || version < 1 || version > SCHEMA_VERSION) {
    const sentence = `The book says its layout is version ${version}, which there is not in this Valvebook. Restore a backup.`;
    return { looked: 0, findings: [sentence], readable: false };
  }
  const expected = await freshLayout(version);
  const present = await declaredIn(db);
  const findings: string[] = [];
  const encoding = await encodingOf(db);
  // Texts come out the same, but what is compared and hashed by its bytes would not be the same.
  if (encoding !== 'UTF-8')
    findings.push(
      `The book keeps its texts as ${encoding}; Valvebook keeps them as UTF-8. Restore a backup made before.`,
    );
  let readable = true;
  const find = (sentence: string, one: Declared) => {
    findings.push(sentence);
    if (one.type === 'table') readable = false;
  };
  for (const [key, one] of expected) {
    const there = present.get(key);
    const what = `${one.type} ${one.name}`;
    if (there === undefined) {
      const other = [...present.values()].find((row) => row.name.toLowerCase() === one.name.toLowerCase());
      if (other === undefined) find(`The ${what} is missing${consequence(one)}. Restore a backup made before.`, one);
      else find(`In place of the ${what} there is a ${other.type} of that name. Restore a backup made before.`, one);
    } else if (there.text !== one.text || there.table !== one.table)
      find(`The ${what} is not as Valvebook made it${consequence(one)}. Restore a backup made before.`, one);
  }
  for (const [key, there] of present) {
    if (!expected.has(key))
      findings.push(
        `There is ${there.type === 'index' ? 'an' : 'a'} ${wordOf(there)} that Valvebook did not make. Restore a backup made before it.`,
      );
  }
  return { looked: expected.size, findings, readable };
}

/** The number of the layout that the connection's file says it has. */
export async function layoutVersion(db: Db): Promise<number> {
  const { rows } = await sql<{ user_version: number }>`PRAGMA user_version`.execute(db);
  return rows[0]!.user_version;
}

async function encodingOf(db: Db): Promise<string> {
  const { rows } = await sql<{ encoding: string }>`PRAGMA encoding`.execute(db);
  return rows[0]!.encoding;
}

function wordOf(one: Declared): string {
  return one.type === 'table' || one.type === 'view'
    ? `${one.type} ${one.name}`
    : `${one.type} ${one.name} (of ${one.table})`;
}

function consequence(one: Declared): string {
  return one.type === 'trigger' ? ', so the past could be changed' : '';
}

async function declaredIn(db: Db): Promise<Map<string, Declared>> {
  const rows = await (db as Kysely<any>)
    .selectFrom('sqlite_schema')
    .select(['type', 'name', 'tbl_name as table', 'sql as text'])
    .execute();
  return new Map(
    (rows as Declared[])
      .filter((one) => !(one.type === 'table' && STATISTICS.has(one.text)))
      .map((one) => [`${one.type} ${one.name}`, one]),
  );
}

const kept = new Map<number, Promise<Map<string, Declared>>>();

function freshLayout(version: number): Promise<Map<string, Declared>> {
  let layout = kept.get(version);
  if (layout === undefined) kept.set(version, (layout = makeLayout(version)));
  return layout;
}

async function makeLayout(version: number): Promise<Map<string, Declared>> {
  const connection = connectInMemory();
  try {
    await migrate(connection, version);
    return await declaredIn(connection.db);
  } finally {
    await connection.close();
  }
}
