import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { daysWithoutBackup, isBackupDue, toKeep, type Stamped } from '../../core/book/backup-plan.ts';

// Common practice, no source: one backup a day for a week, one a week for a month, one a month for a year.

const NOW = new Date(2026, 5, 15, 12);
const HOUR = 60 * 60_000;
const ago = (hours: number): Date => new Date(NOW.getTime() - hours * HOUR);
const backups = fc
  .array(fc.record({ hours: fc.integer({ min: -200, max: 24 * 900 }), good: fc.boolean() }), { maxLength: 120 })
  .map((list) => list.map(({ hours, good }, index): Stamped => ({ path: `b${index}`, at: ago(hours), good })));
const counts = fc.record({
  days: fc.integer({ min: 0, max: 20 }),
  weeks: fc.integer({ min: 0, max: 20 }),
  months: fc.integer({ min: 0, max: 20 }),
});

describe('which backups stay', () => {
  it('is 7 days, 4 weeks and 12 months of a backup a day', () => {
    const daily = Array.from({ length: 800 }, (_, day) => ({
      path: new Date(2026, 5, 15 - day, 9).toLocaleDateString('sv'),
      at: new Date(2026, 5, 15 - day, 9),
      good: true,
    }));
    const kept = [...toKeep(daily, { days: 7, weeks: 4, months: 12 }, NOW)].sort();
    // Monday 15 June 2026: seven days back to the 9th, Sundays of the weeks before, the last days of eleven months.
    expect(kept).toEqual(
      (
        '2026-06-15 2026-06-14 2026-06-13 2026-06-12 2026-06-11 2026-06-10 2026-06-09 2026-06-07 2026-05-31 ' +
        '2026-04-30 2026-03-31 2026-02-28 2026-01-31 2025-12-31 2025-11-30 2025-10-31 2025-09-30 2025-08-31 2025-07-31'
      )
        .split(' ')
        .sort(),
    );
  });

  it('never drops the newest good one, what is not known to be good, or one from a time to come', () => {
    fc.assert(
      fc.property(backups, counts, (list, keep) => {
        const kept = toKeep(list, keep, NOW);
        const past = list.filter(({ good, at }) => good && at.getTime() <= NOW.getTime() + 2 * HOUR);
        const newest = Math.max(...past.map(({ at }) => at.getTime()));
        if (past.length > 0) expect(past.some(({ path, at }) => at.getTime() === newest && kept.has(path))).toBe(true);
        for (const one of list) if (!past.includes(one)) expect(kept.has(one.path)).toBe(true);
        expect([...kept].every((path) => list.some((one) => one.path === path))).toBe(true);
      }),
    );
  });

  it('counts right: of each kind of period as many as asked, or all there are', () => {
    const month = (at: Date) => `${at.getFullYear()} ${at.getMonth()}`;
    fc.assert(
      fc.property(backups, fc.integer({ min: 1, max: 30 }), (list, many) => {
        const past = list.filter(({ good, at }) => good && at.getTime() <= NOW.getTime() + 2 * HOUR);
        for (const [keep, periodOf] of [
          [{ days: many, weeks: 0, months: 0 }, (at: Date) => at.toDateString()],
          [{ days: 0, weeks: 0, months: many }, month],
        ] as const) {
          const kept = toKeep(list, keep, NOW);
          const periods = past.filter(({ path }) => kept.has(path)).map(({ at }) => periodOf(at));
          const all = new Set(past.map(({ at }) => periodOf(at)));
          expect(new Set(periods).size).toBe(periods.length);
          expect(periods.length).toBe(Math.min(many, all.size));
        }
        const weeks = past.filter(({ path }) => toKeep(list, { days: 0, weeks: many, months: 0 }, NOW).has(path));
        expect(weeks.length).toBeLessThanOrEqual(Math.max(many, 1));
      }),
    );
  });

  it('keeps as much the second time: pruning what was pruned drops nothing', () => {
    fc.assert(
      fc.property(backups, counts, (list, keep) => {
        const kept = toKeep(list, keep, NOW);
        const rest = list.filter(({ path }) => kept.has(path));
        expect(toKeep(rest, keep, NOW)).toEqual(kept);
      }),
    );
  });
});

describe('when a backup is due', () => {
  it.each([
    ['nothing was ever written', null, null, false, 0],
    ['something was, and there is none', null, 100, true, 4],
    ['nothing was written since', 200, 300, false, 0],
    ['written since, the last one is hours old', 5, 1, false, 0],
    ['written since, the last one is a day old', 24, 1, true, 1],
    ['written since, the last one is four days old', 97, 1, true, 4],
    ['the last one is from a time to come', -100, 1, true, 0],
  ])('%s', (_what, good, change, due, days) => {
    const moments = {
      now: NOW,
      lastGoodAt: good === null ? null : ago(good),
      firstChangeAt: change === null ? null : ago(change),
      lastChangeAt: change === null ? null : ago(change),
    };
    expect(isBackupDue(moments)).toBe(due);
    expect(daysWithoutBackup(moments)).toBe(days);
  });
});
