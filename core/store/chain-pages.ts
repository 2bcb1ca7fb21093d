import type { Link } from './chain.ts';
import { listOf } from './sqlite.ts';
import type { BookTables, Db } from './tables.ts';

// The whole past in the order of recording, as a check reads it: a page at a time, and whatever stands in the tables,
// also what no Valvebook put there.

export type EntryRow = BookTables['ledgerEntry'];
export type RevisionRow = BookTables['programRevision'] & { runs: BookTables['programRun'][] };
export type PastLink = { kind: 'entry'; row: EntryRow } | { kind: 'revision'; row: RevisionRow };

const PAGE = 4000;

/** Ledger entries and program revisions by their place in the book; those without one come last. */
export async function* pastPages(db: Db): AsyncGenerator<PastLink[]> {
  let last = -Infinity;
  for (;;) {
    const entries = await db
      .selectFrom('ledgerEntry')
      .selectAll()
      .where('bookPlace', '>', last === -Infinity ? Number.MIN_SAFE_INTEGER : last)
      .orderBy('bookPlace')
      .limit(PAGE)
      .execute();
    const revisions = await db
      .selectFrom('programRevision')
      .selectAll()
      .where('bookPlace', '>', last === -Infinity ? Number.MIN_SAFE_INTEGER : last)
      .orderBy('bookPlace')
      .limit(PAGE)
      .execute();
    // Only as far as both lists reach.
    const ends = [entries, revisions].flatMap((rows) => (rows.length < PAGE ? [] : [rows.at(-1)!.bookPlace]));
    const end = ends.length === 0 ? null : ends.reduce((a, b) => (isBefore(b, a) ? b : a));
    const within = (row: Link) => end === null || !isBefore(end, row.bookPlace);
    const links = await inOrder(db, entries.filter(within), revisions.filter(within));
    if (links.length > 0) yield links;
    if (end === null) break;
    last = end;
  }
  yield* unplaced(db);
}

async function* unplaced(db: Db): AsyncGenerator<PastLink[]> {
  for (const table of ['ledgerEntry', 'programRevision'] as const) {
    let last = '';
    for (;;) {
      const rows = await db
        .selectFrom(table)
        .selectAll()
        .where('bookPlace', 'is', null)
        .where('id', '>', last)
        .orderBy('id')
        .limit(PAGE)
        .execute();
      if (rows.length === 0) break;
      last = rows.at(-1)!.id;
      yield table === 'ledgerEntry'
        ? rows.map((row) => ({ kind: 'entry', row: row as EntryRow }))
        : await inOrder(db, [], rows as BookTables['programRevision'][]);
    }
  }
}

// SQLite orders numbers before texts; a place can only be a text after tampering.
const isBefore = (a: unknown, b: unknown) =>
  typeof a === typeof b ? (a as number) < (b as number) : typeof a === 'number';

async function inOrder(db: Db, entries: EntryRow[], heads: BookTables['programRevision'][]): Promise<PastLink[]> {
  const links: PastLink[] = [];
  const revisions = await withRuns(db, heads);
  let [e, r] = [0, 0];
  for (;;) {
    const entry = entries[e];
    const revision = revisions[r];
    if (entry && (!revision || !isBefore(revision.bookPlace, entry.bookPlace))) {
      links.push({ kind: 'entry', row: entry });
      e += 1;
    } else if (revision) {
      links.push({ kind: 'revision', row: revision });
      r += 1;
    } else return links;
  }
}

async function withRuns(db: Db, heads: BookTables['programRevision'][]): Promise<RevisionRow[]> {
  if (heads.length === 0) return [];
  const runs = await db
    .selectFrom('programRun')
    .selectAll()
    .where('revisionId', 'in', listOf(heads.map((head) => head.id)))
    .execute();
  const runsOf = Map.groupBy(runs, (run) => run.revisionId);
  return heads.map((head) => ({ ...head, runs: runsOf.get(head.id) ?? [] }));
}

/** How many entries and revisions there are, whatever their places. */
export async function pastCount(db: Db): Promise<number> {
  const { entries, revisions } = await db
    .selectNoFrom((eb) => [
      eb
        .selectFrom('ledgerEntry')
        .select((count) => count.fn.countAll<number>().as('n'))
        .as('entries'),
      eb
        .selectFrom('programRevision')
        .select((count) => count.fn.countAll<number>().as('n'))
        .as('revisions'),
    ])
    .executeTakeFirstOrThrow();
  return Number(entries) + Number(revisions);
}

/** What the book itself keeps about its chains. */
export async function chainRecord(db: Db) {
  return {
    book: await db.selectFrom('ledgerChain').selectAll().executeTakeFirst(),
    heads: await db.selectFrom('chainHead').selectAll().execute(),
  };
}

/** Revisions whose program stands at another property than the one they were made for. */
export function revisionsElsewhere(db: Db) {
  return db
    .selectFrom('programRevision as v')
    .innerJoin('program as p', 'p.id', 'v.programId')
    .select(['v.id', 'v.propertyId', 'p.propertyId as programAt'])
    .whereRef('v.propertyId', '!=', 'p.propertyId')
    .execute();
}
