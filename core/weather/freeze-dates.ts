import { addDays, dateOfMonthDay, datesFrom, dayOfYear } from '../dates.ts';
import type { FreezeDates, FreezeSide } from './contract.ts';

/** One day's lowest temperature; null: the station has the day, but no reading. */
export interface LowOfDay {
  date: string;
  tminF: number | null;
}

/** A season is not used if more of its days than this have no reading. */
const MOST_DAYS_WITHOUT_READING = 10;
/** Fewer seasons than this are called thin. */
const FEWEST_SEASONS = 10;
const CHANCES = [10, 20, 30, 40, 50, 60, 70, 80, 90];

/** 1 August of a year of 365 days, as days since 1 January. */
const AUGUST = 212;
const YEAR = 365;

interface Season {
  /** Days since 1 August, on a calendar of 365 days; null: no such day. */
  day: number | null;
  withoutReading: number;
  used: boolean;
}

/**
 * When the first day of autumn and the last of spring as cold as a threshold come, by chance.
 *
 * Autumn's season is 1 August to 31 July, spring's 1 January to 31 July; a day counts if its tmin ≤ the threshold as
 * recorded (28 °F that passed through tenths of °C comes back as 28.04 °F and then is above 28). The chances are type 7
 * quantiles (Hyndman and Fan 1996: linear between order statistics) of the days since 1 August, rounded to whole days, halves
 * to the even one. Seasons without such a day are a discrete share: of 30 seasons of which 24 had one, the date of 40 % is the
 * half of those 24 dates (40 / 80), and chances above 80 % have no date (NOAA's normals mix the two likewise). 29 February
 * counts as 28 February.
 *
 * A season is used if at most 10 of its days have no reading; of an autumn that had its day by 31 December only the days
 * until then are asked for. Autumns are those whose August falls within the records, springs those of which some day does.
 *
 * @param records days in any order, ISO dates of real days; tminF in °F
 * @param thresholdF °F
 * @param years from and to which season is looked at (autumn: the year of its August); null: all
 */
export function freezeDates(
  records: readonly LowOfDay[],
  thresholdF: number,
  years: { from: number | null; to: number | null } = { from: null, to: null },
): FreezeDates {
  const lows = new Map<string, number | null>();
  let repeatedDays = 0;
  let first: string | null = null;
  let last: string | null = null;
  for (const { date, tminF } of records) {
    if (lows.has(date)) repeatedDays += 1;
    else lows.set(date, tminF);
    if (first === null || date < first) first = date;
    if (last === null || date > last) last = date;
  }
  const autumns: Season[] = [];
  const springs: Season[] = [];
  if (first !== null && last !== null) {
    const begins = Number(first.slice(0, 4));
    const ends = Number(last.slice(0, 4));
    const isAsked = (year: number) => (years.from ?? year) <= year && year <= (years.to ?? year);
    for (let year = begins; year <= ends; year += 1) {
      if (!isAsked(year)) continue;
      if (last >= `${year}-08-01`) autumns.push(autumnOf(year, lows, thresholdF));
      if (first <= `${year}-07-31`) springs.push(springOf(year, lows, thresholdF));
    }
  }
  const firstAutumn = sideOf(autumns, (chance) => chance);
  const lastSpring = sideOf(springs, (chance) => 1 - chance);
  return {
    firstAutumn,
    lastSpring,
    thin: Math.min(firstAutumn.seasons, lastSpring.seasons) < FEWEST_SEASONS,
    skippedDays: [...autumns, ...springs].reduce((sum, one) => sum + (one.used ? one.withoutReading : 0), 0),
    repeatedDays,
  };
}

function autumnOf(year: number, lows: ReadonlyMap<string, number | null>, thresholdF: number): Season {
  const untilDecember = look(`${year}-08-01`, `${year}-12-31`, lows, thresholdF);
  if (untilDecember.first !== null) return season(untilDecember.first, untilDecember.withoutReading);
  const after = look(`${year + 1}-01-01`, `${year + 1}-07-31`, lows, thresholdF);
  return season(after.first, untilDecember.withoutReading + after.withoutReading);
}

function springOf(year: number, lows: ReadonlyMap<string, number | null>, thresholdF: number): Season {
  const spring = look(`${year}-01-01`, `${year}-07-31`, lows, thresholdF);
  return season(spring.last, spring.withoutReading);
}

function season(date: string | null, withoutReading: number): Season {
  return {
    day: date === null ? null : (dayOfCommonYear(date) - AUGUST + YEAR) % YEAR,
    withoutReading,
    used: withoutReading <= MOST_DAYS_WITHOUT_READING,
  };
}

/** The first and the last day as cold as that in a span of days, and how many have no reading. */
function look(
  from: string,
  to: string,
  lows: ReadonlyMap<string, number | null>,
  thresholdF: number,
): { first: string | null; last: string | null; withoutReading: number } {
  let first: string | null = null;
  let last: string | null = null;
  let withoutReading = 0;
  for (const date of datesFrom(from, to)) {
    const low = lows.get(date) ?? null;
    if (low === null) withoutReading += 1;
    else if (low <= thresholdF) {
      first ??= date;
      last = date;
    }
  }
  return { first, last, withoutReading };
}

/** Days since 1 January in a year of 365 days, from 0. */
function dayOfCommonYear(date: string): number {
  return dayOfYear(dateOfMonthDay(2001, date.slice(5))) - 1;
}

function sideOf(all: readonly Season[], place: (chance: number) => number): FreezeSide {
  const used = all.filter((one) => one.used);
  const days = used
    .map((one) => one.day)
    .filter((day) => day !== null)
    .toSorted((a, b) => a - b);
  const byDate = CHANCES.map((chance) => {
    // In whole numbers, so that a share of exactly 30 % is not missed by a rounding.
    const isWithin = days.length > 0 && chance * used.length <= 100 * days.length;
    if (!isWithin) return { chance, date: null };
    const among = (chance * used.length) / (100 * days.length);
    return { chance, date: monthDayAt(AUGUST + wholeDay(quantile(days, place(among)))) };
  });
  const at = (chance: number) => byDate.find((one) => one.chance === chance)!.date;
  return {
    p10: at(10),
    p50: at(50),
    p90: at(90),
    seasons: used.length,
    seasonsWithout: used.length - days.length,
    seasonsSkipped: all.length - used.length,
    byDate,
  };
}

/** Type 7 of sorted figures, at least one; `share` 0 to 1. */
function quantile(sorted: readonly number[], share: number): number {
  const at = (sorted.length - 1) * Math.min(1, Math.max(0, share));
  const below = Math.floor(at);
  const low = sorted[below]!;
  return low + (at - below) * ((sorted[below + 1] ?? low) - low);
}

/** The nearest whole day, halves to the even one; what the arithmetic leaves beyond the ninth digit is nothing. */
function wholeDay(days: number): number {
  const below = Math.floor(days + 1e-9);
  const over = days - below;
  if (Math.abs(over - 0.5) < 1e-9) return below + (below % 2);
  return over > 0.5 ? below + 1 : below;
}

function monthDayAt(day: number): string {
  return addDays('2001-01-01', day % YEAR).slice(5);
}
