import { createHash } from 'node:crypto';
import { closeSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { BookError } from '../errors.ts';
import { assertOwnName } from '../paths.ts';
import { createFile, isAbsent, syncFile, syncFolder } from './book-file.ts';
import type { Connection } from './engine.ts';
import { createBookFile, journalOf } from './sqlite.ts';
import { fact } from '../text/say.ts';

/**
 * Makes a new, empty book: whole under another name, then put in place, so that a start that is broken off leaves either no
 * book or a whole one. An empty file counts as no book. The caller holds the book's lock.
 * @param fill writes the tables.
 * @throws BookError 'conflict' where somebody else has put a file there; 'book-unreadable' beside a journal without its book.
 */
export async function makeNewBook(path: string, fill: (connection: Connection) => Promise<unknown>): Promise<void> {
  assertMayBeMade(path, 'book');
  const folder = dirname(path);
  // Always the same, and short: the book's own name may have no room for more. Nobody else makes this book: its lock is held.
  const aside = join(folder, `.${createHash('sha256').update(basename(path)).digest('hex').slice(0, 6)}.new`);
  sweep(aside);
  try {
    const connection = createBookFile(aside);
    try {
      await fill(connection);
    } finally {
      await connection.close();
    }
    syncFile(aside);
    takeName(path);
    renameSync(aside, path);
    syncFolder(folder);
  } finally {
    sweep(aside);
  }
}

/**
 * Refuses to put a book where it could not be read: under a name of the files beside a book, or beside the journal of one
 * that is gone, which SQLite would play into it.
 * @throws BookError 'bad-input'; 'book-unreadable' beside a journal without its book.
 */
export function assertMayBeMade(path: string, field: string): void {
  assertOwnName(path, field);
  const journal = journalOf(path);
  if (journal !== null) throw new BookError('book-unreadable', fact('errors.journalAlone', { path, journal }), field);
}

function sweep(aside: string): void {
  for (const end of ['', '-wal', '-shm', '-journal']) rmSync(`${aside}${end}`, { force: true });
}

/** An empty file of our own, or the one that was there, holds the name, so that the book never takes another file's place. */
function takeName(path: string): void {
  try {
    closeSync(createFile(path));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    if (isAbsent(path)) return;
    throw new BookError('conflict', fact('errors.justPut', { path }), 'book', { cause: error });
  }
}
