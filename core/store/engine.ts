import type { Kysely, RawBuilder } from 'kysely';
import type { LostPart } from './book-watch.ts';
import type { BookTables, Db } from './tables.ts';
import type { Fact } from '../text/say.ts';

// The one door between Valvebook and whatever keeps a book. SQLite stands behind it today; what is said here is what
// another engine has to give, and nothing outside this folder knows more of the one that is there.

/** One connection to a book. */
export interface Connection {
  readonly db: Kysely<BookTables>;
  /**
   * Runs work as if nobody else wrote meanwhile: all of it is kept, or nothing. What it reads it may build on (the next
   * number, the last place, the version it saw), since no other transaction comes between; an engine that lets several
   * write at once has to see to that, and do the work again where two met.
   */
  transaction<T>(work: (db: Kysely<BookTables>) => Promise<T>): Promise<T>;
  /** A copy of one moment at a path that is free; others go on writing. What `onStep` throws ends it. */
  copyTo(path: string, onStep?: (done: number, total: number) => void): Promise<void>;
  /** What the engine itself finds wrong with the book: damage, and references that lead nowhere. Empty when sound. */
  findings(): Fact[];
  /** Fills a book that nobody else sees yet, as fast as the engine can. */
  bulkLoad(): BulkLoad;
  /** False once a book that is read without locks was changed by somebody: what was read since it was opened may be mixed. */
  unchanged(): boolean;
  close(): Promise<void>;
}

/** Rows into an empty book, without looking back: the rules of the tables are put in force again at the end, and looked after. */
export interface BulkLoad {
  /** Rows as they are stored; those of a table all have the columns of its first one. */
  add(table: keyof BookTables, rows: readonly object[]): void;
  /** How many links of the past the rows hold: what the triggers would have counted. */
  chainedLinks(count: number): void;
  /** Keeps all of it and builds what makes it fast to read; told how many of those are built, before each. */
  finish(onIndex: (built: number, of: number) => void | Promise<void>): Promise<void>;
}

/** A table, index, trigger or view, as a book declares it. */
export interface Declared {
  type: string;
  name: string;
  table: string;
  text: string | null;
}

/** All that differs from one engine to another. */
export interface Engine {
  /** Opens one connection. A write is on the disk before it is acknowledged. */
  open(path: string, mode: 'read' | 'write'): Connection;
  /** Opens a book that was closed in order where nothing may be written beside it; ask `unchanged` after each use. */
  openWithoutLocks(path: string): Connection;
  /** Makes an empty book where there is none; migrations fill it. */
  create(path: string): Connection;
  /** An empty book that is gone when it is closed. */
  inMemory(): Connection;
  /** Takes a book for writing. @throws BookError 'book-busy'; 'disk' where nothing may be written beside it. */
  lock(path: string): { release(): void };
  /** Remembers what an open book consists of; the look it gives says what of it is gone or exchanged since. */
  watch(path: string): () => LostPart | null;
  /** Where changes lie that are not in the book's file yet; null where there are none. */
  journalOf(path: string): string | null;
  /** The number of the layout that a book says it has: 0 for none. Throws where what it declares cannot be read. */
  layoutVersion(db: Db): Promise<number>;
  /** Notes a new layout, inside the transaction that makes it. */
  setLayoutVersion(db: Db, version: number): Promise<void>;
  /** All that a book declares; what the engine keeps for itself is left out. */
  declared(db: Db): Promise<Declared[]>;
  /** How the book keeps its texts: 'UTF-8' in every book of ours. */
  encoding(db: Db): Promise<string>;
  /** A list of any length as the right-hand side of IN. */
  listOf(values: readonly string[]): RawBuilder<string>;
}
