import { ulid } from 'ulid';
import { openDesk } from '../../core/desk/desk.ts';
import { finished } from './finished.ts';

// One attempt to open a book in a process of its own, as the whole answer of that process.

export interface Answer {
  code?: string;
  message?: string;
  ok?: unknown;
}

/**
 * Opens (or reads) a book in another process and closes it; the failure, or what the home list said. To record is to open it,
 * write a note of a day at a property and close it; what was answered to that.
 */
export async function other(
  how: 'open' | 'read' | 'record',
  path: string,
  options: { uid?: number; propertyId?: string } = {},
): Promise<Answer> {
  const { propertyId = '', ...who } = options;
  const { output, errors } = await finished(process.execPath, [import.meta.filename, how, path, propertyId], who);
  try {
    return JSON.parse(output) as Answer;
  } catch {
    throw new Error(`no answer: ${output} ${errors}`);
  }
}

if (import.meta.main) {
  const [how, path, propertyId] = process.argv.slice(2) as ['open' | 'read' | 'record', string, string];
  let answer: Answer;
  try {
    const desk = await openDesk({
      bookPath: path,
      access: how === 'read' ? 'read' : 'write',
      ...(how === 'record' && { today: () => '2026-06-15' }),
    });
    answer = {
      ok:
        how === 'record'
          ? await desk.call('visit.record', {
              writeId: ulid(),
              propertyId,
              doneOn: '2026-06-15',
              entries: [{ id: ulid(), detail: { kind: 'note', text: 'by the owner' } }],
            })
          : await desk.call('client.list', {}),
    };
    await desk.close();
  } catch (error) {
    const { code, message } = error as Answer;
    answer = { code: code ?? 'none', message: message ?? String(error) };
  }
  process.stdout.write(JSON.stringify(answer));
}
