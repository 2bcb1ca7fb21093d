import { ChainEnd, sealOf, type EntryContent, type Head, type RevisionContent, type RunContent } from './chain.ts';
import { BookError } from '../errors.ts';
import { listOf } from './sqlite.ts';
import type { BookTables, Db } from './tables.ts';
import { fact } from '../text/say.ts';

// Where the chains end, for whoever adds to them, and the seal over all of them.

/** Where the book and the chains of these properties end; ask inside the transaction that writes. */
export async function chainEndOf(db: Db, propertyIds: readonly string[]): Promise<ChainEnd> {
  const rows = await db
    .selectFrom('ledgerChain as c')
    .leftJoin('chainHead as h', (join) =>
      join.on('h.propertyId', 'in', propertyIds.length > 1 ? listOf([...new Set(propertyIds)]) : [...propertyIds]),
    )
    .select(['c.links', 'h.propertyId', 'h.place', 'h.hash'])
    .execute();
  return new ChainEnd(countOf(rows), headsOf(rows));
}

function countOf([row]: readonly { links: number }[]): number {
  if (row && Number.isSafeInteger(row.links)) return row.links;
  throw new BookError('book-unreadable', fact('errors.lostCount'), 'book');
}

function headsOf(rows: readonly { propertyId: string | null; place: number | null; hash: string | null }[]) {
  const heads = new Map<string, Head>();
  for (const { propertyId, place, hash } of rows)
    if (propertyId !== null) heads.set(propertyId, { place: place!, hash: hash! });
  return heads;
}

/** Rows to insert in bulk: those of the past each at the next place of its property's chain; others as they are. */
export async function linkRows(
  db: Db,
  table: keyof BookTables,
  rows: readonly Record<string, unknown>[],
  runs: readonly Record<string, unknown>[],
): Promise<readonly Record<string, unknown>[]> {
  if (rows.length === 0 || (table !== 'ledgerEntry' && table !== 'programRevision')) return rows;
  const end = await chainEndOf(
    db,
    rows.map((row) => String(row['propertyId'])),
  );
  if (table === 'ledgerEntry') return (rows as unknown as EntryContent[]).map((row): object => end.entry(row)) as never;
  const runsOf = Map.groupBy(runs as unknown as (RunContent & { revisionId: string })[], (run) => run.revisionId);
  return (rows as unknown as RevisionContent[]).map((row): object =>
    end.revision(row, runsOf.get(row.id) ?? []),
  ) as never;
}

/** How many entries and revisions the book holds, and the seal over the ends of their chains. */
export async function readSeal(db: Db): Promise<{ count: number; seal: string }> {
  const rows = await db
    .selectFrom('ledgerChain as c')
    .leftJoin('chainHead as h', (join) => join.onTrue())
    .select(['c.links', 'h.propertyId', 'h.place', 'h.hash'])
    .execute();
  const count = countOf(rows);
  return { count, seal: sealOf(count, headsOf(rows)) };
}
