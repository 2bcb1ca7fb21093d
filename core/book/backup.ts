import { statSync } from 'node:fs';
import type { JobHandler } from '../context.ts';
import { BookError } from '../errors.ts';
import { fullPlaceOf } from '../paths.ts';
import { lookIntoBook } from '../store/closed-book.ts';
import { bookName, pathsBeside, stampOf, writeWhole } from './files.ts';
import { writeSealBeside } from './seal-file.ts';

/** The extension of a book's file. */
export const BOOK_EXTENSION = '.valvebook';

/** Copies the open book, consistent while in use, and opens the copy to see that it is whole before it gets its name. */
export const backupBook: JobHandler<'book.backup'> = async (context, input) => {
  const asked = input.toPath !== undefined && input.toPath.trim() !== '';
  const wanted = asked
    ? fullPlaceOf(input.toPath!, 'toPath')
    : pathsBeside(
        context.bookPath,
        'backups',
        `${bookName(context.bookPath)}-${stampOf(new Date(context.now))}`,
        BOOK_EXTENSION,
      );
  context.progress(0, 2, 'Copying the book');
  const path = await writeWhole(wanted, 'toPath', async (temporary) => {
    await context.copyBookTo(temporary);
    context.checkCancelled();
    context.progress(1, 2, 'Checking the copy');
    const { findings } = await lookIntoBook(temporary);
    if (findings.length > 0) {
      throw new BookError(
        'book-unreadable',
        `The copy did not pass its check, so no backup was kept: ${findings[0]} Run the check of the book itself.`,
        'book',
      );
    }
  });
  const sealPath = await writeSealBeside(path, context);
  context.progress(2, 2, 'Backed up');
  return { path, bytes: statSync(path).size, sealPath };
};
