import { chmodSync, copyFileSync, existsSync, mkdirSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { BookError } from '../errors.ts';
import { fullPlaceOf, sqlitePlace } from '../paths.ts';
import { OWNER_ONLY_FOLDER } from '../owner-only.ts';
import { lookIntoBook } from '../store/check-queries.ts';
import { SCHEMA_VERSION } from '../store/migrate.ts';
import { assertLooksLikeBook, connect } from '../store/sqlite.ts';
import { BOOK_EXTENSION } from './backup.ts';
import { putInPlace } from './put-in-place.ts';
import {
  bookName,
  diskError,
  freePath,
  removeSidecars,
  removeWithSidecars,
  stampOf,
  syncFile,
  syncFolder,
} from './files.ts';

/**
 * Puts a backup in the place of a book whose connections are all closed. The backup is copied beside the book and checked
 * there (the backup itself is only read), the present book is kept in the backups folder, then the copy takes its place
 * in one rename. Until that rename the present book is as it was. An older book is brought up to date when it is opened.
 */
export async function restoreBook({
  bookPath,
  fromPath,
}: {
  bookPath: string;
  fromPath: string;
}): Promise<{ restoredFrom: string; previousSavedAs: string }> {
  const from = fullPlaceOf(fromPath, 'fromPath');
  assertLooksLikeBook(from);
  if (existsSync(bookPath) && realpathSync(from) === realpathSync(bookPath)) {
    throw new BookError('conflict', 'This is the open book itself. Choose one of its backups.', 'fromPath');
  }
  const temporary = join(
    dirname(bookPath),
    `.${basename(bookPath)}.${process.pid}-${Date.now().toString(36)}.restoring`,
  );
  try {
    copyWritable(from, temporary);
    // A book that was not closed cleanly has its last writes beside it.
    if (existsSync(`${from}-wal`)) copyWritable(`${from}-wal`, `${temporary}-wal`);
    await assertGoodBackup(temporary, from);
    syncFile(temporary);
    const previousSavedAs = await keepPresent(bookPath);
    // Left where they are, these would be taken for the restored book's own.
    removeSidecars(bookPath);
    putInPlace(temporary, bookPath, 'fromPath');
    syncFolder(dirname(bookPath));
    return { restoredFrom: from, previousSavedAs };
  } catch (error) {
    throw diskError(error, bookPath, 'fromPath');
  } finally {
    removeWithSidecars(temporary);
  }
}

/** A backup kept read-only must not become a book that nobody can write to. */
function copyWritable(from: string, to: string): void {
  copyFileSync(from, to);
  chmodSync(to, statSync(to).mode | 0o600);
}

async function assertGoodBackup(copy: string, from: string): Promise<void> {
  let looked: Awaited<ReturnType<typeof lookIntoBook>>;
  try {
    looked = await lookIntoBook(copy);
  } catch (error) {
    if (error instanceof BookError && error.code !== 'book-unreadable') throw error;
    if (typeof error === 'object' && error !== null && 'code' in error && !String(error.code).startsWith('SQLITE'))
      throw error;
    throw new BookError(
      'book-unreadable',
      `The backup ${from} is damaged and cannot be read. Nothing was changed. Choose another backup.`,
      'fromPath',
      { cause: error },
    );
  }
  if (looked.version > SCHEMA_VERSION) {
    throw new BookError(
      'book-unreadable',
      `The backup ${from} was made by a newer Valvebook (version ${looked.version} of its layout; this one knows ${SCHEMA_VERSION}). Nothing was changed. Install the newer Valvebook to restore it.`,
      'fromPath',
    );
  }
  if (looked.version === 0)
    throw new BookError(
      'book-unreadable',
      `The backup ${from} holds no book yet. Nothing was changed. Choose another backup.`,
      'fromPath',
    );
  if (looked.findings.length > 0) {
    throw new BookError(
      'book-unreadable',
      `The backup ${from} is damaged (${looked.findings[0]}) Nothing was changed. Choose another backup.`,
      'fromPath',
    );
  }
}

/** Keeps the present book as a backup; a damaged one is kept byte by byte. '' where there is none. */
async function keepPresent(bookPath: string): Promise<string> {
  if (!existsSync(bookPath)) return '';
  const path = freePath(
    bookPath,
    'backups',
    `${bookName(bookPath)}-before-restore-${stampOf(new Date())}`,
    BOOK_EXTENSION,
  );
  try {
    mkdirSync(dirname(path), { recursive: true, mode: OWNER_ONLY_FOLDER });
    let copied = false;
    try {
      const connection = connect(bookPath, 'write');
      try {
        await connection.raw.backup(sqlitePlace(path));
        copied = true;
      } finally {
        await connection.close();
      }
    } catch (error) {
      const code = typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';
      if (!/^SQLITE_(NOTADB|CORRUPT|IOERR_SHORT_READ)/.test(code)) throw error;
    }
    if (!copied) {
      removeWithSidecars(path);
      copyFileSync(bookPath, path);
      if (existsSync(`${bookPath}-wal`)) copyFileSync(`${bookPath}-wal`, `${path}-wal`);
    }
    syncFile(path);
    return path;
  } catch (error) {
    removeWithSidecars(path);
    throw diskError(error, path, 'fromPath');
  }
}
