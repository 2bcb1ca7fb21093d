import { appendFileSync, chmodSync, mkdirSync, renameSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import { BookError } from '../core/errors.ts';
import { OWNER_ONLY_FILE, OWNER_ONLY_FOLDER } from '../core/owner-only.ts';
import { fact } from '../core/text/say.ts';

// Where things are on this machine. Nothing here opens a book.

const LOG_LIMIT = 2 * 1024 * 1024;

/** From now on what this process makes is its user's alone: books hold gate codes. Each host calls it before anything is opened. */
export function keepToOwner(): void {
  // The whole process has one; a worker may not set it.
  if (isMainThread) process.umask(0o077);
}

/** The checkout, or the folder of a packaged app's files. */
export function projectRoot(): string {
  const here = path.dirname(fileURLToPath(import.meta.url));
  // Source runs from electron/, the built shell from dist/electron/.
  return path.basename(path.dirname(here)) === 'dist' ? path.resolve(here, '../..') : path.resolve(here, '..');
}

export function rendererFolder(): string {
  return path.join(projectRoot(), 'dist', 'renderer');
}

/** The book that is opened when none is named: VALVEBOOK_BOOK, else the company's book in the home folder. */
export function defaultBook(): string {
  const named = process.env.VALVEBOOK_BOOK;
  return named ? fromCallersFolder(named) : path.join(homedir(), 'Valvebook', 'company.valvebook');
}

/** The demo company's book: a stable place of its own, never the company's folder. */
export function demoBook(): string {
  return path.join(dataFolder(), 'demo.valvebook');
}

/** This user's folder for what programs keep. */
export function dataFolder(): string {
  if (process.platform === 'win32')
    return path.join(process.env.APPDATA ?? path.join(homedir(), 'AppData', 'Roaming'), 'Valvebook');
  if (process.platform === 'darwin') return path.join(homedir(), 'Library', 'Application Support', 'Valvebook');
  return path.join(process.env.XDG_DATA_HOME || path.join(homedir(), '.local', 'share'), 'valvebook');
}

/** npm runs scripts in the project's folder; a relative path means the folder the user is in. */
export function callersFolder(): string {
  return process.env.VALVEBOOK_CALLER_DIR ?? process.cwd();
}

export function fromCallersFolder(file: string): string {
  return path.resolve(callersFolder(), file);
}

/** Makes the folder a new book will lie in. */
export function makeFolderFor(file: string): void {
  const folder = path.dirname(file);
  try {
    mkdirSync(folder, { recursive: true, mode: OWNER_ONLY_FOLDER });
  } catch (error) {
    throw new BookError('disk', fact('errors.noFolderForBook', { folder }), 'book', { cause: error });
  }
}

/** Keeps the cause of an internal fault where a developer can find it; never fails itself. */
export function writeLog(text: string): void {
  try {
    const file = path.join(dataFolder(), 'valvebook.log');
    mkdirSync(path.dirname(file), { recursive: true, mode: OWNER_ONLY_FOLDER });
    const { size = 0, mode = 0 } = statSync(file, { throwIfNoEntry: false }) ?? {};
    // One from before: causes of faults may quote what was entered.
    if ((mode & 0o077) !== 0) chmodSync(file, OWNER_ONLY_FILE);
    if (size > LOG_LIMIT) renameSync(file, `${file}.1`);
    appendFileSync(file, `${new Date().toISOString()} ${text}\n`, { mode: OWNER_ONLY_FILE });
  } catch {
    // A log that cannot be written must not stop the work it would tell of.
  }
}
