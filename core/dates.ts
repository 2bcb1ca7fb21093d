import { Temporal } from 'temporal-polyfill';

// Plain ISO dates (YYYY-MM-DD) and clock times (HH:MM) as text: they sort as they are, and no time zone moves them.

/** The first and the last day that a book takes. */
export const FIRST_DAY = '1900-01-01';
export const LAST_DAY = '2199-12-31';

/** The date so many days later (or earlier). */
export function addDays(date: string, days: number): string {
  return Temporal.PlainDate.from(date).add({ days }).toString();
}

/** The date so many months later; a day that month lacks becomes its last day. */
export function addMonths(date: string, months: number): string {
  return Temporal.PlainDate.from(date).add({ months }).toString();
}

/**
 * The date of a day of the year (MM-DD) in one year, 0 to 9999. A day that the month lacks in that year is its last day, so
 * that 02-29 means the last of February every year. The only place that joins a year and such a day.
 */
export function dateOfMonthDay(year: number, monthDay: string): string {
  const [month = 0, day = 0] = monthDay.split('-').map(Number);
  return Temporal.PlainDate.from({ year, month, day }, { overflow: 'constrain' }).toString();
}

/** Whole days from one date to another; negative when `to` is earlier. */
export function daysBetween(from: string, to: string): number {
  return Temporal.PlainDate.from(from).until(Temporal.PlainDate.from(to), { largestUnit: 'day' }).days;
}

/** ISO weekday: 1 Monday … 7 Sunday. */
export function weekdayOf(date: string): number {
  return Temporal.PlainDate.from(date).dayOfWeek;
}

/** The Monday of the week a date is in. */
export function weekStartOf(date: string): string {
  return addDays(date, 1 - weekdayOf(date));
}

/** Day of the year from 1. */
export function dayOfYear(date: string): number {
  return Temporal.PlainDate.from(date).dayOfYear;
}

/** 365 or 366. */
export function daysInYear(year: number): number {
  return Temporal.PlainDate.from({ year, month: 1, day: 1 }).daysInYear;
}

/** Every date from one to another, both included. */
export function datesFrom(from: string, to: string): string[] {
  if (from > to) return [];
  const dates: string[] = [];
  // Counted in milliseconds of UTC, where every day has as many: a calendar takes far longer over years of days.
  for (let at = Temporal.PlainDate.from(from).toZonedDateTime('UTC').epochMilliseconds; ; at += 86_400_000) {
    const date = new Date(at).toISOString().slice(0, 10);
    if (date > to) return dates;
    dates.push(date);
  }
}

/** Today in a time zone (the machine's when none is given). */
export function todayIn(timeZone?: string): string {
  return Temporal.Now.plainDateISO(timeZone).toString();
}

/** Minutes since midnight of HH:MM. */
export function minutesOfClock(clock: string): number {
  const [hours = '0', minutes = '0'] = clock.split(':');
  return Number(hours) * 60 + Number(minutes);
}

/** HH:MM of minutes since midnight; minutes past 24 h wrap into the next day. */
export function clockOfMinutes(minutes: number): string {
  const whole = ((Math.round(minutes) % 1440) + 1440) % 1440;
  return `${String(Math.floor(whole / 60)).padStart(2, '0')}:${String(whole % 60).padStart(2, '0')}`;
}
