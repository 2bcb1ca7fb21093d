import { existsSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Handler, JobContext } from '../context.ts';
import { BookError, toFailure, factOf } from '../errors.ts';
import { copyBookFile, isSameContent, isSameFile } from '../store/book-file.ts';
import { changeMoments, readOutcome, type BackupOutcome } from './backup-queries.ts';
import { readSettings } from '../settings/index.ts';
import {
  backupsFolder,
  backupsIn,
  backupsInShare,
  backupsOf,
  mayBeAnothers,
  PRUNED,
  STAYS,
  type BackupFile,
} from './backup-files.ts';
import { daysWithoutBackup, isBackupDue, toKeep, type KeepCounts, type Moments } from './backup-plan.ts';
import { assertSound, copyWhole } from './backup.ts';
import { diskError, inTime, writeWhole } from './files.ts';
import { sealPathOf, writeSealBeside } from './seal-file.ts';
import { fact, factAround, type Fact } from '../text/say.ts';

/** A backup by itself did what it should, or says why not. */
export interface AutomaticBackup {
  made: string | null;
  outcome: BackupOutcome;
  /** The outcome is another than the book remembers. */
  changed: boolean;
}

/**
 * Backs the book up if that is due, to the second place as well if one is chosen, and removes what the plan does not keep.
 * Never throws for what a disk refuses: that is the outcome, and nothing is removed then.
 */
export async function backUpIfDue(context: JobContext): Promise<AutomaticBackup> {
  const before = await readOutcome(context.db);
  const { backups } = await readSettings(context.db);
  const done = (made: string | null, outcome: BackupOutcome): AutomaticBackup => ({
    made,
    outcome,
    changed: JSON.stringify(outcome) !== JSON.stringify(before),
  });
  if (!backups.automatic || !isBackupDue(await momentsOf(context))) return done(null, before);
  let made: string;
  try {
    made = (await copyWhole(context, 'auto')).path;
  } catch (error) {
    return done(null, { ...before, failure: whyOf(error) });
  }
  const counts = { days: backups.keepDays, weeks: backups.keepWeeks, months: backups.keepMonths };
  let secondFailure: Fact | null = null;
  const old = notKept(context, counts);
  if (backups.secondFolder !== '') {
    try {
      await copyToSecond(made, backups.secondFolder, context);
      await copyWhatStays(backups.secondFolder, context.bookPath);
      for (const path of old) removeCopyOf(path, backups.secondFolder);
    } catch (error) {
      secondFailure = whyOf(error);
    }
  }
  for (const path of old) removeBackup(path);
  return done(made, { failure: null, secondFailure });
}

/** Before an import of many rows. Returns why there is no backup, or none in the second place; or null. */
export async function backUpBeforeImport(context: JobContext): Promise<Fact | null> {
  let made: string;
  try {
    made = (await copyWhole(context, 'before-import')).path;
  } catch (error) {
    if (toFailure(error).code === 'cancelled') throw error;
    return factAround('import.notBackedUp', whyOf(error));
  }
  const { secondFolder } = (await readSettings(context.db)).backups;
  if (secondFolder === '') return null;
  try {
    await copyToSecond(made, secondFolder, context);
    return null;
  } catch (error) {
    return factAround('import.secondMissed', whyOf(error));
  }
}

async function copyToSecond(made: string, folder: string, context: JobContext): Promise<void> {
  if (!existsSync(folder)) throw notThere(folder);
  if (isSameFile(folder, dirname(made)))
    throw new BookError('disk', fact('errors.secondIsFirst', { folder }), 'secondFolder');
  const path = await writeWhole(join(folder, basename(made)), 'secondFolder', async (temporary) => {
    copyBookFile(made, temporary);
    await assertSound(temporary);
  });
  await writeSealBeside(path, context);
}

