import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { toRow, type BookTables, type Db } from './tables.ts';

/** The version a save makes, or a refusal. */
export function nextVersion(present: number | undefined, seen: number | undefined, what: string): number {
  if (present === undefined) {
    if (seen !== undefined) throw new BookError('not-found', fact('errors.notThereToChange', { what }), 'version');
    return 1;
  }
  if (seen === undefined) throw new BookError('conflict', fact('errors.sendVersion', { what }), 'version');
  if (seen !== present) throw new BookError('stale', fact('errors.savedMeanwhile', { what }), 'version');
  return present + 1;
}

/** Adds a row or replaces its values, by id. */
export async function upsert(
  db: Db,
  table: 'truck' | 'technician' | 'route' | 'restriction' | 'weatherStation',
  entity: { id: string },
): Promise<void> {
  const row = toRow(table as keyof BookTables, entity) as any;
  await db
    .insertInto(table)
    .values(row)
    .onConflict((conflict) => conflict.column('id').doUpdateSet(row))
    .execute();
}

export async function mustExist(
  db: Db,
  table: 'client' | 'property' | 'route' | 'restriction' | 'weatherStation' | 'technician' | 'truck' | 'controller',
  id: string,
  field: string,
  what: string,
): Promise<void> {
  const row = await db.selectFrom(table).select('id').where('id', '=', id).executeTakeFirst();
  if (!row) throw new BookError('not-found', fact('errors.notInBook', { what }), field);
}
