import type { Db } from '../store/tables.ts';

/** A finding by the id of any of its versions: the id of the first, its property, and whether it stands. */
export async function findingOf(
  db: Db,
  versionId: string,
): Promise<{ id: string; propertyId: string; stands: boolean } | null> {
  let at = await versionOf(db, versionId);
  if (at?.kind !== 'finding') return null;
  while (at.correctsId !== null) {
    const before = await versionOf(db, at.correctsId);
    if (!before) return null;
    at = before;
  }
  const row = await db.selectFrom('finding').select('id').where('id', '=', at.id).executeTakeFirst();
  return { id: at.id, propertyId: at.propertyId, stands: row !== undefined };
}

function versionOf(db: Db, id: string) {
  return db
    .selectFrom('ledgerEntry')
    .select(['id', 'kind', 'propertyId', 'correctsId'])
    .where('id', '=', id)
    .executeTakeFirst();
}

/** The entries that say a property's open findings, the newest first. */
export async function openFindingIds(db: Db, propertyId: string): Promise<string[]> {
  const rows = await db
    .selectFrom('finding as f')
    .innerJoin('ledgerEntry as e', 'e.id', 'f.entryId')
    .select('f.entryId')
    .where('f.propertyId', '=', propertyId)
    .where('f.closedByEntryId', 'is', null)
    .orderBy('e.doneOn', 'desc')
    .orderBy('e.bookPlace', 'desc')
    .execute();
  return rows.map((row) => row.entryId);
}
