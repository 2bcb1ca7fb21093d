import type { LedgerEntry } from '../../core/ledger/entry-contract.ts';
import { stands } from '../../core/ledger/standing.ts';
import { say, sayTold } from '../state/say.ts';

/** The other end of the link between a finding and what closed it; an open finding says that it is open. */
export function findingWords(entry: LedgerEntry): string | null {
  if (entry.closedBy !== null)
    return say('log.closedBy', { what: sayTold(entry.closedBy.summary), date: entry.closedBy.doneOn });
  if (entry.closes !== null)
    return say('log.closed', { what: sayTold(entry.closes.summary), date: entry.closes.doneOn });
  return entry.kind === 'finding' && stands(entry, entry.supersededById !== null) ? say('log.isOpen') : null;
}
