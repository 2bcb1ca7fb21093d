import { spawn, type ChildProcess } from 'node:child_process';
import { closeSync, existsSync, openSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

// Other processes of the same Windows. They speak through files: under Wine a pipe between processes fails.

const FIRST_WORD_MS = 60_000;
let started = 0;

export interface OtherProcess {
  /** What it has said so far. */
  said(): string;
  /** TerminateProcess, and until it is gone. */
  kill(): Promise<void>;
}

/** Starts a bundled script beside this one and waits until it has said something. */
export async function startOther(script: string, args: string[], folder: string): Promise<OtherProcess> {
  const output = path.join(folder, `other-${(started += 1)}.txt`);
  const file = openSync(output, 'w');
  // Apart, so that a warning of Node's or Wine's is not taken for the script's first word.
  const troubles = path.join(folder, `other-${started}-errors.txt`);
  const errors = openSync(troubles, 'w');
  const place = fileURLToPath(new URL(`./${script}.js`, import.meta.url));
  const child = spawn(process.execPath, [place, ...args], { stdio: ['ignore', file, errors] });
  closeSync(file);
  closeSync(errors);
  const gone = new Promise<void>((resolve) => child.on('close', () => resolve()));
  const said = () => (existsSync(output) ? readFileSync(output, 'utf8') : '');
  for (let waited = 0; !said().includes('\n'); waited += 20) {
    if (ended(child) || waited > FIRST_WORD_MS)
      throw new Error(`${script} did not start: ${said()}${readFileSync(troubles, 'utf8')}`);
    await sleep(20);
  }
  return {
    said,
    async kill() {
      child.kill('SIGKILL');
      await gone;
    },
  };
}

function ended(child: ChildProcess): boolean {
  return child.exitCode !== null || child.signalCode !== null;
}

/** Another Valvebook that has the book open ('write'), or another program that reads it ('read'). */
export function holdBook(book: string, folder: string, access: 'read' | 'write' = 'write'): Promise<OtherProcess> {
  return startOther('hold-book', [book, access], folder);
}
