import { statSync } from 'node:fs';
import { getEnvironmentData, setEnvironmentData, threadId } from 'node:worker_threads';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

// Which files this process has open, and how. On POSIX systems any close of a file by a process drops every lock the
// process holds on it, whoever took it: a book's file that is opened and closed beside SQLite stands there without its
// locks, and another program takes itself for the last user and deletes the journal. (fcntl(2), “Record locks”;
// sqlite.org/howtocorrupt.html, section 2.2.) So a file is open either by SQLite or by us, never both, and that is kept
// here for the whole process: worker threads share the memory of the list.

/** What a file is, whatever it is called: the same under every link to it. */
export interface FileIdentity {
  readonly device: bigint;
  readonly inode: bigint;
}

/** The identity of the file at a path, links followed; null where there is none. Opens nothing. */
export function identityOf(path: string): FileIdentity | null {
  const stat = statSync(path, { bigint: true, throwIfNoEntry: false });
  return stat === undefined ? null : { device: BigInt.asIntN(64, stat.dev), inode: BigInt.asIntN(64, stat.ino) };
}

export function sameFile(one: FileIdentity | null, other: FileIdentity | null): boolean {
  return one !== null && other !== null && one.device === other.device && one.inode === other.inode;
}

const KEY = 'valvebook: files open in this process';
const SLOTS = 512;
const FIELDS = 3;
/** What is in a slot: nothing, a connection of SQLite, or a file held by ourselves; with the thread that did it. */
const FREE = 0;
const SQLITE = 1;
const OURS = 2;

const shared = memory();
/** 0, or the number of the thread that is changing the list, plus one. */
const guard = new Int32Array(shared, 0, 2);
const slots = new BigInt64Array(shared, 8);

/** The thread that loads this first makes the list; threads it starts are given the same memory. */
function memory(): SharedArrayBuffer {
  const made = getEnvironmentData(KEY);
  if (made instanceof SharedArrayBuffer) return made;
  const fresh = new SharedArrayBuffer(8 + SLOTS * FIELDS * 8);
  setEnvironmentData(KEY, fresh);
  return fresh;
}

function alone<T>(work: () => T): T {
  // Held for a few instructions only, so waiting for it is no more than looking again.
  while (Atomics.compareExchange(guard, 0, 0, threadId + 1) !== 0);
  try {
    return work();
  } finally {
    Atomics.store(guard, 0, 0);
  }
}

function holds(identity: FileIdentity, kind: number): boolean {
  for (let at = 0; at < slots.length; at += FIELDS)
    if (Number(slots[at]! & 3n) === kind && slots[at + 1] === identity.device && slots[at + 2] === identity.inode)
      return true;
  return false;
}

function claim(identity: FileIdentity, kind: number, against: number, refusal: () => BookError): () => void {
  const mine = alone(() => {
    if (holds(identity, against)) throw refusal();
    for (let at = 0; at < slots.length; at += FIELDS) {
      if (slots[at] !== BigInt(FREE)) continue;
      slots[at] = (BigInt(threadId) << 2n) | BigInt(kind);
      slots[at + 1] = identity.device;
      slots[at + 2] = identity.inode;
      return at;
    }
    throw new BookError('internal', fact('errors.tooManyFiles'));
  });
  let held = true;
  return () => {
    if (held) alone(() => void (slots[mine] = BigInt(FREE)));
    held = false;
  };
}

/** Notes a connection of SQLite; to be asked before it is opened. Returns what to call once it is closed. */
export function claimForSqlite(path: string): () => void {
  const identity = identityOf(path);
  if (identity === null) throw new BookError('not-found', fact('errors.noBookAt', { path }), 'book');
  return claim(identity, SQLITE, OURS, () => new BookError('book-busy', fact('errors.justCopied', { path }), 'book'));
}

/** Notes that we are about to open a file ourselves; refused while SQLite has it open in this process, under any name. */
export function claimForUs(path: string, identity: FileIdentity): () => void {
  return claim(identity, OURS, SQLITE, () => new BookError('conflict', fact('errors.openHere', { path }), 'book'));
}

/** Whether SQLite has the file open in this process, under whatever name. */
export function isOpenHere(identity: FileIdentity | null): boolean {
  return identity !== null && alone(() => holds(identity, SQLITE));
}

/** Forgets what a thread held that was ended from outside; its connections ended with it. */
export function forgetThread(ended: number): void {
  Atomics.compareExchange(guard, 0, ended + 1, 0);
  alone(() => {
    for (let at = 0; at < slots.length; at += FIELDS)
      if (slots[at] !== BigInt(FREE) && slots[at]! >> 2n === BigInt(ended)) slots[at] = BigInt(FREE);
  });
}
