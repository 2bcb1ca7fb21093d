import { closeSync, existsSync, statSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import Database from 'better-sqlite3';
import { Kysely, SqliteDialect, sql } from 'kysely';
import { sqlitePlace } from '../paths.ts';
import { APPLICATION_ID, createFile } from './book-file.ts';
import { bulkLoadInto } from './bulk-load.ts';
import { copyBook } from './copy-book.ts';
import type { Connection } from './engine.ts';
import { claimForSqlite } from './open-files.ts';
import type { BookTables } from './tables.ts';
import { fact, type Fact } from '../text/say.ts';

// What is SQLite's alone sits in this file: opening, pragmas, transactions. Every connection is noted in open-files.ts. Only
// the store itself imports it; everybody else asks the engine (engine.ts).

// Names with options (“?immutable=1”) are understood only where this says so before the first connection of the process.
// Every other name here is a whole path, which never begins with “file:”.
process.env['SQLITE_USE_URI'] = '1';

/** A connection of SQLite's. What lies under it is seen by the store and by tests that tamper with a book. */
export interface SqliteConnection extends Connection {
  readonly raw: Database.Database;
}

/** Opens one connection. WAL and FULL sync: a write is on the disk before it is acknowledged. */
export function connect(path: string, mode: 'read' | 'write'): SqliteConnection {
  return opened(path, sqlitePlace(path), mode === 'read', (raw) => {
    if (mode === 'write') {
      raw.pragma('journal_mode = WAL');
      raw.pragma('synchronous = FULL');
    }
    setUp(raw);
  });
}

/**
 * Opens a book that was closed in order for reading where nothing may be written beside it. SQLite then takes no locks and
 * trusts that nobody changes the file (sqlite.org/uri.html, “immutable”), so `unchanged` has to be asked after each use.
 */
export function connectWithoutLocks(path: string): SqliteConnection {
  const state = () => {
    const stat = statSync(path, { bigint: true, throwIfNoEntry: false });
    return stat && [stat.dev, stat.ino, stat.size, stat.mtimeNs, journalOf(path) !== null].join();
  };
  const before = state();
  return opened(path, `${pathToFileURL(path).href}?immutable=1`, true, setUp, () => state() === before);
}

/** The file beside a book's in which changes lie that are not in the book's file yet; null where there is none. */
export function journalOf(path: string): string | null {
  const lying = ['-wal', '-journal'].find(
    (end) => (statSync(`${path}${end}`, { throwIfNoEntry: false })?.size ?? 0) > 0,
  );
  return lying === undefined ? null : `${path}${lying}`;
}

/** A fresh book in memory, for tests. */
export function connectInMemory(): SqliteConnection {
  const raw = new Database(':memory:');
  setUp(raw);
  return wrap(raw, () => undefined);
}

/** Makes an empty file marked as a book, where there is none; migrations fill it. */
export function createBookFile(path: string): SqliteConnection {
  // Made first, so that it belongs to its owner alone from the start; SQLite's files beside it follow it.
  if (!existsSync(path)) closeSync(createFile(path));
  return opened(path, sqlitePlace(path), false, (raw) => {
    raw.pragma('page_size = 8192');
    raw.pragma(`application_id = ${APPLICATION_ID}`);
    raw.pragma('journal_mode = WAL');
    raw.pragma('synchronous = FULL');
    setUp(raw);
  });
}

function opened(
  path: string,
  name: string,
  readonly: boolean,
  prepare: (raw: Database.Database) => void,
  unchanged?: () => boolean,
): SqliteConnection {
  const release = claimForSqlite(path);
  let raw: Database.Database | undefined;
  try {
    raw = new Database(name, { readonly, fileMustExist: true, timeout: 5000 });
    prepare(raw);
    return wrap(raw, release, unchanged);
  } catch (error) {
    raw?.close();
    release();
    throw error;
  }
}

function setUp(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  raw.pragma('recursive_triggers = ON');
  raw.pragma('cache_size = -65536');
  raw.pragma('temp_store = MEMORY');
}

function wrap(raw: Database.Database, release: () => void, unchanged: () => boolean = () => true): SqliteConnection {
  const close = raw.close.bind(raw);
  // However it comes to be closed: a claim that outlived its file would speak of the next file with that inode.
  raw.close = () => {
    close();
    release();
    return raw;
  };
  const db = new Kysely<BookTables>({ dialect: new SqliteDialect({ database: keepingStatements(raw) as never }) });
  return {
    db,
    raw,
    unchanged,
    transaction: (work) => inTransaction(db, raw, work),
    findings: () => fileFindings(raw),
    bulkLoad: () => bulkLoadInto(raw),
    async copyTo(path, onStep) {
      // Made first, so that the copy belongs to its owner alone.
      closeSync(createFile(path));
      await copyBook(raw, path, onStep);
    },
    async close() {
      await db.destroy();
      // Kysely closes only a file it has asked something; one used through `raw` alone would stay open, and its WAL beside it.
      if (raw.open) raw.close();
    },
  };
}

/** Statements kept per connection. Lists of other lengths make other texts, so the least used go. */
const STATEMENTS_KEPT = 500;

/** Kysely prepares every query anew; parsing it costs more than running most of ours, so statements are kept by their text. */
function keepingStatements(raw: Database.Database): { prepare(text: string): Database.Statement; close(): void } {
  const kept = new Map<string, Database.Statement>();
  return {
    prepare(text) {
      const statement = kept.get(text) ?? raw.prepare(text);
      kept.delete(text);
      kept.set(text, statement);
      if (kept.size > STATEMENTS_KEPT) kept.delete(kept.keys().next().value!);
      return statement;
    },
    close() {
      kept.clear();
      raw.close();
    },
  };
}

/** Runs work in an immediate transaction, so that a second writer fails at once and not half-way. */
async function inTransaction<T>(
  all: Kysely<BookTables>,
  raw: Database.Database,
  work: (db: Kysely<BookTables>) => Promise<T>,
): Promise<T> {
  return all.connection().execute(async (db) => {
    await sql`BEGIN IMMEDIATE`.execute(db);
    try {
      const result = await work(db);
      await sql`COMMIT`.execute(db);
      return result;
    } catch (error) {
      if (raw.inTransaction) await sql`ROLLBACK`.execute(db);
      throw error;
    }
  });
}

/** SQLite's own integrity and foreign-key checks: what they found, empty when clean. */
function fileFindings(raw: Database.Database): Fact[] {
  const findings: Fact[] = [];
  for (const row of raw.pragma('integrity_check') as { integrity_check: string }[]) {
    if (row.integrity_check !== 'ok') findings.push(fact('check.damaged', { said: row.integrity_check }));
  }
  for (const row of raw.pragma('foreign_key_check') as {
    table: string;
    rowid: number | null;
    parent: string;
  }[]) {
    findings.push(fact('check.dangling', { table: row.table, row: row.rowid, parent: row.parent }));
  }
  return findings;
}

/** A list of any length as the right-hand side of IN: one bound value, where placeholders would run out. */
export function listOf(values: readonly string[]) {
  return sql<string>`(select value from json_each(${JSON.stringify(values)}))`;
}
