import { existsSync, readdirSync, statSync } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { BackupKind } from './contract.ts';
import { bookName, momentOfStamp } from './files.ts';

/** The extension of a book's file. */
export const BOOK_EXTENSION = '.valvebook';

export interface BackupFile {
  path: string;
  kind: BackupKind;
  at: Date;
  bytes: number;
  /** Backups of this kind are opened and looked at before they get their name. */
  verified: boolean;
}

const LOOKED_AT: readonly BackupKind[] = ['auto', 'before-import', 'by-hand'];
/** Made without anybody asking, so they may go without anybody being asked. */
export const PRUNED: readonly BackupKind[] = ['auto', 'before-import'];

/** A book's backups folder. */
export const backupsFolder = (bookPath: string): string => join(dirname(bookPath), 'backups');

/** What a backup is called, without extension and number. */
export function backupName(bookPath: string, kind: BackupKind, stamp: string): string {
  return kind === 'by-hand' ? `${bookName(bookPath)}-${stamp}` : `${bookName(bookPath)}-${kind}-${stamp}`;
}

/**
 * Whether a backup that looks like one of `company.valvebook`, made by itself, may be one that somebody made by hand of a book
 * beside it that is called `company-auto.valvebook`.
 */
export function mayBeAnothers(path: string, bookPath: string): boolean {
  const name = basename(path);
  return PRUNED.some(
    (kind) =>
      name.startsWith(`${bookName(bookPath)}-${kind}-`) &&
      existsSync(join(dirname(bookPath), `${bookName(bookPath)}-${kind}${BOOK_EXTENSION}`)),
  );
}

/** Never removed by itself: each holds what no later backup may hold, and a second place gets them too. */
export const STAYS: readonly BackupKind[] = ['before-restore', 'before-upgrade'];

/** A copy made before an upgrade: it lies beside the book, as the book could not be opened yet. */
function upgradeCopyNamed(name: string, bookPath: string): Pick<BackupFile, 'kind' | 'at'> | null {
  const prefix = `${basename(bookPath)}.before-`;
  const match = name.startsWith(prefix) ? /^\d+-(\d{13})(?:-\d+)?$/.exec(name.slice(prefix.length)) : null;
  return match && { kind: 'before-upgrade', at: new Date(Number(match[1])) };
}

/** What a file of this name in a backups folder is to this book; null where it is none of its backups. */
function backupNamed(name: string, bookPath: string): Pick<BackupFile, 'kind' | 'at'> | null {
  const copy = upgradeCopyNamed(name, bookPath);
  if (copy !== null) return copy;
  const prefix = `${bookName(bookPath)}-`;
  if (!name.startsWith(prefix)) return null;
  const match = /^(?:(auto|before-import|before-restore)-)?(\d{4}-\d\d-\d\d-\d{6})(?:-\d{1,4})?\.valvebook$/.exec(
    name.slice(prefix.length),
  );
  const at = match && momentOfStamp(match[2]!);
  return match && at ? { kind: (match[1] ?? 'by-hand') as BackupKind, at } : null;
}

/** Whether a file of this name in a backups folder is a backup of this book, the seal beside one, or SQLite's file beside one. */
export function isOfBackup(name: string, bookPath: string): boolean {
  return backupNamed(name.replace(/(\.seal\.txt|-wal|-shm|-journal)$/, ''), bookPath) !== null;
}

/** What a book is saved as, without extension and number, when somebody takes its files away while it is open. */
export const rescuedName = (bookPath: string, stamp: string): string => `${bookName(bookPath)}-rescued-${stamp}`;

/** Whether a file of this name beside a book is one it was saved as, or SQLite's file beside that. */
export function isRescued(name: string, bookPath: string): boolean {
  const prefix = rescuedName(bookPath, '');
  return (
    name.startsWith(prefix) &&
    /^\d{4}-\d\d-\d\d-\d{6}(-\d{1,4})?\.valvebook(-wal|-shm|-journal|-lock)?$/.test(name.slice(prefix.length))
  );
}

const newestFirst = (a: BackupFile, b: BackupFile): number => b.at.getTime() - a.at.getTime();

/** The backups of a book in a folder, newest first; files by other names are none. Throws what the system says of the folder. */
export function backupsIn(folder: string, bookPath: string): BackupFile[] {
  return readdirSync(folder)
    .flatMap((name): BackupFile[] => {
      const named = backupNamed(name, bookPath);
      const path = join(folder, name);
      const found = named && statSync(path, { throwIfNoEntry: false });
      return found?.isFile() ? [{ ...named!, path, bytes: found.size, verified: LOOKED_AT.includes(named!.kind) }] : [];
    })
    .sort(newestFirst);
}

/** The same without waiting at the disk: a share that is gone may take minutes to say so. */
export async function backupsInShare(folder: string, bookPath: string): Promise<BackupFile[]> {
  const files = (await readdir(folder)).map(async (name): Promise<BackupFile | null> => {
    const named = backupNamed(name, bookPath);
    if (named === null) return null;
    const path = join(folder, name);
    const found = await stat(path).catch(() => null);
    return found?.isFile() ? { ...named, path, bytes: found.size, verified: LOOKED_AT.includes(named.kind) } : null;
  });
  return (await Promise.all(files)).filter((file) => file !== null).sort(newestFirst);
}

/** The backups beside the book: those of the backups folder, and copies made before an upgrade. None where there is no folder. */
export function backupsOf(bookPath: string): BackupFile[] {
  const own = quietly(() => backupsIn(backupsFolder(bookPath), bookPath));
  const folder = dirname(bookPath);
  const upgrades = quietly(() => readdirSync(folder)).flatMap((name): BackupFile[] => {
    const copy = upgradeCopyNamed(name, bookPath);
    const path = join(folder, name);
    const found = copy && statSync(path, { throwIfNoEntry: false });
    return found?.isFile() ? [{ ...copy!, path, bytes: found.size, verified: false }] : [];
  });
  return [...own, ...upgrades].sort(newestFirst);
}

function quietly<T>(read: () => T[]): T[] {
  try {
    return read();
  } catch {
    return [];
  }
}
