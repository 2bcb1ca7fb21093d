import { Temporal } from 'temporal-polyfill';
import { isBlank } from './cell-values.ts';
import { fact, type Fact } from '../text/say.ts';

export type DateOrder = 'month-first' | 'day-first';
export type DateReading = { ok: true; date: string | null; monthOnly?: boolean } | { ok: false; reason: Fact };

const MONTHS: Record<string, number> = {
  jan: 1,
  january: 1,
  feb: 2,
  february: 2,
  mar: 3,
  march: 3,
  apr: 4,
  april: 4,
  may: 5,
  jun: 6,
  june: 6,
  jul: 7,
  july: 7,
  aug: 8,
  august: 8,
  sep: 9,
  sept: 9,
  september: 9,
  oct: 10,
  october: 10,
  nov: 11,
  november: 11,
  dec: 12,
  december: 12,
};
/** A weekday, a date and a time with its zone, in words. */
const LONGEST_DATE = 80;
const FIGURES = /^(\d{1,2})\s?([/.-])\s?(\d{1,2})\s?\2\s?(\d{4}|\d{2})$/;

/** Cuts the weekday before and the time of day after a date. */
function bare(text: string): string {
  return text
    .trim()
    .replace(/^(mon|tues?|wed(nes)?|thu(rs)?|fri|sat(ur)?|sun)(day)?[.,]?\s+/i, '')
    .replace(/[T\s,]+\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?\s*([ap]\.?m\.?)?\s*(z|[-+]\d\d:?\d\d|utc|gmt)?$/i, '')
    .replace(/,\s*$/, '');
}

export interface OrderEvidence {
  order: DateOrder;
  /** True where nothing in the column told, though some dates could be read either way. */
  guessed: boolean;
  mixed: boolean;
}

/** Which of 3/4 and 4/3 a column means: whichever order some of its dates can only be read in. */
export function orderOf(cells: Iterable<string>): OrderEvidence {
  let dayFirst = 0;
  let monthFirst = 0;
  let either = 0;
  let dotted = 0;
  for (const cell of cells) {
    const figures = cell.length > LONGEST_DATE ? null : FIGURES.exec(bare(cell));
    if (!figures) continue;
    const first = Number(figures[1]);
    const second = Number(figures[3]);
    if (first > 12 && second <= 12) dayFirst += 1;
    else if (second > 12 && first <= 12) monthFirst += 1;
    else if (first !== second) {
      either += 1;
      // Dates with full stops are written day first wherever they are in use.
      if (figures[2] === '.') dotted += 1;
    }
  }
  const mixed = dayFirst > 0 && monthFirst > 0;
  if (dayFirst !== monthFirst)
    return { order: dayFirst > monthFirst ? 'day-first' : 'month-first', guessed: false, mixed };
  if (either > 0 && dotted * 2 > either) return { order: 'day-first', guessed: false, mixed };
  return { order: 'month-first', guessed: either > 0, mixed };
}

/** A date in any of the usual shapes, as YYYY-MM-DD. `today` decides the century of two-digit years. */
export function readDate(cell: string, order: DateOrder, today: string): DateReading {
  if (isBlank(cell)) return { ok: true, date: null };
  if (cell.length > LONGEST_DATE) return { ok: false, reason: fact('import.why.badDate') };
  const text = bare(cell);
  let match = /^(\d{4})\s?[-/.]\s?(\d{1,2})\s?[-/.]\s?(\d{1,2})$/.exec(text);
  if (match) return real(Number(match[1]), Number(match[2]), Number(match[3]));
  match = FIGURES.exec(text);
  if (match) {
    const first = Number(match[1]);
    const second = Number(match[3]);
    const dayFirst = first > 12 ? true : second > 12 ? false : order === 'day-first';
    return real(century(match[4]!, today), dayFirst ? second : first, dayFirst ? first : second);
  }
  match = /^(\d{1,2})(?:st|nd|rd|th)?[\s./-]+([a-z]+)\.?[\s,./-]+(\d{4}|\d{2})$/i.exec(text);
  if (match && monthOf(match[2]!)) return real(century(match[3]!, today), monthOf(match[2]!)!, Number(match[1]));
  match = /^([a-z]+)\.?[\s./-]+(\d{1,2})(?:st|nd|rd|th)?[\s,./-]+(\d{4}|\d{2})$/i.exec(text);
  if (match && monthOf(match[1]!)) return real(century(match[3]!, today), monthOf(match[1]!)!, Number(match[2]));
  match = /^(\d{4})[\s./-]+([a-z]+)\.?[\s./-]+(\d{1,2})$/i.exec(text);
  if (match && monthOf(match[2]!)) return real(Number(match[1]), monthOf(match[2]!)!, Number(match[3]));
  match = /^([a-z]+)\.?[\s,./-]+(\d{4})$/i.exec(text);
  if (match && monthOf(match[1]!)) return monthly(real(Number(match[2]), monthOf(match[1]!)!, 1));
  match = /^(\d{1,2})\s?[/-]\s?(\d{4})$/.exec(text);
  if (match) return monthly(real(Number(match[2]), Number(match[1]), 1));
  match = /^((?:19|20)\d\d)(\d\d)(\d\d)$/.exec(text);
  if (match) return real(Number(match[1]), Number(match[2]), Number(match[3]));
  match = /^(\d{5})(?:[.,]\d+)?$/.exec(text);
  // A spreadsheet's day number (1900 system): 20000 is 1954, 80000 is 2119.
  if (match && Number(match[1]) >= 20000 && Number(match[1]) < 80000)
    return {
      ok: true,
      date: Temporal.PlainDate.from('1899-12-30')
        .add({ days: Number(match[1]) })
        .toString(),
    };
  return { ok: false, reason: fact('import.why.badDate') };
}

function monthOf(word: string): number | undefined {
  const key = word.toLowerCase();
  return Object.hasOwn(MONTHS, key) ? MONTHS[key] : undefined;
}

function monthly(reading: DateReading): DateReading {
  return reading.ok ? { ...reading, monthOnly: true } : reading;
}

/** 24 → 2024; a year more than ten ahead of today was in the last century. */
function century(figures: string, today: string): number {
  if (figures.length === 4) return Number(figures);
  const year = 2000 + Number(figures);
  return year > Number(today.slice(0, 4)) + 10 ? year - 100 : year;
}

function real(year: number, month: number, day: number): DateReading {
  if (year < 1900 || year > 2199) return { ok: false, reason: fact('import.why.yearRange', { year }) };
  const days = month >= 1 && month <= 12 ? new Date(Date.UTC(year, month, 0)).getUTCDate() : 0;
  if (day < 1 || day > days) return { ok: false, reason: fact('import.why.notRealDate') };
  return { ok: true, date: `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}` };
}
