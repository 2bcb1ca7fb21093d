import type { z } from 'zod';
import type { backflowTestSchema, batterySwapSchema, sensorCheckSchema } from './entry-contract.ts';
import { addMonths, LAST_DAY } from '../dates.ts';

// What follows from ledger entries: pure rules, used when work is recorded, corrected, imported and checked.

/** An entry of a day, and its place in the order in which the book's entries were recorded. */
type Dated<T> = { place: number; doneOn: string; detail: T };

export interface SensorFacts {
  batteryDate: string | null;
  lastCheckDate: string | null;
  lastCheckPassed: boolean | null;
  lastSignal: 'strong' | 'weak' | 'none' | null;
  cellsGood: number | null;
}

/**
 * A sensor's state from its latest effective battery swap and sensor check.
 * `baseBatteryDate` is what the office or an import said; a later swap moves it, an earlier one does not move it back.
 */
export function sensorFacts(
  baseBatteryDate: string | null,
  swap: Dated<z.infer<typeof batterySwapSchema>> | null,
  check: Dated<z.infer<typeof sensorCheckSchema>> | null,
): SensorFacts {
  const swapIsNewer =
    swap !== null &&
    (check === null || swap.doneOn > check.doneOn || (swap.doneOn === check.doneOn && swap.place > check.place));
  return {
    batteryDate: later(baseBatteryDate, swap?.doneOn ?? null),
    lastCheckDate: check?.doneOn ?? null,
    lastCheckPassed: check === null ? null : checkPassed(check.detail),
    lastSignal: check === null || check.detail.signal === 'not-tested' ? null : check.detail.signal,
    // A fresh set of cells makes an older cell reading worthless.
    cellsGood: swapIsNewer ? swap.detail.cells : (check?.detail.cellsGood ?? null),
  };
}

/** Passed = nothing failed and at least one trip was really tested; null = only looked at. */
export function checkPassed(check: z.infer<typeof sensorCheckSchema>): boolean | null {
  if (
    check.rainTrip === 'fail' ||
    check.freezeTrip === 'fail' ||
    check.signal === 'none' ||
    check.controllerObeys === false
  )
    return false;
  return check.rainTrip === 'pass' || check.freezeTrip === 'pass' ? true : null;
}

/**
 * When the backflow assembly must be tested next: a passed test sets it (a year on where it names no date, and no later than
 * the last day a book takes; local code rules), a failed one makes it due at once.
 */
export function backflowDue(
  base: string | null,
  test: Dated<z.infer<typeof backflowTestSchema>> | null,
): string | null {
  if (test === null) return base;
  if (!test.detail.passed) return test.doneOn;
  const yearOn = addMonths(test.doneOn, 12);
  return later(base, test.detail.nextDue ?? (yearOn > LAST_DAY ? LAST_DAY : yearOn));
}

/**
 * The season a piece of work belongs to. A winterization done in January to June belongs to the year before:
 * it closes the season that ran then. (Northern hemisphere.)
 */
export function seasonYear(kind: 'start-up' | 'winterization', doneOn: string): number {
  const year = Number(doneOn.slice(0, 4));
  return kind === 'winterization' && doneOn.slice(5) < '07-01' ? year - 1 : year;
}

function later(a: string | null, b: string | null): string | null {
  if (a === null) return b;
  if (b === null) return a;
  return a > b ? a : b;
}
