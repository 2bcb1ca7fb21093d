// Which revision of a program holds on a day. Pure, and asked by everything that shows or reckons with a program.

interface Dated {
  effectiveDate: string;
  revisionNumber: number;
}

/** A revision stands while the ledger entry that made it does. */
export const revisionStands = (revision: { voidedByEntryId: string | null }): boolean =>
  revision.voidedByEntryId === null;

/** The order in which revisions come into force: by their day, and of one day as they were recorded. */
export function byForce(a: Dated, b: Dated): number {
  if (a.effectiveDate === b.effectiveDate) return a.revisionNumber - b.revisionNumber;
  return a.effectiveDate < b.effectiveDate ? -1 : 1;
}

/** Of a program's revisions that stand, in any order, the one in force on a day; null before the first. */
export function inForceOn<T extends Dated>(standing: readonly T[], onDate: string): T | null {
  let last: T | null = null;
  for (const one of standing) if (one.effectiveDate <= onDate && (last === null || byForce(one, last) > 0)) last = one;
  return last;
}

/** The one in force or, before the first, that one: so a page is never without a program that will be. Null = none stands. */
export function shownOn<T extends Dated>(standing: readonly T[], onDate: string): T | null {
  const inForce = inForceOn(standing, onDate);
  if (inForce !== null || standing.length === 0) return inForce;
  return standing.reduce((first, one) => (byForce(one, first) < 0 ? one : first));
}
