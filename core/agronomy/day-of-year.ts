import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

const DAYS_BEFORE_MONTH = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334] as const;
const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/**
 * Day of the year, 1 January = 1, of a plain date.
 * @param date 'YYYY-MM-DD', a day that exists; no time zone is involved.
 * @param field path to name when the date is refused.
 * @throws BookError bad-input when the text is not such a date.
 */
export function dayOfYear(date: string, field = 'date'): number {
  const match = typeof date === 'string' ? /^(\d{4})-(\d{2})-(\d{2})$/.exec(date) : null;
  const year = Number(match?.[1]);
  const month = Number(match?.[2]);
  const day = Number(match?.[3]);
  const leapDay = month === 2 && isLeapYear(year) ? 1 : 0;
  const longest = (DAYS_IN_MONTH[month - 1] ?? 0) + leapDay;
  if (match === null || day < 1 || day > longest) {
    throw new BookError('bad-input', fact('agronomy.noSuchDay', { field, date: String(date) }), field);
  }
  return (DAYS_BEFORE_MONTH[month - 1] ?? 0) + day + (month > 2 && isLeapYear(year) ? 1 : 0);
}
