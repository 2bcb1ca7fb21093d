// What a store's engine says went wrong, in words that hold for any engine: its own codes are read here and nowhere else.

/** What happened to a request of the store, as far as its engine tells. */
export type StoreFault =
  | 'full' // no room on the disk
  | 'unreadable' // the disk did not give what was written
  | 'cut-short' // the file ends before what it says it holds
  | 'unwritable' // the disk took nothing, and did not say why
  | 'read-only' // nothing may be written there
  | 'cannot-open' // the file, or what has to lie beside it, cannot be opened or made
  | 'busy' // somebody else holds it
  | 'damaged' // no book, or a broken one
  | 'refused'; // a statement that the content does not allow

const FAULTS: readonly (readonly [RegExp, StoreFault])[] = [
  [/^SQLITE_IOERR_SHORT_READ/, 'cut-short'],
  [/^SQLITE_IOERR_(?:READ|FSTAT|MMAP|CORRUPTFS|DATA)/, 'unreadable'],
  [/^SQLITE_IOERR/, 'unwritable'],
  [/^SQLITE_FULL/, 'full'],
  [/^SQLITE_READONLY/, 'read-only'],
  [/^SQLITE_CANTOPEN/, 'cannot-open'],
  [/^SQLITE_(?:BUSY|LOCKED)/, 'busy'],
  [/^SQLITE_(?:NOTADB|CORRUPT)/, 'damaged'],
  [/^SQLITE_(?:ERROR|CONSTRAINT|MISMATCH|RANGE|TOOBIG)/, 'refused'],
];

/** What the store says went wrong; null for what does not come from it (the system's own errors, our own). */
export function faultOf(error: unknown): StoreFault | null {
  const code = codeOf(error);
  return FAULTS.find(([pattern]) => pattern.test(code))?.[1] ?? null;
}

/** The code an error carries, the system's or the store's; '' without one. */
export function codeOf(error: unknown): string {
  return typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';
}
