import { fork, type ChildProcess } from 'node:child_process';
import path from 'node:path';

/** Tests of one file: those with these names, or all. */
export interface Chosen {
  file: string;
  names?: string[];
}
export interface Asked {
  /** Its number, −1 for none. */
  mutant: number;
  tests: Chosen[];
  bail: boolean;
  /** Where to note what the tests come past. */
  seenFolder?: string;
}
export interface Told {
  failed: { file: string; test: string; why: string }[];
}

/** Tests in one instrumented checkout, run by a process that stays warm from one mutant to the next. */
export class WarmTests {
  readonly checkout: string;
  #starting: Promise<ChildProcess> | null = null;
  #child: ChildProcess | null = null;

  constructor(checkout: string) {
    this.checkout = checkout;
  }

  /**
   * Runs tests with one mutant in force.
   * @param limitSeconds after which they count as failed: a mutant may loop for ever
   */
  async run(asked: Asked, limitSeconds: number): Promise<Told> {
    const child = (this.#child = await (this.#starting ??= started(this.checkout)));
    return new Promise((resolve) => {
      const end = (told: Told) => {
        clearTimeout(limit);
        child.removeAllListeners('message').removeAllListeners('exit');
        resolve(told);
      };
      const lost = (why: string) => {
        this.kill();
        end({ failed: [{ file: '', test: '', why }] });
      };
      const limit = setTimeout(() => lost(`no end after ${Math.round(limitSeconds)} s`), limitSeconds * 1000);
      child.once('message', (told) => end(told as Told));
      child.once('exit', (code, signal) => lost(`Vitest ended with ${signal ?? code}`));
      child.send(asked);
    });
  }

  /** Ends the process with all that it started; the next run starts another. */
  kill(): void {
    const child = this.#child;
    this.#starting = this.#child = null;
    if (child === null) return;
    try {
      process.kill(-child.pid!, 'SIGKILL');
    } catch {
      child.kill('SIGKILL');
    }
  }
}

function started(checkout: string): Promise<ChildProcess> {
  const child = fork(path.join(import.meta.dirname, 'warm-process.ts'), [checkout], {
    cwd: checkout,
    detached: true,
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  return new Promise((resolve, reject) => {
    child.once('message', () => resolve(child.removeAllListeners('exit')));
    child.once('exit', (code) => reject(new Error(`Vitest did not start (${code})`)));
  });
}
