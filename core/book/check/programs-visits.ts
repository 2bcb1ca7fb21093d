import {
  misplaced,
  programsOfBook,
  revisionsOfBook,
  strayRuns,
  visitsToCheck,
  workElsewhere,
} from '../check-queries.ts';
import type { Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import type { LedgerReading } from './ledger-pass.ts';
import { fact } from '../../text/say.ts';

/** Programs, their revisions, and the ledger entries behind those. */
export async function checkPrograms(db: Db, ledger: LedgerReading): Promise<Check> {
  const check = new Check(fact('check.of.programs'));
  const numbers = new Map<string, number>();
  const byEntry = new Map<string, { id: string; programId: string }>();
  for (const revision of await revisionsOfBook(db)) {
    check.looked += 1;
    const expected = (numbers.get(revision.programId) ?? 0) + 1;
    if (revision.revisionNumber !== expected)
      check.find(
        fact('check.revisionMissing', {
          programId: revision.programId,
          expected,
          id: revision.id,
          number: revision.revisionNumber,
        }),
      );
    numbers.set(revision.programId, revision.revisionNumber);
    const entryId = revision.ledgerEntryId;
    if (entryId === null) {
      if (revision.voidedByEntryId !== null) check.find(fact('check.voidAlone', { id: revision.id }));
      continue;
    }
    byEntry.set(entryId, revision);
    if (!ledger.changes.has(entryId)) check.find(fact('check.namesNoChange', { id: revision.id, entryId }));
    const correctedBy = ledger.supersededBy.get(entryId) ?? null;
    if (correctedBy === null && revision.voidedByEntryId !== null)
      check.find(fact('check.voidStands', { id: revision.id, entryId }));
    if (correctedBy !== null && revision.voidedByEntryId === null)
      check.find(fact('check.inForceCorrected', { id: revision.id, entryId, by: correctedBy }));
    if (correctedBy !== null && revision.voidedByEntryId !== null && revision.voidedByEntryId !== correctedBy) {
      check.find(fact('check.voidByOther', { id: revision.id, voidBy: revision.voidedByEntryId, by: correctedBy }));
    }
  }
  for (const [entryId, change] of ledger.changes) {
    if (change.revisionId === null) continue;
    const revision = byEntry.get(entryId);
    if (!revision) check.find(fact('check.noRevision', { entryId }));
    else if (revision.id !== change.revisionId || revision.programId !== change.programId)
      check.find(
        fact('check.otherRevision', {
          entryId,
          says: change.revisionId,
          ofProgram: change.programId,
          id: revision.id,
          programId: revision.programId,
        }),
      );
  }
  for (const program of await programsOfBook(db)) {
    check.looked += 1;
    if (!numbers.has(program.id)) check.find(fact('check.programEmpty', { name: program.name, id: program.id }));
  }
  for (const run of await strayRuns(db))
    check.find(fact('check.runElsewhere', { revisionId: run.revisionId, zoneId: run.zoneId }));
  for (const { table, id } of await misplaced(db)) check.find(fact('check.misplaced', { table, id }));
  return check;
}

/** Visits: done ones have their day, and what was logged on one belongs to its property. */
export async function checkVisits(db: Db): Promise<Check> {
  const check = new Check(fact('check.of.visits'));
  for (const visit of await visitsToCheck(db)) {
    check.looked += 1;
    if (visit.state === 'done' && visit.doneOn === null) check.find(fact('check.doneNoDay', { id: visit.id }));
    if (visit.state !== 'done' && visit.doneOn !== null)
      check.find(fact('check.dayNotDone', { id: visit.id, state: visit.state, doneOn: visit.doneOn }));
  }
  for (const entry of await workElsewhere(db))
    check.find(fact('check.loggedElsewhere', { id: entry.id, visitId: entry.visitId! }));
  return check;
}
