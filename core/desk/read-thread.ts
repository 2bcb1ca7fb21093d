import { Worker } from 'node:worker_threads';
import type { Context } from '../context.ts';
import { BookError, toError, type Failure } from '../errors.ts';
import { fact } from '../text/say.ts';
import { forgetThread } from '../store/open-files.ts';

export type ToReader = { id: number; name: string; input: unknown; about: Omit<Context, 'db'> } | { close: true };
export type FromReader =
  | { ready: true }
  | { id: number; result: unknown }
  | { id: number; failure: Failure; cause?: string };

interface Waiting {
  resolve: (result: unknown) => void;
  reject: (error: Error) => void;
}

/** A thread with a connection of its own, in which long reads of one book run, one after another. */
export class ReadThread {
  private worker: Worker | null = null;
  private ready = false;
  private asked = 0;
  private readonly waiting = new Map<number, Waiting>();
  private readonly bookPath: string;
  private readonly log: (text: string) => void;

  constructor(bookPath: string, log: (text: string) => void) {
    this.bookPath = bookPath;
    this.log = log;
    this.start();
  }

  /** Whether it can be asked now; else the caller reads on a connection of its own. */
  get isReady(): boolean {
    return this.ready;
  }

  /** Loads the code and opens the book; until then it is not ready. */
  start(): void {
    const worker = new Worker(workerUrl(), { workerData: { bookPath: this.bookPath } });
    const { threadId } = worker;
    this.worker = worker;
    worker.unref();
    worker.on('message', (message: FromReader) => {
      if ('ready' in message) this.ready = this.worker === worker;
      else this.settle(message);
    });
    const gone = (error: Error | null) => {
      // A thread that broke off could not say itself that its connection is closed.
      forgetThread(threadId);
      if (this.worker !== worker) return;
      if (error !== null) this.log(`reading thread: ${error.stack ?? error.message}`);
      this.worker = null;
      this.ready = false;
      for (const { reject } of this.waiting.values()) reject(new BookError('internal', fact('errors.notReadNow')));
      this.waiting.clear();
    };
    worker.on('error', gone);
    worker.on('exit', () => gone(null));
  }

  /** Answers a read whose input was checked. @throws BookError as the read failed. */
  read(name: string, input: unknown, about: Omit<Context, 'db'>): Promise<unknown> {
    this.asked += 1;
    const id = this.asked;
    return new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve, reject });
      this.worker!.postMessage({ id, name, input, about } satisfies ToReader);
    });
  }

  /** Lets the book go, after what was asked before; resolves once its connection is closed. */
  async letGo(): Promise<void> {
    const { worker } = this;
    if (worker === null) return;
    this.ready = false;
    const ended = new Promise<void>((resolve) => worker.once('exit', () => resolve()));
    worker.ref();
    worker.postMessage({ close: true } satisfies ToReader);
    await ended;
  }

  private settle(message: Exclude<FromReader, { ready: true }>): void {
    const waiting = this.waiting.get(message.id);
    this.waiting.delete(message.id);
    if ('result' in message) return waiting?.resolve(message.result);
    if (message.cause !== undefined) this.log(message.cause);
    waiting?.reject(toError(message.failure));
  }
}

// Packaged builds put the bundled worker beside the bundled main; a checkout runs the source.
function workerUrl(): URL {
  return import.meta.url.endsWith('.ts')
    ? new URL('./read-worker.ts', import.meta.url)
    : new URL('./read-worker.js', import.meta.url);
}
