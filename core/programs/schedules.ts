import { runBounds } from '../agronomy/index.ts';
import type { WateringDays } from '../contract/parts.ts';
import { LAST_DAY } from '../dates.ts';
import { ALL_DAYS, type AdviceDays } from './advice-days.ts';
import { dayNumberOf, dayNumberOfCivil, isoDateOf, weekdayOfDay } from './day-number.ts';
import { chooseDays } from './day-choice.ts';
import { dayTest, meanDaysPerWeek } from './watering-days.ts';
import type { ZoneNeed } from './zone-need.ts';
import { MAX_RUN_MINUTES } from './zone-run.ts';

/** One way to water a group of zones. */
export interface Schedule {
  days: WateringDays;
  wateringsPerWeek: number;
  /** Days of need missing at the worst moment. */
  peakDays: number;
}

/** Zones that water on the same days. */
export interface ZoneGroup {
  zones: ZoneNeed[];
  schedule: Schedule;
}

/** What choosing days also looks at, so that advice changes no more than it must. */
export interface DayWishes {
  /** Weekdays the property waters on now. */
  prefer: readonly number[];
  /** Intervals of weeks count from the first fitting day on or after this date, 1900-01-01 to 2199-12-31. */
  fromDate: string;
}

/** Weeks between waterings that are still advised; a controller counts at most 31 days. */
const LONG_INTERVAL_WEEKS = [4, 3, 2];
/**
 * A zone gets a program of its own when the next busier program would water it 1.5 times as often as it asks: less of a
 * difference is not worth another program for people to look after. Common practice, no source.
 */
const OWN_PROGRAM_RATIO = 1.5;

/** Every schedule that the days allow, fewest waterings first. */
export function schedulesOf(allowed: AdviceDays, wishes: DayWishes, avoid: readonly number[] = []): Schedule[] {
  if (allowed.kind === 'dates') {
    const days: WateringDays = allowed.parity === 'odd' ? { kind: 'odd', monthEnd: 'skip' } : { kind: 'even' };
    return [{ days, wateringsPerWeek: meanDaysPerWeek(days), peakDays: ALTERNATE_PEAKS[allowed.parity]() }];
  }
  const single = chooseDays(allowed.weekdays, 1, wishes.prefer, avoid);
  const schedules: Schedule[] = LONG_INTERVAL_WEEKS.map((weeks) => ({
    days: { kind: 'interval', everyDays: 7 * weeks, startDate: firstOnOrAfter(wishes.fromDate, single.weekdays[0]!) },
    wateringsPerWeek: 1 / weeks,
    peakDays: 7 * weeks,
  }));
  for (let count = 1; count <= Math.min(allowed.maxDays, allowed.weekdays.length); count += 1) {
    const spread = chooseDays(allowed.weekdays, count, wishes.prefer, avoid);
    schedules.push({
      days: { kind: 'weekdays', weekdays: spread.weekdays },
      wateringsPerWeek: count,
      peakDays: spread.peakDays,
    });
  }
  return schedules;
}

/** Can a zone be watered by a schedule: depletion stays in bounds, and each run is one a controller can be told? */
function suits(schedule: Schedule, zone: ZoneNeed): boolean {
  if (!keepsDepletion(schedule, zone)) return false;
  return (
    runBounds((zone.dailyNeedInches * 7) / schedule.wateringsPerWeek, zone.prInchesPerHour, zone.distributionUniformity)
      .upperMinutes <= MAX_RUN_MINUTES
  );
}

/** Does a schedule keep a zone's depletion within what is allowed? */
export function keepsDepletion(schedule: Schedule, zone: ZoneNeed): boolean {
  return schedule.peakDays * zone.dailyNeedInches <= zone.allowedDepletionInches * (1 + 1e-9);
}

/** The schedule with the fewest waterings that suits every zone, `denser` steps further where asked; the densest where none does. */
export function fewestThatKeep(schedules: readonly Schedule[], zones: readonly ZoneNeed[], denser = 0): Schedule {
  const index = schedules.findIndex((schedule) => zones.every((zone) => suits(schedule, zone)));
  return schedules[Math.min(schedules.length - 1, (index < 0 ? schedules.length - 1 : index) + denser)]!;
}

/**
 * Groups zones into at most `maxGroups` programs by how often they need water, the busiest first. Slower groups water on some
 * of the busiest group's days, so that the property's watering days, which a rule may count, do not grow.
 * `denser` asks every group for so many steps more waterings (shorter nights).
 */
