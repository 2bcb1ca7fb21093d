import { auditCatchCans } from '../agronomy/index.ts';
import type { PipeMaterial, Program, ProgramSettings, Zone } from '../contract/entities.ts';
import type { LedgerDetail, LedgerDetailInput } from '../contract/ledger-entries.ts';
import type { Context } from '../context.ts';
import type { Told } from '../contract/parts.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { appendEntry } from '../store/ledger-queries.ts';
import { addRevision, readProgram } from '../store/program-queries.ts';
import { projectBackflow, projectSeasons, projectSensors } from '../store/projections.ts';
import { readZone, sensorProperty, setSensorPoints, setZoneRate } from '../store/zone-queries.ts';

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
  corrects?: { id: string; reason: string };
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
  await followUp(context, planned.detail, work.propertyId);
  if (planned.revision) {
    await addRevision(
      db,
      {
        id: planned.revision.id,
        programId: planned.revision.programId,
        effectiveDate: work.doneOn,
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
  revision: { id: string; programId: string; settings: ProgramSettings; reason: string } | null;
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
    case 'repair': {
      if (detail.zoneId !== null) await zoneHere(context, detail.zoneId, work.propertyId, `${field}.detail.zoneId`);
      return { detail, revision: null };
    }
    case 'zone-audit': {
      const zone = await zoneHere(context, detail.zoneId, work.propertyId, `${field}.detail.zoneId`);
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
          before: {
            prMethod: zone.prMethod,
            precipitationRateInPerHour: zone.precipitationRateInPerHour,
            distributionUniformity: zone.distributionUniformity,
          },
        },
        revision: null,
      };
    }
    case 'run-time-change': {
      const program = await readProgram(db, detail.programId, work.doneOn, work.corrects?.id);
      if (program?.propertyId !== work.propertyId)
        throw new BookError('not-found', fact('ledger.noProgramHere'), `${field}.detail.programId`);
      const settings = changedSettings(program, detail, `${field}.detail`);
      return {
        detail: describeChange(program, settings, detail.revisionId, detail.reason),
        revision: {
          id: detail.revisionId,
          programId: program.id,
          settings,
          reason: detail.reason || 'changed on site',
        },
      };
    }
    default:
      return { detail, revision: null };
  }
}

async function zoneHere(context: Context, zoneId: string, propertyId: string, field: string): Promise<Zone> {
  const zone = await readZone(context.db, zoneId);
  if (zone?.propertyId !== propertyId) throw new BookError('not-found', fact('ledger.noZoneHere'), field);
  return zone;
}

function changedSettings(
  program: Program,
  detail: Extract<LedgerDetailInput, { kind: 'run-time-change' }>,
  field: string,
): ProgramSettings {
  const now = program.revision;
  const runs = now.runs.map((run) => ({ ...run }));
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
    days: detail.days ?? now.days,
    startTimes: detail.startTimes ?? now.startTimes,
    seasonalPercent: detail.seasonalPercent ?? now.seasonalPercent,
    runs,
    enabled: now.enabled,
  };
  const { days, startTimes, seasonalPercent, enabled } = now;
  if (JSON.stringify(settings) === JSON.stringify({ days, startTimes, seasonalPercent, runs: now.runs, enabled })) {
    throw new BookError('bad-input', fact('ledger.noChange', { name: program.name }), `${field}.runs`);
  }
  return settings;
}

/** The ledger's account of a program change: zone by zone, old and new. */
export function describeChange(
  before: Program | null,
  settings: ProgramSettings,
  revisionId: string,
  reason: string,
): Extract<LedgerDetail, { kind: 'run-time-change' }> & { programId: string } {
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
    reason,
  };
}

/** What follows from an entry of this detail, worked out again from the whole ledger. Also used after a void. */
export async function followUp(context: Context, detail: LedgerDetail, propertyId: string): Promise<void> {
  const { db } = context;
  switch (detail.kind) {
    case 'sensor-check':
      await setSensorPoints(db, detail.sensorId, {
        ...(detail.rainSetPointInches !== null ? { rainSetPointInches: detail.rainSetPointInches } : {}),
        ...(detail.freezeSetPointF !== null ? { freezeSetPointF: detail.freezeSetPointF } : {}),
      });
      await projectSensors(db, [detail.sensorId]);
      return;
    case 'battery-swap':
      await projectSensors(db, [detail.sensorId]);
      return;
    case 'start-up':
    case 'winterization':
      await projectSeasons(db, [propertyId]);
      return;
    case 'backflow-test':
      await projectBackflow(db, [propertyId]);
      return;
    case 'zone-audit':
      await setZoneRate(db, detail.zoneId, {
        prMethod: 'catch-can',
        precipitationRateInPerHour: detail.precipitationRateInPerHour,
        distributionUniformity: detail.distributionUniformity,
      });
      return;
    default:
  }
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
