import type { WateringDays } from '../contract/parts.ts';
import { civilOf, dayNumberOf, isoDateOf, weekdayOfDay } from './day-number.ts';

/** Mean length of a Gregorian year, days (400 years are 146,097 days). */
const DAYS_PER_YEAR = 146_097 / 400;
// Odd dates 1st … 29th: 15 in each of 11 months and 14 in February; even dates 2nd … 30th come to the same count.
const ALTERNATE_DATES_PER_YEAR = 11 * 15 + 14;
// What 'water' adds to the odd dates: seven 31sts a year and 29 February in 97 years of 400.
const MONTH_END_ODD_DATES_PER_YEAR = 7 + 97 / 400;

/**
 * Does a program with these days water on a date? An interval waters on its start date and every so many days after it, never before it.
 * Throws bad-input for a date (or interval start) that is not of the calendar.
 */
export function watersOn(days: WateringDays, date: string): boolean {
  return dayTest(days)(dayNumberOf(date));
}

/** The same question prepared once and asked by day number: for loops over many days. */
export function dayTest(days: WateringDays): (dayNumber: number) => boolean {
  switch (days.kind) {
    case 'weekdays': {
      const wanted = new Set(days.weekdays);
      return (dayNumber) => wanted.has(weekdayOfDay(dayNumber));
    }
    case 'odd': {
      const skipsMonthEnd = days.monthEnd === 'skip';
      return (dayNumber) => {
        const { month, day } = civilOf(dayNumber);
        if (day % 2 === 0) return false;
        return !(skipsMonthEnd && (day === 31 || (day === 29 && month === 2)));
      };
    }
    case 'even':
      return (dayNumber) => civilOf(dayNumber).day % 2 === 0;
    case 'interval': {
      const start = dayNumberOf(days.startDate, 'startDate');
      const every = days.everyDays;
      return (dayNumber) => dayNumber >= start && (dayNumber - start) % every === 0;
    }
  }
}

/** Every date from one to another (both included) on which these days water. */
export function wateringDates(days: WateringDays, from: string, to: string): string[] {
  const waters = dayTest(days);
  const dates: string[] = [];
  for (let day = dayNumberOf(from, 'from'), last = dayNumberOf(to, 'to'); day <= last; day += 1) {
    if (waters(day)) dates.push(isoDateOf(day));
  }
  return dates;
}

/** Watering days a week in the long run (0 to 7): exact for weekday sets and intervals, the mean over 400 years for odd and even dates. */
export function meanDaysPerWeek(days: WateringDays): number {
  switch (days.kind) {
    case 'weekdays':
      return new Set(days.weekdays).size;
    case 'odd':
      return (
        (7 * (ALTERNATE_DATES_PER_YEAR + (days.monthEnd === 'water' ? MONTH_END_ODD_DATES_PER_YEAR : 0))) /
        DAYS_PER_YEAR
      );
    case 'even':
      return (7 * ALTERNATE_DATES_PER_YEAR) / DAYS_PER_YEAR;
    case 'interval':
      return 7 / days.everyDays;
  }
}
