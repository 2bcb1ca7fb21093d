import { clockOfMinutes, weekdayOf } from '../dates.ts';
import { fromStored, unitDigits, unitLabel, type Quantity, type UnitSystem } from '../units.ts';

// How one reader's language and units write numbers, dates, clocks and measures. Texts of the catalogue are given one of these.

/** A stored figure with what it is a figure of, so that every reader sees it in their own units. */
export interface Measured {
  quantity: Quantity;
  /** In the book's unit of that quantity (inches, feet, ft², gallons, gpm, psi, °F). */
  value: number;
}

/** A zone by the station it is wired to and its name. */
export interface ZoneSaid {
  station: number;
  name: string;
}

export type Language = 'en' | 'es';
export const LANGUAGES: readonly Language[] = ['en', 'es'];
/** Both as they are read in the United States: a decimal point, a twelve-hour clock, dollars. */
const LOCALES: Record<Language, string> = { en: 'en-US', es: 'es-US' };

const LISTS: Record<Language, string> = { en: 'en-GB', es: 'es-US' };

/** Texts by plural category (CLDR); `#` stands for the count. */
export interface PluralForms {
  one: string;
  other: string;
  /** Spanish has it for whole millions; left out, `other` serves. */
  many?: string;
}

const UTC = { timeZone: 'UTC' } as const;
/** 2024-01-01 was a Monday. */
const weekdayDate = (weekday: number) => new Date(Date.UTC(2024, 0, weekday));
const asDate = (date: string) => new Date(`${date}T00:00:00Z`);

/** Writes figures and dates for one reader. Make it with `wordsFor`, which keeps one per language and unit system. */
export class Words {
  readonly language: Language;
  readonly units: UnitSystem;
  readonly locale: string;
  readonly #formats = new Map<string, Intl.NumberFormat | Intl.DateTimeFormat | Intl.ListFormat>();
  readonly #plurals: Intl.PluralRules;

  constructor(language: Language, units: UnitSystem) {
    this.language = language;
    this.units = units;
    this.locale = LOCALES[language];
    this.#plurals = new Intl.PluralRules(this.locale);
  }

  /** A figure with at most so many decimals: 1,234.5 */
  number(value: number, digits = 1): string {
    return this.#number({ maximumFractionDigits: digits }).format(value);
  }

  /** A whole count: 12,345 */
  count(value: number): string {
    return this.number(value, 0);
  }

  /** A count with its noun, by the language's own plural rules. */
  plural(count: number, forms: PluralForms): string {
    const category = this.#plurals.select(count);
    const form = category === 'one' ? forms.one : category === 'many' ? (forms.many ?? forms.other) : forms.other;
    return form.replaceAll('#', this.number(count, 2));
  }

  /** A share of 100 as a percentage: 45 % stands for 45. */
  percent(value: number, digits = 0): string {
    return this.#number({ style: 'percent', maximumFractionDigits: digits }).format(value / 100);
  }

  /** US cents as dollars. */
  cents(value: number): string {
    return this.#number({ style: 'currency', currency: 'USD' }).format(value / 100);
  }

  /** A stored figure in the reader's units, without its sign, with the decimals the quantity is worth unless told others. */
  figure({ quantity, value }: Measured, digits = unitDigits(quantity, this.units)): string {
    return this.number(fromStored(quantity, value, this.units), digits);
  }

  /** A stored figure in the reader's units with its sign: “0.5 in”, “13 mm”. */
  measure(measured: Measured, digits?: number): string {
    return `${this.figure(measured, digits)} ${this.unit(measured.quantity)}`;
  }

  /** An estimate to three figures, in the reader's units, with its sign: more would promise what nobody measured. */
  estimate(measured: Measured): string {
    const shown = fromStored(measured.quantity, measured.value, this.units);
    const text = Math.abs(shown) < 1000 ? this.figure(measured) : this.significant(shown);
    return `${text} ${this.unit(measured.quantity)}`;
  }

  /** A figure to three significant digits. */
  significant(value: number, digits = 3): string {
    return this.#number({ maximumSignificantDigits: digits }).format(value);
  }

  /** “zone 3 Front lawn”, and “zone 3” where its name says no more than that; empty where there is none. */
  zone(zone: ZoneSaid | null): string {
    if (zone === null) return '';
    const short = `${this.language === 'es' ? 'zona' : 'zone'} ${zone.station}`;
    const says = zone.name.trim().toLowerCase();
    return says === '' || says === `zone ${zone.station}` || says === short ? short : `${short} ${zone.name}`;
  }

  /** The sign of the reader's unit. */
  unit(quantity: Quantity): string {
    return unitLabel(quantity, this.units);
  }

  /** “Wed, Nov 25” */
  day(date: string): string {
    return this.#date({ weekday: 'short', month: 'short', day: 'numeric' }).format(asDate(date));
  }

  /** “Nov 25, 2026” */
  date(date: string): string {
    return this.#date({ month: 'short', day: 'numeric', year: 'numeric' }).format(asDate(date));
  }

  /** “Wednesday, November 25” */
  longDay(date: string): string {
    return this.#date({ weekday: 'long', month: 'long', day: 'numeric' }).format(asDate(date));
  }

  /** “Tuesday, June 2, 2026” */
  fullDay(date: string): string {
    return this.#date({ weekday: 'long', month: 'long', day: 'numeric', year: 'numeric' }).format(asDate(date));
  }

