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

/** Programs, their revisions, and the ledger entries behind those. */
export async function checkPrograms(db: Db, ledger: LedgerReading): Promise<Check> {
  const check = new Check('Program revisions are complete and agree with the ledger');
  const numbers = new Map<string, number>();
  const byEntry = new Map<string, { id: string; programId: string }>();
  for (const revision of await revisionsOfBook(db)) {
    check.looked += 1;
    const expected = (numbers.get(revision.programId) ?? 0) + 1;
    if (revision.revisionNumber !== expected)
      check.find(
        `Program ${revision.programId}: revision ${expected} is missing (${revision.id} has number ${revision.revisionNumber}).`,
      );
    numbers.set(revision.programId, revision.revisionNumber);
    const entryId = revision.ledgerEntryId;
    if (entryId === null) {
      if (revision.voidedByEntryId !== null)
        check.find(`Program revision ${revision.id} is void, but no ledger entry stands behind it.`);
      continue;
    }
    byEntry.set(entryId, revision);
    if (!ledger.changes.has(entryId))
      check.find(`Program revision ${revision.id} names ledger entry ${entryId}, which is no run-time change.`);
    const correctedBy = ledger.supersededBy.get(entryId) ?? null;
    if (correctedBy === null && revision.voidedByEntryId !== null)
      check.find(`Program revision ${revision.id} is void, but its ledger entry ${entryId} still stands.`);
    if (correctedBy !== null && revision.voidedByEntryId === null)
      check.find(
        `Program revision ${revision.id} is in force, but its ledger entry ${entryId} was corrected by ${correctedBy}.`,
      );
    if (correctedBy !== null && revision.voidedByEntryId !== null && revision.voidedByEntryId !== correctedBy) {
      check.find(
        `Program revision ${revision.id} is void by ${revision.voidedByEntryId}, but its ledger entry was corrected by ${correctedBy}.`,
      );
    }
  }
  for (const [entryId, change] of ledger.changes) {
    if (change.revisionId === null) continue;
    const revision = byEntry.get(entryId);
    if (!revision) check.find(`Ledger entry ${entryId} is a run-time change without its program revision.`);
    else if (revision.id !== change.revisionId || revision.programId !== change.programId)
      check.find(
        `Ledger entry ${entryId} says revision ${change.revisionId} of program ${change.programId}, but ${revision.id} of ${revision.programId} names it.`,
      );
  }
  for (const program of await programsOfBook(db)) {
    check.looked += 1;
    if (!numbers.has(program.id)) check.find(`Program ${program.name} (${program.id}) has no revision.`);
  }
  for (const run of await strayRuns(db))
    check.find(`Program revision ${run.revisionId} runs zone ${run.zoneId}, which belongs to another controller.`);
  for (const { table, id } of await misplaced(db))
    check.find(`The ${table} ${id} stands at another property than its controller.`);
  return check;
}

/** Visits: done ones have their day, and what was logged on one belongs to its property. */
export async function checkVisits(db: Db): Promise<Check> {
  const check = new Check('Visits agree with what was logged on them');
  for (const visit of await visitsToCheck(db)) {
    check.looked += 1;
    if (visit.state === 'done' && visit.doneOn === null)
      check.find(`Visit ${visit.id} is done without a day on which it was.`);
    if (visit.state !== 'done' && visit.doneOn !== null)
      check.find(`Visit ${visit.id} is ${visit.state}, but has a day on which it was done (${visit.doneOn}).`);
  }
  for (const entry of await workElsewhere(db))
    check.find(`Ledger entry ${entry.id} was logged on visit ${entry.visitId}, which is at another property.`);
  return check;
}
