import type { ProgramRun, ProgramSettings } from './contract.ts';
import type { Zone } from '../properties/contract.ts';
import { dayNumberOfCivil } from './day-number.ts';
import {
  expandPrograms,
  stationsOf,
  type ProgramOnController,
  type RunBlock,
  type ZoneOnController,
} from './expand.ts';
import { scaledMinutes } from './seasonal.ts';
import { dayTest, meanDaysPerWeek } from './watering-days.ts';

/** What one zone's blocks add up to. */
export interface ZoneTotal {
  zoneId: string;
  minutes: number;
  /** Runs, not cycles: a run in three cycles counts once. */
  runs: number;
  /** null where the zone's flow is not known. */
  gallons: number | null;
}

/** Minutes by zone id over the blocks given (a week's blocks: minutes a week). */
export function weeklyMinutes(blocks: readonly RunBlock[]): Map<string, number> {
  const minutes = new Map<string, number>();
  for (const block of blocks) minutes.set(block.zoneId, (minutes.get(block.zoneId) ?? 0) + block.runMinutes);
  return minutes;
}

/** Minutes, runs and gallons (gpm × min) of each zone that is given, zones without a block included. */
export function zoneTotals(blocks: readonly RunBlock[], zones: readonly Pick<Zone, 'id' | 'flowGpm'>[]): ZoneTotal[] {
  const minutes = weeklyMinutes(blocks);
  const runs = new Map<string, number>();
  for (const block of blocks) if (block.cycle === 1) runs.set(block.zoneId, (runs.get(block.zoneId) ?? 0) + 1);
  return zones.map((zone) => {
    const zoneMinutes = minutes.get(zone.id) ?? 0;
    return {
      zoneId: zone.id,
      minutes: zoneMinutes,
      runs: runs.get(zone.id) ?? 0,
      gallons: zone.flowGpm === null ? null : zone.flowGpm * zoneMinutes,
    };
  });
}

/** Minutes, runs and gallons of each zone in a calendar year with these programs all year. `year` 1900 to 2199. */
export function yearlyRuns(
  programs: readonly ProgramOnController[],
  zones: readonly (ZoneOnController & Pick<Zone, 'flowGpm'>)[],
  year: number,
  stepMinutes: number,
): ZoneTotal[] {
  return zoneTotals(expandPrograms(programs, zones, `${year}-01-01`, `${year}-12-31`, stepMinutes), zones);
}

/** A zone's long-run week under the programs set on it. */
export interface MeanWeek {
  zoneId: string;
  /** Minutes set at 100 %, mean over its runs. */
  setMinutes: number;
  /** Minutes as run, seasonal percentage and rounding in, mean over its runs. */
  runMinutes: number;
  runsPerWeek: number;
  daysPerWeek: number;
  minutesPerWeek: number;
  programNames: string[];
  /** The seasonal percentages of the programs that run it. */
  percents: number[];
}

/**
 * What a zone gets in a mean week. Programs by odd dates or intervals differ from week to week, so a comparison with need
 * must not depend on which week happens to be drawn. Zones of retired or other controllers get nothing.
 */
export function meanWeeks(
  programs: readonly ProgramOnController[],
  zones: readonly ZoneOnController[],
  stepMinutes: number,
): Map<string, MeanWeek> {
  const weeks = new Map<string, MeanWeek>();
  const running = new Map<string, ProgramOnController[]>();
  for (const zone of zones) {
    weeks.set(zone.id, {
      zoneId: zone.id,
      setMinutes: 0,
      runMinutes: 0,
      runsPerWeek: 0,
      daysPerWeek: 0,
      minutesPerWeek: 0,
      programNames: [],
      percents: [],
    });
  }
  for (const program of programs) {
    const { settings } = program;
    const runsPerWeek = meanDaysPerWeek(settings.days) * settings.startTimes.length;
    if (!settings.enabled || runsPerWeek === 0) continue;
    const stations = stationsOf(zones, program.controllerId);
    for (const run of settings.runs) {
      const week = weeks.get(run.zoneId);
      const minutes = scaledMinutes(run.runMinutes, settings.seasonalPercent, stepMinutes);
      if (!week || !stations.has(run.zoneId) || minutes === 0) continue;
      week.setMinutes += run.runMinutes * runsPerWeek;
      week.minutesPerWeek += minutes * runsPerWeek;
      week.runsPerWeek += runsPerWeek;
      week.programNames.push(program.name);
      week.percents.push(settings.seasonalPercent);
      running.set(run.zoneId, [...(running.get(run.zoneId) ?? []), program]);
    }
  }
  for (const [zoneId, zonePrograms] of running) {
    const week = weeks.get(zoneId)!;
    week.setMinutes /= week.runsPerWeek;
    week.runMinutes = week.minutesPerWeek / week.runsPerWeek;
    week.daysPerWeek = unionDaysPerWeek(zonePrograms);
  }
  return weeks;
}

/** Minutes a week, in the long run, that one run of a program gets; 0 while the program is off. */
export function runWeekMinutes(
  run: Pick<ProgramRun, 'runMinutes'>,
  settings: ProgramSettings,
  stepMinutes: number,
): number {
  if (!settings.enabled) return 0;
  const runsPerWeek = meanDaysPerWeek(settings.days) * settings.startTimes.length;
  return scaledMinutes(run.runMinutes, settings.seasonalPercent, stepMinutes) * runsPerWeek;
}

/** Days a week on which at least one of the programs waters, in the long run. */
function unionDaysPerWeek(programs: readonly ProgramOnController[]): number {
  const allDays = programs.map((program) => program.settings.days);
  if (allDays.length === 1) return meanDaysPerWeek(allDays[0]!);
  if (allDays.every((days) => days.kind === 'weekdays'))
    return new Set(allDays.flatMap((days) => (days.kind === 'weekdays' ? days.weekdays : []))).size;
  // Mixed kinds have no short formula; four years of days (one leap cycle) are counted, from after any interval has begun.
  const tests = allDays.map(dayTest);
  const first = dayNumberOfCivil(2200, 1, 1);
  const span = 1461;
  let count = 0;
  for (let day = first; day < first + span; day += 1) if (tests.some((waters) => waters(day))) count += 1;
  return (7 * count) / span;
}
