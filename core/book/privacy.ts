import { chmodSync, lstatSync, readdirSync, realpathSync, statSync, type Stats } from 'node:fs';
import { lstat, readdir, stat as statOf } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { OutputOf } from '../contract/index.ts';
import type { Context, JobHandler } from '../context.ts';
import { OWNER_ONLY_FILE, OWNER_ONLY_FOLDER } from '../owner-only.ts';
import { readSettings } from '../settings/index.ts';
import { isOfBackup, isRescued } from './backup-files.ts';
import { diskError, inTime } from './files.ts';
import { fact, type Fact } from '../text/say.ts';

// Who else on this machine could read or change the book. On Windows the user's own profile keeps others out by its access
// list, and mode bits say nothing, so nothing is looked at there.

type OpenToOthers = OutputOf<'book.info'>['openToOthers'];
type Book = Pick<Context, 'db' | 'bookPath'>;
interface Found {
  path: string;
  stat: Stats;
  /** What the mode becomes when it is made private. */
  privately: number;
}

const ANY_BY_OTHERS = 0o077;
const WRITE_BY_OTHERS = 0o022;
/** In such a folder (/tmp) only a file's owner may rename or remove it, so it is no way to the book. */
const STICKY = 0o1000;
/** What Valvebook itself puts into the folders beside a book. */
const OURS_BESIDE = {
  backups: /\.(valvebook|part|seal\.txt)(-wal|-shm|-journal)?$/,
  exports: /\.(zip|part)$/,
} as const;

/**
 * Files of a book that others of this machine may read or change: the book with SQLite's files, what was rescued of it, its
 * backups (in the second place too, where that answers) and exports; and its folder, where others may put files into it. Null
 * where there are none. A folder that lets nobody in guards what is in it.
 */
export async function openToOthers(book: Book): Promise<OpenToOthers> {
  const found = await findOpen(book);
  if (found.length === 0) return null;
  return {
    paths: found.map(({ path, stat }) => ({
      path,
      mode: modeOf(stat),
      others: (stat.mode & WRITE_BY_OTHERS) !== 0 ? 'change' : 'read',
    })),
    canMend: found.every(({ stat }) => stat.uid === process.getuid?.()),
  };
}

/** Takes away what others may do with a book's files: 0600, the folders of backups and exports 0700; from the book's own folder, which may hold other things, only the right to write. */
export const makePrivate: JobHandler<'book.makePrivate'> = async (book) => {
  const changed: OutputOf<'book.makePrivate'>['changed'] = [];
  for (const { path, stat, privately } of await findOpen(book)) {
    try {
      chmodSync(path, privately);
    } catch (error) {
      throw diskError(error, path, 'book');
    }
    changed.push({ path, before: modeOf(stat), after: modeOf(statSync(path)) });
  }
  return { changed, openToOthers: await openToOthers(book) };
};

/** The same as sentences, for the check of the book. */
export async function privacyNotes(book: Book): Promise<Fact[]> {
  return ((await openToOthers(book))?.paths ?? []).map((open) => fact('check.openToOthers', open));
}

async function findOpen(book: Book): Promise<Found[]> {
  if (process.platform === 'win32') return [];
  const found = new Map<string, Found>();
  for (const one of [...findBeside(book.bookPath), ...(await findInSecondPlace(book))]) found.set(one.path, one);
  return [...found.values()];
}

/** A share that is gone has nothing to say, and a screen does not wait for it, ms. */
const SHARE_ANSWERS_MS = 1000;

/** This book's backups in the second place. Its folder was chosen, perhaps for others too, so only the files are looked at. */
async function findInSecondPlace({ db, bookPath }: Book): Promise<Found[]> {
  try {
    const { secondFolder } = (await readSettings(db)).backups;
    if (secondFolder === '') return [];
    return await inTime(SHARE_ANSWERS_MS, async () => {
      if (((await statOf(secondFolder)).mode & 0o011) === 0) return [];
      const names = (await readdir(secondFolder)).filter((name) => isOfBackup(name, bookPath));
      const files = names.map(async (name): Promise<Found[]> => {
        const path = join(secondFolder, name);
        const stat = await lstat(path).catch(() => null);
        const open = stat?.isFile() === true && (stat.mode & ANY_BY_OTHERS) !== 0;
        return open ? [{ path, stat, privately: OWNER_ONLY_FILE }] : [];
      });
      return (await Promise.all(files)).flat();
    });
  } catch {
    // Settings that cannot be read are the check's to say; a place that is not there, the list of backups'.
    return [];
  }
}

function findBeside(bookPath: string): Found[] {
  const book = realOf(bookPath);
  const folder = dirname(book);
  const found: Found[] = [];
  const at = (path: string, bits: number, privately: (mode: number) => number) => {
    const stat = lstatSync(path, { throwIfNoEntry: false });
    if (stat !== undefined && !stat.isSymbolicLink() && (stat.mode & bits) !== 0)
      found.push({ path, stat, privately: privately(stat.mode & 0o7777) });
    return stat;
  };
  const folderStat = statSync(folder, { throwIfNoEntry: false });
  // Whoever may not enter the folder reaches nothing in it.
  if (folderStat === undefined || (folderStat.mode & 0o011) === 0) return [];
  if ((folderStat.mode & STICKY) === 0) at(folder, WRITE_BY_OTHERS, (mode) => mode & ~WRITE_BY_OTHERS);
  for (const end of ['', '-wal', '-shm', '-journal', '-lock'])
    at(`${book}${end}`, ANY_BY_OTHERS, () => OWNER_ONLY_FILE);
  // Copies an upgrade kept, and what was saved when somebody took the book's files away.
  for (const name of namesIn(folder))
    if (name.startsWith(`${basename(book)}.before-`) || isRescued(name, book))
      at(join(folder, name), ANY_BY_OTHERS, () => OWNER_ONLY_FILE);
  for (const [name, ours] of Object.entries(OURS_BESIDE)) {
    const beside = join(folder, name);
    const inside = namesIn(beside).filter((one) => ours.test(one));
    if (inside.length === 0) continue;
    const stat = at(beside, ANY_BY_OTHERS, () => OWNER_ONLY_FOLDER);
    if (stat === undefined || (stat.mode & 0o011) === 0) continue;
    for (const one of inside) at(join(beside, one), ANY_BY_OTHERS, () => OWNER_ONLY_FILE);
  }
  return found;
}

function realOf(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

const modeOf = (stat: Stats): string => (stat.mode & 0o7777).toString(8).padStart(4, '0');