  /** A date without its year: “Nov 25”, “25 nov”. */
  dayOfMonth(date: string): string {
    return this.#date({ month: 'short', day: 'numeric' }).format(asDate(date));
  }

  /** Both ends of a span of days, what they share said once: “Oct 5 – 11, 2026”. */
  dateSpan(from: string, to: string): string {
    const format = this.#date({ month: 'short', day: 'numeric', year: 'numeric' });
    // Whether the blanks around the dash are thin ones depends on the version of the language data.
    return format.formatRange(asDate(from), asDate(to)).replaceAll(/\s*–\s*/g, ' – ');
  }

  /** “October 2026” of YYYY-MM. */
  monthOfYear(month: string): string {
    return this.#date({ month: 'long', year: 'numeric' }).format(asDate(`${month}-01`));
  }

  /** The name of a month, 1 to 12. */
  month(month: number, width: 'short' | 'long' = 'long'): string {
    return this.#date({ month: width }).format(new Date(Date.UTC(2024, month - 1, 1)));
  }

  /** The name of an ISO weekday, 1 Monday to 7 Sunday, or of a date's. */
  weekday(weekday: number | string, width: 'narrow' | 'short' | 'long' = 'short'): string {
    const number = typeof weekday === 'number' ? weekday : weekdayOf(weekday);
    return this.#date({ weekday: width }).format(weekdayDate(number));
  }

  /** A clock time HH:MM: “7:30 am”. */
  clock(clock: string): string {
    const [hours = 0, minutes = 0] = clock.split(':').map(Number);
    const half = hours < 12 ? 'am' : 'pm';
    const marks = this.language === 'es' ? { am: 'a. m.', pm: 'p. m.' } : { am: 'am', pm: 'pm' };
    return `${hours % 12 === 0 ? 12 : hours % 12}:${String(minutes).padStart(2, '0')} ${marks[half]}`;
  }

  /** Minutes from midnight as sentences say them: “5:10 am”, “noon”, “midnight”; past 24 h it is the next day's clock. */
  moment(minutes: number): string {
    const clock = clockOfMinutes(minutes);
    if (clock === '00:00') return this.language === 'es' ? 'medianoche' : 'midnight';
    if (clock === '12:00') return this.language === 'es' ? 'mediodía' : 'noon';
    return this.clock(clock);
  }

  /** Whole minutes in full: “40 min”, “2 h”, “2 h 5 min”. */
  duration(minutes: number): string {
    const hours = Math.floor(minutes / 60);
    if (hours === 0) return `${this.count(minutes)} min`;
    return minutes % 60 === 0 ? `${this.count(hours)} h` : `${this.count(hours)} h ${this.count(minutes % 60)} min`;
  }

  /** Minutes as “45 min” or “1 h 20”. */
  minutes(minutes: number): string {
    const whole = Math.round(minutes * 10) / 10;
    if (whole < 60) return `${this.number(whole, 1)} min`;
    const rounded = Math.round(whole);
    const rest = rounded % 60;
    return `${Math.floor(rounded / 60)} h${rest === 0 ? '' : ` ${String(rest).padStart(2, '0')}`}`;
  }

  /** “a, b and c”: English without the serial comma, which is how Great Britain's rules write it. */
  list(items: readonly string[], join: 'and' | 'or' = 'and'): string {
    const type = join === 'and' ? 'conjunction' : 'disjunction';
    return this.#format(`list ${type}`, () => new Intl.ListFormat(LISTS[this.language], { type })).format(items);
  }

  #number(options: Intl.NumberFormatOptions): Intl.NumberFormat {
    return this.#format(`n ${JSON.stringify(options)}`, () => new Intl.NumberFormat(this.locale, options));
  }

  #date(options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
    return this.#format(
      `d ${JSON.stringify(options)}`,
      () => new Intl.DateTimeFormat(this.locale, { ...UTC, ...options }),
    );
  }

  #format<F extends Intl.NumberFormat | Intl.DateTimeFormat | Intl.ListFormat>(key: string, make: () => F): F {
    const kept = this.#formats.get(key) as F | undefined;
    if (kept !== undefined) return kept;
    const made = make();
    this.#formats.set(key, made);
    return made;
  }
}

const kept = new Map<string, Words>();

/** The one `Words` of a language and unit system. */
export function wordsFor(language: Language, units: UnitSystem): Words {
  const key = `${language} ${units}`;
  const words = kept.get(key) ?? new Words(language, units);
  kept.set(key, words);
  return words;
}

/** Units of the schemas' ranges, by the quantity that each measures. */
const RANGE_QUANTITIES: Readonly<Record<string, Quantity>> = {
  '°F': 'temperature',
  ft: 'length',
  psi: 'pressure',
  gpm: 'flow',
  'ft²': 'area',
  'in/h': 'rate',
  in: 'depth',
};

/** A range of a schema in the reader's units: “0 to 2,068 kPa”; one whose unit measures nothing we convert stays as it is. */
export function rangeIn(words: Words, range: { from: number; to: number; unit: string }, to: string): string {
  const quantity = words.units === 'us' ? undefined : RANGE_QUANTITIES[range.unit];
  if (quantity === undefined) return `${range.from} ${to} ${range.to}${range.unit === '' ? '' : ` ${range.unit}`}`;
  return `${words.figure({ quantity, value: range.from })} ${to} ${words.measure({ quantity, value: range.to })}`;
}
