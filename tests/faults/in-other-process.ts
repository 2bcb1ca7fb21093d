import { spawn } from 'node:child_process';
import { openDesk } from '../../core/desk.ts';

// One attempt to open a book in a process of its own, as the whole answer of that process.

export interface Answer {
  code?: string;
  message?: string;
  ok?: unknown;
}

/** Opens (or makes, or reads) a book in another process and closes it; the failure, or what the home list said. */
export function other(how: 'open' | 'create' | 'read', path: string, options: { uid?: number } = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [import.meta.filename, how, path], {
      stdio: ['ignore', 'pipe', 'pipe'],
      ...(options.uid === undefined ? {} : { uid: options.uid, gid: options.uid }),
    });
    let output = '';
    let errors = '';
    child.stdout.on('data', (chunk: Buffer) => (output += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (errors += chunk.toString()));
    child.on('error', reject);
    child.on('close', () => {
      try {
        resolve(JSON.parse(output) as Answer);
      } catch {
        reject(new Error(`no answer: ${output} ${errors}`));
      }
    });
  });
}

if (import.meta.main) {
  const [how, path] = process.argv.slice(2) as ['open' | 'create' | 'read', string];
  let answer: Answer;
  try {
    const desk = await openDesk({
      bookPath: path,
      access: how === 'read' ? 'read' : 'write',
      create: how === 'create',
    });
    answer = { ok: await desk.call('client.list', {}) };
    await desk.close();
  } catch (error) {
    const { code, message } = error as Answer;
    answer = { code: code ?? 'none', message: message ?? String(error) };
  }
  process.stdout.write(JSON.stringify(answer));
}
