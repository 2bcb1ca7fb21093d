import { Worker } from 'node:worker_threads';
import { BookError, toError } from '../errors.ts';
import type { FromWorker } from './job-runner.ts';
import { fact } from '../text/say.ts';

/** Threads that a job starts beside its own, each for one inner job, from the same code and told the same of the book. */
export class SecondThreads {
  private readonly workers = new Set<Promise<void>>();
  private readonly code: URL;
  private readonly about: unknown;
  private readonly started: (thread: number) => void;

  /** @param started is told the number of each thread, so that what it held can be forgotten when all are ended from outside. */
  constructor(code: URL, about: unknown, started: (thread: number) => void) {
    this.code = code;
    this.about = about;
    this.started = started;
  }

  /** Whether one has not ended yet. */
  get running(): boolean {
    return this.workers.size > 0;
  }

  /** Runs one inner job. @throws BookError as it failed. */
  run<T>(job: { name: string; input: unknown; today: string }): Promise<T> {
    const worker = new Worker(this.code, { workerData: this.about });
    this.started(worker.threadId);
    const gone = new Promise<void>((resolve) => worker.on('exit', () => resolve()));
    this.workers.add(gone);
    void gone.then(() => this.workers.delete(gone));
    const answer = new Promise<T>((resolve, reject) => {
      let result: { is: T } | null = null;
      worker.on('message', (message: FromWorker) => {
        if (message.failure) reject(toError(message.failure, message.cause));
        else if ('result' in message) result = { is: message.result as T };
      });
      worker.on('error', reject);
      // An answer counts once the thread has let go of the book.
      worker.on('exit', () => {
        if (result) resolve(result.is);
        else reject(new BookError('internal', fact('errors.partStopped')));
      });
    });
    // Who cancels does not wait for it.
    answer.catch(() => undefined);
    worker.postMessage({ ...job, cancelFlag: new Int32Array(new SharedArrayBuffer(4)) });
    return answer;
  }

  /** Resolves when every one has ended. */
  async ended(): Promise<void> {
    await Promise.all(this.workers);
  }
}
