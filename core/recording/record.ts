import { auditCatchCans } from '../agronomy/index.ts';
import type { PipeMaterial, Zone } from '../properties/contract.ts';
import type { Program, ProgramRevision, ProgramRun, ProgramSettings } from '../programs/contract.ts';
import type { LedgerDetail, LedgerDetailInput } from '../ledger/entry-contract.ts';
import type { Context } from '../context.ts';
import type { Told } from '../contract/parts.ts';
import { BookError } from '../errors.ts';
import { findingOf, summarize } from '../ledger/index.ts';
import { fact, factAround } from '../text/say.ts';
import { appendEntry } from '../ledger/index.ts';
import {
  addProgram,
  addRevision,
  placeOfProgram,
  readProgram,
  revisionById,
  revisionOfEntry,
} from '../programs/index.ts';
import { readController } from '../properties/index.ts';
import { projectWork } from '../ledger/index.ts';
import type { Db } from '../store/tables.ts';
import { readZone, sensorProperty } from '../properties/index.ts';
import { targetsOf } from '../ledger/index.ts';
import { STORED } from '../text/stored.ts';

// Turning what a technician says into entries and what follows from them. Recording and correcting both come through here.

export interface Work {
  id: string;
  propertyId: string;
  visitId: string | null;
  technicianId: string | null;
  madeBy: string;
  doneOn: string;
  note: string;
  detail: LedgerDetailInput;
  /** When correcting: the entry it corrects, and why. */
  corrects?: { id: string; reason: string; doneOn: string; detail: LedgerDetail };
}

/** Appends one entry with its effects; returns the id of the program revision it made, if any. */
export async function recordWork(context: Context, work: Work, field: string): Promise<string | null> {
  const { db } = context;
  if (work.doneOn > context.today)
    throw new BookError('bad-input', fact('ledger.notYet', { doneOn: work.doneOn, today: context.today }), 'doneOn');
  const planned = await prepare(context, work, field);
  await appendEntry(
    db,
    {
      id: work.id,
      propertyId: work.propertyId,
      visitId: work.visitId,
      technicianId: work.technicianId,
      doneOn: work.doneOn,
      recordedAt: context.now,
      note: work.note,
      detail: planned.detail,
      ...(work.corrects
        ? { correctsId: work.corrects.id, correction: 'replace' as const, correctionReason: work.corrects.reason }
        : {}),
    },
    `${field}.id`,
  );
  // What the entry before it decided is worked out again as well: it may have been about another sensor or zone.
  await projectWork(db, [
    ...targetsOf({ propertyId: work.propertyId, detail: planned.detail }),
    ...(work.corrects ? targetsOf({ propertyId: work.propertyId, detail: work.corrects.detail }) : []),
  ]);
  if (planned.revision) {
    await addRevision(
      db,
      {
        id: planned.revision.id,
        programId: planned.revision.programId,
        effectiveDate: planned.revision.effectiveDate,
        recordedAt: context.now,
        madeBy: work.madeBy,
        reason: planned.revision.reason,
        settings: planned.revision.settings,
        ledgerEntryId: work.id,
      },
      `${field}.detail.runs`,
    );
    return planned.revision.id;
  }
  return null;
}

interface Planned {
  detail: LedgerDetail;
  revision: { id: string; programId: string; settings: ProgramSettings; reason: string; effectiveDate: string } | null;
}

/** Checks what an entry points at and fills in what the book knows (old minutes, measured rates). */
async function prepare(context: Context, work: Work, field: string): Promise<Planned> {
  const { db } = context;
  const { detail } = work;
  switch (detail.kind) {
    case 'battery-swap':
    case 'sensor-check': {
      if ((await sensorProperty(db, detail.sensorId)) !== work.propertyId)
        throw new BookError('not-found', fact('ledger.noSensorHere'), `${field}.detail.sensorId`);
      return { detail, revision: null };
    }
    case 'manual-run':
    case 'finding':
    case 'repair':
    case 'decision': {
      if ('zoneId' in detail && detail.zoneId !== null)
        await zoneHere(context, detail.zoneId, work.propertyId, `${field}.detail.zoneId`);
      if (!('closesFindingId' in detail) || detail.closesFindingId === null) return { detail, revision: null };
      const closesFindingId = await findingHere(context, detail.closesFindingId, work.propertyId, field);
      return { detail: { ...detail, closesFindingId }, revision: null };
    }
    case 'zone-audit': {
      await zoneHere(context, detail.zoneId, work.propertyId, `${field}.detail.zoneId`);
      const audit = auditCatchCans({
        volumesMl: detail.volumesMl,
        throatAreaIn2: detail.throatAreaIn2,
        minutes: detail.runMinutes,
      });
      return {
        detail: {
          ...detail,
          precipitationRateInPerHour: audit.prInchesPerHour,
          distributionUniformity: Math.max(0.1, audit.du),
          before: null,
        },
        revision: null,
      };
    }
    case 'run-time-change':
      return prepareChange(context, work, detail, `${field}.detail`);
    default:
      return { detail, revision: null };
  }
}

