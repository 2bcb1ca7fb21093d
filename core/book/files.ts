import { closeSync, existsSync, fsyncSync, mkdirSync, openSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { BookError } from '../errors.ts';
import { OWNER_ONLY_FOLDER } from '../owner-only.ts';

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

/** A path in a folder beside the book; where the name is taken, the next free one. */
export function freePath(bookPath: string, folder: string, name: string, extension: string): string {
  const base = join(dirname(bookPath), folder, name);
  let path = `${base}${extension}`;
  for (let next = 2; existsSync(path); next += 1) path = `${base}-${next}${extension}`;
  return path;
}

/** Refuses to write over what is there. */
export function assertFree(path: string, field: string): void {
  if (existsSync(path))
    throw new BookError(
      'disk',
      `${path} exists already and is not written over. Choose another name, or move that file away first.`,
      field,
    );
}

/** Makes a file in two steps: written beside its place, then moved there whole. On any failure nothing is left behind. */
export async function writeWhole(
  path: string,
  field: string,
  makeFolder: boolean,
  write: (temporaryPath: string) => Promise<void>,
): Promise<void> {
  assertFree(path, field);
  const temporary = join(dirname(path), `.${basename(path)}.${process.pid}-${Date.now().toString(36)}.part`);
  try {
    if (makeFolder) mkdirSync(dirname(path), { recursive: true, mode: OWNER_ONLY_FOLDER });
    else if (!existsSync(dirname(path)))
      throw new BookError('disk', `There is no folder ${dirname(path)}. Make it first, or choose another.`, field);
    await write(temporary);
    syncFile(temporary);
    // Somebody else may have taken the name meanwhile.
    assertFree(path, field);
    renameSync(temporary, path);
    syncFolder(dirname(path));
  } catch (error) {
    throw diskError(error, path, field);
  } finally {
    removeWithSidecars(temporary);
  }
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

/** Puts a file's bytes on the disk, not only in the system's memory. */
export function syncFile(path: string): void {
  const file = openSync(path, 'r+');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Makes a rename durable, where the system can open folders. */
export function syncFolder(path: string): void {
  try {
    const folder = openSync(path, 'r');
    try {
      fsyncSync(folder);
    } finally {
      closeSync(folder);
    }
  } catch {
    // Windows does not open folders; its rename is durable by itself.
  }
}

/** A sentence for what a disk refused; anything else as it is. */
export function diskError(error: unknown, path: string, field: string): unknown {
  if (error instanceof BookError) return error;
  const code = typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';
  const say = (message: string) => new BookError('disk', message, field, { cause: error });
  if (code === 'ENOSPC' || code === 'EDQUOT' || code === 'SQLITE_FULL' || code === 'EFBIG')
    return say(
      `The disk is full, so ${path} could not be written. Nothing was left behind; free some space and try again.`,
    );
  if (
    ['EACCES', 'EPERM', 'EROFS', 'SQLITE_CANTOPEN', 'SQLITE_READONLY'].includes(code) ||
    code.startsWith('SQLITE_READONLY')
  )
    return say(`The folder ${dirname(path)} cannot be written to. Choose another folder, or change its permissions.`);
  if (code === 'ENOENT' || code === 'ENOTDIR' || code === 'EEXIST')
    return say(`${dirname(path)} is not a folder that files can be put in. Choose another.`);
  if (code === 'ENAMETOOLONG') return say('That file name is too long. Choose a shorter one.');
  if (code === 'EISDIR') return say(`${path} is a folder. Give a file name as well.`);
  if (code.startsWith('SQLITE_IOERR') || code === 'EIO')
    return say(`The disk would not take ${path}. Nothing was left behind; check the disk and try again.`);
  return error;
}
