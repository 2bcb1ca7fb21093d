import { writeWhole } from '../book/files.ts';
import { BookError } from '../errors.ts';
import { migration as m0001 } from '../../migrations/0001_book.ts';
import { migration as m0002 } from '../../migrations/0002_chain.ts';
import { migration as m0003 } from '../../migrations/0003_effects.ts';
import type { Migration } from './migration.ts';
import { makeNewBook } from './new-book.ts';
import { projectDaysWithSeveral } from './projections.ts';
import { assertLooksLikeBook, isAbsent } from './book-file.ts';
import { connect, connectWithoutLocks, hasJournal, inTransaction, type Connection } from './sqlite.ts';

/** Listed by hand, so that packaging cannot lose one. */
export const MIGRATIONS: readonly Migration[] = [m0001, m0002, m0003];
export const SCHEMA_VERSION = MIGRATIONS.length;
/** Up to this layout the greater id told what happened last on a day; since then the order of recording does. */
const LAST_TOLD_BY_ID = 1;

/** Brings a connection's book to this version, or to an older one: each change and its number commit together, or not at all. */
export async function migrate(connection: Connection, upTo = SCHEMA_VERSION): Promise<number> {
  let version = schemaVersionOf(connection);
  const toldById = version > 0 && version <= LAST_TOLD_BY_ID;
  for (const migration of MIGRATIONS) {
    if (migration.number <= version || migration.number > upTo) continue;
    await inTransaction(connection, async (db) => {
      await migration.up(db);
      // With the code of today, so once its layout is there.
      if (toldById && migration.number === SCHEMA_VERSION) await projectDaysWithSeveral(db);
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
  if (create && isAbsent(path)) await makeNewBook(path, migrate);
  assertLooksLikeBook(path);
  const looking = connect(path, 'read');
  let version: number;
  try {
    version = readVersion(looking, path);
  } finally {
    await looking.close();
  }
  if (version > SCHEMA_VERSION) {
    throw new BookError(
      'book-unreadable',
      `The book ${path} was made by a newer Valvebook (version ${version} of its layout; this one knows ${SCHEMA_VERSION}). Nothing was changed. Install the newer Valvebook to open it.`,
      'book',
    );
  }
  const connection = connect(path, 'write');
  try {
    if (version < SCHEMA_VERSION) {
      if (version > 0) await copyBefore(connection, path);
      await migrate(connection);
    }
    return connection;
  } catch (error) {
    await connection.close();
    throw error;
  }
}

/** Copies a book beside itself before it is brought up to date; the copy has its name only once it is whole. */
async function copyBefore(connection: Connection, path: string): Promise<string> {
  const name = `${path}.before-${SCHEMA_VERSION}-${Date.now()}`;
  const names = { at: (attempt: number) => (attempt === 0 ? name : `${name}-${attempt + 1}`) };
  return writeWhole(names, 'book', async (temporary) => void (await connection.copyTo(temporary)));
}

/** Opens a book for reading only; it must already be of this version. */
export async function openForReading(path: string): Promise<Connection> {
  assertLooksLikeBook(path);
  const { connection, version } = await connectForReading(path);
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

/** Reading a book takes files beside it too. Where those cannot be made, one that was closed in order is read without them. */
async function connectForReading(path: string): Promise<{ connection: Connection; version: number }> {
  try {
    return await looked(connect(path, 'read'), path);
  } catch (error) {
    if (!isCannotOpen(error)) throw error;
    if (hasJournal(path))
      throw new BookError(
        'disk',
        `The book ${path} was not closed in order, and its last changes lie beside it in ${path}-wal. To read them Valvebook has to write into that folder, which is read-only for you. Copy both files to a folder of your own and open the book there, or ask for the right to write.`,
        'book',
        { cause: error },
      );
    return looked(connectWithoutLocks(path), path);
  }
}

async function looked(connection: Connection, path: string): Promise<{ connection: Connection; version: number }> {
  try {
    return { connection, version: readVersion(connection, path) };
  } catch (error) {
    await connection.close();
    throw error;
  }
}

function isCannotOpen(error: unknown): boolean {
  const code = typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';
  return code.startsWith('SQLITE_CANTOPEN') || code.startsWith('SQLITE_READONLY');
}

function readVersion(connection: Connection, path: string): number {
  try {
    connection.raw.prepare('SELECT count(*) FROM sqlite_schema').get();
    return schemaVersionOf(connection);
  } catch (error) {
    if (isCannotOpen(error)) throw error;
    throw new BookError(
      'book-unreadable',
      `The book ${path} is damaged and cannot be read. Nothing was changed. Restore a backup.`,
      'book',
      { cause: error },
    );
  }
}
