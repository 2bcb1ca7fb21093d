import { spawn } from 'node:child_process';

/** How a program ended, and all it said. */
export interface Finished {
  status: number | null;
  signal: NodeJS.Signals | null;
  output: string;
  errors: string;
}

/** Runs a program to its end, as another user where one is named. */
export function finished(program: string, args: string[], { uid }: { uid?: number } = {}): Promise<Finished> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, {
      stdio: ['ignore', 'pipe', 'pipe'],
      ...(uid === undefined ? {} : { uid, gid: uid }),
    });
    let output = '';
    let errors = '';
    child.stdout.on('data', (chunk: Buffer) => (output += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (errors += chunk.toString()));
    child.on('error', reject);
    child.on('close', (status, signal) => resolve({ status, signal, output, errors }));
  });
}
