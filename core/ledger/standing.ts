// Which entries count. Pure, and asked by everything that reads the ledger, on the screen too; `standing-queries.ts` says the same in SQL.

interface Version {
  correction: 'replace' | 'void' | null;
}

/** An entry stands unless a later one corrects it; one that says of another that it did not happen says nothing itself. */
export const stands = ({ correction }: Version, isCorrected: boolean): boolean => !isCorrected && correction !== 'void';

/** Of a property's entries (all of them, in any order) those that stand, in the order given. */
export function standing<T extends Version & { id: string; correctsId: string | null }>(entries: readonly T[]): T[] {
  const corrected = new Set(entries.map((entry) => entry.correctsId));
  return entries.filter((entry) => stands(entry, corrected.has(entry.id)));
}
