import { appendFileSync, existsSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest';
import { seen } from './in-force.ts';

// Set up before every test file of a mutation run: notes which mutants each test comes past, and how long it takes.

export interface Passing {
  file: string;
  /** In one test, outside them, or while the file and what it imports were loaded: once for all files of a process. */
  when: 'load' | 'test' | 'between';
  test: string;
  milliseconds: number;
  turns: number;
  mutants: number[];
}

const folder = process.env['VALVEBOOK_MUTANTS_SEEN'];
let began = performance.now();

function note(file: string, when: Passing['when'], test = ''): void {
  if (folder === undefined) return;
  const outside = path.join(folder, 'outside');
  const others = existsSync(outside) ? readFileSync(outside, 'utf8').split('\n').filter(Boolean).map(Number) : [];
  rmSync(outside, { force: true });
  const mutants = [...new Set([...seen.numbers, ...others])];
  const passing: Passing = { file, when, test, milliseconds: performance.now() - began, turns: seen.turns, mutants };
  appendFileSync(path.join(folder, 'passings'), `${JSON.stringify(passing)}\n`);
  start();
}
function start(): void {
  seen.numbers.clear();
  seen.turns = 0;
  began = performance.now();
}

start();
beforeAll(() => note(expect.getState().testPath!, 'load'));
beforeEach(({ task }) => {
  note(task.file.filepath, 'between');
  // Also where nothing is noted: the turns are counted by test.
  start();
});
afterEach(({ task }) => note(task.file.filepath, 'test', task.fullTestName));
afterAll(() => note(expect.getState().testPath!, 'between'));
