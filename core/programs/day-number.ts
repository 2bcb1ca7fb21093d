import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

// Dates as whole days since 1970-01-01. Expanding a year for thousands of properties asks for a weekday millions of
// times, and calendar objects are too slow for that; the integer formulas below are checked against Temporal in the tests.

/** Minutes in a day on the wall clock. Controllers keep local clock time, so the days on which clocks change count 1440 too. */
export const MINUTES_PER_DAY = 1440;

/** Civil calendar date of the proleptic Gregorian calendar. */
export interface CivilDate {
  year: number;
  month: number;
  day: number;
}

const ISO_DATE = /^(\d{4})-(\d\d)-(\d\d)$/;

/** Days from 1970-01-01 to an ISO date (negative before it). Throws bad-input unless it is a real date written YYYY-MM-DD. */
export function dayNumberOf(date: string, field = 'date'): number {
  const match = ISO_DATE.exec(date);
  if (!match) throw new BookError('bad-input', fact('agronomy.noDate', { field, date }), field);
  const year = Number(match[1]);
  const month = Number(match[2]);
  const day = Number(match[3]);
  const number = dayNumberOfCivil(year, month, day);
  if (month < 1 || month > 12 || day < 1 || isoDateOf(number) !== date) {
    throw new BookError('bad-input', fact('agronomy.notInCalendar', { field, date }), field);
  }
  return number;
}

/** Days from 1970-01-01 to a civil date; month 1 to 12, day 1 to 31, not checked. */
export function dayNumberOfCivil(year: number, month: number, day: number): number {
  // Years begin in March here, so that the leap day is the last day of its year and month lengths follow one formula.
  const shiftedYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(shiftedYear / 400);
  const yearOfEra = shiftedYear - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
}

/** The civil date of a day number. */
export function civilOf(dayNumber: number): CivilDate {
  const shifted = dayNumber + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shiftedMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1;
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  return { year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0), month, day };
}

/** YYYY-MM-DD of a day number. */
export function isoDateOf(dayNumber: number): string {
  const { year, month, day } = civilOf(dayNumber);
  return `${String(year).padStart(4, '0')}-${month < 10 ? '0' : ''}${month}-${day < 10 ? '0' : ''}${day}`;
}

/** ISO weekday of a day number: 1 Monday … 7 Sunday. (1970-01-01 was a Thursday.) */
export function weekdayOfDay(dayNumber: number): number {
  return ((((dayNumber + 3) % 7) + 7) % 7) + 1;
}

/** The Monday on or before a day. */
export function mondayOf(dayNumber: number): number {
  return dayNumber - (weekdayOfDay(dayNumber) - 1);
}
