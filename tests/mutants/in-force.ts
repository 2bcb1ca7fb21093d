import { appendFileSync } from 'node:fs';
import path from 'node:path';

// What the instrumented copies import. Which mutant is in force is told by the environment, so that worker threads and
// processes that a test starts follow it too.

const inForce = Number(process.env['VALVEBOOK_MUTANT'] ?? -1);
const folder = process.env['VALVEBOOK_MUTANTS_SEEN'];
/** What threads and processes beside the test's own came past. */
const outside = folder === undefined ? undefined : path.join(folder, 'outside');
/** No rule turns so often in one test; what does is caught in a loop without end. */
const MOST_TURNS = 50_000_000;

interface Seen {
  numbers: Set<number>;
  turns: number;
}
const shared = globalThis as { mutantsSeen?: Seen; __vitest_worker__?: unknown };
/** One for all copies of this module in a thread. */
export const seen: Seen = (shared.mutantsSeen ??= { numbers: new Set(), turns: 0 });

/** Whether the mutant with this number is in force. */
export function at(number: number): boolean {
  if (outside !== undefined && !seen.numbers.has(number)) {
    seen.numbers.add(number);
    if (shared.__vitest_worker__ === undefined) appendFileSync(outside, `${number}\n`);
  }
  return number === inForce;
}

/** Counts a loop's turns in one test. Throws where they do not seem to end. */
export function turn(): void {
  if ((seen.turns += 1) > MOST_TURNS) throw new Error('a loop does not end');
}
