import type { Visit } from '../../../../core/visits/contract.ts';
import { VISIT_WORDS } from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { ask } from '../../../state/use-request.ts';
import { newId, write } from '../../../state/write.ts';
import { say, sayError } from '../../../state/say.ts';

/** Cancels a planned visit at once; the way back stands in the message. */
export async function cancelVisit(visit: Visit, reason = ''): Promise<void> {
  const reply = await write('visit.cancel', { writeId: newId(), visitId: visit.id, reason });
  if (!reply.ok) return;
  toast({
    text: say('work.cancelled', { visit: VISIT_WORDS[visit.kind], date: visit.date }),
    undo: () => void write('visit.cancel', { writeId: newId(), visitId: visit.id, restore: true }),
  });
}

/** Reads one planned visit, to move it from a list that only names it. */
export async function findVisit(propertyId: string, visitId: string, date: string): Promise<Visit | null> {
  const reply = await ask('visit.list', { fromDate: date, toDate: date, propertyId, states: ['planned'] });
  if (!reply.ok) {
    toast({ text: sayError(reply.error), tone: 'error' });
    return null;
  }
  return reply.data.visits.find((visit) => visit.id === visitId) ?? null;
}
