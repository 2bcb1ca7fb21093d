import { randomBytes } from 'node:crypto';
import { accessSync, closeSync, constants, existsSync, linkSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { BookError } from '../errors.ts';
import { OWNER_ONLY_FOLDER } from '../owner-only.ts';
import { createFile, syncFile, syncFolder } from '../store/book-file.ts';
import { codeOf, faultOf } from '../store/fault.ts';
import { fact, type Fact } from '../text/say.ts';

// What backup, restore and export share: names beside the book, temporary files, sentences for what disks refuse.

/** The book's name without its extension. */
export function bookName(bookPath: string): string {
  return basename(bookPath, extname(bookPath)) || 'book';
}

/** A moment in local time that may stand in a file name: 2026-01-31-170503. */
export function stampOf(moment: Date): string {
  const two = (figure: number): string => String(figure).padStart(2, '0');
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}-${two(moment.getHours())}${two(moment.getMinutes())}${two(moment.getSeconds())}`;
}

/** The moment a stamp stands for; null where no clock shows it. */
export function momentOfStamp(stamp: string): Date | null {
  const [year, month, day, hour, minute, second] = (/^(\d{4})-(\d\d)-(\d\d)-(\d\d)(\d\d)(\d\d)$/.exec(stamp) ?? [])
    .slice(1)
    .map(Number);
  if (second === undefined) return null;
  const moment = new Date(year!, month! - 1, day, hour, minute, second);
  return moment.getMonth() === month! - 1 && moment.getDate() === day ? moment : null;
}

/** What a disk or a share answers, if it does within so many milliseconds; else it throws. */
export async function inTime<T>(milliseconds: number, ask: () => Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  try {
    return await Promise.race([
      ask(),
      new Promise<never>((_, reject) => {
        timer = setTimeout(() => reject(new Error('no answer')), milliseconds);
      }),
    ]);
  } finally {
    clearTimeout(timer);
  }
}

/** Letters that no other file being written at this moment has in its name. */
export function token(): string {
  return `${Date.now().toString(36)}${randomBytes(4).toString('hex')}`;
}

/** Paths in a folder beside the book: the plain name, then numbered ones for when that is taken. */
export function pathsBeside(bookPath: string, folder: string, name: string, extension: string): Paths {
  const base = join(dirname(bookPath), folder, name);
  return { at: (attempt) => `${base}${attempt === 0 ? '' : `-${attempt + 1}`}${extension}` };
}

/** Names that will do for a new file, in the order in which they are tried, from 0. */
export interface Paths {
  at(attempt: number): string;
}

/** Refuses to write over what is there. */
export function assertFree(path: string, field: string): void {
  if (existsSync(path)) throw taken(path, field);
}

function taken(path: string, field: string): BookError {
  return new BookError('disk', fact('errors.existsAlready', { path }), field);
}

/**
 * Makes a file in two steps: written beside its place, then given its name whole, which never takes the place of another
 * file, however close together two are made. On any failure nothing is left behind.
 * @param wanted one path, which must be free, in a folder that is there; or paths beside the book, of which the first free
 * one is taken and whose folder is made.
 * @returns the file's path.
 */
export async function writeWhole(
  wanted: string | Paths,
  field: string,
  write: (temporaryPath: string) => Promise<void>,
): Promise<string> {
  const asked = typeof wanted === 'string';
  const first = asked ? wanted : wanted.at(0);
  if (asked) assertFree(first, field);
  const temporary = join(dirname(first), `.${basename(first)}.${process.pid}-${token()}.part`);
  try {
    if (!asked) mkdirSync(dirname(first), { recursive: true, mode: OWNER_ONLY_FOLDER });
    else if (!existsSync(dirname(first)))
      throw new BookError('disk', fact('errors.noFolder', { folder: dirname(first) }), field);
    await write(temporary);
    syncFile(temporary);
    let path = first;
    for (let attempt = 1; !placeNew(temporary, path); attempt += 1) {
      // Somebody else may have taken the name meanwhile.
      if (asked) throw taken(path, field);
      path = wanted.at(attempt);
    }
    syncFolder(dirname(path));
    return path;
  } catch (error) {
    throw diskError(error, first, field);
  } finally {
    removeWithSidecars(temporary);
  }
}

/** Gives a finished file its name unless that is taken, in one step of the system's. Returns whether it did. */
function placeNew(temporary: string, path: string): boolean {
  try {
    linkSync(temporary, path);
    return true;
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? '';
    if (code === 'EEXIST') return false;
    // Some disks know no links (FAT, some shares): there the name is taken first by an empty file of our own.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK', 'EINVAL', 'EACCES'].includes(code)) throw error;
  }
  try {
    closeSync(createFile(path));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
  renameSync(temporary, path);
  return true;
}

/** Removes a file and SQLite's files beside it; what is not there is fine. */
export function removeWithSidecars(path: string): void {
  removeQuietly(path);
  removeSidecars(path);
}

/** Removes only SQLite's files beside a file. */
export function removeSidecars(path: string): void {
  for (const suffix of ['-wal', '-shm', '-journal']) removeQuietly(`${path}${suffix}`);
}

function removeQuietly(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // A folder that cannot be reached holds nothing of ours.
  }
}

/** A sentence for what a disk refused; anything else as it is. */
export function diskError(error: unknown, path: string, field: string): unknown {
  if (error instanceof BookError) return error;
  const code = codeOf(error);
  const fault = faultOf(error);
  const say = (what: Fact) => new BookError('disk', what, field, { cause: error });
  if (code === 'ENOSPC' || fault === 'full') return say(fact('errors.fullOf', { path }));
  if (code === 'EDQUOT') return say(fact('errors.quotaOf', { path }));
  if (code === 'EFBIG') return say(fact('errors.tooBig', { path }));
  if (code === 'EROFS') return say(fact('errors.diskReadOnly', { folder: dirname(path) }));
  if (code === 'EACCES' || code === 'EPERM' || fault === 'read-only')
    return say(fact('errors.folderReadOnly', { folder: dirname(path) }));
  if (fault === 'cannot-open') {
    // The engine does not say why; the system does.
    try {
      accessSync(dirname(path), constants.W_OK);
    } catch (cause) {
      return diskError(cause, path, field);
    }
    return say(fact('errors.cannotOpen', { path }));
  }
  if (code === 'ENOENT') return say(fact('errors.folderGone', { folder: dirname(path) }));
  if (code === 'ENOTDIR' || code === 'EEXIST') return say(fact('errors.noPlaceForFiles', { folder: dirname(path) }));
  if (code === 'ENAMETOOLONG') return say(fact('errors.nameTooLong'));
  if (code === 'EISDIR') return say(fact('errors.isFolder', { path }));
  if (fault === 'unwritable' || fault === 'unreadable' || fault === 'cut-short' || code === 'EIO')
    return say(fact('errors.notTaken', { path }));
  return error;
}