/** The first version's id of a finding that stands at this property. */
async function findingHere(context: Context, id: string, propertyId: string, field: string): Promise<string> {
  const finding = await findingOf(context.db, id);
  if (finding?.propertyId !== propertyId)
    throw new BookError('not-found', { key: 'log.findingNotHere' }, `${field}.detail.closesFindingId`);
  if (!finding.stands) throw new BookError('conflict', { key: 'log.findingIsVoid' }, `${field}.detail.closesFindingId`);
  return finding.id;
}

async function zoneHere(context: Context, zoneId: string, propertyId: string, field: string): Promise<Zone> {
  const zone = await readZone(context.db, zoneId);
  if (zone?.propertyId !== propertyId) throw new BookError('not-found', fact('ledger.noZoneHere'), field);
  return zone;
}

type ChangeInput = Extract<LedgerDetailInput, { kind: 'run-time-change' }>;

async function prepareChange(context: Context, work: Work, detail: ChangeInput, field: string): Promise<Planned> {
  const { db } = context;
  const { corrects } = work;
  const before = await readProgram(db, detail.programId, work.doneOn, corrects?.id);
  const place = await placeOfProgram(db, detail.programId);
  const wrong = corrects ? await revisionOfEntry(db, corrects.id) : null;
  // Without a revision before it, the corrected entry made the program: then its own settings are where to start.
  if (place?.propertyId !== work.propertyId || (before === null && wrong?.programId !== detail.programId))
    throw new BookError('not-found', fact('errors.programElsewhere'), `${field}.programId`);
  const corrected =
    wrong?.programId === detail.programId && corrects?.detail.kind === 'run-time-change'
      ? { settings: wrong, changes: corrects.detail.changes }
      : null;
  const from = startOfChange(before?.revision ?? null, corrected, detail);
  const settings = changedSettings(before?.revision ?? null, from, detail, place.name, `${field}.runs`);
  return {
    detail: { ...describeChange(before, settings, detail.revisionId, detail.reason), programId: detail.programId },
    revision: {
      id: detail.revisionId,
      programId: detail.programId,
      settings,
      reason: detail.reason || STORED.changedOnSite,
      // What was to hold from a later day on still does.
      effectiveDate:
        corrects && wrong && wrong.effectiveDate > corrects.doneOn && work.doneOn === corrects.doneOn
          ? wrong.effectiveDate
          : work.doneOn,
    },
  };
}

/**
 * What a change starts from where it says nothing else: the settings before it; of a correction, what the corrected
 * entry had set, but for run times that it had changed and the correction no longer names.
 */
function startOfChange(
  before: ProgramSettings | null,
  corrected: { settings: ProgramSettings; changes: readonly { zoneId: string }[] } | null,
  detail: ChangeInput,
): ProgramSettings {
  if (corrected === null) return before!;
  if (before === null) return corrected.settings;
  const takenBack = new Set(corrected.changes.map((change) => change.zoneId));
  for (const run of detail.runs) takenBack.delete(run.zoneId);
  return {
    ...corrected.settings,
    seasonalPercent: before.seasonalPercent,
    runs: [
      ...corrected.settings.runs.filter((run) => !takenBack.has(run.zoneId)),
      ...before.runs.filter((run) => takenBack.has(run.zoneId)),
    ],
  };
}

