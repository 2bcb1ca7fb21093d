import { Worker } from 'node:worker_threads';
import type { Progress } from '../contract/define-request.ts';
import { BookError, toError, type Failure } from '../errors.ts';
import { forgetThread } from '../store/open-files.ts';
import { fact } from '../text/say.ts';
import { howFar } from '../contract/define-request.ts';

/** The first screen comes first. */
const SPARE_AFTER_MS = 1500;

export interface CallOptions {
  signal?: AbortSignal;
  onProgress?: (progress: Progress) => void;
}

/** A task that has answered and still holds the book for a moment: told when it has let go. */
type Lingers = (until: Promise<void>) => void;

/** What a worker says: its progress, a thread it started, or its answer (`lingers`: a thread of it still reads). */
export interface FromWorker {
  progress?: Progress;
  thread?: number;
  result?: unknown;
  failure?: Failure;
  cause?: string;
  lingers?: boolean;
}

/** Runs jobs of one book, each in a thread of its own. */
export class JobRunner {
  private readonly running = new Set<Worker>();
  /** Loading a job's code takes half a second, so one worker waits with it loaded: a job reports at once. */
  private spare: Worker | null = null;
  private spareTimer: NodeJS.Timeout;
  private closed = false;
  private readonly about: Record<string, unknown>;
  private readonly log: (text: string) => void;

  /** @param about what every worker is told of the book */
  constructor(about: Record<string, unknown>, log: (text: string) => void) {
    this.about = about;
    this.log = log;
    this.spareTimer = setTimeout(() => this.makeSpare(), SPARE_AFTER_MS).unref();
  }

  /** Runs one job. @throws BookError as the job failed; 'cancelled' where it was cancelled before it began. */
  run(
    name: string,
    input: unknown,
    today: string,
    { signal, onProgress }: CallOptions,
    onLinger?: Lingers,
  ): Promise<unknown> {
    const cancelFlag = new Int32Array(new SharedArrayBuffer(4));
    return new Promise((resolve, reject) => {
      if (signal?.aborted) throw new BookError('cancelled', fact('errors.cancelledBefore'));
      const worker = this.spare ?? this.newWorker();
      this.spare = null;
      worker.ref();
      this.running.add(worker);
      const cancel = () => Atomics.store(cancelFlag, 0, 1);
      signal?.addEventListener('abort', cancel, { once: true });
      let settled = false;
      const finish = (act: () => void, lingers = false) => {
        if (settled) return;
        settled = true;
        signal?.removeEventListener('abort', cancel);
        if (lingers) {
          const gone = new Promise<void>((ended) => worker.once('exit', () => ended()));
          onLinger?.(gone);
          void gone.then(() => this.running.delete(worker));
        } else this.running.delete(worker);
        clearTimeout(this.spareTimer);
        this.spareTimer = setTimeout(() => this.makeSpare(), SPARE_AFTER_MS).unref();
        act();
      };
      worker.on('message', (message: FromWorker) => {
        if (message.thread !== undefined) return;
        if (message.progress) onProgress?.(message.progress);
        else if (message.failure) {
          if (message.cause) this.log(message.cause);
          const error = toError(message.failure);
          finish(() => reject(error), message.lingers);
        } else finish(() => resolve(message.result), message.lingers);
      });
      worker.on('error', (error) => finish(() => reject(error)));
      worker.on('exit', () =>
        finish(() =>
          reject(
            this.closed
              ? new BookError('cancelled', fact('errors.brokenOff'))
              : new BookError('internal', fact('errors.taskStopped')),
          ),
        ),
      );
      // Only now: a caller may cancel on the first report.
      worker.postMessage({ name, input, today, cancelFlag });
      onProgress?.(howFar(0, 0, fact('book.starting')));
    });
  }

  /** Ends every worker; what they were at is broken off. */
  async close(): Promise<void> {
    this.closed = true;
    clearTimeout(this.spareTimer);
    const workers = [...this.running, ...(this.spare === null ? [] : [this.spare])];
    await Promise.all(workers.map((worker) => worker.terminate()));
  }

  private makeSpare(): void {
    if (!this.closed) this.spare ??= this.newWorker();
  }

  private newWorker(): Worker {
    const worker = new Worker(jobWorkerUrl(), { workerData: this.about });
    const threads = [worker.threadId];
    worker.on('message', ({ thread }: FromWorker) => {
      if (thread !== undefined) threads.push(thread);
    });
    const gone = () => {
      if (this.spare === worker) this.spare = null;
    };
    worker.on('error', gone);
    worker.on('exit', () => {
      // A thread that was ended could not say itself that its connections are closed.
      threads.forEach(forgetThread);
      gone();
    });
    worker.unref();
    return worker;
  }
}

// Packaged builds put the bundled worker beside the bundled main; a checkout runs the source.
function jobWorkerUrl(): URL {
  return import.meta.url.endsWith('.ts')
    ? new URL('./job-worker.ts', import.meta.url)
    : new URL('./job-worker.js', import.meta.url);
}
