import { codeOf, faultOf, type StoreFault } from './store/fault.ts';
import { PLAIN_READER, fact, sayFact, type Fact, type Reader } from './text/say.ts';

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
  /** In English, for logs and terminals; a screen says `text` in its reader's language where there is one. */
  message: string;
  text?: { key: string; given?: unknown };
  /** Dotted path of the input field that has to be mended, when there is one. */
  field?: string;
}

/** A failure that people can act on: what is wrong, where, and how to mend it. */
export class BookError extends Error {
  readonly code: ErrorCode;
  readonly field: string | undefined;
  readonly text: Fact | undefined;
  constructor(code: ErrorCode, what: Fact | string, field?: string, options?: { cause?: unknown }) {
    super(typeof what === 'string' ? what : sayFact(PLAIN_READER, what), options);
    // Not by a conditional: the union of all facts is too wide for the compiler to join with undefined.
    if (typeof what !== 'string') this.text = what;
    this.name = 'BookError';
    this.code = code;
    this.field = field;
  }
}

/** A failure that came from another thread, as the error it was there; `toFailure` gives the same again. */
export function toError({ code, message, text, field }: Failure, cause?: string): BookError {
  return new BookError(code, (text as Fact | undefined) ?? message, field, { cause });
}

/** A failure in its reader's language and units. */
export function sayFailure(reader: Reader, failure: Failure): string {
  return failure.text === undefined ? failure.message : sayFact(reader, failure.text);
}

/** A failure as a fact, to stand inside another. */
export const factOf = ({ text, message }: Failure): Fact =>
  (text as Fact | undefined) ?? fact('errors.asSaid', { said: message });

/** Turns anything thrown into the one failure shape; SQLite and file-system causes get a sentence of their own. */
export function toFailure(error: unknown): Failure {
  if (error instanceof BookError) {
    return {
      code: error.code,
      message: error.message,
      ...(error.text === undefined ? {} : { text: error.text }),
      ...(error.field === undefined ? {} : { field: error.field }),
    };
  }
  const fault = faultOf(error) ?? SYSTEM_FAULTS.get(codeOf(error));
  return fault === undefined ? said('internal', fact('errors.internal')) : said(...FAILURES[fault]);
}

/** What the system itself says of a disk. */
const SYSTEM_FAULTS: ReadonlyMap<string, StoreFault> = new Map([
  ['ENOSPC', 'full'],
  ['EDQUOT', 'full'],
  ['EROFS', 'read-only'],
  ['EACCES', 'cannot-open'],
  ['EPERM', 'cannot-open'],
]);

const FAILURES: Record<StoreFault, [code: ErrorCode, text: Fact]> = {
  full: ['disk', fact('errors.diskFull')],
  unwritable: ['disk', fact('errors.diskFull')],
  unreadable: ['disk', fact('errors.diskRead')],
  'cut-short': ['disk', fact('errors.diskRead')],
  'read-only': ['disk', fact('errors.readOnly')],
  'cannot-open': ['disk', fact('errors.closedToYou')],
  busy: ['book-busy', fact('errors.busy')],
  damaged: ['book-unreadable', fact('errors.damaged')],
  // Our own statements fit our own tables: where one is refused, the fault is ours.
  refused: ['internal', fact('errors.internal')],
};

const said = (code: ErrorCode, text: Fact): Failure => ({ code, message: sayFact(PLAIN_READER, text), text });
