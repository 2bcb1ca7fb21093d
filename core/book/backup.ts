import { statSync } from 'node:fs';
import type { JobContext, JobHandler } from '../context.ts';
import type { BackupKind } from './contract.ts';
import { BookError } from '../errors.ts';
import { fullPlaceOf } from '../paths.ts';
import { lookIntoBook } from './closed-book.ts';
import { backupName, BOOK_EXTENSION } from './backup-files.ts';
import { assertFree, pathsBeside, stampOf, writeWhole } from './files.ts';
import { assertMayBeMade } from '../store/new-book.ts';
import { writeSealBeside } from './seal-file.ts';
import { fact, factAround } from '../text/say.ts';

/** Copies the open book, consistent while in use, into the backups folder or to a path. */
export const backupBook: JobHandler<'book.backup'> = async (context, input) => {
  const asked = input.toPath !== undefined && input.toPath.trim() !== '';
  const toPath = asked ? fullPlaceOf(input.toPath!, 'toPath') : undefined;
  if (toPath !== undefined) {
    assertFree(toPath, 'toPath');
    assertMayBeMade(toPath, 'toPath');
  }
  const made = await copyWhole(context, 'by-hand', toPath);
  return { ...made, bytes: statSync(made.path).size };
};

/** Copies the open book and opens the copy to see that it is whole before it gets its name; its seal is written beside it. */
export async function copyWhole(
  context: JobContext,
  kind: BackupKind,
  toPath?: string,
): Promise<{ path: string; sealPath: string | null }> {
  const name = backupName(context.bookPath, kind, stampOf(new Date(context.now)));
  const wanted = toPath ?? pathsBeside(context.bookPath, 'backups', name, BOOK_EXTENSION);
  context.progress(0, 2, fact('book.copying'));
  const path = await writeWhole(wanted, 'toPath', async (temporary) => {
    await context.copyBookTo(temporary);
    context.checkCancelled();
    context.progress(1, 2, fact('book.checkingCopy'));
    await assertSound(temporary);
  });
  const sealPath = await writeSealBeside(path, context);
  context.progress(2, 2, fact('book.backedUp'));
  return { path, sealPath };
}

/** A copy is opened and looked at: its layout word for word, and SQLite's own checks. */
export async function assertSound(copy: string): Promise<void> {
  const { findings } = await lookIntoBook(copy);
  if (findings.length > 0) {
    throw new BookError('book-unreadable', factAround('errors.copyNotSound', findings[0]!), 'book');
  }
}
