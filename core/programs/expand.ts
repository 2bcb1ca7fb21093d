import type { ProgramSettings } from './contract.ts';
import type { Zone } from '../properties/contract.ts';
import { minutesOfClock } from '../dates.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { dayNumberOf, isoDateOf, MINUTES_PER_DAY } from './day-number.ts';
import { startPattern, tidy, type StartPattern } from './start-pattern.ts';
import { dayTest } from './watering-days.ts';

/** One program as a controller holds it. */
export interface ProgramOnController {
  programId: string;
  controllerId: string;
  name: string;
  settings: ProgramSettings;
}

/** The part of a zone that expanding needs. */
export type ZoneOnController = Pick<Zone, 'id' | 'controllerId' | 'station' | 'retired'>;

/** One valve open, from when to when, on the controller's own clock. */
export interface RunBlock {
  kind: 'run';
  programId: string;
  controllerId: string;
  zoneId: string;
  station: number;
  /** From 1; `cycles` of them make up the zone's run of this start. */
  cycle: number;
  cycles: number;
  /** The day on which this block starts. */
  date: string;
  /** From local midnight of `date`, 0 to below 1440; the block may end after 1440. */
  startMinute: number;
  runMinutes: number;
  /** Minutes the zone soaks before its next cycle; 0 after the last. */
  soakAfterMinutes: number;
  /** The program's start time, HH:MM, that set it off. */
  startedBy: string;
  /** Minutes that start waited for the controller to finish what was running. */
  waitedMinutes: number;
}

/** Days before the range whose starts may still be running or waiting when it begins. */
const LOOK_BACK_DAYS = 35;
/** Ten years: beyond it somebody has mistyped a year. */
const MAX_RANGE_DAYS = 3653;

interface PreparedProgram {
  program: ProgramOnController;
  pattern: StartPattern;
  waters: (day: number) => boolean;
  starts: { clock: string; minute: number }[];
}

interface Start {
  minute: number;
  order: number;
  clock: string;
  prepared: PreparedProgram;
}

/**
 * Every block that starts in a range of dates (both ends included), for any number of controllers, in order of time.
 *
 * Each controller has one queue and one valve open at a time: a start that falls while another program runs waits until that
 * one, soaks included, has ended; starts at the same minute go in the order the programs are given. Runs past midnight go on
 * into the next day and belong to the day on which each block starts. Programs that are off, zones at 0 minutes and retired
 * zones do not run. What was started before the range still delays it: starts of the 35 days before count (a controller told
 * more than 24 hours a day would be behind for ever; it is taken to have been idle 35 days before).
 *
 * Times are the controller's local wall clock. Controllers do not know about the hour that is skipped or repeated when clocks
 * change: people set them by hand, so a day counts 24 hours here and no zone is run twice or left out.
 * `stepMinutes` 1/60 to 5 is how the controller rounds. Throws bad-input when `to` is before `from` or over ten years after it.
 */
export function expandPrograms(
  programs: readonly ProgramOnController[],
  zones: readonly ZoneOnController[],
  from: string,
  to: string,
  stepMinutes: number,
): RunBlock[] {
  const firstDay = dayNumberOf(from, 'from');
  const lastDay = dayNumberOf(to, 'to');
  if (lastDay < firstDay || lastDay - firstDay > MAX_RANGE_DAYS) {
    throw new BookError('bad-input', fact('agronomy.badRange', { from, to }), 'to');
  }
  const blocks: RunBlock[] = [];
  for (const controllerId of new Set(programs.map((program) => program.controllerId))) {
    expandController(
      programs.filter((program) => program.controllerId === controllerId),
      stationsOf(zones, controllerId),
      firstDay,
      lastDay,
      stepMinutes,
      blocks,
    );
  }
  return blocks.sort((a, b) =>
    a.date < b.date
      ? -1
      : a.date > b.date
        ? 1
        : a.startMinute - b.startMinute || (a.controllerId < b.controllerId ? -1 : 1),
  );
}

/** Station numbers of the zones that run on a controller, by zone id. */
export function stationsOf(zones: readonly ZoneOnController[], controllerId: string): Map<string, number> {
  return new Map(
    zones.filter((zone) => zone.controllerId === controllerId && !zone.retired).map((zone) => [zone.id, zone.station]),
  );
}

function expandController(
  programs: readonly ProgramOnController[],
  stationOf: ReadonlyMap<string, number>,
  firstDay: number,
  lastDay: number,
  stepMinutes: number,
  blocks: RunBlock[],
): void {
  const prepared: PreparedProgram[] = [];
  for (const program of programs) {
    if (!program.settings.enabled) continue;
    const pattern = startPattern(program.settings, stationOf, stepMinutes);
    if (pattern.runs.length === 0) continue;
    const starts = program.settings.startTimes.map((clock) => ({ clock, minute: minutesOfClock(clock) }));
    prepared.push({ program, pattern, waters: dayTest(program.settings.days), starts });
  }
  // Within one day the order never changes, so it is sorted once; a later day's starts are always later.
  const dayStarts: Start[] = prepared
    .flatMap((item, order) => item.starts.map((start) => ({ ...start, order, prepared: item })))
    .sort((a, b) => a.minute - b.minute || a.order - b.order);

  // Minutes count from the first day's midnight, which keeps them small and so their fractions exact.
  let freeAt = -Infinity;
  for (let day = firstDay - LOOK_BACK_DAYS; day <= lastDay; day += 1) {
    const midnight = (day - firstDay) * MINUTES_PER_DAY;
    for (const start of dayStarts) {
      if (!start.prepared.waters(day)) continue;
      const due = midnight + start.minute;
      const begins = Math.max(due, freeAt);
      freeAt = tidy(begins + start.prepared.pattern.windowMinutes);
      if (freeAt > 0) emit(start, begins, tidy(begins - due), firstDay, lastDay, blocks);
    }
  }
}

function emit(
  start: Start,
  begins: number,
  waitedMinutes: number,
  firstDay: number,
  lastDay: number,
  blocks: RunBlock[],
): void {
  const { program, pattern } = start.prepared;
  let dateDay = NaN;
  let date = '';
  for (const run of pattern.runs) {
    const minute = tidy(begins + run.offsetMinutes);
    if (minute < 0) continue;
    const dayIndex = Math.floor(minute / MINUTES_PER_DAY);
    if (firstDay + dayIndex > lastDay) return;
    if (dayIndex !== dateDay) {
      dateDay = dayIndex;
      date = isoDateOf(firstDay + dayIndex);
    }
    blocks.push({
      kind: 'run',
      programId: program.programId,
      controllerId: program.controllerId,
      zoneId: run.zoneId,
      station: run.station,
      cycle: run.cycle,
      cycles: run.cycles,
      date,
      startMinute: tidy(minute - dayIndex * MINUTES_PER_DAY),
      runMinutes: run.runMinutes,
      soakAfterMinutes: run.soakAfterMinutes,
      startedBy: start.clock,
      waitedMinutes,
    });
  }
}
