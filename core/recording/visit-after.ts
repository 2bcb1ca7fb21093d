import type { VisitKind } from '../contract/parts.ts';
import type { LedgerKind } from '../ledger/entry-contract.ts';

// What recording work does to the visit it is recorded with. Pure: the forms say beforehand what the book will do.

/** none = no visit is named; was-done = it is done already; closed-by-season = the start-up or winterization it was for is among the work. */
export type VisitAfter = 'none' | 'was-done' | 'closed-by-season' | 'closed' | 'open';

/**
 * Season work of the visit's own kind closes it whatever else is said. Otherwise it is closed where that is asked for and
 * nobody says that the work could not be done: then it stays to be booked again.
 */
export function visitAfter(
  visit: { kind: VisitKind; state: string } | null,
  kinds: readonly LedgerKind[],
  closeVisit: boolean,
): VisitAfter {
  if (visit === null) return 'none';
  if (visit.state === 'done') return 'was-done';
  if ((visit.kind === 'start-up' || visit.kind === 'winterization') && kinds.includes(visit.kind))
    return 'closed-by-season';
  return closeVisit && !kinds.includes('not-done') ? 'closed' : 'open';
}
