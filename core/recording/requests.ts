import { ulid } from 'ulid';
import type { Handler, Context } from '../context.ts';
import { recordProgram, cautionsFor, recordWork } from './record.ts';
import { visitAfter } from './visit-after.ts';
import { BookError } from '../errors.ts';
import { readProperty } from '../properties/index.ts';
import {
  mustReadVisit,
  insertVisit,
  markUnplanned,
  placeInDay,
  plannedVisitOfKind,
  readVisit,
  updateVisit,
  USUAL_MINUTES,
  isUnplanned,
} from '../visits/index.ts';
import { readTechnician } from '../people/index.ts';
import { fact } from '../text/say.ts';
import { STORED } from '../text/stored.ts';
import type { Told } from '../contract/parts.ts';
import { readEntries, appendEntry, readEntry, projectWork, targetsOf, visitHasEntry } from '../ledger/index.ts';
import { voidRevisionsOf } from '../programs/index.ts';
import { LEDGER_KINDS } from '../ledger/entry-contract.ts';

const programRevise: Handler<'program.revise'> = async (context, input) => {
  const { today } = context;
  const entryId = input.entryId ?? ulid();
  const revision = await recordProgram(
    context,
    {
      ...input,
      entryId,
      propertyId: null,
      visitId: null,
      technicianId: null,
      // The entry is of the day from which the settings hold, or of today where that is still to come.
      doneOn: input.effectiveDate > today ? today : input.effectiveDate,
    },
    { program: 'programId', entry: 'entryId', runs: 'settings.runs', seen: 'seenRevisionId' },
  );
  return { revision, entryId };
};

const programAccept: Handler<'program.accept'> = async (context, input) => {
  const { db, today } = context;
  if (input.doneOn > today)
    throw new BookError('bad-input', fact('advice.notYet', { doneOn: input.doneOn, today }), 'doneOn');
  await readProperty(db, input.propertyId);
  const technician = input.technicianId === null ? null : await readTechnician(db, input.technicianId);
  if (input.technicianId !== null && !technician)
    throw new BookError('not-found', fact('errors.noTechnician'), 'technicianId');
  if (input.visitId !== null && (await mustReadVisit(db, input.visitId)).propertyId !== input.propertyId)
    throw new BookError('bad-input', fact('ledger.otherVisit'), 'visitId');
  for (const [index, one] of input.programs.entries())
    await recordProgram(
      context,
      {
        ...one,
        propertyId: input.propertyId,
        visitId: input.visitId,
        technicianId: input.technicianId,
        doneOn: input.doneOn,
        effectiveDate: input.doneOn,
        madeBy: technician?.name ?? STORED.office,
        reason: input.reason,
      },
      {
        program: `programs.${index}.programId`,
        entry: `programs.${index}.entryId`,
        runs: `programs.${index}.settings.runs`,
        seen: `programs.${index}.seenRevisionId`,
      },
    );
  return {
    revisionIds: input.programs.map((one) => one.revisionId),
    entryIds: input.programs.map((one) => one.entryId),
  };
};

const visitRecord: Handler<'visit.record'> = async (context, input) => {
  const { db, today } = context;
  const { property } = await readProperty(db, input.propertyId);
  if (input.doneOn > today)
    throw new BookError('bad-input', fact('ledger.notYet', { doneOn: input.doneOn, today }), 'doneOn');
  const madeBy = await technicianName(context, input.technicianId);
  const kinds = input.entries.map((entry) => entry.detail.kind);
  const seasonWork = kinds.filter((kind) => kind === 'winterization' || kind === 'start-up');

  let visit = input.visitId === null ? null : await readVisit(db, input.visitId);
  if (visit === null && input.visitId !== null) {
    if (input.unplannedKind === null) throw new BookError('not-found', fact('errors.noVisit'), 'visitId');
    visit = {
      id: input.visitId,
      propertyId: property.id,
      kind: input.unplannedKind,
      state: 'planned',
      date: input.doneOn,
      windowFrom: null,
      windowTo: null,
      technicianId: input.technicianId,
      orderInDay: 1,
      expectedMinutes: USUAL_MINUTES[input.unplannedKind],
      locked: false,
      note: '',
      doneOn: null,
      cancelReason: '',
    };
    visit.orderInDay = await placeInDay(db, visit, undefined);
    await insertVisit(db, visit);
    await markUnplanned(db, visit.id);
  }
  // Season work logged without naming a visit still closes the one that was planned for it.
  if (visit === null && seasonWork.length > 0) visit = await plannedVisitOfKind(db, property.id, seasonWork[0]!);
  if (visit) {
    if (visit.propertyId !== property.id) throw new BookError('bad-input', fact('ledger.otherVisit'), 'visitId');
    if (visit.state === 'cancelled') throw new BookError('conflict', fact('ledger.cancelledVisit'), 'visitId');
  }

  const revisionIds: string[] = [];
  const cautions: Told[] = [];
  for (const [index, entry] of input.entries.entries()) {
    const revisionId = await recordWork(
      context,
      {
        id: entry.id,
        propertyId: property.id,
        visitId: visit?.id ?? null,
        technicianId: input.technicianId,
        madeBy,
        doneOn: input.doneOn,
        note: entry.note,
        detail: entry.detail,
      },
      `entries.${index}`,
    );
    if (revisionId) revisionIds.push(revisionId);
    cautions.push(...cautionsFor(entry.detail, property.pipeMaterial));
  }
  const after = visitAfter(visit, kinds, input.closeVisit);
  if (visit && (after === 'closed' || after === 'closed-by-season')) {
    visit = { ...visit, state: 'done', doneOn: input.doneOn, technicianId: input.technicianId ?? visit.technicianId };
    await updateVisit(db, visit);
  }
  return {
    entries: await readEntries(
      db,
      input.entries.map((entry) => entry.id),
    ),
    visit,
    revisionIds,
    cautions,
  };
};

