import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';
import Database from 'better-sqlite3';
import { Kysely, SqliteDialect, sql } from 'kysely';
import { BookError } from '../errors.ts';
import { sqlitePlace } from '../paths.ts';
import type { BookTables } from './tables.ts';

// What is SQLite's alone sits in this file: opening, pragmas, locking, the file's mark.

/** 'VLVB' as a big-endian integer: marks a SQLite file as a book. */
export const APPLICATION_ID = 0x564c5642;

export interface Connection {
  readonly db: Kysely<BookTables>;
  readonly raw: Database.Database;
  close(): Promise<void>;
}

/** Refuses a file that is not SQLite before SQLite touches it, so that nothing in it changes. */
export function assertLooksLikeBook(path: string): void {
  if (!existsSync(path)) throw new BookError('not-found', `There is no book at ${path}.`, 'book');
  const stat = statSync(path);
  if (!stat.isFile()) throw new BookError('book-unreadable', `${path} is not a file, so it cannot be a book.`, 'book');
  const head = Buffer.alloc(72);
  const file = openSync(path, 'r');
  let read = 0;
  try {
    read = readSync(file, head, 0, 72, 0);
  } finally {
    closeSync(file);
  }
  if (read < 72 || head.toString('latin1', 0, 16) !== 'SQLite format 3\u0000') {
    throw new BookError(
      'book-unreadable',
      `${path} is not a Valvebook book (it is not an SQLite file, or it was cut short). Nothing was changed. Choose another file, or restore a backup.`,
      'book',
    );
  }
  if (head.readUInt32BE(68) !== APPLICATION_ID) {
    throw new BookError(
      'book-unreadable',
      `${path} is an SQLite file, but not a Valvebook book. Nothing was changed. Choose another file.`,
      'book',
    );
  }
  const headerPageSize = head.readUInt16BE(16);
  const pageSize = headerPageSize === 1 ? 65536 : headerPageSize;
  const pages = head.readUInt32BE(28);
  // With a WAL beside it the file may rightly be shorter than its header says.
  if (pages > 0 && stat.size < pages * pageSize && !existsSync(`${path}-wal`)) {
    throw new BookError(
      'book-unreadable',
      `${path} has been cut short: it should hold ${pages * pageSize} bytes and holds ${stat.size}. Nothing was changed. Restore a backup.`,
      'book',
    );
  }
}

/** Opens one connection. WAL and FULL sync: a write is on the disk before it is acknowledged. */
export function connect(path: string, mode: 'read' | 'write'): Connection {
  const raw = new Database(sqlitePlace(path), { readonly: mode === 'read', fileMustExist: true, timeout: 5000 });
  if (mode === 'write') {
    raw.pragma('journal_mode = WAL');
    raw.pragma('synchronous = FULL');
  }
  setUp(raw);
  return wrap(raw);
}

/** A fresh book in memory, for tests. */
export function connectInMemory(): Connection {
  const raw = new Database(':memory:');
  setUp(raw);
  return wrap(raw);
}

/** Makes an empty file marked as a book; migrations fill it. */
export function createBookFile(path: string): Connection {
  const raw = new Database(sqlitePlace(path));
  raw.pragma('page_size = 8192');
  raw.pragma(`application_id = ${APPLICATION_ID}`);
  raw.pragma('journal_mode = WAL');
  raw.pragma('synchronous = FULL');
  setUp(raw);
  return wrap(raw);
}

function setUp(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  raw.pragma('recursive_triggers = ON');
  raw.pragma('cache_size = -65536');
  raw.pragma('temp_store = MEMORY');
}

function wrap(raw: Database.Database): Connection {
  const db = new Kysely<BookTables>({ dialect: new SqliteDialect({ database: keepingStatements(raw) as never }) });
  return {
    db,
    raw,
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
export async function inTransaction<T>(
  connection: Connection,
  work: (db: Kysely<BookTables>) => Promise<T>,
): Promise<T> {
  return connection.db.connection().execute(async (db) => {
    await sql`BEGIN IMMEDIATE`.execute(db);
    try {
      const result = await work(db);
      await sql`COMMIT`.execute(db);
      return result;
    } catch (error) {
      if (connection.raw.inTransaction) await sql`ROLLBACK`.execute(db);
      throw error;
    }
  });
}

/** Held while a book is open for writing: an exclusive lock of the operating system on a file beside the book, gone when the process ends, however it ends. */
export function lockBook(bookPath: string): { release(): void } {
  const lockPath = `${bookPath}-lock`;
  const lock = new Database(sqlitePlace(lockPath), { timeout: 0 });
  try {
    lock.pragma('journal_mode = MEMORY');
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock.close();
    if (
      typeof error === 'object' &&
      error !== null &&
      'code' in error &&
      String(error.code).startsWith('SQLITE_BUSY')
    ) {
      throw new BookError(
        'book-busy',
        `The book ${bookPath} is already open in another Valvebook. Use that window, or close it first.`,
        'book',
        { cause: error },
      );
    }
    throw error;
  }
  return { release: () => lock.close() };
}

/** SQLite's own integrity and foreign-key checks: findings as sentences, empty when clean. */
export function fileFindings(connection: Connection): string[] {
  const findings: string[] = [];
  for (const row of connection.raw.pragma('integrity_check') as { integrity_check: string }[]) {
    if (row.integrity_check !== 'ok') findings.push(`The file is damaged: ${row.integrity_check}.`);
  }
  for (const row of connection.raw.pragma('foreign_key_check') as {
    table: string;
    rowid: number | null;
    parent: string;
  }[]) {
    findings.push(
      `A row of ${row.table} (row ${row.rowid ?? 'without number'}) points at a ${row.parent} that does not exist.`,
    );
  }
  return findings;
}

/** A list of any length as the right-hand side of IN: one bound value, where placeholders would run out. */
export function listOf(values: readonly string[]) {
  return sql<string>`(select value from json_each(${JSON.stringify(values)}))`;
}
