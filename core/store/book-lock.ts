import { closeSync, existsSync, rmSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { BookError } from '../errors.ts';
import { sqlitePlace } from '../paths.ts';
import { createFile } from './book-file.ts';
import { codeOf, faultOf } from './fault.ts';
import { claimForSqlite, identityOf, isOpenHere } from './open-files.ts';
import { fact } from '../text/say.ts';

// One Valvebook at a time may write to a book. Two locks of the operating system say so; both end with the process,
// however it ends.
// 1. An exclusive lock on a file beside the book. It is what tells a writer from those who only look.
// 2. The lock that every connection of SQLite holds on the book's file itself. It belongs to the file, not to its name: it
//    is seen through a symbolic link, a hard link, another mount or another user's account, and nobody can delete it. But it
//    does not tell a writer from a reader. So it decides only where the first cannot be trusted: the file beside the book is
//    missing, the book has several names, or whoever has it open has no index of the journal beside this name.

/** A short look by somebody else may hold up a start by so many tries, and milliseconds between two. */
const TRIES = 4;
const BETWEEN_TRIES_MS = 100;

/**
 * Takes a book for writing, or says that it is open already.
 * @param path the book's file, links followed; it need not exist yet, its folder must.
 * @throws BookError 'book-busy'; 'disk' where nothing may be written beside it.
 */
export function lockBook(path: string): { release(): void } {
  const lockPath = `${path}-lock`;
  const book = statSync(path, { throwIfNoEntry: false });
  const hadLock = existsSync(lockPath);
  const oneName = book === undefined || book.nlink <= 1;
  const lock = takeLock(path, lockPath);
  const hasBook = book !== undefined && book.size > 0;
  const doubtful = hasBook && (!hadLock || !oneName || !existsSync(`${path}-shm`));
  if (doubtful && isOpenSomewhere(path)) {
    // Left there, it would vouch for the next start.
    if (!hadLock) rmSync(lockPath, { force: true });
    lock.close();
    throw new BookError('book-busy', fact('errors.openElsewhere', { path, oneName }), 'book');
  }
  return { release: () => void lock.close() };
}

/** Whoever may open the lock's file may also hold it, so it is the owner's alone like the book. */
function makeLockFile(lockPath: string): void {
  if (existsSync(lockPath)) return;
  try {
    closeSync(createFile(lockPath));
  } catch (error) {
    // Another start has just made it.
    if (codeOf(error) !== 'EEXIST') throw error;
  }
}

function takeLock(path: string, lockPath: string): Database.Database {
  let lock: Database.Database | undefined;
  try {
    makeLockFile(lockPath);
    lock = new Database(sqlitePlace(lockPath), { timeout: 0 });
    lock.pragma('journal_mode = MEMORY');
    lock.exec('BEGIN EXCLUSIVE');
    return lock;
  } catch (error) {
    lock?.close();
    const fault = faultOf(error);
    if (fault === 'busy')
      throw new BookError('book-busy', fact('errors.openInOther', { path }), 'book', { cause: error });
    if (fault === 'cannot-open' || fault === 'read-only')
      throw new BookError('disk', fact('errors.folderForLooking', { folder: dirname(path) }), 'book', { cause: error });
    throw error;
  }
}

/** Whether any connection of SQLite goes on having the file open. */
function isOpenSomewhere(path: string): boolean {
  // What is open in this process stays so: there is nothing to wait for.
  if (isOpenHere(identityOf(path))) return true;
  for (let tried = 1; isHeld(path); tried += 1) {
    if (tried === TRIES) return true;
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, BETWEEN_TRIES_MS);
  }
  return false;
}

/** Whether a connection of SQLite has the file open now: asked by trying to have it alone, which changes nothing in it. */
function isHeld(path: string): boolean {
  const release = claimForSqlite(path);
  let raw: Database.Database | undefined;
  try {
    // SQLite's own waiting would begin anew at each of the locks it tries.
    raw = new Database(sqlitePlace(path), { fileMustExist: true, timeout: 0 });
    // Before the first look: then the file's own lock is taken, and not those of the journal, which go by name.
    raw.pragma('locking_mode = EXCLUSIVE');
    raw.exec('BEGIN EXCLUSIVE; ROLLBACK');
    return false;
  } catch (error) {
    // What else is wrong with it is said by whoever opens it next.
    return faultOf(error) === 'busy';
  } finally {
    raw?.close();
    release();
  }
}
