import { readdirSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { BackupKind } from '../contract/backups.ts';
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

/** The backups of a book in a folder, newest first; files by other names are none. Throws what the system says of the folder. */
export function backupsIn(folder: string, bookPath: string): BackupFile[] {
  const prefix = `${bookName(bookPath)}-`;
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.startsWith(prefix))
    .flatMap((entry) => {
      const rest = entry.name.slice(prefix.length);
      const match = /^(?:(auto|before-import|before-restore)-)?(\d{4}-\d\d-\d\d-\d{6})(?:-\d{1,4})?\.valvebook$/.exec(
        rest,
      );
      const at = match && momentOfStamp(match[2]!);
      if (!match || !at) return [];
      const path = join(folder, entry.name);
      const stat = statSync(path, { throwIfNoEntry: false });
      const kind = (match[1] ?? 'by-hand') as BackupKind;
      return stat ? [{ path, kind, at, bytes: stat.size, verified: LOOKED_AT.includes(kind) }] : [];
    })
    .sort((a, b) => b.at.getTime() - a.at.getTime());
}

/** The backups beside the book: those of the backups folder, and copies made before an upgrade. None where there is no folder. */
export function backupsOf(bookPath: string): BackupFile[] {
  const own = quietly(() => backupsIn(backupsFolder(bookPath), bookPath));
  const prefix = `${basename(bookPath)}.before-`;
  const upgrades = quietly(() => readdirSync(dirname(bookPath))).flatMap((name): BackupFile[] => {
    const match = name.startsWith(prefix) ? /^\d+-(\d{13})$/.exec(name.slice(prefix.length)) : null;
    if (!match) return [];
    const path = join(dirname(bookPath), name);
    const stat = statSync(path, { throwIfNoEntry: false });
    const at = new Date(Number(match[1]));
    return stat ? [{ path, kind: 'before-upgrade', at, bytes: stat.size, verified: false }] : [];
  });
  return [...own, ...upgrades].sort((a, b) => b.at.getTime() - a.at.getTime());
}

function quietly<T>(read: () => T[]): T[] {
  try {
    return read();
  } catch {
    return [];
  }
}
