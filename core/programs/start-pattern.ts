import type { ProgramSettings } from './contract.ts';
import { scaledMinutes } from './seasonal.ts';

/** One valve opening, measured from the moment its program starts. Minutes. */
export interface PatternRun {
  zoneId: string;
  station: number;
  /** From 1. */
  cycle: number;
  cycles: number;
  offsetMinutes: number;
  runMinutes: number;
  /** Minutes from the end of this cycle to the zone's next; 0 after its last. */
  soakAfterMinutes: number;
}

/** What one start of a program does: every valve opening in order, and how long the controller is busy. */
export interface StartPattern {
  runs: PatternRun[];
  windowMinutes: number;
}

interface ZoneTurn {
  zoneId: string;
  station: number;
  lengths: number[];
  soakMinutes: number;
  done: number;
  /** When its soak is over. */
  readyAt: number;
  lastRun: PatternRun | undefined;
}

/**
 * What one start of a program does on its controller, in minutes from the start.
 *
 * Stations run in number order, one valve at a time. A zone with cycles runs its first cycle, then the controller goes on to
 * the next station in turn that has a cycle left and has soaked long enough; it stands idle only when every zone left is still
 * soaking. So while zone 1 soaks, zone 2 runs, and the window is as short as station order allows.
 * A zone's minutes are split into full cycles of `cycleMinutes` and a remainder, as a controller told "at most so long" does.
 * Zones that `stationOf` does not know are left out.
 */
export function startPattern(
  settings: Pick<ProgramSettings, 'runs' | 'seasonalPercent'>,
  stationOf: ReadonlyMap<string, number>,
  stepMinutes: number,
): StartPattern {
  const turns: ZoneTurn[] = [];
  for (const run of settings.runs) {
    const station = stationOf.get(run.zoneId);
    const minutes = scaledMinutes(run.runMinutes, settings.seasonalPercent, stepMinutes);
    if (station === undefined || minutes === 0) continue;
    turns.push({
      zoneId: run.zoneId,
      station,
      lengths: cycleLengths(minutes, run.cycleMinutes),
      soakMinutes: run.soakMinutes ?? 0,
      done: 0,
      readyAt: 0,
      lastRun: undefined,
    });
  }
  turns.sort((a, b) => a.station - b.station || (a.zoneId < b.zoneId ? -1 : 1));

  const runs: PatternRun[] = [];
  let now = 0;
  let next = 0;
  let left = turns.reduce((count, turn) => count + turn.lengths.length, 0);
  for (; left > 0; left -= 1) {
    let index = nextReady(turns, next, now);
    if (index < 0) {
      now = earliestReady(turns);
      index = nextReady(turns, next, now);
    }
    const turn = turns[index]!;
    const runMinutes = turn.lengths[turn.done]!;
    if (turn.lastRun) turn.lastRun.soakAfterMinutes = tidy(now - turn.lastRun.offsetMinutes - turn.lastRun.runMinutes);
    turn.done += 1;
    turn.lastRun = {
      zoneId: turn.zoneId,
      station: turn.station,
      cycle: turn.done,
      cycles: turn.lengths.length,
      offsetMinutes: now,
      runMinutes,
      soakAfterMinutes: 0,
    };
    runs.push(turn.lastRun);
    now = tidy(now + runMinutes);
    turn.readyAt = tidy(now + turn.soakMinutes);
    next = (index + 1) % turns.length;
  }
  return { runs, windowMinutes: now };
}

/** A run split at a longest cycle: full cycles, then what is left. Their sum is the run. Minutes. */
export function cycleLengths(runMinutes: number, cycleMinutes: number | null): number[] {
  if (cycleMinutes === null || cycleMinutes <= 0 || runMinutes <= cycleMinutes + 1e-9) return [runMinutes];
  const full = Math.floor(runMinutes / cycleMinutes + 1e-9);
  const rest = tidy(runMinutes - full * cycleMinutes);
  const lengths = Array.from({ length: full }, () => cycleMinutes);
  if (rest > 1e-6) lengths.push(rest);
  return lengths;
}

/** Takes off the dust of binary fractions, so that 0.1 + 0.2 meets 0.3. A millionth of a minute is far below any controller's clock. */
export function tidy(minutes: number): number {
  return Math.round(minutes * 1e6) / 1e6;
}

function nextReady(turns: readonly ZoneTurn[], from: number, now: number): number {
  for (let step = 0; step < turns.length; step += 1) {
    const index = (from + step) % turns.length;
    const turn = turns[index]!;
    if (turn.done < turn.lengths.length && turn.readyAt <= now) return index;
  }
  return -1;
}

function earliestReady(turns: readonly ZoneTurn[]): number {
  let earliest = Infinity;
  for (const turn of turns) if (turn.done < turn.lengths.length && turn.readyAt < earliest) earliest = turn.readyAt;
  return earliest;
}