async function technicianName({ db }: Context, id: string | null): Promise<string> {
  if (id === null) return STORED.office;
  const technician = await readTechnician(db, id);
  if (!technician) throw new BookError('not-found', fact('errors.noTechnician'), 'technicianId');
  return technician.name;
}

const ledgerCorrect: Handler<'ledger.correct'> = async (context, input) => {
  const { db, now } = context;
  const found = await readEntry(db, input.correctsId);
  if (!found) throw new BookError('not-found', fact('errors.noEntry'), 'correctsId');
  const { entry: old } = found;
  if (found.supersededById !== null) throw new BookError('conflict', fact('ledger.correctedAlready'), 'correctsId');
  if (input.correction === 'void' && old.correction === 'void')
    throw new BookError('conflict', fact('ledger.voidAlready'), 'correctsId');

  const revisionIds: string[] = [];
  if (input.correction === 'void') {
    await appendEntry(
      db,
      {
        id: input.id,
        propertyId: old.propertyId,
        visitId: old.visitId,
        technicianId: old.technicianId,
        doneOn: old.doneOn,
        recordedAt: now,
        note: input.note ?? '',
        detail: old.detail,
        correctsId: old.id,
        correction: 'void',
        correctionReason: input.reason,
      },
      'id',
    );
    await voidRevisionsOf(db, old.id, input.id);
    await projectWork(db, targetsOf(old));
    if (old.visitId !== null) await reopenVisit(context, old.visitId);
  } else {
    const detail = input.detail!;
    if (detail.kind !== old.kind)
      throw new BookError('bad-input', fact('ledger.otherKind', { kind: old.kind }), 'detail.kind');
    const madeBy = await technicianName(context, old.technicianId);
    const revisionId = await recordWork(
      context,
      {
        id: input.id,
        propertyId: old.propertyId,
        visitId: old.visitId,
        technicianId: old.technicianId,
        madeBy,
        doneOn: input.doneOn ?? old.doneOn,
        note: input.note ?? old.note,
        detail,
        corrects: { id: old.id, reason: input.reason, doneOn: old.doneOn, detail: old.detail },
      },
      'detail',
    );
    if (revisionId) revisionIds.push(revisionId);
    await voidRevisionsOf(db, old.id, input.id);
    if (old.visitId !== null) await redateVisit(context, old.visitId, old.doneOn, input.doneOn ?? old.doneOn);
  }
  const [entry] = await readEntries(db, [input.id]);
  return { entry: entry!, revisionIds };
};

/** Everything but that the work could not be done. */
const WORK_KINDS = LEDGER_KINDS.filter((kind) => kind !== 'not-done');

/** A visit on which no work is left that happened is open again; one that nobody had planned and nothing is left of is cancelled. */
async function reopenVisit({ db }: Context, visitId: string): Promise<void> {
  const visit = await readVisit(db, visitId);
  if (!visit || visit.state === 'cancelled') return;
  if ((await isUnplanned(db, visitId)) && !(await visitHasEntry(db, visitId, null)))
    await updateVisit(db, {
      ...visit,
      state: 'cancelled',
      doneOn: null,
      cancelReason: STORED.workVoided,
    });
  else if (visit.state === 'done' && !(await visitHasEntry(db, visitId, WORK_KINDS)))
    await updateVisit(db, { ...visit, state: 'planned', doneOn: null });
}

async function redateVisit({ db }: Context, visitId: string, from: string, to: string): Promise<void> {
  if (from === to) return;
  const visit = await readVisit(db, visitId);
  if (visit?.state === 'done' && visit.doneOn === from) await updateVisit(db, { ...visit, doneOn: to });
}

export const recordingHandlers = {
  'program.revise': programRevise,
  'program.accept': programAccept,
  'visit.record': visitRecord,
  'ledger.correct': ledgerCorrect,
};
