import type { Handler, JobHandler } from '../context.ts';
import { backupState, listBackups } from './automatic-backup.ts';
import { backupBook } from './backup.ts';
import { checkBook } from './check/check-book.ts';
import { exportBook } from './export.ts';
import { makePrivate } from './privacy.ts';
import { importApply, importPreview } from './import/run.ts';
import { listPlace } from './places.ts';

/** What is answered at once. */
export const bookReads = {
  'place.list': listPlace,
  'book.backupState': backupState,
  'book.backups': listBackups,
} satisfies {
  'place.list': Handler<'place.list'>;
  'book.backupState': Handler<'book.backupState'>;
  'book.backups': Handler<'book.backups'>;
};

/** The requests about the book as a whole. */
export const bookHandlers = {
  'import.preview': importPreview,
  'import.apply': importApply,
  'export.book': exportBook,
  'book.check': checkBook,
  'book.backup': backupBook,
  'book.makePrivate': makePrivate,
} satisfies {
  'import.preview': JobHandler<'import.preview'>;
  'import.apply': JobHandler<'import.apply'>;
  'export.book': JobHandler<'export.book'>;
  'book.check': JobHandler<'book.check'>;
  'book.backup': JobHandler<'book.backup'>;
  'book.makePrivate': JobHandler<'book.makePrivate'>;
};