function changedSettings(
  before: ProgramSettings | null,
  from: ProgramSettings,
  detail: ChangeInput,
  programName: string,
  field: string,
): ProgramSettings {
  const runs = from.runs.map((run) => ({ ...run }));
  for (const change of detail.runs) {
    const run = runs.find((one) => one.zoneId === change.zoneId);
    if (run) {
      run.runMinutes = change.runMinutes;
      if (change.cycleMinutes !== undefined) run.cycleMinutes = change.cycleMinutes;
      if (change.soakMinutes !== undefined) run.soakMinutes = change.soakMinutes;
    } else
      runs.push({
        zoneId: change.zoneId,
        runMinutes: change.runMinutes,
        cycleMinutes: change.cycleMinutes ?? null,
        soakMinutes: change.soakMinutes ?? null,
      });
  }
  const settings: ProgramSettings = {
    days: detail.days ?? from.days,
    startTimes: detail.startTimes ?? from.startTimes,
    seasonalPercent: detail.seasonalPercent ?? from.seasonalPercent,
    runs,
    enabled: from.enabled,
  };
  if (before !== null && isSameProgram(before, settings))
    throw new BookError('bad-input', fact('ledger.noChange', { name: programName }), field);
  return settings;
}

/** Do two settings say the same? The order in which zones are named says nothing. */
function isSameProgram(a: ProgramSettings, b: ProgramSettings): boolean {
  const form = ({ days, startTimes, seasonalPercent, runs, enabled }: ProgramSettings) =>
    JSON.stringify([
      days,
      startTimes,
      seasonalPercent,
      enabled,
      runs
        .map((run) => [run.zoneId, run.runMinutes, run.cycleMinutes, run.soakMinutes])
        .sort(([one], [other]) => (String(one) < String(other) ? -1 : 1)),
    ]);
  return form(a) === form(b);
}

export interface OfficeChange {
  programId: string;
  revisionId: string;
  entryId: string;
  /** Needed for a new program. */
  controllerId: string | null;
  name: string;
  propertyId: string | null;
  visitId: string | null;
  technicianId: string | null;
  doneOn: string;
  effectiveDate: string;
  madeBy: string;
  reason: string;
  settings: ProgramSettings;
  /** The revision these settings were begun from; undefined = nobody asks. */
  seenRevisionId?: string | null | undefined;
}

/** A program set as a whole, by the office or from a review: its ledger entry and the revision it makes; a new program where there was none. */
export async function recordProgram(
  { db, now, today }: Context,
  change: OfficeChange,
  fields: { program: string; entry: string; runs: string; seen: string },
): Promise<ProgramRevision> {
  await refuseUnseen(db, change, today, fields.seen);
  const propertyId = await ensureProgram(db, change, fields.program);
  const before = await readProgram(db, change.programId, change.effectiveDate);
  const { settings, programId, revisionId, reason } = change;
  await appendEntry(
    db,
    {
      id: change.entryId,
      propertyId,
      visitId: change.visitId,
      technicianId: change.technicianId,
      doneOn: change.doneOn,
      recordedAt: now,
      note: '',
      detail: { ...describeChange(before, settings, revisionId, reason), programId },
    },
    fields.entry,
  );
  return addRevision(
    db,
    {
      id: revisionId,
      programId,
      effectiveDate: change.effectiveDate,
      recordedAt: now,
      madeBy: change.madeBy,
      reason,
      settings,
      ledgerEntryId: change.entryId,
    },
    fields.runs,
  );
}

/** Is the program still set as it was where these settings were begun? A refusal says what changed. */
async function refuseUnseen(db: Db, change: OfficeChange, today: string, field: string): Promise<void> {
  const { programId, seenRevisionId, effectiveDate } = change;
  if (seenRevisionId === undefined) return;
  const current = await readProgram(db, programId, effectiveDate > today ? effectiveDate : today);
  if ((current?.revision.id ?? null) === seenRevisionId) return;
  const place = await placeOfProgram(db, programId);
  const seen = seenRevisionId === null ? null : await revisionById(db, seenRevisionId);
  if (place === null || (seenRevisionId !== null && seen?.revision.programId !== programId))
    throw new BookError('not-found', fact('errors.noSuchRevision'), field);
  const { name } = place;
  if (current === null) throw new BookError('stale', fact('errors.programGone', { name }), field);
  const { revision } = current;
  if (seen !== null && isSameProgram(seen.revision, revision)) return;
  const before = seen === null ? null : { ...current, revision: seen.revision };
  const what = summarize(describeChange(before, revision, revision.id, ''), null);
  throw new BookError(
    'stale',
    seen !== null && !seen.stands
      ? factAround('errors.programVoided', what, { name, revisionId: revision.id })
      : factAround('errors.programChanged', what, {
          name,
          who: revision.madeBy === STORED.office ? null : revision.madeBy,
          date: revision.effectiveDate,
          revisionId: revision.id,
        }),
    field,
  );
}

