import { existsSync, renameSync } from 'node:fs';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

/** Windows refuses a rename while any program has one of the two files open; a virus scanner lets go within a moment. */
const TRIES = 10;
const BETWEEN_MS = 100;

/**
 * Renames a finished file over another (common practice on Windows, no source: try again for a second).
 * @throws BookError 'book-busy' where another program keeps the file there open; nothing was changed then
 */
export function putInPlace(from: string, to: string, field: string, rename: typeof renameSync = renameSync): void {
  for (let tried = 1; ; tried += 1) {
    try {
      rename(from, to);
      return;
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code ?? '';
      const held = code === 'EBUSY' || (process.platform === 'win32' && (code === 'EPERM' || code === 'EACCES'));
      if (!held) throw error;
      if (tried < TRIES) {
        Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, BETWEEN_MS);
        continue;
      }
      if (!existsSync(to)) throw error;
      throw new BookError('book-busy', fact('errors.takesPlace', { path: to }), field, { cause: error });
    }
  }
}
