import { inspect } from 'node:util';
import { parentPort, workerData } from 'node:worker_threads';
import type { Context } from '../context.ts';
import { toFailure } from '../errors.ts';
import { handlers } from './handlers.ts';
import type { FromReader, ToReader } from './read-thread.ts';
import { openForReading } from '../book/index.ts';

// Long reads of one book, one after another, on a connection of their own: whoever serves the window goes on meanwhile.

const { bookPath } = workerData as { bookPath: string };
const tell = (message: FromReader) => parentPort!.postMessage(message);

const connection = await openForReading(bookPath);
tell({ ready: true });
let last: Promise<unknown> = Promise.resolve();
parentPort!.on('message', (message: ToReader) => {
  last = last.then(() => ('close' in message ? leave() : answer(message)));
});

async function answer({ id, name, input, about }: Exclude<ToReader, { close: true }>): Promise<void> {
  const context: Context = { ...about, db: connection.db };
  try {
    tell({ id, result: await (handlers as any)[name](context, input) });
  } catch (error) {
    const failure = toFailure(error);
    tell({ id, failure, ...(failure.code === 'internal' && { cause: inspect(error) }) });
  }
}

/** Only a connection that is closed lets the journal go. */
async function leave(): Promise<void> {
  await connection.close();
  parentPort!.close();
}
