import { daysBetween, weekdayOf } from '../../core/dates.ts';
import { fromStored, unitDigits, unitLabel } from '../../core/units.ts';
import type { Quantity, UnitSystem } from '../../core/units.ts';

const locale = 'en-US';
const UTC = { timeZone: 'UTC' } as const;
const asDate = (date: string) => new Date(`${date}T00:00:00Z`);
const shortFormat = new Intl.DateTimeFormat(locale, { ...UTC, weekday: 'short', month: 'short', day: 'numeric' });
const withYearFormat = new Intl.DateTimeFormat(locale, { ...UTC, month: 'short', day: 'numeric', year: 'numeric' });
const longFormat = new Intl.DateTimeFormat(locale, { ...UTC, weekday: 'long', month: 'long', day: 'numeric' });
const monthFormat = new Intl.DateTimeFormat(locale, { ...UTC, month: 'short' });
const estimateFormat = new Intl.NumberFormat(locale, { maximumSignificantDigits: 3 });
const countFormat = new Intl.NumberFormat(locale, { maximumFractionDigits: 0 });

export const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'] as const;
export const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

/** "Wed, Nov 25" */
export const formatDay = (date: string) => shortFormat.format(asDate(date));
/** "Nov 25, 2026" */
export const formatDate = (date: string) => withYearFormat.format(asDate(date));
/** "Wed, Nov 25", or with its year where the day is so far off that it could be mistaken. */
export const formatDayNear = (date: string, today: string) =>
  Math.abs(daysBetween(today, date)) < 300 ? formatDay(date) : formatDate(date);
/** "Wednesday, November 25" */
export const formatLongDay = (date: string) => longFormat.format(asDate(date));
/** "Nov" */
export const formatMonth = (date: string) => monthFormat.format(asDate(date));
/** "Wed" of a date. */
export const formatWeekday = (date: string) => WEEKDAYS[weekdayOf(date) - 1] ?? '';

/** How far a day is from today, in words: "today", "in 3 days", "12 days ago". */
export function formatAway(date: string, today: string): string {
  const days = daysBetween(today, date);
  if (days === 0) return 'today';
  if (days === 1) return 'tomorrow';
  if (days === -1) return 'yesterday';
  const span = formatSpan(Math.abs(days));
  return days > 0 ? `in ${span}` : `${span} ago`;
}

/** So many days as people say them: "12 days", "5 months", "3 years". */
export function formatSpan(days: number): string {
  return days < 60
    ? plural(days, 'day')
    : days < 730
      ? `${Math.round(days / 30.44)} months`
      : `${Math.round(days / 365.25)} years`;
}

/** 7:30 → "7:30 am" */
export function formatClock(clock: string): string {
  const [hours = 0, minutes = 0] = clock.split(':').map(Number);
  const half = hours < 12 ? 'am' : 'pm';
  return `${hours % 12 === 0 ? 12 : hours % 12}:${String(minutes).padStart(2, '0')} ${half}`;
}

/** A visit's window: "8:00 am–12:00 pm", or "any time". */
export function formatWindow(from: string | null, to: string | null): string {
  if (from === null && to === null) return 'any time';
  if (from === null) return `by ${formatClock(to ?? '00:00')}`;
  if (to === null) return `from ${formatClock(from)}`;
  return `${formatClock(from)}–${formatClock(to)}`;
}

/** Minutes as "45 min" or "1 h 20". */
export function formatMinutes(minutes: number): string {
  const whole = Math.round(minutes * 10) / 10;
  if (whole < 60) return `${formatNumber(whole, 1)} min`;
  const rounded = Math.round(whole);
  const rest = rounded % 60;
  return `${Math.floor(rounded / 60)} h${rest === 0 ? '' : ` ${String(rest).padStart(2, '0')}`}`;
}

/** 12,345 */
export const formatCount = (count: number) => countFormat.format(count);

/** A figure with at most so many decimals. */
export function formatNumber(value: number, digits = 1): string {
  return new Intl.NumberFormat(locale, { maximumFractionDigits: digits }).format(value);
}

/** A range of figures; one figure where both ends are the same. */
export function formatRange(from: number, to: number): string {
  return from === to ? `about ${formatNumber(from)}` : `${formatNumber(from)}–${formatNumber(to)}`;
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
  return Math.abs(shown) < 1000 ? formatFigure(quantity, value, system) : estimateFormat.format(shown);
}

/** A stored figure in the reader's units with its sign. */
export function formatMeasure(quantity: Quantity, value: number | null | undefined, system: UnitSystem): string {
  if (value === null || value === undefined) return 'not known';
  return `${formatFigure(quantity, value, system)} ${unitLabel(quantity, system)}`;
}

/** US cents as dollars. */
export function formatCents(cents: number): string {
  return new Intl.NumberFormat(locale, { style: 'currency', currency: 'USD' }).format(cents / 100);
}

/** 'pop-up-spray' → "Pop-up spray" */
export function words(id: string): string {
  const special = SPELLED[id];
  if (special !== undefined) return special;
  const text = id.replaceAll('-', ' ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}
const SPELLED: Record<string, string> = {
  'pop-up-spray': 'Pop-up spray',
  pvc: 'PVC',
  'part-shade': 'Part shade',
  'full-sun': 'Full sun',
  'rain-and-freeze': 'Rain and freeze',
  'start-up': 'Start-up',
  'walk-through': 'Walk-through',
  'run-time-change': 'Run-time change',
};
