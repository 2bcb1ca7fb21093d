import { rmSync } from 'node:fs';
import { basename } from 'node:path';
import { rescueBook } from '../book/index.ts';
import { BookError } from '../errors.ts';
import { behindLinks, assertLooksLikeBook, isAbsent } from '../store/book-file.ts';
import { engine } from '../store/book-engine.ts';
import type { LostPart } from '../store/book-watch.ts';
import { openForReading, openForWriting, type Upgrading } from '../book/index.ts';
import type { Connection } from '../store/engine.ts';
import { fact } from '../text/say.ts';

/** A book's file as the desk holds it: its lock, one connection that writes, one that reads, and a watch on its files. */
export class OpenBook {
  /** The file itself, links followed. */
  readonly path: string;
  private lock: { release(): void } | null = null;
  private writing: Connection | null = null;
  private reading: Connection | null = null;
  private lostPart: () => LostPart | null = () => null;
  /** Why nothing more is written, once a part of the book was lost. */
  private lost: BookError | null = null;
  /** Why there is no book, after an exchange that failed. */
  private unopened: unknown = null;
  private readonly access: 'read' | 'write';

  private constructor(path: string, access: 'read' | 'write') {
    this.path = path;
    this.access = access;
  }

  /** @throws BookError, or what the system said; nothing is left open then. */
  static async open(
    path: string,
    access: 'read' | 'write',
    create: boolean,
    upgrading: Upgrading | null = null,
  ): Promise<OpenBook> {
    const book = new OpenBook(behindLinks(path), access);
    try {
      if (access === 'write') {
        if (!create || !isAbsent(book.path)) assertLooksLikeBook(book.path);
        book.lock = engine.lock(book.path);
      }
      await book.connect(create, upgrading);
      return book;
    } catch (error) {
      book.lock?.release();
      throw error;
    }
  }

  /** The connection that reads: its own, so that reads never wait for a write or a job. */
  get reader(): Connection {
    if (this.reading === null) throw this.unopened;
    return this.reading;
  }

  /** The connection that writes; null for a book that was opened to be read. */
  get writer(): Connection | null {
    if (this.unopened !== null) throw this.unopened;
    return this.writing;
  }

  /**
   * Throws once the book's files are no longer those that were opened: then what is held goes to a new file first, and the
   * sentence names it. To be asked before and after every write, while no other write runs.
   */
  async assertHeld(): Promise<void> {
    if (this.lost !== null) throw this.lost;
    const part = this.lostPart();
    if (part === null || this.writing === null) return;
    const outcome = await rescueBook(this.writing, this.path, part);
    // A disk that is full now may have room at the next try; the loss itself stays.
    if (outcome.saved) this.lost = outcome.error;
    if (outcome.saved && part.name === 'file') for (const path of part.leftBehind) rmSync(path, { force: true });
    throw outcome.error;
  }

  /** Whether a part of the book is gone: then nothing may be opened by its path. */
  get isLost(): boolean {
    return this.lost !== null || this.lostPart() !== null;
  }

  /** Closes the connections for work that exchanges the file, and opens what is there after it. The lock is kept. */
  async exchange<T>(work: () => Promise<T>): Promise<T> {
    await this.disconnect();
    try {
      return await work();
    } finally {
      await this.connect(false).catch((error: unknown) => {
        this.unopened =
          error instanceof BookError
            ? error
            : new BookError('book-unreadable', fact('errors.notReopened', { book: basename(this.path) }), 'book', {
                cause: error,
              });
      });
    }
  }

  /** Opens the reading connection anew, for a book that is read without locks and was changed. */
  async reread(): Promise<void> {
    await this.reading?.close();
    this.reading = null;
    try {
      this.reading = await openForReading(this.path);
    } catch (error) {
      this.unopened = error;
      throw error;
    }
  }

  async close(): Promise<void> {
    await this.disconnect();
    this.lock?.release();
    this.lock = null;
  }

  private async connect(create: boolean, upgrading: Upgrading | null = null): Promise<void> {
    this.unopened = null;
    try {
      if (this.access === 'write') this.writing = await openForWriting(this.path, create, upgrading);
      this.reading = await openForReading(this.path);
      if (this.access === 'write') this.lostPart = engine.watch(this.path);
    } catch (error) {
      await this.disconnect();
      throw error;
    }
  }

  private async disconnect(): Promise<void> {
    this.lostPart = () => null;
    const { reading, writing } = this;
    this.reading = null;
    this.writing = null;
    await reading?.close();
    await writing?.close();
  }
}
