import { sql } from 'kysely';
import type { Db } from '../store/tables.ts';
import { fact, type Fact, isFact } from '../text/say.ts';

// What automatic backups ask of a book, and what they remember in it.

/** How the last try to back up by itself ended. Sentences; null = well. */
export interface BackupOutcome {
  failure: Fact | null;
  secondFailure: Fact | null;
}

const KEY = 'backup';
const WELL: BackupOutcome = { failure: null, secondFailure: null };

/** The first and the last moment at which something was written into the book by a request or an import, UTC. */
export async function changeMoments(db: Db): Promise<{ first: string | null; last: string | null }> {
  // The log is only added to, so its ends are found without reading it.
  const end = (direction: 'asc' | 'desc') =>
    db
      .selectFrom('writeLog')
      .select('at')
      .orderBy(sql`rowid`, direction)
      .limit(1)
      .executeTakeFirst();
  const imports = await db.selectFrom('importMapping').select('at').orderBy('at').execute();
  const all = [await end('asc'), await end('desc'), imports[0], imports.at(-1)].flatMap((row) => (row ? [row.at] : []));
  all.sort();
  return { first: all[0] ?? null, last: all.at(-1) ?? null };
}

export async function readOutcome(db: Db): Promise<BackupOutcome> {
  const row = await db.selectFrom('setting').select('value').where('key', '=', KEY).executeTakeFirst();
  if (!row) return WELL;
  const said = JSON.parse(row.value) as { failure?: unknown; secondFailure?: unknown };
  return { failure: keptFact(said.failure), secondFailure: keptFact(said.secondFailure) };
}

export async function writeOutcome(db: Db, outcome: BackupOutcome): Promise<void> {
  const value = JSON.stringify(outcome);
  await db
    .insertInto('setting')
    .values({ key: KEY, value })
    .onConflict((conflict) => conflict.column('key').doUpdateSet({ value }))
    .execute();
}

/** Before facts were kept, a sentence was. */
function keptFact(kept: unknown): Fact | null {
  if (isFact(kept)) return kept;
  return typeof kept === 'string' ? fact('errors.asSaid', { said: kept }) : null;
}
