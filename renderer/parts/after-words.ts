import type { VisitKind } from '../../core/contract/parts.ts';
import type { LedgerKind } from '../../core/ledger/entry-contract.ts';
import { visitAfter } from '../../core/recording/visit-after.ts';
import { say } from '../state/say.ts';

/** What becomes of the visit once this work is saved, where somebody could not work or nothing is left to choose. */
export function afterWords(
  visit: { kind: VisitKind; state: string } | null,
  kinds: readonly LedgerKind[],
  closeVisit: boolean,
): string {
  const season = visit?.kind === 'start-up' || visit?.kind === 'winterization' ? visit.kind : null;
  switch (visitAfter(visit, kinds, closeVisit)) {
    case 'none':
      return say('log.noVisit');
    case 'was-done':
      return say('log.wasDone');
    case 'closed-by-season':
      return say('log.closedBySeason', { work: season! });
    default:
      if (!kinds.includes('not-done')) return say('work.visitDoneWhy');
      return season === null ? say('log.staysToBook') : say('log.staysUnless', { work: season });
  }
}
