// When a backup is made by itself, and which of those made stay. Pure: moments and counts in, a choice out.

const DAY_MS = 24 * 60 * 60_000;
/** A clock that is set, or a summer time that ends, moves by this much without anybody meaning harm. */
const CLOCK_SLACK_MS = 2 * 60 * 60_000;

/** For how many days, weeks and months one backup each is kept. */
export interface KeepCounts {
  days: number;
  weeks: number;
  months: number;
}

export interface Stamped {
  path: string;
  /** When it was made, by the clock of this machine. */
  at: Date;
  /** It was looked at when it was made and found whole. */
  good: boolean;
}

/**
 * Which backups stay: the newest good one of each of the last `days` days, `weeks` weeks (from Monday) and `months` months
 * that have one, in any case the newest good one of all. A period without a backup costs none: after a winter's rest the
 * autumn's are still there. What is not known to be good, and what comes from a time to come (a clock was wrong), stays
 * too and counts for nothing: people decide about those.
 */
export function toKeep(backups: readonly Stamped[], counts: KeepCounts, now: Date): Set<string> {
  const kept = new Set<string>();
  const good: Stamped[] = [];
  for (const backup of backups) {
    if (backup.good && backup.at.getTime() <= now.getTime() + CLOCK_SLACK_MS) good.push(backup);
    else kept.add(backup.path);
  }
  good.sort((a, b) => b.at.getTime() - a.at.getTime() || (a.path < b.path ? 1 : -1));
  if (good[0]) kept.add(good[0].path);
  for (const [periodOf, count] of [
    [dayOf, counts.days],
    [weekOf, counts.weeks],
    [monthOf, counts.months],
  ] as const) {
    const seen = new Set<string>();
    for (const backup of good) {
      const period = periodOf(backup.at);
      if (seen.has(period)) continue;
      if (seen.size >= count) break;
      seen.add(period);
      kept.add(backup.path);
    }
  }
  return kept;
}

const two = (figure: number): string => String(figure).padStart(2, '0');
const monthOf = (at: Date): string => `${at.getFullYear()}-${two(at.getMonth() + 1)}`;
const dayOf = (at: Date): string => `${monthOf(at)}-${two(at.getDate())}`;
const weekOf = (at: Date): string =>
  dayOf(new Date(at.getFullYear(), at.getMonth(), at.getDate() - ((at.getDay() + 6) % 7)));

export interface Moments {
  now: Date;
  /** The newest good backup; null = none. */
  lastGoodAt: Date | null;
  /** The first and the last change that was written; null = none yet. */
  firstChangeAt: Date | null;
  lastChangeAt: Date | null;
}

/** A backup is due once something was written since the last good one, and that one is a day old (or there is none). */
export function isBackupDue(moments: Moments): boolean {
  const { now, lastGoodAt } = moments;
  if (!isBehind(moments)) return false;
  if (lastGoodAt === null) return true;
  const age = now.getTime() - lastGoodAt.getTime();
  return age >= DAY_MS || age < -CLOCK_SLACK_MS;
}

/** Whole days for which changes have been in the book and in no good backup; 0 while the last one holds everything. */
export function daysWithoutBackup(moments: Moments): number {
  if (!isBehind(moments)) return 0;
  const since = moments.lastGoodAt ?? moments.firstChangeAt ?? moments.lastChangeAt!;
  return Math.max(0, Math.floor((moments.now.getTime() - since.getTime()) / DAY_MS));
}

function isBehind({ now, lastGoodAt, lastChangeAt }: Moments): boolean {
  if (lastChangeAt === null) return false;
  if (lastGoodAt === null || lastGoodAt.getTime() > now.getTime() + CLOCK_SLACK_MS) return true;
  // A backup's name carries whole seconds.
  return lastChangeAt.getTime() >= lastGoodAt.getTime() + 1000;
}
