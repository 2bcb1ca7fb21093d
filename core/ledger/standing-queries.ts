import { sql } from 'kysely';

// The rule of `standing.ts` for queries of `ledgerEntry as e`.

/** No later entry corrects it: it is the last version, which may say that nothing happened. */
export const isLastVersion = sql<boolean>`NOT EXISTS (SELECT 1 FROM ${sql.table('ledgerEntry')} AS c WHERE ${sql.ref('c.correctsId')} = e.id)`;

/** It counts. */
export const isStanding = sql<boolean>`(e.correction IS NOT 'void' AND ${isLastVersion})`;
