import { existsSync } from 'node:fs';
import { writeWhole } from '../book/files.ts';
import { BookError } from '../errors.ts';
import { sqlitePlace } from '../paths.ts';
import { migration as m0001 } from '../../migrations/0001_book.ts';
import { migration as m0002 } from '../../migrations/0002_chain.ts';
import type { Migration } from './migration.ts';
import { assertLooksLikeBook, connect, createBookFile, inTransaction, type Connection } from './sqlite.ts';

/** Listed by hand, so that packaging cannot lose one. */
export const MIGRATIONS: readonly Migration[] = [m0001, m0002];
export const SCHEMA_VERSION = MIGRATIONS.length;

/** Brings a connection's book to this version, or to an older one: each change and its number commit together, or not at all. */
export async function migrate(connection: Connection, upTo = SCHEMA_VERSION): Promise<number> {
  let version = schemaVersionOf(connection);
  for (const migration of MIGRATIONS) {
    if (migration.number <= version || migration.number > upTo) continue;
    await inTransaction(connection, async (db) => {
      await migration.up(db);
      connection.raw.pragma(`user_version = ${migration.number}`);
    });
    version = migration.number;
  }
  return version;
}

export function schemaVersionOf(connection: Connection): number {
  return connection.raw.pragma('user_version', { simple: true }) as number;
}

/** Opens a book for writing, making it where `create` allows; an older one is backed up and brought up to date first. */
export async function openForWriting(path: string, create: boolean): Promise<Connection> {
  if (!existsSync(path)) {
    if (!create) throw new BookError('not-found', `There is no book at ${path}.`, 'book');
    const connection = createBookFile(path);
    await migrate(connection);
    return connection;
  }
  assertLooksLikeBook(path);
  const looking = connect(path, 'read');
  const version = readVersion(looking, path);
  await looking.close();
  if (version > SCHEMA_VERSION) {
    throw new BookError(
      'book-unreadable',
      `The book ${path} was made by a newer Valvebook (version ${version} of its layout; this one knows ${SCHEMA_VERSION}). Nothing was changed. Install the newer Valvebook to open it.`,
      'book',
    );
  }
  const connection = connect(path, 'write');
  if (version < SCHEMA_VERSION) {
    try {
      if (version > 0) await copyBefore(connection, path);
      await migrate(connection);
    } catch (error) {
      await connection.close();
      throw error;
    }
  }
  return connection;
}

/** Copies a book beside itself before it is brought up to date; the copy has its name only once it is whole. */
async function copyBefore(connection: Connection, path: string): Promise<string> {
  const name = `${path}.before-${SCHEMA_VERSION}-${Date.now()}`;
  const names = { at: (attempt: number) => (attempt === 0 ? name : `${name}-${attempt + 1}`) };
  return writeWhole(names, 'book', async (temporary) => void (await connection.raw.backup(sqlitePlace(temporary))));
}

/** Opens a book for reading only; it must already be of this version. */
export async function openForReading(path: string): Promise<Connection> {
  assertLooksLikeBook(path);
  const connection = connect(path, 'read');
  const version = readVersion(connection, path);
  if (version !== SCHEMA_VERSION) {
    await connection.close();
    throw new BookError(
      'book-unreadable',
      version > SCHEMA_VERSION
        ? `The book ${path} was made by a newer Valvebook (version ${version} of its layout; this one knows ${SCHEMA_VERSION}). Nothing was changed. Install the newer Valvebook to open it.`
        : `The book ${path} is from an older Valvebook. Open it once for writing (start the app with it) to bring it up to date; it is backed up first.`,
      'book',
    );
  }
  return connection;
}

function readVersion(connection: Connection, path: string): number {
  try {
    connection.raw.prepare('SELECT count(*) FROM sqlite_schema').get();
    return schemaVersionOf(connection);
  } catch (error) {
    connection.raw.close();
    throw new BookError(
      'book-unreadable',
      `The book ${path} is damaged and cannot be read. Nothing was changed. Restore a backup.`,
      'book',
      { cause: error },
    );
  }
}
