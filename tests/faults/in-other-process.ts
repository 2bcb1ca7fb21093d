import { openDesk } from '../../core/desk.ts';
import { finished } from './finished.ts';

// One attempt to open a book in a process of its own, as the whole answer of that process.

export interface Answer {
  code?: string;
  message?: string;
  ok?: unknown;
}

/** Opens (or reads) a book in another process and closes it; the failure, or what the home list said. */
export async function other(how: 'open' | 'read', path: string, options: { uid?: number } = {}): Promise<Answer> {
  const { output, errors } = await finished(process.execPath, [import.meta.filename, how, path], options);
  try {
    return JSON.parse(output) as Answer;
  } catch {
    throw new Error(`no answer: ${output} ${errors}`);
  }
}

if (import.meta.main) {
  const [how, path] = process.argv.slice(2) as ['open' | 'read', string];
  let answer: Answer;
  try {
    const desk = await openDesk({ bookPath: path, access: how === 'read' ? 'read' : 'write' });
    answer = { ok: await desk.call('client.list', {}) };
    await desk.close();
  } catch (error) {
    const { code, message } = error as Answer;
    answer = { code: code ?? 'none', message: message ?? String(error) };
  }
  process.stdout.write(JSON.stringify(answer));
}
