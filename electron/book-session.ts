import type { Reply, Topic } from '../core/contract/index.ts';
import { TOPICS } from '../core/contract/parts.ts';
import { openDesk, type CallOptions, type Desk } from '../core/desk.ts';
import { makeFolderFor, writeLog } from './places.ts';

/** The book the window shows; another can be opened in its place without restarting. */
export class BookSession {
  private desk: Desk | undefined;
  private readonly listeners = new Set<(topics: Topic[]) => void>();

  get bookPath(): string | undefined {
    return this.desk?.bookPath;
  }

  /** Opens a book; the one before is closed only when the new one is open. */
  async open(bookPath: string, create: boolean): Promise<void> {
    const before = this.desk;
    if (before?.bookPath === bookPath) return;
    if (create) makeFolderFor(bookPath);
    const desk = await openDesk({ bookPath, create, log: writeLog });
    desk.onChange((topics) => this.announce(topics));
    this.desk = desk;
    await before?.close();
    if (before !== undefined) this.announce([...TOPICS]);
  }

  onChange(listener: (topics: Topic[]) => void): void {
    this.listeners.add(listener);
  }

  async call(name: string, input: unknown, options?: CallOptions): Promise<Reply> {
    if (this.desk === undefined)
      return { ok: false, error: { code: 'conflict', message: 'No book is open. Open one from the Book menu.' } };
    return this.desk.call(name, input, options);
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
