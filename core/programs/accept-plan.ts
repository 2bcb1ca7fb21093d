import type { z } from 'zod';
import type { Program, ProgramRun, ProgramSettings } from './contract.ts';
import type { WateringDays } from '../contract/parts.ts';
import type { Zone } from '../properties/contract.ts';
import type { proposedProgramSchema, ReviewRow } from './contract.ts';
import type { ProgramOnController, ZoneOnController } from './expand.ts';
import { scaledMinutes } from './seasonal.ts';
import { meanWeeks, runWeekMinutes } from './totals.ts';
import { MAX_RUN_MINUTES } from './zone-run.ts';

// What accepting some rows of a review makes of the programs. Days and start belong to a program, not to a zone, so that
// a zone which keeps its minutes may still get other days; the plan says so for each.

export type ProposedProgram = z.infer<typeof proposedProgramSchema>;

export interface PlanInput {
  rows: readonly ReviewRow[];
  proposed: readonly ProposedProgram[];
  /** The programs in force. */
  programs: readonly Program[];
  zones: readonly (ZoneOnController & Pick<Zone, 'flowGpm'>)[];
  /** Zones that take the advice. */
  selected: ReadonlySet<string>;
  /** Minutes changed by hand, by zone. */
  edits: ReadonlyMap<string, number>;
  roundToMinutes: number;
}

/** One program to be revised, or made. */
export interface PlannedProgram {
  /** null = a new program. */
  programId: string | null;
  /** The revision in force, which this is planned from; null = none. */
  revisionId: string | null;
  controllerId: string;
  name: string;
  before: ProgramSettings | null;
  settings: ProgramSettings;
}

/** A zone's mean week once the plan is in force. */
export interface ZoneThen {
  minutesPerWeek: number;
  daysPerWeek: number;
  /** null where the flow is not known. */
  gallonsPerWeek: number | null;
}

/** A zone that keeps its minutes though its program changes around it. */
export interface Carried {
  zoneId: string;
  programName: string;
  minutesADay: number;
  daysNow: WateringDays;
  daysThen: WateringDays;
  minutesPerWeekNow: number;
  minutesPerWeekThen: number;
  /** Its several starts a day become cycles of one start. */
  startsMerged: boolean;
}

export interface AcceptPlan {
  programs: PlannedProgram[];
  zones: Map<string, ZoneThen>;
  carried: Carried[];
  /** Every row as advised: the plan is the proposal itself. */
  isWhole: boolean;
}

