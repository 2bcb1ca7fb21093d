import { BookError, toFailure } from '../core/errors.ts';
import { fact } from '../core/text/say.ts';
import { findRequest, type Reply, type Topic } from '../core/contract/index.ts';
import { openDesk, type CallOptions, type Desk, type DeskOptions } from '../core/desk/desk.ts';
import { makeFolderFor, writeLog } from './places.ts';

type Upgrading = NonNullable<DeskOptions['upgrading']>;

/** Shows that an older book is being brought up to date, for as long as the work takes, and lets it be stopped. */
export type WhileUpgrading = <T>(bookPath: string, work: (upgrading: Upgrading) => Promise<T>) => Promise<T>;

/** The book the window shows; another can be opened in its place without restarting. */
export class BookSession {
  private desk: Desk | undefined;
  private jobs = 0;
  private readonly listeners = new Set<(topics: Topic[]) => void>();
  private readonly whileUpgrading: WhileUpgrading;

  constructor(whileUpgrading: WhileUpgrading) {
    this.whileUpgrading = whileUpgrading;
  }

  get bookPath(): string | undefined {
    return this.desk?.bookPath;
  }

  /** Is a long task running? Closing the book would stop it half-way. */
  get busy(): boolean {
    return this.jobs > 0;
  }

  /** Opens a book; the one before is closed only when the new one is open. */
  async open(bookPath: string, create: boolean): Promise<void> {
    const before = this.desk;
    if (before?.bookPath === bookPath) return;
    if (create) makeFolderFor(bookPath);
    const desk = await this.whileUpgrading(bookPath, (upgrading) =>
      openDesk({ bookPath, create, log: writeLog, automaticBackups: true, readsInThread: true, upgrading }),
    );
    desk.onChange((topics) => this.announce(topics));
    this.desk = desk;
    // The new book is open and the page must follow, however the old one closed.
    await before?.close().catch((error: unknown) => writeLog(`closing ${before.bookPath}: ${String(error)}`));
  }

  onChange(listener: (topics: Topic[]) => void): void {
    this.listeners.add(listener);
  }

  async call(name: string, input: unknown, options?: CallOptions): Promise<Reply> {
    if (this.desk === undefined)
      return { ok: false, error: toFailure(new BookError('conflict', fact('desktop.noBookOpen'))) };
    if (findRequest(name)?.kind !== 'job') return this.desk.call(name, input, options);
    this.jobs += 1;
    try {
      return await this.desk.call(name, input, options);
    } finally {
      this.jobs -= 1;
    }
  }

  async close(): Promise<void> {
    const desk = this.desk;
    this.desk = undefined;
    await desk?.close();
  }

  private announce(topics: Topic[]): void {
    for (const listener of this.listeners) listener(topics);
  }
}
