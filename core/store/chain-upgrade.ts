import { sql, type Kysely } from 'kysely';
import { ChainEnd, type EntryContent, type Link, type RevisionContent, type RunContent } from './chain.ts';
import type { TellHowFar } from './migration.ts';

const PAGE = 2000;

type Ordered<T> = T & { at: number; bookPlace: number };

/**
 * Gives what is in the book its chain, in the order of (recordedAt, id), a page at a time; the book's row of the chain says
 * how many links that were and when. Part of migration 0002: triggers against updates are off while it runs.
 */
export async function chainWhatIsThere(db: Kysely<any>, tell: TellHowFar): Promise<void> {
  await sql`CREATE TEMP TABLE chainOrder (bookPlace INTEGER PRIMARY KEY, isRevision INTEGER NOT NULL, at INTEGER NOT NULL)`.execute(
    db,
  );
  // What belongs to no property (a damaged book) gets no place; the check says so.
  await sql`UPDATE programRevision SET propertyId = (SELECT propertyId FROM program WHERE program.id = programRevision.programId)`.execute(
    db,
  );
  await sql`INSERT INTO chainOrder (isRevision, at)
    SELECT isRevision, at FROM (
      SELECT 0 AS isRevision, rowid AS at, recordedAt, id FROM ledgerEntry WHERE propertyId IN (SELECT id FROM property)
      UNION ALL SELECT 1, rowid, recordedAt, id FROM programRevision WHERE propertyId IN (SELECT id FROM property)
    ) ORDER BY recordedAt, id, isRevision`.execute(db);
  const { rows } = await sql<{ links: number }>`SELECT count(*) AS links FROM chainOrder`.execute(db);
  const end = new ChainEnd(0, new Map());
  for (;;) {
    const from = end.count;
    const entries = await sql<
      Ordered<EntryContent>
    >`SELECT e.*, o.at, o.bookPlace FROM chainOrder o JOIN ledgerEntry e ON e.rowid = o.at
      WHERE o.bookPlace > ${from} AND o.bookPlace <= ${from + PAGE} AND o.isRevision = 0 ORDER BY o.bookPlace`.execute(
      db,
    );
    const revisions = await sql<
      Ordered<RevisionContent>
    >`SELECT v.*, o.at, o.bookPlace FROM chainOrder o JOIN programRevision v ON v.rowid = o.at
      WHERE o.bookPlace > ${from} AND o.bookPlace <= ${from + PAGE} AND o.isRevision = 1 ORDER BY o.bookPlace`.execute(
      db,
    );
    const runs = new Map<string, RunContent[]>();
    const runRows = await sql<RunContent & { revisionId: string }>`SELECT r.* FROM programRun r
      WHERE r.revisionId IN (SELECT value FROM json_each(${JSON.stringify(revisions.rows.map((row) => row.id))}))`.execute(
      db,
    );
    for (const row of runRows.rows) {
      const list = runs.get(row.revisionId);
      if (list) list.push(row);
      else runs.set(row.revisionId, [row]);
    }
    const links: Record<'entry' | 'revision', unknown[][]> = { entry: [], revision: [] };
    const linkOf = (at: number, link: Link) => [at, link.bookPlace, link.place, link.previousHash, link.hash];
    let [e, v] = [0, 0];
    for (;;) {
      const entry = entries.rows[e];
      const revision = revisions.rows[v];
      if (entry && (!revision || entry.bookPlace < revision.bookPlace)) {
        links.entry.push(linkOf(entry.at, end.entry(entry)));
        e += 1;
      } else if (revision) {
        const linked = end.revision(revision, runs.get(revision.id) ?? []);
        links.revision.push([...linkOf(revision.at, linked), linked.runCount]);
        v += 1;
      } else break;
    }
    if (end.count === from) break;
    await tell(end.count, rows[0]!.links);
    await sql`UPDATE ledgerEntry SET bookPlace = l.value ->> 1, place = l.value ->> 2, previousHash = l.value ->> 3, hash = l.value ->> 4
      FROM json_each(${JSON.stringify(links.entry)}) AS l WHERE ledgerEntry.rowid = l.value ->> 0`.execute(db);
    await sql`UPDATE programRevision SET bookPlace = l.value ->> 1, place = l.value ->> 2, previousHash = l.value ->> 3, hash = l.value ->> 4, runCount = l.value ->> 5
      FROM json_each(${JSON.stringify(links.revision)}) AS l WHERE programRevision.rowid = l.value ->> 0`.execute(db);
  }
  await sql`DROP TABLE chainOrder`.execute(db);
  const ends = JSON.stringify([...end.ends()]);
  await sql`INSERT INTO chainHead (propertyId, place, hash)
    SELECT value ->> 'propertyId', value ->> 'place', value ->> 'hash' FROM json_each(${ends})`.execute(db);
  // A new book has nothing to say about a time before the chain.
  const chainedAt = end.count === 0 ? null : new Date().toISOString();
  await sql`INSERT INTO ledgerChain (id, links, chainedLinks, chainedAt) VALUES (1, ${end.count}, ${end.count}, ${chainedAt})`.execute(
    db,
  );
}