/** Finds the program, or makes it; returns its property. */
async function ensureProgram(db: Db, change: OfficeChange, field: string): Promise<string> {
  const { programId, controllerId, name, propertyId } = change;
  const place = await placeOfProgram(db, programId);
  if (place) {
    if (propertyId !== null && place.propertyId !== propertyId)
      throw new BookError('not-found', fact('errors.programElsewhere'), field);
    return place.propertyId;
  }
  if (controllerId === null) throw new BookError('not-found', fact('errors.noProgramYet'), field);
  const controller = await readController(db, controllerId);
  if (!controller || (propertyId !== null && controller.propertyId !== propertyId))
    throw new BookError('not-found', fact('errors.controllerNotHere'), 'controllerId');
  await addProgram(db, { id: programId, propertyId: controller.propertyId, controllerId, name: name || 'A' });
  return controller.propertyId;
}

/** The ledger's account of a program change: zone by zone, old and new. */
export function describeChange(
  before: Program | null,
  settings: ProgramSettings,
  revisionId: string,
  reason: string,
): Extract<LedgerDetail, { kind: 'run-time-change' }> {
  const old = before?.revision;
  const oldMinutes = new Map(old?.runs.map((run) => [run.zoneId, run.runMinutes]) ?? []);
  const changes = settings.runs
    .map((run) => ({ zoneId: run.zoneId, oldMinutes: oldMinutes.get(run.zoneId) ?? 0, newMinutes: run.runMinutes }))
    .filter((change) => change.oldMinutes !== change.newMinutes);
  for (const run of old?.runs ?? []) {
    if (run.runMinutes > 0 && !settings.runs.some((one) => one.zoneId === run.zoneId))
      changes.push({ zoneId: run.zoneId, oldMinutes: run.runMinutes, newMinutes: 0 });
  }
  return {
    kind: 'run-time-change',
    programId: before?.id ?? '',
    revisionId,
    changes,
    oldSeasonalPercent: old?.seasonalPercent ?? settings.seasonalPercent,
    newSeasonalPercent: settings.seasonalPercent,
    daysChanged: old !== undefined && JSON.stringify(old.days) !== JSON.stringify(settings.days),
    startTimesChanged: old !== undefined && JSON.stringify(old.startTimes) !== JSON.stringify(settings.startTimes),
    cyclesChanged: old !== undefined && settings.runs.some((run) => hasOtherCycles(run, old.runs)),
    switched: old === undefined || old.enabled === settings.enabled ? null : settings.enabled ? 'on' : 'off',
    madeProgram: before === null,
    reason,
  };
}

/** A zone that runs before and after, in other cycles. */
function hasOtherCycles(run: ProgramRun, before: readonly ProgramRun[]): boolean {
  const old = before.find((one) => one.zoneId === run.zoneId);
  if (old === undefined || old.runMinutes === 0 || run.runMinutes === 0) return false;
  return old.cycleMinutes !== run.cycleMinutes || old.soakMinutes !== run.soakMinutes;
}

/** Cautions shown with a winterization. Pressures are common practice, no source; the pipe maker's and local limits rule. */
export function cautionsFor(detail: LedgerDetailInput, pipeMaterial: PipeMaterial): Told[] {
  if (detail.kind !== 'winterization' || detail.method !== 'compressed-air') return [];
  const usual = pipeMaterial === 'polyethylene' || pipeMaterial === 'mixed' || pipeMaterial === 'unknown' ? 50 : 80;
  if (detail.airPressurePsi === null || detail.airPressurePsi <= usual) return [];
  const given = {
    pressure: { quantity: 'pressure', value: detail.airPressurePsi },
    usual: { quantity: 'pressure', value: usual },
    pipe: pipeMaterial,
  } as const;
  return [fact('ledger.airPressure', given)];
}
