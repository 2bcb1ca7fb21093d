import type { Handler } from '../context.ts';
import { BookError } from '../errors.ts';
import { addProgram, addRevision, readHistory, readProgram } from '../store/program-queries.ts';
import { readController } from '../store/property-queries.ts';

const programRevise: Handler<'program.revise'> = async ({ db, now, today }, input) => {
  const present = await readProgram(db, input.programId, today);
  if (!present) {
    if (input.controllerId === null) throw new BookError('not-found', 'This program is not in the book. To make a new one, say on which controller.', 'programId');
    const controller = await readController(db, input.controllerId);
    if (!controller) throw new BookError('not-found', 'This controller is not in the book.', 'controllerId');
    await addProgram(db, { id: input.programId, propertyId: controller.propertyId, controllerId: controller.id, name: input.name || 'A' });
  }
  const revision = await addRevision(db, {
    id: input.revisionId, programId: input.programId, effectiveDate: input.effectiveDate, recordedAt: now, madeBy: input.madeBy, reason: input.reason, settings: input.settings, ledgerEntryId: null,
  }, 'settings.runs');
  return { revision };
};

const programHistory: Handler<'program.history'> = ({ db }, { programId }) => readHistory(db, programId);

export const programHandlers = { 'program.revise': programRevise, 'program.history': programHistory };
