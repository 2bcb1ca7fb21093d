// Dates as whole days since 1970-01-01: a million of them are made, too many for calendar objects.

const DAY_MS = 86_400_000;
const known = new Map<number, string>();

/** The day number of YYYY-MM-DD. */
export function dayOf(date: string): number {
  return Math.round(Date.parse(`${date}T00:00:00Z`) / DAY_MS);
}

/** The day number of a calendar day; month from 1. */
export function dayOn(year: number, month: number, day: number): number {
  return Math.round(Date.UTC(year, month - 1, day) / DAY_MS);
}

/** YYYY-MM-DD of a day number. */
export function dateOf(day: number): string {
  let date = known.get(day);
  if (date === undefined) {
    date = new Date(day * DAY_MS).toISOString().slice(0, 10);
    known.set(day, date);
  }
  return date;
}

/** ISO weekday: 1 Monday … 7 Sunday. */
export function weekdayOfDay(day: number): number {
  return ((((day + 3) % 7) + 7) % 7) + 1;
}

export function yearOfDay(day: number): number {
  return Number(dateOf(day).slice(0, 4));
}

/** The same day so many years later; 29 February becomes the 28th. */
export function yearsLater(date: string, years: number): string {
  const moved = `${Number(date.slice(0, 4)) + years}${date.slice(4)}`;
  return moved.endsWith('-02-29') ? `${moved.slice(0, 8)}28` : moved;
}

/** Milliseconds of a second of a day. */
export function millisecondsOf(day: number, second: number): number {
  return day * DAY_MS + second * 1000;
}

/** The moment, as the book writes it. */
export function momentOf(day: number, second: number): string {
  const two = (value: number) => (value < 10 ? `0${value}` : `${value}`);
  return `${dateOf(day)}T${two(Math.floor(second / 3600))}:${two(Math.floor(second / 60) % 60)}:${two(second % 60)}.000Z`;
}
