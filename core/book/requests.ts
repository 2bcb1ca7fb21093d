import { listPlace } from './places.ts';
import { makePrivate, openToOthers } from './privacy.ts';
import { exportBook } from './export.ts';
import { checkBook } from './check/check-book.ts';
import { backupBook } from './backup.ts';
import { listBackups, backupState } from './automatic-backup.ts';
import type { JobHandler, Handler } from '../context.ts';
import { readSeal } from '../store/chain-queries.ts';
import { statSync } from 'node:fs';
import { countRows } from './count-queries.ts';
import { readSettings } from '../settings/index.ts';
import { SCHEMA_VERSION } from './migrate.ts';

const bookSeal: Handler<'book.seal'> = async ({ db, today }) => ({ date: today, ...(await readSeal(db)) });

const bookInfo: Handler<'book.info'> = async ({ db, today, bookPath }) => ({
  path: bookPath,
  schemaVersion: SCHEMA_VERSION,
  bytes: statSync(bookPath).size,
  companyName: (await readSettings(db)).companyName,
  counts: await countRows(db),
  today,
  openToOthers: await openToOthers({ db, bookPath }),
});

const bookToday: Handler<'book.today'> = async ({ today }) => ({ today });

/** What is answered at once. */
export const bookHandlers = {
  'book.info': bookInfo,
  'book.today': bookToday,
  'book.seal': bookSeal,
  'place.list': listPlace,
  'book.backupState': backupState,
  'book.backups': listBackups,
} satisfies {
  'book.info': Handler<'book.info'>;
  'book.today': Handler<'book.today'>;
  'book.seal': Handler<'book.seal'>;
  'place.list': Handler<'place.list'>;
  'book.backupState': Handler<'book.backupState'>;
  'book.backups': Handler<'book.backups'>;
};

/** The requests about the book as a whole. */
export const bookJobs = {
  'export.book': exportBook,
  'book.check': checkBook,
  'book.backup': backupBook,
  'book.makePrivate': makePrivate,
} satisfies {
  'export.book': JobHandler<'export.book'>;
  'book.check': JobHandler<'book.check'>;
  'book.backup': JobHandler<'book.backup'>;
  'book.makePrivate': JobHandler<'book.makePrivate'>;
};
