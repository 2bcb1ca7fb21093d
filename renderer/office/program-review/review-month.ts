import { MONTHS } from '../../parts/format.ts';

export const MONTH_NAMES = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'] as const;

/** "July" of 7. */
export const monthName = (month: number): string => MONTH_NAMES[month - 1] ?? '';
/** "Jul" of 7. */
export const monthShort = (month: number): string => MONTHS[month - 1] ?? '';

export interface MonthChoice {
  month: number;
  /** Why it is not this month; null when it is. */
  why: string | null;
}

/**
 * The month a review starts with: this one while systems run, else the month that asks most, and why.
 * Season days are MM-DD; a season may reach over New Year.
 */
export function firstMonth(today: string, season: { startUpFrom: string; winterizationTo: string }, latitudeDeg: number | null): MonthChoice {
  const day = today.slice(5);
  const { startUpFrom: from, winterizationTo: to } = season;
  const running = from <= to ? day >= from && day <= to : day >= from || day <= to;
  const thisMonth = Number(today.slice(5, 7));
  if (running) return { month: thisMonth, why: null };
  const month = latitudeDeg !== null && latitudeDeg < 0 ? 1 : 7;
  return { month, why: `Systems here are off in ${monthName(thisMonth)} (the season runs from ${dayWords(from)} to ${dayWords(to)}), so ${monthName(month)} is shown, the month that asks most.` };
}

const dayWords = (monthDay: string) => `${monthShort(Number(monthDay.slice(0, 2)))} ${Number(monthDay.slice(3))}`;
