import { createHash, randomBytes } from 'node:crypto';
import { chmodSync, linkSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

// A browser keeps drafts by address, and whoever listens at the address next can read them. So they are kept sealed, and the key
// is here, in this user's own folder, never in the browser. It belongs to this machine and book, not to the book's file.

/** Drafts that an earlier version kept unsealed are taken over for so long; later ones would be another program's. */
const TAKES_PLAIN_MS = 30 * 24 * 3_600_000;

export interface DraftKey {
  /** 32 bytes as base64url. */
  key: string;
  takesPlain: boolean;
}

/** The key of a book's drafts on this machine, made the first time. Throws where the folder cannot be written. */
export function draftKeyOf(bookPath: string, folder: string, now: number = Date.now()): DraftKey {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  chmodSync(folder, 0o700);
  const file = path.join(folder, `${createHash('sha256').update(bookPath).digest('hex').slice(0, 32)}.key`);
  const key = read(file) ?? make(file);
  return { key, takesPlain: now - statSync(file).mtimeMs < TAKES_PLAIN_MS };
}

function read(file: string): string | undefined {
  try {
    const key = readFileSync(file, 'utf8').trim();
    return /^[\w-]{43}$/.test(key) ? key : undefined;
  } catch {
    return undefined;
  }
}

/** Whole under another name, then in place: a start that is killed leaves no half key. */
function make(file: string): string {
  const key = randomBytes(32).toString('base64url');
  const whole = `${file}.${process.pid}.${randomBytes(4).toString('hex')}`;
  try {
    writeFileSync(whole, `${key}\n`, { mode: 0o600, flag: 'wx', flush: true });
    if (statSync(file, { throwIfNoEntry: false }) !== undefined) rmSync(file);
    linkSync(whole, file);
    return key;
  } catch (error) {
    // Another start was first.
    const theirs = read(file);
    if (theirs !== undefined) return theirs;
    throw error;
  } finally {
    rmSync(whole, { force: true });
  }
}