/** Zones that are not chosen keep the water they get on a watering day; chosen ones take the advice (or the minutes typed). */
export function planAccept(input: PlanInput): AcceptPlan {
  const inReview = new Set(input.rows.map((row) => row.zoneId));
  const chosen = (zoneId: string) => input.selected.has(zoneId) && inReview.has(zoneId);
  const station = new Map(input.zones.map((zone) => [zone.id, zone.station]));
  const programs: PlannedProgram[] = [];
  const inForce: ProgramOnController[] = [];
  const carried: Carried[] = [];

  for (const program of input.programs) {
    const now = settingsOf(program.revision);
    const proposal = input.proposed.find((item) => item.programId === program.id);
    const takesAdvice =
      proposal !== undefined &&
      proposal.settings.enabled &&
      proposal.settings.runs.some((run) => run.runMinutes > 0 && chosen(run.zoneId));
    const then = takesAdvice ? mixed(proposal.settings, now) : without(now);
    then.runs.sort((a, b) => (station.get(a.zoneId) ?? 0) - (station.get(b.zoneId) ?? 0));
    if (takesAdvice) noteCarried(program.name, now, then);
    if (!sameSettings(now, then))
      programs.push({
        programId: program.id,
        revisionId: program.revision.id,
        controllerId: program.controllerId,
        name: program.name,
        before: now,
        settings: then,
      });
    inForce.push({
      programId: program.id,
      controllerId: program.controllerId,
      name: program.name,
      settings: sameSettings(now, then) ? now : then,
    });
  }
  for (const proposal of input.proposed) {
    if (proposal.programId !== null && input.programs.some((program) => program.id === proposal.programId)) continue;
    const settings = {
      ...proposal.settings,
      runs: proposal.settings.runs.filter((run) => chosen(run.zoneId)).map(edited),
    };
    if (!settings.enabled || !settings.runs.some((run) => run.runMinutes > 0)) continue;
    programs.push({
      programId: null,
      revisionId: null,
      controllerId: proposal.controllerId,
      name: proposal.name,
      before: null,
      settings,
    });
    inForce.push({ programId: '', controllerId: proposal.controllerId, name: proposal.name, settings });
  }

  const isWhole = input.edits.size === 0 && input.rows.every((row) => input.selected.has(row.zoneId));
  return { programs, zones: weeksOf(input, inForce), carried, isWhole };

  function edited(run: ProgramRun): ProgramRun {
    const minutes = input.edits.get(run.zoneId);
    return minutes === undefined ? { ...run } : { ...run, runMinutes: minutes };
  }

  /** The proposal for chosen zones; what else runs here now goes on running as long on each watering day. */
  function mixed(proposal: ProgramSettings, now: ProgramSettings): ProgramSettings {
    const advised = proposal.runs.filter((run) => chosen(run.zoneId)).map(edited);
    const taken = new Set(advised.map((run) => run.zoneId));
    const kept = now.runs
      .filter((run) => !taken.has(run.zoneId) && !chosen(run.zoneId) && inReview.has(run.zoneId))
      .map((run) => keptRun(run, now, proposal));
    return { ...proposal, runs: [...advised, ...kept] };
  }

  function keptRun(run: ProgramRun, now: ProgramSettings, proposal: ProgramSettings): ProgramRun {
    if (!now.enabled) return { ...run, runMinutes: 0 };
    const once = scaledMinutes(run.runMinutes, now.seasonalPercent, input.roundToMinutes);
    const merges = now.startTimes.length > 1 && proposal.startTimes.length === 1 && once > 0;
    if (!merges) return { ...run, runMinutes: Math.min(MAX_RUN_MINUTES, once) };
    return {
      zoneId: run.zoneId,
      runMinutes: Math.min(MAX_RUN_MINUTES, once * now.startTimes.length),
      cycleMinutes: Math.max(1, run.cycleMinutes ?? once),
      soakMinutes: run.soakMinutes ?? MERGED_SOAK,
    };
  }

  /** The present settings less the zones that take their advice elsewhere, or are to get nothing. */
  function without(now: ProgramSettings): ProgramSettings {
    const runs = now.runs.map((run) => (chosen(run.zoneId) ? { ...run, runMinutes: 0 } : run));
    const ranBefore = now.enabled && now.runs.some((run) => run.runMinutes > 0);
    // An emptied program is switched off with its minutes left in it, so that it can be switched on again.
    if (ranBefore && !runs.some((run) => run.runMinutes > 0)) return { ...now, runs: [...now.runs], enabled: false };
    return now.enabled ? { ...now, runs } : { ...now, runs: [...now.runs] };
  }

  function noteCarried(programName: string, now: ProgramSettings, then: ProgramSettings): void {
    for (const run of then.runs) {
      if (chosen(run.zoneId) || run.runMinutes === 0) continue;
      const minutesPerWeekNow = weekOf(run.zoneId, now, input.roundToMinutes);
      const minutesPerWeekThen = weekOf(run.zoneId, then, input.roundToMinutes);
      const startsMerged = now.startTimes.length > 1 && then.startTimes.length === 1;
      if (!startsMerged && JSON.stringify(now.days) === JSON.stringify(then.days)) continue;
      carried.push({
        zoneId: run.zoneId,
        programName,
        minutesADay: run.runMinutes * then.startTimes.length,
        daysNow: now.days,
        daysThen: then.days,
        minutesPerWeekNow,
        minutesPerWeekThen,
        startsMerged,
      });
    }
  }
}

/** Minutes between the former starts of a zone when they become cycles of one start. Common practice, no source. */
const MERGED_SOAK = 30;

function settingsOf({ days, startTimes, seasonalPercent, runs, enabled }: Program['revision']): ProgramSettings {
  return { days, startTimes, seasonalPercent, runs: runs.map((run) => ({ ...run })), enabled };
}

function sameSettings(a: ProgramSettings, b: ProgramSettings): boolean {
  const plain = ({ days, startTimes, seasonalPercent, runs, enabled }: ProgramSettings) =>
    JSON.stringify([
      days,
      startTimes,
      seasonalPercent,
      enabled,
      runs
        .filter((run) => run.runMinutes > 0)
        .map((run) => [run.zoneId, run.runMinutes, run.cycleMinutes, run.soakMinutes]),
    ]);
  return plain(a) === plain(b);
}

function weekOf(zoneId: string, settings: ProgramSettings, step: number): number {
  const run = settings.runs.find((item) => item.zoneId === zoneId);
  return run === undefined ? 0 : runWeekMinutes(run, settings, step);
}

function weeksOf(input: PlanInput, inForce: readonly ProgramOnController[]): Map<string, ZoneThen> {
  const flows = new Map(input.zones.map((zone) => [zone.id, zone.flowGpm]));
  const weeks = meanWeeks(inForce, input.zones, input.roundToMinutes);
  return new Map(
    input.rows.map(({ zoneId }) => {
      const { minutesPerWeek, daysPerWeek } = weeks.get(zoneId) ?? { minutesPerWeek: 0, daysPerWeek: 0 };
      const flow = flows.get(zoneId) ?? null;
      return [zoneId, { minutesPerWeek, daysPerWeek, gallonsPerWeek: flow === null ? null : flow * minutesPerWeek }];
    }),
  );
}
