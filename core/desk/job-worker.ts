import { inspect } from 'node:util';
import { parentPort, workerData } from 'node:worker_threads';
import { SecondThreads } from './second-threads.ts';
import type { JobContext } from '../context.ts';
import { BookError, toFailure } from '../errors.ts';
import { jobHandlers } from './handlers.ts';
import { innerJobs } from './inner-jobs.ts';
import type { FromWorker } from './job-runner.ts';
import { openForReading } from '../book/index.ts';
import { engine } from '../store/book-engine.ts';
import { fact, type Fact } from '../text/say.ts';
import { howFar } from '../contract/define-request.ts';

// A job's own thread: its own connection, progress out, a shared flag in for cancelling.

const { bookPath, access, automaticBackups } = workerData as {
  bookPath: string;
  access: 'read' | 'write';
  automaticBackups: boolean;
};
// It is started before there is anything to do, so that its code is loaded when there is.
const { name, input, today, cancelFlag } = await new Promise<{
  name: string;
  input: unknown;
  today: string;
  cancelFlag: Int32Array;
}>((resolve) => parentPort!.once('message', resolve));
const PROGRESS_EVERY_MS = 80;
let lastProgressAt = 0;
/** Threads that this one starts, each for one inner job. */
const seconds = new SecondThreads(new URL(import.meta.url), workerData, (thread) =>
  parentPort!.postMessage({ thread }),
);

let outcome: Pick<FromWorker, 'result' | 'failure' | 'cause'>;
try {
  const connection = access === 'write' ? engine.open(bookPath, 'write') : await openForReading(bookPath);
  try {
    const context: JobContext = {
      db: connection.db,
      today,
      now: new Date().toISOString(),
      bookPath,
      automaticBackups,
      progress(done, total, label) {
        const at = Date.now();
        if (at - lastProgressAt < PROGRESS_EVERY_MS && done !== total) return;
        lastProgressAt = at;
        parentPort!.postMessage({ progress: howFar(done, total, label) });
      },
      checkCancelled() {
        if (Atomics.load(cancelFlag, 0) === 1) throw new BookError('cancelled', fact('errors.cancelled'));
      },
      transaction: connection.transaction,
      copyBookTo: connection.copyTo,
      fileFindings: () =>
        name === 'file.look' ? connection.findings() : seconds.run<Fact[]>({ name: 'file.look', input: {}, today }),
    };
    const result = await ({ ...jobHandlers, ...innerJobs } as any)[name](context, input);
    if (!connection.unchanged()) throw new BookError('book-busy', fact('errors.changedMeanwhile'), 'book');
    outcome = { result };
  } finally {
    await connection.close();
  }
} catch (error) {
  const failure = toFailure(error);
  outcome = {
    failure,
    // With what caused it: of a second thread only that says where it happened.
    cause: failure.code === 'internal' ? inspect(error) : undefined,
  };
}
// Only now that the connection is closed: who is told that the task is done may exchange the file. A task that was cancelled
// says so at once, also where a second thread cannot be stopped in what it does; then this thread ends only after that one.
const lingers = seconds.running;
parentPort!.postMessage({ ...outcome, lingers } satisfies FromWorker);
await seconds.ended();
