import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import Database from 'better-sqlite3';
import { finished } from './finished.ts';

// A process that makes a new book and is killed at the given step, a step being a call that can change what is on the disk.
// Counted steps, not moments: a kill that comes "so many milliseconds later" comes too late on one machine, too early on the next.

const CHANGES_FILES = [
  'openSync',
  'writeSync',
  'writeFileSync',
  'renameSync',
  'rmSync',
  'fsyncSync',
  'closeSync',
] as const;
const CHANGES_A_DATABASE = ['exec', 'prepare', 'pragma', 'close'] as const;

/** Makes a new book in a process of its own. @returns how many steps it took, or null when it was killed at `step`. */
export async function makeBookUntil(path: string, step: number | 'end'): Promise<number | null> {
  const { status, signal, output, errors } = await finished(process.execPath, [
    import.meta.filename,
    path,
    String(step),
  ]);
  if (signal === 'SIGKILL') return null;
  if (status === 0) return Number(output);
  throw new Error(`the making of ${path} ended with ${status ?? signal}: ${errors}`);
}

type AnyFunction = (...given: unknown[]) => unknown;

function count(owner: object, names: readonly string[], at: () => void): void {
  const functions = owner as Record<string, AnyFunction>;
  for (const name of names) {
    const original = functions[name]!;
    functions[name] = function (this: unknown, ...given: unknown[]) {
      at();
      return original.apply(this, given);
    };
  }
}

if (import.meta.main) {
  const [path, step] = process.argv.slice(2) as [string, string];
  // Before anything is counted: loading code opens files too.
  const { openDesk } = await import('../../core/desk/desk.ts');
  let steps = 0;
  const at = (): void => {
    steps += 1;
    if (String(steps) === step) process.kill(process.pid, 'SIGKILL');
  };
  count(fs, CHANGES_FILES, at);
  count(Database.prototype, CHANGES_A_DATABASE, at);
  syncBuiltinESMExports();
  const desk = await openDesk({ bookPath: path, create: true });
  const made = steps;
  await desk.close();
  process.stdout.write(String(made));
}
