import { daysBetween } from '../../core/dates.ts';
import { fromStored, unitDigits, unitLabel } from '../../core/units.ts';
import type { Quantity, UnitSystem } from '../../core/units.ts';
import { say, sayTold, words } from '../state/say.ts';

/** Short names of the weekdays, Monday first, as the reader's language has them. */
export const WEEKDAYS: readonly string[] = lazyList(7, (index) => words().weekday(index + 1));
/** Short names of the months, January first. */
export const MONTHS: readonly string[] = lazyList(12, (index) => words().month(index + 1, 'short'));

/** A list whose items are said when they are read: the reader may change. */
function lazyList(length: number, item: (index: number) => string): readonly string[] {
  const list: string[] = Array.from({ length });
  for (let index = 0; index < length; index += 1) {
    Object.defineProperty(list, index, { enumerable: true, get: () => item(index) });
  }
  return list;
}

/** "Wed, Nov 25" */
export const formatDay = (date: string) => words().day(date);
/** "Nov 25, 2026" */
export const formatDate = (date: string) => words().date(date);
/** "Wed, Nov 25", or with its year where the day is so far off that it could be mistaken. */
export const formatDayNear = (date: string, today: string) =>
  Math.abs(daysBetween(today, date)) < 300 ? formatDay(date) : formatDate(date);
/** "Wednesday, November 25" */
export const formatLongDay = (date: string) => words().longDay(date);
/** "Nov" */
export const formatMonth = (date: string) => words().month(Number(date.slice(5, 7)), 'short');
/** "Wed" of a date. */
export const formatWeekday = (date: string) => words().weekday(date);

/** How far a day is from today, in words: "today", "in 3 days", "12 days ago". */
export function formatAway(date: string, today: string): string {
  const days = daysBetween(today, date);
  if (days === 0) return say('parts.today');
  if (days === 1) return say('parts.tomorrow');
  if (days === -1) return say('parts.yesterday');
  const span = formatSpan(Math.abs(days));
  return days > 0 ? say('parts.inSpan', { span }) : say('parts.spanAgo', { span });
}

/** So many days as people say them: "12 days", "5 months", "3 years". */
export function formatSpan(days: number): string {
  if (days < 60) return say('parts.days', { count: days });
  return days < 730
    ? say('parts.months', { count: Math.round(days / 30.44) })
    : say('parts.years', { count: Math.round(days / 365.25) });
}

/** 7:30 → "7:30 am" */
export const formatClock = (clock: string) => words().clock(clock);

/** A visit's window: "8:00 am–12:00 pm", or "any time". */
export function formatWindow(from: string | null, to: string | null): string {
  if (from === null && to === null) return say('parts.anyTime');
  if (from === null) return say('parts.by', { clock: formatClock(to ?? '00:00') });
  if (to === null) return say('parts.from', { clock: formatClock(from) });
  return `${formatClock(from)}–${formatClock(to)}`;
}

/** Minutes as "45 min" or "1 h 20". */
export const formatMinutes = (minutes: number) => words().minutes(minutes);

/** 12,345 */
export const formatCount = (count: number) => words().count(count);

/** A figure with at most so many decimals. */
export const formatNumber = (value: number, digits = 1) => words().number(value, digits);

/** A range of figures; one figure where both ends are the same. */
export function formatRange(from: number, to: number): string {
  return from === to ? say('parts.about', { figure: formatNumber(from) }) : `${formatNumber(from)}–${formatNumber(to)}`;
}

/** "3 zones", "1 zone" */
export function plural(count: number, one: string, many = `${one}s`): string {
  return `${formatCount(count)} ${count === 1 ? one : many}`;
}

/** A stored figure in the reader's units, without the sign. */
export function formatFigure(quantity: Quantity, value: number | null | undefined, system: UnitSystem): string {
  if (value === null || value === undefined) return '–';
  return formatNumber(fromStored(quantity, value, system), unitDigits(quantity, system));
}

/** An estimate in the reader's units, to three figures: more would promise what nobody measured. */
export function formatEstimate(quantity: Quantity, value: number | null | undefined, system: UnitSystem): string {
  if (value === null || value === undefined) return '–';
  const shown = fromStored(quantity, value, system);
  return Math.abs(shown) < 1000 ? formatFigure(quantity, value, system) : words().significant(shown);
}

/** A stored figure in the reader's units with its sign. */
export function formatMeasure(quantity: Quantity, value: number | null | undefined, system: UnitSystem): string {
  if (value === null || value === undefined) return say('parts.notKnown');
  return `${formatFigure(quantity, value, system)} ${unitLabel(quantity, system)}`;
}

/** 'pop-up-spray' → "Pop-up spray", in the reader's language; an id without a word of its own is shown as it is written. */
export function wordsOf(id: string): string {
  const key = `word.${id}`;
  const said = sayTold({ key });
  if (said !== key) return said;
  const text = id.replaceAll('-', ' ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "4.2 MB", for files. */
export function formatBytes(bytes: number): string {
  if (bytes < 1024 * 1024) return `${formatCount(Math.max(1, bytes / 1024))} KB`;
  if (bytes < 1024 * 1024 * 1024) return `${formatNumber(bytes / 1024 / 1024)} MB`;
  return `${formatNumber(bytes / 1024 / 1024 / 1024)} GB`;
}

/** "Nov 25, 2026, 1:05 pm": a moment on this machine's own clock. */
export function formatMoment(moment: string): string {
  const at = new Date(moment);
  const two = (figure: number) => String(figure).padStart(2, '0');
  const date = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${formatDate(date)}, ${formatClock(`${two(at.getHours())}:${two(at.getMinutes())}`)}`;
}
