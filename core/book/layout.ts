import { migrate, SCHEMA_VERSION } from './migrate.ts';
import { engine } from '../store/book-engine.ts';
import type { Declared } from '../store/engine.ts';
import type { Db } from '../store/tables.ts';
import { fact, type Fact } from '../text/say.ts';

// A book's layout is the exact text of what its file declares. It is held against a book made on the spot by the same
// migrations, so there is no second list of tables and triggers that could be forgotten.

export interface LayoutFindings {
  /** How many tables, indexes, triggers and views were compared. */
  looked: number;
  findings: Fact[];
  /** False where a table is gone, changed or something else: the rows cannot be read as a book's then. */
  readable: boolean;
}

/** Compares what a book's file declares with a fresh book of the layout it says it has (its user_version). */
export async function layoutFindings(db: Db, version: number): Promise<LayoutFindings> {
  if (!Number.isInteger(version) || version < 1 || version > SCHEMA_VERSION) {
    return { looked: 0, findings: [fact('check.layoutVersion', { version })], readable: false };
  }
  const expected = await freshLayout(version);
  const present = await declaredIn(db);
  const findings: Fact[] = [];
  const encoding = await engine.encoding(db);
  // Texts come out the same, but what is compared and hashed by its bytes would not be the same.
  if (encoding !== 'UTF-8') findings.push(fact('check.encoding', { encoding }));
  let readable = true;
  const find = (finding: Fact, one: Declared) => {
    findings.push(finding);
    if (one.type === 'table') readable = false;
  };
  for (const [key, one] of expected) {
    const there = present.get(key);
    const { type, name } = one;
    if (there === undefined) {
      const other = [...present.values()].find((row) => row.name.toLowerCase() === one.name.toLowerCase());
      if (other === undefined) find(fact('check.partMissing', { type, name }), one);
      else find(fact('check.partExchanged', { type, name, other: other.type }), one);
    } else if (there.text !== one.text || there.table !== one.table)
      find(fact('check.partChanged', { type, name }), one);
  }
  for (const [key, there] of present) {
    if (!expected.has(key)) {
      const { type, name, table } = there;
      findings.push(fact('check.partAdded', { type, name, table: type === 'table' || type === 'view' ? null : table }));
    }
  }
  return { looked: expected.size, findings, readable };
}

async function declaredIn(db: Db): Promise<Map<string, Declared>> {
  return new Map((await engine.declared(db)).map((one) => [`${one.type} ${one.name}`, one]));
}

const kept = new Map<number, Promise<Map<string, Declared>>>();

function freshLayout(version: number): Promise<Map<string, Declared>> {
  let layout = kept.get(version);
  if (layout === undefined) kept.set(version, (layout = makeLayout(version)));
  return layout;
}

async function makeLayout(version: number): Promise<Map<string, Declared>> {
  const connection = engine.inMemory();
  try {
    await migrate(connection, version);
    return await declaredIn(connection.db);
  } finally {
    await connection.close();
  }
}
