import { Temporal } from 'temporal-polyfill';
import { z } from 'zod';

/** A ULID made by the caller, so that a repeated write is the same write. */
export const ulidSchema = z
  .string()
  .regex(
    /^[0-7][0-9A-HJKMNP-TV-Z]{25}$/,
    'must be a ULID: 26 characters, digits and capital letters, first character 0 to 7',
  );

/** A calendar date without a time zone, so that no zone shifts a visit to another day. */
export const plainDateSchema = z
  .string()
  .refine(isPlainDate, 'must be a real calendar date written YYYY-MM-DD, from 1900 to 2199')
  .meta({ format: 'date' });

// A book holds each day many times, and asking the calendar costs more than anything else about a date.
const realDates = new Set<string>();
const DATES_KEPT = 20_000;

function isPlainDate(text: string): boolean {
  if (realDates.has(text)) return true;
  if (!/^(19|20|21)\d\d-\d\d-\d\d$/.test(text)) return false;
  try {
    Temporal.PlainDate.from(text, { overflow: 'reject' });
  } catch {
    return false;
  }
  if (realDates.size < DATES_KEPT) realDates.add(text);
  return true;
}

/**
 * A date worked out from others, in an answer: the week around the last day that may be asked for, or what is due months
 * after it, lies a little outside the range in which dates are taken.
 */
export const reckonedDateSchema = z
  .string()
  .regex(/^\d{4}-\d\d-\d\d$/)
  .meta({ format: 'date' });

/** Local clock time at the property, 24 hours, HH:MM. */
export const clockTimeSchema = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time from 00:00 to 23:59 written HH:MM');

/** A day of the year without a year, MM-DD. 02-29 is the last day of February in every year: `dateOfMonthDay` makes the date. */
export const monthDaySchema = z
  .string()
  .regex(
    /^((0[13578]|1[02])-(0[1-9]|[12]\d|3[01])|(0[469]|11)-(0[1-9]|[12]\d|30)|02-(0[1-9]|[12]\d))$/,
    'must be a day that its month has, written MM-DD (02-29 stands for the last day of February)',
  );

/** One line of text, trimmed. */
export const lineSchema = (max = 200) =>
  z
    .string()
    .max(max, `must be at most ${max} characters`)
    .refine((text) => !/[\u0000-\u0008\u000a-\u001f\u007f]/.test(text), 'must be one line without control characters')
    .transform((text) => text.trim());
/** One line of text that may not be empty. */
export const nameSchema = (max = 200) => lineSchema(max).refine((text) => text.length > 0, 'must not be empty');
/** Free text of several lines. */
export const notesSchema = z
  .string()
  .max(8000, 'must be at most 8000 characters')
  .refine((text) => !/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/.test(text), 'must not hold control characters');

/** ISO weekday: 1 Monday … 7 Sunday. */
export const weekdaySchema = z.int().min(1).max(7);
export const weekdaysSchema = z
  .array(weekdaySchema)
  .max(7)
  .refine((days) => new Set(days).size === days.length, 'must not name a weekday twice');

/** Which part of a long list is wanted. */
export const pageFields = {
  limit: z.int().min(1).max(500).default(100),
  offset: z.int().min(0).max(10_000_000).default(0),
};

/** What may change in a book; reads name what they show, writes what they touch, and screens re-read on a match. */
export const TOPICS = [
  'client',
  'property',
  'program',
  'visit',
  'ledger',
  'people',
  'rules',
  'weather',
  'settings',
  'book',
] as const;
export type Topic = (typeof TOPICS)[number];

/** A text of the catalogue by its key, with what it tells: each reader's program says it in their language and units. */
export const toldSchema = z.object({ key: z.string(), given: z.unknown().optional() });
export type Told = z.infer<typeof toldSchema>;

/** A path on this machine. Full, because the app has no folder of its own that "here" could mean. */
export const fullPathSchema = z
  .string()
  .min(1)
  .max(4000)
  .refine(
    (path) => /^(\/|[A-Za-z]:[\\/]|\\\\)/.test(path) && !path.includes('\u0000'),
    'must be a full path, from the root of the disk',
  );

export const bytesBase64Schema = z.base64('must be base64').max(128 * 1024 * 1024);

/** How a figure is known. A guess looks like a guess on every screen. */
export const KNOWN_HOW = ['measured', 'chart', 'guess'] as const;

export const VISIT_KINDS = [
  'start-up',
  'winterization',
  'sensor-check',
  'battery-swap',
  'program-adjustment',
  'repair',
  'backflow-test',
  'walk-through',
] as const;

export type KnownHow = (typeof KNOWN_HOW)[number];

export type VisitKind = (typeof VISIT_KINDS)[number];

export const nullable = <T extends z.ZodType>(schema: T) => schema.nullable().default(null);

export const measure = (min: number, max: number, unit: string) =>
  z.number().min(min, `must be ${min} to ${max} ${unit}`).max(max, `must be ${min} to ${max} ${unit}`);

export function isTimeZone(text: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    return /^[A-Za-z]/.test(text);
  } catch {
    return false;
  }
}

export const wateringDaysSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('weekdays'), weekdays: weekdaysSchema }),
  /** Odd dates. 31st followed by the 1st puts two watering days side by side; 'skip' leaves the 31st (and 29 February) out, as many controllers do. */
  z.object({ kind: z.literal('odd'), monthEnd: z.enum(['water', 'skip']).default('skip') }),
  z.object({ kind: z.literal('even') }),
  z.object({ kind: z.literal('interval'), everyDays: z.int().min(1).max(31), startDate: plainDateSchema }),
]);

export type WateringDays = z.infer<typeof wateringDaysSchema>;

/** A program's starts: a controller takes each clock time once. */
export const startTimesSchema = z
  .array(clockTimeSchema)
  .max(8, 'may hold at most 8 start times')
  .refine((times) => new Set(times).size === times.length, 'must not name a start time twice');

/** A figure that may not be known. */
export const nullableNumber = z.number().nullable();

/** `version` is the one read; a save over a newer one is refused, so nobody's change is lost unseen. Leave out to create. */
export const version = z.int().min(1).optional();
