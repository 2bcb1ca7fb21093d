import { BookError, toFailure, factOf } from '../errors.ts';
import type { LostPart } from '../store/book-watch.ts';
import { lookIntoBook } from './closed-book.ts';
import type { Connection } from '../store/engine.ts';
import { BOOK_EXTENSION, rescuedName } from './backup-files.ts';
import { pathsBeside, stampOf, writeWhole } from './files.ts';
import { fact, factAround } from '../text/say.ts';

/**
 * Saves what an open book holds after somebody took its files away: the connection still sees the deleted journal. The copy
 * is looked at before it gets its name. Never throws: the sentence for the user comes back, with whether all is saved.
 */
export async function rescueBook(
  writer: Connection,
  bookPath: string,
  lost: LostPart,
): Promise<{ saved: boolean; error: BookError }> {
  const wanted = pathsBeside(bookPath, '.', rescuedName(bookPath, stampOf(new Date())), BOOK_EXTENSION);
  try {
    const path = await writeWhole(wanted, 'book', async (temporary) => {
      await writer.copyTo(temporary);
      const { findings } = await lookIntoBook(temporary);
      if (findings.length > 0)
        throw new BookError('book-unreadable', factAround('errors.rescueUnsound', findings[0]!), 'book');
    });
    return {
      saved: true,
      error: new BookError('disk', fact('errors.rescued', { part: lost.name, lost: lost.path, path }), 'book'),
    };
  } catch (cause) {
    return {
      saved: false,
      error: new BookError(
        'disk',
        factAround('errors.notRescued', factOf(toFailure(cause)), {
          part: lost.name,
          lost: lost.path,
          path: wanted.at(0),
        }),
        'book',
        { cause },
      ),
    };
  }
}
