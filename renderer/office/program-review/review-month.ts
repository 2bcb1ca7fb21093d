import { dateOfMonthDay } from '../../../core/dates.ts';
import { say, words } from '../../state/say.ts';

/** "July" of 7. */
export const monthName = (month: number): string => words().month(month);

export interface MonthChoice {
  month: number;
  /** Why it is not this month; null when it is. */
  why: string | null;
}

interface Season {
  startUpFrom: string;
  winterizationTo: string;
}

function runsOn(date: string, { startUpFrom, winterizationTo }: Season): boolean {
  const year = Number(date.slice(0, 4));
  const begun = date >= dateOfMonthDay(year, startUpFrom);
  const notEnded = date <= dateOfMonthDay(year, winterizationTo);
  return startUpFrom <= winterizationTo ? begun && notEnded : begun || notEnded;
}

/** Are systems off through all of a month? */
export function isOffMonth(month: number, season: Season): boolean {
  const start = String(month).padStart(2, '0');
  // Any year will do: its last day of February is meant as any year's.
  return !['01', '15', '31'].some((day) => runsOn(dateOfMonthDay(2000, `${start}-${day}`), season));
}

/**
 * The month a review starts with: this one while systems run, else the month that asks most, and why.
 * Season days are MM-DD; a season may reach over New Year.
 */
export function firstMonth(today: string, season: Season, latitudeDeg: number | null): MonthChoice {
  const { startUpFrom: from, winterizationTo: to } = season;
  const running = runsOn(today, season);
  const thisMonth = Number(today.slice(5, 7));
  if (running) return { month: thisMonth, why: null };
  const month = latitudeDeg !== null && latitudeDeg < 0 ? 1 : 7;
  return {
    month,
    why: say('pr.offNow', { thisMonth, from: dayWords(from), to: dayWords(to), month }),
  };
}

/** Any leap year will do. */
const dayWords = (monthDay: string) => words().dayOfMonth(`2000-${monthDay}`);
