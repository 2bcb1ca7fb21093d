import {
  closeSync,
  existsSync,
  fstatSync,
  fsyncSync,
  lstatSync,
  openSync,
  readFileSync,
  readlinkSync,
  readSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { dirname, resolve } from 'node:path';
import { BookError } from '../errors.ts';
import { OWNER_ONLY_FILE } from '../owner-only.ts';
import { claimForUs, identityOf, isOpenHere, sameFile } from './open-files.ts';
import { fact } from '../text/say.ts';

// The one place in core that opens files by itself instead of through SQLite (tests/lint/book-file.test.ts sees to it).
// Each function here refuses a file that SQLite has open in this process: see open-files.ts for why.

/** 'VLVB' as a big-endian integer: marks a SQLite file as a book. */
export const APPLICATION_ID = 0x564c5642;

/**
 * Opens an existing file, hands on its descriptor, closes it.
 * @throws BookError 'not-found'; 'conflict' for a book that is open in this process, under whatever name.
 */
export function withFile<T>(path: string, flags: 'r' | 'r+', work: (file: number) => T): T {
  const identity = identityOf(path);
  if (identity === null) throw new BookError('not-found', fact('errors.noFileAt', { path }), 'book');
  const release = claimForUs(path, identity);
  try {
    const file = openOrSay(path, flags);
    const stat = fstatSync(file, { bigint: true });
    const opened = { device: BigInt.asIntN(64, stat.dev), inode: BigInt.asIntN(64, stat.ino) };
    // Exchanged between the look and the opening. Closing what may be the open book would drop its locks, so it stays open.
    if (!sameFile(opened, identity) && isOpenHere(opened))
      throw new BookError('conflict', fact('errors.exchanged', { path }), 'book');
    try {
      return work(file);
    } finally {
      closeSync(file);
    }
  } finally {
    release();
  }
}

function openOrSay(path: string, flags: string): number {
  try {
    return openSync(path, flags);
  } catch (error) {
    if (flags !== 'r' || !['EACCES', 'EPERM'].includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
    throw new BookError('disk', fact('errors.mayNotRead', { path }), 'book', {
      cause: error,
    });
  }
}

/** Makes a file that was not there, readable by its owner only, and returns its descriptor. Fails with EEXIST where there is one. */
export function createFile(path: string): number {
  return openSync(path, 'wx', OWNER_ONLY_FILE);
}

/** Writes a text of ours into a new file; one of that name goes, without being opened. Readable by its owner only. */
export function writeTextFile(path: string, text: string): void {
  rmSync(path, { force: true });
  const file = createFile(path);
  try {
    writeFileSync(file, text);
  } finally {
    closeSync(file);
  }
}

/** Copies a closed book's file to a name that is free. The copy can be read and written by its owner only. */
export function copyBookFile(from: string, to: string): void {
  withFile(from, 'r', (source) => {
    const target = createFile(to);
    try {
      const piece = Buffer.allocUnsafe(4 * 1024 * 1024);
      for (let read = 1; read > 0;) {
        read = readSync(source, piece, 0, piece.length, null);
        for (let at = 0; at < read;) at += writeSync(target, piece, at, read - at);
      }
    } finally {
      closeSync(target);
    }
  });
}

/** Whether two closed files hold the same bytes. */
export function isSameContent(one: string, other: string): boolean {
  return withFile(one, 'r', (first) =>
    withFile(other, 'r', (second) => {
      const [a, b] = [Buffer.allocUnsafe(1024 * 1024), Buffer.allocUnsafe(1024 * 1024)];
      for (;;) {
        const [readA, readB] = [fill(first, a), fill(second, b)];
        if (readA !== readB || !a.subarray(0, readA).equals(b.subarray(0, readB))) return false;
        if (readA < a.length) return true;
      }
    }),
  );
}

/** Reads until the buffer is full or the file ends; a share may hand out less at a time. */
function fill(file: number, piece: Buffer): number {
  let at = 0;
  for (let read = 1; read > 0 && at < piece.length; at += read)
    read = readSync(file, piece, at, piece.length - at, null);
  return at;
}

/** The whole content of a file that a user named. */
export function readWholeFile(path: string): Buffer {
  return withFile(path, 'r', (file) => readFileSync(file));
}

/** Puts a file's bytes on the disk, not only in the system's memory. */
export function syncFile(path: string): void {
  withFile(path, 'r+', fsyncSync);
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

/** The file a path means where its last part is a symbolic link: SQLite keeps its journal beside that one. */
export function behindLinks(path: string): string {
  let at = path;
  for (let links = 0; links < 40; links++) {
    if (lstatSync(at, { throwIfNoEntry: false })?.isSymbolicLink() !== true) {
      if (links > 0 && !existsSync(at))
        throw new BookError('not-found', fact('errors.linkToNothing', { path, to: at }), 'book');
      return at;
    }
    at = resolve(dirname(at), readlinkSync(at));
  }
  throw new BookError('book-unreadable', fact('errors.bookLinkToItself', { path }), 'book');
}

/** Whether two paths are one file, by whatever links. */
export function isSameFile(one: string, other: string): boolean {
  return sameFile(identityOf(one), identityOf(other));
}

/** Whether a path holds no book yet: nothing there, or an empty file as a first start leaves that was broken off. */
export function isAbsent(path: string): boolean {
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) return true;
  return stat.isFile() && stat.size === 0 && (statSync(`${path}-wal`, { throwIfNoEntry: false })?.size ?? 0) === 0;
}

/**
 * Refuses a file that is not SQLite before SQLite touches it, so that nothing in it changes. A file that SQLite has open
 * here was looked at when it was opened, and is not opened again beside it.
 */
export function assertLooksLikeBook(path: string): void {
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) throw new BookError('not-found', fact('errors.noBookAt', { path }), 'book');
  if (!stat.isFile()) throw new BookError('book-unreadable', fact('errors.notAFile', { path }), 'book');
  if (isOpenHere(identityOf(path))) return;
  if (isAbsent(path)) throw new BookError('not-found', fact('errors.emptyFile', { path }), 'book');
  const head = Buffer.alloc(72);
  const read = withFile(path, 'r', (file) => readSync(file, head, 0, 72, 0));
  if (read < 72 || head.toString('latin1', 0, 16) !== 'SQLite format 3\u0000') {
    throw new BookError('book-unreadable', fact('errors.notABook', { path }), 'book');
  }
  if (head.readUInt32BE(68) !== APPLICATION_ID) {
    throw new BookError('book-unreadable', fact('errors.otherSqlite', { path }), 'book');
  }
  const headerPageSize = head.readUInt16BE(16);
  const pageSize = headerPageSize === 1 ? 65536 : headerPageSize;
  const pages = head.readUInt32BE(28);
  // With a WAL beside it the file may rightly be shorter than its header says.
  if (pages > 0 && stat.size < pages * pageSize && !existsSync(`${path}-wal`)) {
    throw new BookError(
      'book-unreadable',
      fact('errors.cutShort', { path, wantedBytes: pages * pageSize, bytes: stat.size }),
      'book',
    );
  }
}
