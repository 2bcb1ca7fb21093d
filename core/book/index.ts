export { type AutomaticBackup, backUpBeforeImport, backUpIfDue } from './automatic-backup.ts';
export { BOOK_EXTENSION } from './backup-files.ts';
export { writeOutcome } from './backup-queries.ts';
export { type SomeIds, someIds } from './check-queries.ts';
export { checkBook } from './check/check-book.ts';
export { assertAnswers, bringUpToDate, lookIntoBook, withClosedBook } from './closed-book.ts';
export {
  bookName,
  diskError,
  pathsBeside,
  removeSidecars,
  removeWithSidecars,
  stampOf,
  token,
  writeWhole,
} from './files.ts';
export { SCHEMA_VERSION, type Upgrading, migrate, openForReading, openForWriting } from './migrate.ts';
export { putInPlace } from './put-in-place.ts';
export { rescueBook } from './rescue.ts';
export { sweepLeftovers } from './sweep.ts';
export { damageInCopying } from './copied.ts';
