import { setImmediate as nextTurn } from 'node:timers/promises';
import { damageInCopying } from './copied.ts';
import { writeWhole } from './files.ts';
import type { Progress } from '../contract/define-request.ts';
import { BookError } from '../errors.ts';
import { migration as m0001 } from '../../migrations/0001_book.ts';
import { migration as m0002 } from '../../migrations/0002_chain.ts';
import { migration as m0003 } from '../../migrations/0003_effects.ts';
import { migration as m0004 } from '../../migrations/0004_stations.ts';
import type { Migration } from '../store/migration.ts';
import { makeNewBook } from '../store/new-book.ts';
import { projectDaysWithSeveral } from '../ledger/index.ts';
import { assertLooksLikeBook, isAbsent } from '../store/book-file.ts';
import { engine } from '../store/book-engine.ts';
import type { Connection } from '../store/engine.ts';
import { faultOf } from '../store/fault.ts';
import { fact, factAround, type Fact } from '../text/say.ts';
import { howFar } from '../contract/define-request.ts';

/** Listed by hand, so that packaging cannot lose one. */
export const MIGRATIONS: readonly Migration[] = [m0001, m0002, m0003, m0004];
export const SCHEMA_VERSION = MIGRATIONS.length;
/** Up to this layout the greater id told what happened last on a day; since then the order of recording does. */
const LAST_TOLD_BY_ID = 1;

/** Who waits while an older book is brought up to date: told how far it is, and may stop it. */
export interface Upgrading {
  progress(progress: Progress): void;
  signal?: AbortSignal;
}

/**
 * Brings a connection's book to this version, or to an older one: each change and its number commit together, or not at all.
 * @throws BookError 'cancelled' once it was stopped: what was changed before stays, and the rest is done at the next opening
 */
export async function migrate(
  connection: Connection,
  upTo = SCHEMA_VERSION,
  upgrading: Upgrading | null = null,
): Promise<number> {
  let version = await engine.layoutVersion(connection.db);
  const toldById = version > 0 && version <= LAST_TOLD_BY_ID;
  for (const migration of MIGRATIONS) {
    if (migration.number <= version || migration.number > upTo) continue;
    await connection.transaction(async (db) => {
      await migration.up(db, (done, total) => tell(upgrading, done, total, fact('book.upToDate')));
      // With the code of today, so once its layout is there.
      if (toldById && migration.number === SCHEMA_VERSION) await projectDaysWithSeveral(db);
      await engine.setLayoutVersion(db, migration.number);
    });
    version = migration.number;
  }
  return version;
}

async function tell(upgrading: Upgrading | null, done: number, total: number, label: Fact): Promise<void> {
  if (upgrading === null) return;
  upgrading.progress(howFar(done, total, label));
  // SQLite answers at once, so without this nobody else in this thread would get a turn until all is done.
  await nextTurn();
  assertGoesOn(upgrading);
}

function assertGoesOn(upgrading: Upgrading | null): void {
  if (upgrading?.signal?.aborted) throw new BookError('cancelled', fact('errors.upgradeStopped'), 'book');
}

/** Opens a book for writing, making it where `create` allows; an older one is backed up and brought up to date first. */
export async function openForWriting(
  path: string,
  create: boolean,
  upgrading: Upgrading | null = null,
): Promise<Connection> {
  if (create && isAbsent(path)) await makeNewBook(path, migrate);
  assertLooksLikeBook(path);
  const looking = engine.open(path, 'read');
  let version: number;
  try {
    version = await readVersion(looking, path);
  } finally {
    await looking.close();
  }
  if (version > SCHEMA_VERSION) {
    throw new BookError('book-unreadable', fact('errors.newerBook', { path, version, known: SCHEMA_VERSION }), 'book');
  }
  const connection = engine.open(path, 'write');
  try {
    if (version < SCHEMA_VERSION) {
      if (version > 0) await copyBefore(connection, path, upgrading);
      await migrate(connection, SCHEMA_VERSION, upgrading);
    }
    return connection;
  } catch (error) {
    await connection.close();
    throw error;
  }
}

/** Copies a book beside itself before it is brought up to date; the copy has its name only once it was opened and found whole. */
async function copyBefore(connection: Connection, path: string, upgrading: Upgrading | null): Promise<string> {
  const name = `${path}.before-${SCHEMA_VERSION}-${Date.now()}`;
  const names = { at: (attempt: number) => (attempt === 0 ? name : `${name}-${attempt + 1}`) };
  const label = fact('book.copyingBefore');
  return writeWhole(names, 'book', async (temporary) => {
    await connection.copyTo(temporary, (done, total) => {
      assertGoesOn(upgrading);
      upgrading?.progress(howFar(done, total, label));
    });
    await tell(upgrading, 0, 0, fact('book.lookingCopy'));
    const damage = await damageInCopying(temporary, connection.findings);
    if (damage !== null) throw new BookError('disk', factAround('errors.upgradeCopyDamaged', damage, { path }), 'book');
  });
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
        ? fact('errors.newerBook', { path, version, known: SCHEMA_VERSION })
        : fact('errors.olderBook', { path }),
      'book',
    );
  }
  return connection;
}

/** Reading a book takes files beside it too. Where those cannot be made, one that was closed in order is read without them. */
async function connectForReading(path: string): Promise<{ connection: Connection; version: number }> {
  try {
    return await looked(engine.open(path, 'read'), path);
  } catch (error) {
    if (!isCannotOpen(error)) throw error;
    if (engine.journalOf(path) !== null)
      throw new BookError('disk', fact('errors.notClosed', { path }), 'book', { cause: error });
    return looked(engine.openWithoutLocks(path), path);
  }
}

async function looked(connection: Connection, path: string): Promise<{ connection: Connection; version: number }> {
  try {
    return { connection, version: await readVersion(connection, path) };
  } catch (error) {
    await connection.close();
    throw error;
  }
}

function isCannotOpen(error: unknown): boolean {
  const fault = faultOf(error);
  return fault === 'cannot-open' || fault === 'read-only';
}

async function readVersion(connection: Connection, path: string): Promise<number> {
  try {
    return await engine.layoutVersion(connection.db);
  } catch (error) {
    if (isCannotOpen(error)) throw error;
    throw new BookError('book-unreadable', fact('errors.bookDamaged', { path }), 'book', { cause: error });
  }
}
