import { existsSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { OutputOf } from '../contract/index.ts';
import { BookError } from '../errors.ts';
import { readSettings, writeSettings } from '../settings/index.ts';
import { fullPlaceOf } from '../paths.ts';
import { assertLooksLikeBook, copyBookFile, isSameFile, syncFile, syncFolder } from '../store/book-file.ts';
import { faultOf } from '../store/fault.ts';
import { assertAnswers, damageInCopying, withClosedBook } from '../book/index.ts';
import { BOOK_EXTENSION } from '../book/index.ts';
import { putInPlace } from '../book/index.ts';
import { assertGoodBackup, type Looking } from './look.ts';
import {
  bookName,
  diskError,
  pathsBeside,
  removeSidecars,
  removeWithSidecars,
  stampOf,
  token,
  writeWhole,
} from '../book/index.ts';
import { fact, factAround } from '../text/say.ts';

/** A backup that was looked at in full and stands ready beside the book. */
export interface PreparedRestore {
  /** The copy that is to be the book, of this version's layout. */
  temporary: string;
  from: string;
}

/**
 * Copies a backup beside the book and looks at the copy in full; the backup itself is only read, the book not at all.
 * @throws BookError, the copy being gone again.
 */
export async function prepareRestore(
  looking: Looking,
  { bookPath, fromPath }: { bookPath: string; fromPath: string },
): Promise<PreparedRestore> {
  const from = fullPlaceOf(fromPath, 'fromPath');
  // By what the file is, before anything of it is opened.
  if (isSameFile(from, bookPath)) throw new BookError('conflict', fact('errors.openBookItself'), 'fromPath');
  assertLooksLikeBook(from);
  const temporary = join(dirname(bookPath), `.${basename(bookPath)}.${process.pid}-${token()}.restoring`);
  try {
    looking.progress(0, 0, fact('book.copyingBackup'));
    copyBookFile(from, temporary);
    // A book that was not closed cleanly has its last writes beside it.
    for (const end of ['-wal', '-journal']) {
      if (existsSync(`${from}${end}`)) copyBookFile(`${from}${end}`, `${temporary}${end}`);
    }
    looking.checkCancelled();
    await assertGoodBackup(temporary, from, looking);
    syncFile(temporary);
    return { temporary, from };
  } catch (error) {
    removeWithSidecars(temporary);
    throw diskError(error, bookPath, 'fromPath');
  }
}

/**
 * Puts a prepared backup in the place of a book whose connections are all closed. The present book is kept in the backups
 * folder first; then the copy takes its place in one rename, and is opened. If it does not open there, the book before
 * comes back.
 */
export async function takePlace(
  bookPath: string,
  { temporary, from }: PreparedRestore,
): Promise<OutputOf<'book.restore'>> {
  try {
    const previousSavedAs = await keepPresent(bookPath);
    const notOpened = (cause: unknown) =>
      new BookError('book-unreadable', fact('errors.backupNotOpened', { path: from }), 'fromPath', { cause });
    const keptBackupChoices = await keepBackupChoices(bookPath, temporary).catch((error: unknown) => {
      throw notOpened(error);
    });
    syncFile(temporary);
    // Left where they are, these would be taken for the restored book's own.
    removeSidecars(bookPath);
    putInPlace(temporary, bookPath, 'fromPath');
    syncFolder(dirname(bookPath));
    try {
      await assertAnswers(bookPath);
    } catch (error) {
      if (previousSavedAs !== '') putBack(previousSavedAs, bookPath);
      throw notOpened(error);
    }
    return { restoredFrom: from, previousSavedAs, keptBackupChoices };
  } catch (error) {
    throw diskError(error, bookPath, 'fromPath');
  } finally {
    removeWithSidecars(temporary);
  }
}

/** Both steps, for a book that nobody has open. */
export async function restoreBook(
  looking: Looking,
  paths: { bookPath: string; fromPath: string },
): Promise<OutputOf<'book.restore'>> {
  return takePlace(paths.bookPath, await prepareRestore(looking, paths));
}

/**
 * When backups are made, and where to, was chosen for this machine: a backup from elsewhere, or from before the choice, must
 * not turn them off unseen. Returns whether the backup said otherwise. A book that cannot be read any more has no say.
 */
async function keepBackupChoices(bookPath: string, temporary: string): Promise<boolean> {
  if (!existsSync(bookPath)) return false;
  const present = await withClosedBook(bookPath, async ({ db }) => (await readSettings(db)).backups).catch(() => null);
  if (present === null) return false;
  return withClosedBook(temporary, ({ transaction }) =>
    transaction(async (db) => {
      const settings = await readSettings(db);
      if (JSON.stringify(settings.backups) === JSON.stringify(present)) return false;
      await writeSettings(db, { ...settings, backups: present });
      return true;
    }),
  );
}

/** The kept copy in the book's place again, whole or not at all; it stays where it is kept, too. */
function putBack(kept: string, bookPath: string): void {
  const temporary = join(dirname(bookPath), `.${basename(bookPath)}.${process.pid}-${token()}.restoring`);
  try {
    copyBookFile(kept, temporary);
    syncFile(temporary);
    removeSidecars(bookPath);
    if (existsSync(`${kept}-wal`)) copyBookFile(`${kept}-wal`, `${bookPath}-wal`);
    putInPlace(temporary, bookPath, 'fromPath');
    syncFolder(dirname(bookPath));
  } finally {
    removeWithSidecars(temporary);
  }
}

/** Keeps the present book as a backup; a damaged one is kept byte by byte. '' where there is none. */
async function keepPresent(bookPath: string): Promise<string> {
  if (!existsSync(bookPath)) return '';
  const name = `${bookName(bookPath)}-before-restore-${stampOf(new Date())}`;
  let journal = false;
  const path = await writeWhole(
    pathsBeside(bookPath, 'backups', name, BOOK_EXTENSION),
    'fromPath',
    async (temporary) => {
      try {
        const damage = await withClosedBook(bookPath, async (book) => {
          await book.copyTo(temporary);
          return damageInCopying(temporary, book.fileFindings);
        });
        if (damage !== null) throw new BookError('disk', factAround('errors.presentDamaged', damage), 'fromPath');
      } catch (error) {
        const fault = faultOf(error);
        if (fault !== 'damaged' && fault !== 'cut-short') throw error;
        removeWithSidecars(temporary);
        copyBookFile(bookPath, temporary);
        journal = existsSync(`${bookPath}-wal`);
      }
    },
  );
  if (journal) copyBookFile(`${bookPath}-wal`, `${path}-wal`);
  return path;
}
