import type { OutputOf } from '../../core/contract/index.ts';
import { LEDGER_KINDS, type LedgerKind } from '../../core/ledger/entry-contract.ts';
import { addDays } from '../../core/dates.ts';
import { say } from '../state/say.ts';

// From counts to curves and sentences; no drawing here.

type Summary = OutputOf<'work.summary'>;
export type Progress = Summary['properties']['startUp'];

export interface WeekPoint {
  /** The day after the week: by then so many were done. */
  by: string;
  weekStart: string;
  done: number;
  soFar: number;
}

/** The weeks between the first and the last with work, none left out, counted up. */
export function weekCurve(byWeek: Progress['byWeek']): WeekPoint[] {
  const first = byWeek[0];
  const last = byWeek[byWeek.length - 1];
  if (first === undefined || last === undefined) return [];
  const done = new Map(byWeek.map((week) => [week.weekStart, week.done]));
  const points: WeekPoint[] = [{ by: first.weekStart, weekStart: addDays(first.weekStart, -7), done: 0, soFar: 0 }];
  let soFar = 0;
  for (let week = first.weekStart; week <= last.weekStart; week = addDays(week, 7)) {
    soFar += done.get(week) ?? 0;
    points.push({ by: addDays(week, 7), weekStart: week, done: done.get(week) ?? 0, soFar });
  }
  return points;
}

export interface KindYear {
  kind: LedgerKind;
  months: number[];
  total: number;
}

/** Work of a year by kind, the most frequent first; kinds without any are left out. */
export function kindYears(byMonth: Summary['byMonth']): KindYear[] {
  return LEDGER_KINDS.map((kind) => {
    const months = Array.from({ length: 12 }, (_, index) =>
      byMonth.filter((row) => row.kind === kind && row.month === index + 1).reduce((sum, row) => sum + row.count, 0),
    );
    return { kind, months, total: months.reduce((sum, count) => sum + count, 0) };
  })
    .filter((row) => row.total > 0)
    .sort((a, b) => b.total - a.total);
}

/** What the counts of a season mean. A share is never rounded up to all or down to none. */
export function seasonSentence(
  { serviced, done, booked, notBooked }: Progress,
  what: 'start-up' | 'winterization',
  isPast: boolean,
): string {
  const rounded = Math.round((100 * done) / serviced);
  const share = done === 0 ? 0 : done === serviced ? 100 : Math.min(99, Math.max(1, rounded));
  const head =
    share === 0
      ? say(isPast ? 'review.noneWas' : 'review.noneYet', { what })
      : say(isPast ? 'review.shareWas' : 'review.shareIs', { share, what });
  return `${head} ${tail()}`;

  function tail(): string {
    const open = notBooked + booked;
    if (isPast) return open === 0 ? say('review.noneLeftOut') : say('review.neverMarked', { count: open, what });
    if (open === 0) return say('review.nothingLeft');
    if (booked === 0) return say('review.openNotBooked', { count: notBooked });
    return notBooked === 0
      ? say('review.bookedAllElse', { count: booked })
      : say('review.bookedAndOpen', { booked, open: notBooked });
  }
}

/** What the number of corrections means. */
export function correctionSentence(corrections: number, entries: number): string {
  if (corrections === 0) return say('review.noCorrection');
  const pieces = entries / corrections;
  return pieces >= 2 ? say('review.oneForEvery', { pieces: Math.round(pieces) }) : say('review.moreThanHalf');
}
