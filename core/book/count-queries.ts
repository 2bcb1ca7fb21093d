import type { BookTables, Db } from '../store/tables.ts';

const COUNTED = [
  'client',
  'property',
  'controller',
  'zone',
  'program',
  'programRevision',
  'sensor',
  'visit',
  'technician',
  'ledgerEntry',
  'weatherStation',
  'weatherDay',
] as const satisfies readonly (keyof BookTables)[];

/** Rows per table that a person would count. */
export async function countRows(db: Db): Promise<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const table of COUNTED)
    counts[table] = Number(
      (
        (await db
          .selectFrom(table)
          .select((eb: any) => eb.fn.countAll().as('n'))
          .executeTakeFirstOrThrow()) as any
      ).n,
    );
  return counts;
}
