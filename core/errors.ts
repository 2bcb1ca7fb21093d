/** Every way a request can fail. One union, so a host never has to guess what an error means. */
export type ErrorCode =
  | 'bad-input' // a value the caller can mend; `field` says which
  | 'not-found' // the thing named does not exist in this book
  | 'conflict' // it exists, but in a state that does not allow this
  | 'stale' // somebody saved it since it was read
  | 'book-unreadable' // not a book, damaged, or from a newer version
  | 'book-busy' // another Valvebook has this book open
  | 'disk' // disk full, read-only folder, file in the way
  | 'cancelled' // the user cancelled a job
  | 'unknown-request' // no request of that name
  | 'internal'; // our fault: the cause is in the log, never shown

/** The one shape a failure has on every host. `message` is fit to show to an office worker. */
export interface Failure {
  code: ErrorCode;
  message: string;
  /** Dotted path of the input field that has to be mended, when there is one. */
  field?: string;
}

/** A failure that people can act on: what is wrong, where, and how to mend it. */
export class BookError extends Error {
  readonly code: ErrorCode;
  readonly field: string | undefined;
  constructor(code: ErrorCode, message: string, field?: string, options?: { cause?: unknown }) {
    super(message, options);
    this.name = 'BookError';
    this.code = code;
    this.field = field;
  }
}

/** Turns anything thrown into the one failure shape; SQLite and file-system causes get a sentence of their own. */
export function toFailure(error: unknown): Failure {
  if (error instanceof BookError) {
    return error.field === undefined
      ? { code: error.code, message: error.message }
      : { code: error.code, message: error.message, field: error.field };
  }
  const code = errorCodeOf(error);
  if (code === 'SQLITE_FULL' || code === 'ENOSPC' || code.startsWith('SQLITE_IOERR')) {
    return {
      code: 'disk',
      message:
        'The disk would not take the change (it may be full). Nothing was changed; free some space and try again.',
    };
  }
  if (
    code.startsWith('SQLITE_READONLY') ||
    code === 'SQLITE_CANTOPEN' ||
    code === 'EACCES' ||
    code === 'EROFS' ||
    code === 'EPERM'
  ) {
    return {
      code: 'disk',
      message:
        'The book or its folder is read-only, so nothing was changed. Move the book to a folder you may write in, or change its permissions.',
    };
  }
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED')) {
    return {
      code: 'book-busy',
      message: 'Another program is writing to this book. Nothing was changed; close it there or try again in a moment.',
    };
  }
  if (code.startsWith('SQLITE_NOTADB') || code.startsWith('SQLITE_CORRUPT')) {
    return {
      code: 'book-unreadable',
      message: 'The book file is damaged. Nothing was changed; restore a backup of it.',
    };
  }
  return {
    code: 'internal',
    message: 'Valvebook could not do that because of a fault of its own. Nothing was changed; the cause is in the log.',
  };
}

function errorCodeOf(error: unknown): string {
  if (typeof error === 'object' && error !== null && 'code' in error && typeof error.code === 'string')
    return error.code;
  return '';
}
