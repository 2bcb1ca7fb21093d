import { BookError, toFailure } from '../errors.ts';
import type { LostPart } from '../store/book-watch.ts';
import { lookIntoBook } from '../store/closed-book.ts';
import type { Connection } from '../store/sqlite.ts';
import { BOOK_EXTENSION, rescuedName } from './backup-files.ts';
import { pathsBeside, stampOf, writeWhole } from './files.ts';

/**
 * Saves what an open book holds after somebody took its files away: the connection still sees the deleted journal. The copy
 * is looked at before it gets its name. Never throws: the sentence for the user comes back, with whether all is saved.
 */
export async function rescueBook(
  writer: Connection,
  bookPath: string,
  lost: LostPart,
): Promise<{ saved: boolean; error: BookError }> {
  const what = `The book's ${lost.name} (${lost.path}) was deleted or exchanged by another program while Valvebook had the book open, so changes can no longer be saved there.`;
  const wanted = pathsBeside(bookPath, '.', rescuedName(bookPath, stampOf(new Date())), BOOK_EXTENSION);
  try {
    const path = await writeWhole(wanted, 'book', async (temporary) => {
      await writer.copyTo(temporary);
      const { findings } = await lookIntoBook(temporary);
      if (findings.length > 0)
        throw new BookError('book-unreadable', `The copy did not pass its check: ${findings[0]}`, 'book');
    });
    return {
      saved: true,
      error: new BookError(
        'disk',
        `${what} Everything up to now is saved in ${path}. Close Valvebook, open that book, and look whether your last change is in it.`,
        'book',
      ),
    };
  } catch (cause) {
    return {
      saved: false,
      error: new BookError(
        'disk',
        `${what} What it holds could not be saved to ${wanted.at(0)} either: ${toFailure(cause).message} Keep Valvebook open, make room or permit writing there, and try again: each try saves it anew.`,
        'book',
        { cause },
      ),
    };
  }
}
