import type { OutputOf } from '../../core/contract/index.ts';
import { LEDGER_KINDS, type LedgerKind } from '../../core/contract/ledger-entries.ts';
import { addDays } from '../../core/dates.ts';
import { formatCount, plural } from '../parts/format.ts';

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
  doing: string,
  isPast: boolean,
): string {
  const rounded = Math.round((100 * done) / serviced);
  const share = done === 0 ? 0 : done === serviced ? 100 : Math.min(99, Math.max(1, rounded));
  const head =
    share === 0
      ? `None ${isPast ? 'was' : 'is'} ${doing}${isPast ? '' : ' yet'}.`
      : `${share} % ${isPast ? 'were' : 'are'} ${doing}.`;
  if (isPast)
    return notBooked + booked === 0
      ? `${head} None was left out.`
      : `${head} ${plural(notBooked + booked, 'property was', 'properties were')} never marked as ${doing} that season.`;
  if (notBooked + booked === 0) return `${head} Nothing is left to do.`;
  const open =
    notBooked === 0
      ? 'every other one is booked'
      : `${plural(notBooked, 'property is', 'properties are')} not booked yet`;
  return `${head} ${booked === 0 ? '' : `${formatCount(booked)} more ${booked === 1 ? 'is' : 'are'} booked; `}${booked === 0 ? open.charAt(0).toUpperCase() + open.slice(1) : open}.`;
}

/** What the number of corrections means. */
export function correctionSentence(corrections: number, entries: number): string {
  if (corrections === 0) return 'No entry had to be corrected or taken back.';
  const per = entries / corrections;
  return `${per >= 2 ? `About one for every ${formatCount(per)} pieces of work.` : 'More than one for every two pieces of work: worth a look at what goes wrong when logging.'} Nothing is ever erased; each correction stands beside what it corrects.`;
}

/** What became of the visits that are not done. */
export function visitSentence({ planned, cancelled }: { planned: number; cancelled: number }): string {
  return `${planned === 0 ? 'None is still planned' : `${formatCount(planned)} ${planned === 1 ? 'is' : 'are'} planned or not yet closed`}; ${cancelled === 0 ? 'none was cancelled' : `${formatCount(cancelled)} ${cancelled === 1 ? 'was' : 'were'} cancelled`}.`;
}