/** What was kept before an upgrade or a restore goes to the second place with the next backup there, byte by byte. */
async function copyWhatStays(folder: string, bookPath: string): Promise<void> {
  for (const { path, kind } of backupsOf(bookPath)) {
    if (!STAYS.includes(kind) || existsSync(join(folder, basename(path)))) continue;
    // A damaged book is kept with its journal.
    for (const end of existsSync(`${path}-wal`) ? ['-wal', ''] : ['']) {
      const there = join(folder, `${basename(path)}${end}`);
      if (existsSync(there)) continue;
      await writeWhole(there, 'secondFolder', async (temporary) => {
        copyBookFile(`${path}${end}`, temporary);
        if (!isSameContent(`${path}${end}`, temporary))
          throw new BookError('disk', fact('errors.copiedOtherwise', { path: there }), 'secondFolder');
      });
    }
  }
}

/** Backups beside the book that were made by themselves and that the plan does not keep. */
function notKept(context: JobContext, counts: KeepCounts): string[] {
  const ours = backupsIn(backupsFolder(context.bookPath), context.bookPath).filter(
    ({ path, kind }) => PRUNED.includes(kind) && !mayBeAnothers(path, context.bookPath),
  );
  const kept = toKeep(
    ours.map(({ path, at, verified }) => ({ path, at, good: verified })),
    counts,
    new Date(context.now),
  );
  return ours.flatMap(({ path }) => (kept.has(path) ? [] : path));
}

/**
 * Removes what was copied of a backup that goes: only where it is that copy, byte by byte. A share may hold backups of other
 * books and machines under names like ours, and nobody but they can say what is still wanted of those.
 */
function removeCopyOf(path: string, folder: string): void {
  const there = join(folder, basename(path));
  try {
    if (existsSync(there) && isSameContent(path, there)) removeBackup(there);
  } catch {
    // One that cannot be read or is held open stays.
  }
}

function removeBackup(path: string): void {
  try {
    rmSync(path, { force: true });
    rmSync(sealPathOf(path), { force: true });
  } catch {
    // One that is held open somewhere goes at the next turn.
  }
}

async function momentsOf({ db, now, bookPath }: Pick<JobContext, 'db' | 'now' | 'bookPath'>): Promise<Moments> {
  const { first, last } = await changeMoments(db);
  const moment = (text: string | null) => (text === null ? null : new Date(text));
  return {
    now: new Date(now),
    lastGoodAt: backupsOf(bookPath).find(({ verified }) => verified)?.at ?? null,
    firstChangeAt: moment(first),
    lastChangeAt: moment(last),
  };
}

export const backupState: Handler<'book.backupState'> = async (context) => {
  const moments = await momentsOf(context);
  const { backups } = await readSettings(context.db);
  return {
    lastGoodAt: moments.lastGoodAt?.toISOString() ?? null,
    lastChangeAt: moments.lastChangeAt?.toISOString() ?? null,
    daysWithout: daysWithoutBackup(moments),
    ...(await readOutcome(context.db)),
    automatic: backups.automatic,
    runsHere: context.automaticBackups ?? false,
  };
};

/** How long a share may take to answer before it is said that it does not. */
const SHARE_ANSWERS_MS = 5000;

export const listBackups: Handler<'book.backups'> = async ({ db, bookPath }) => {
  const { secondFolder } = (await readSettings(db)).backups;
  const said = (where: 'beside' | 'second') => (file: BackupFile) => ({ ...file, at: file.at.toISOString(), where });
  const beside = backupsOf(bookPath).map(said('beside'));
  if (secondFolder === '') return { backups: beside, secondFailure: null };
  try {
    const second = (await inTime(SHARE_ANSWERS_MS, () => backupsInShare(secondFolder, bookPath))).map(said('second'));
    return { backups: [...beside, ...second].sort((a, b) => (a.at < b.at ? 1 : -1)), secondFailure: null };
  } catch {
    return { backups: beside, secondFailure: factOf(toFailure(notThere(secondFolder))) };
  }
};

function notThere(folder: string): BookError {
  return new BookError('disk', fact('errors.secondGone', { folder }));
}

/** Why a copy was not made, for an office worker. */
const whyOf = (error: unknown): Fact => factOf(toFailure(diskError(error, '', 'book')));