export function groupZones(
  zones: readonly ZoneNeed[],
  allowed: AdviceDays,
  maxGroups: number,
  wishes: DayWishes,
  denser = 0,
): ZoneGroup[] {
  if (zones.length === 0) return [];
  const schedules = schedulesOf(allowed, wishes);
  const wanted = zones
    .map((zone) => ({ zone, often: fewestThatKeep(schedules, [zone]).wateringsPerWeek }))
    .sort((a, b) => b.often - a.often || a.zone.station - b.zone.station);
  const buckets: { often: number; zones: ZoneNeed[] }[] = [];
  for (const { zone, often } of wanted) {
    const last = buckets.at(-1);
    if (last && (buckets.length === maxGroups || often * OWN_PROGRAM_RATIO > last.often)) last.zones.push(zone);
    else buckets.push({ often, zones: [zone] });
  }
  const groups: ZoneGroup[] = [];
  for (const bucket of buckets) {
    const busiest = groups[0]?.schedule;
    const within = busiest === undefined ? schedules : schedulesWithin(busiest, wishes, groups);
    const schedule = fewestThatKeep(within, bucket.zones, denser);
    // Groups that came to the same days are one program after all: interleaved, the soaks of one are the runs of another.
    const twin = groups.find((group) => JSON.stringify(group.schedule.days) === JSON.stringify(schedule.days));
    if (twin) twin.zones.push(...bucket.zones);
    else groups.push({ zones: bucket.zones, schedule });
  }
  return groups;
}

/** Zones outside the rule that its days cannot keep: one group on any day. */
export function freeGroup(zones: readonly ZoneNeed[], wishes: DayWishes, denser = 0): ZoneGroup[] {
  return zones.length === 0
    ? []
    : [{ zones: [...zones], schedule: fewestThatKeep(schedulesOf(ALL_DAYS, wishes), zones, denser) }];
}

/** Schedules on the busiest group's days; on others than the groups between where that costs nothing. */
function schedulesWithin(busiest: Schedule, wishes: DayWishes, groups: readonly ZoneGroup[]): Schedule[] {
  if (busiest.days.kind === 'odd' || busiest.days.kind === 'even') return [busiest];
  if (busiest.days.kind === 'interval') {
    // Longer intervals than the busiest one, counted from its own start, so that its days hold theirs.
    const { everyDays, startDate } = busiest.days;
    const longer = everyDays === 14 ? [28] : [];
    return [
      ...longer.map((days): Schedule => ({
        days: { kind: 'interval', everyDays: days, startDate },
        wateringsPerWeek: 7 / days,
        peakDays: days,
      })),
      busiest,
    ];
  }
  const { weekdays } = busiest.days;
  const taken = groups
    .slice(1)
    .flatMap((group) => (group.schedule.days.kind === 'weekdays' ? group.schedule.days.weekdays : []));
  return schedulesOf({ kind: 'weekdays', weekdays, maxDays: weekdays.length }, wishes, taken);
}

/**
 * Days of need missing at the worst moment when every other date brings its mean share. Months of 31 days in a row (July and
 * August, December and January) each leave a gap of three days, and the second comes before the first is made good.
 */
const ALTERNATE_PEAKS = {
  odd: once(() => alternatePeak({ kind: 'odd', monthEnd: 'skip' })),
  even: once(() => alternatePeak({ kind: 'even' })),
};

function alternatePeak(days: WateringDays): number {
  const share = 7 / meanDaysPerWeek(days);
  const waters = dayTest(days);
  const first = dayNumberOfCivil(2000, 3, 1);
  const cycle = 1461;
  let missing = 0;
  let peak = 0;
  // Eight years: the first leap cycle brings the bucket to its rhythm, the second shows its peak.
  for (let day = first; day < first + 2 * cycle; day += 1) {
    if (waters(day)) {
      if (day >= first + cycle) peak = Math.max(peak, missing);
      missing = Math.max(0, missing - share);
    }
    missing += 1;
  }
  return peak;
}

function once(compute: () => number): () => number {
  let value: number | undefined;
  return () => (value ??= compute());
}

/** The first such weekday from a date on; the last one before it where a book takes none so late. */
function firstOnOrAfter(date: string, weekday: number): string {
  const day = dayNumberOf(date, 'fromDate');
  const first = day + ((weekday - weekdayOfDay(day) + 7) % 7);
  return isoDateOf(first > dayNumberOf(LAST_DAY) ? first - 7 : first);
}
