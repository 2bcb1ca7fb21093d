import { layoutFindings } from './layout.ts';
import { migrate, openForReading, openForWriting, SCHEMA_VERSION, type Upgrading } from './migrate.ts';
import { engine } from '../store/book-engine.ts';
import type { Db } from '../store/tables.ts';
import type { Fact } from '../text/say.ts';

// A book's file that nobody has open: what can be asked of it without a desk.

/** What a closed book's file is, before anything in it is believed. */
export interface FirstLook {
  /** What the file says is its layout: any whole number. */
  version: number;
  /** Its layout against a fresh one, then what SQLite finds wrong with the file; empty when sound. */
  findings: Fact[];
}

/** Opens a closed book's file by itself: its layout word for word, then SQLite's own checks. Changes no row. */
export async function lookIntoBook(path: string): Promise<FirstLook> {
  const connection = engine.open(path, 'write');
  try {
    const version = await engine.layoutVersion(connection.db);
    // A layout that is not known has nothing to be held against; whoever asks says so by its number.
    const layout =
      version < 1 || version > SCHEMA_VERSION ? [] : (await layoutFindings(connection.db, version)).findings;
    return { version, findings: layout.length > 0 ? layout : connection.findings() };
  } finally {
    await connection.close();
  }
}

/** Brings a closed book's file to this version's layout, without a copy: for a file that is a copy itself. */
export async function bringUpToDate(path: string, upgrading: Upgrading | null = null): Promise<void> {
  const connection = engine.open(path, 'write');
  try {
    await migrate(connection, SCHEMA_VERSION, upgrading);
  } finally {
    await connection.close();
  }
}

export interface ClosedBook {
  db: Db;
  fileFindings(): Fact[];
  transaction<T>(work: (db: Db) => Promise<T>): Promise<T>;
  copyTo(path: string): Promise<void>;
}

/** Runs work on a closed book's file, on a connection of its own. */
export async function withClosedBook<T>(path: string, work: (book: ClosedBook) => Promise<T>): Promise<T> {
  const connection = engine.open(path, 'write');
  try {
    return await work({
      db: connection.db,
      fileFindings: connection.findings,
      transaction: connection.transaction,
      copyTo: connection.copyTo,
    });
  } finally {
    await connection.close();
  }
}

/** Opens a book the way the app does and asks it one thing. Throws what the app would have met. */
export async function assertAnswers(path: string): Promise<void> {
  const writing = await openForWriting(path, false);
  try {
    const reading = await openForReading(path);
    try {
      await reading.db.selectFrom('setting').select('key').limit(1).execute();
    } finally {
      await reading.close();
    }
  } finally {
    await writing.close();
  }
}
