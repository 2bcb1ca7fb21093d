import type { Db } from '../store/tables.ts';

export async function seasonsOfProperty(
  db: Db,
  propertyId: string,
): Promise<{ year: number; startedUpOn: string | null; winterizedOn: string | null }[]> {
  return db
    .selectFrom('season')
    .select(['year', 'startedUpOn', 'winterizedOn'])
    .where('propertyId', '=', propertyId)
    .orderBy('year')
    .execute();
}
