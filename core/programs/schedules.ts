import type { WateringDays } from '../contract/entities.ts';
import { ALL_DAYS, type AdviceDays } from './advice-days.ts';
import { dayNumberOf, isoDateOf, weekdayOfDay } from './day-number.ts';
import { chooseDays } from './day-choice.ts';
import { meanDaysPerWeek } from './watering-days.ts';
import type { ZoneNeed } from './zone-need.ts';

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
  /** Intervals of weeks count from the first fitting day on or after this date. */
  fromDate: string;
}

/** Weeks between waterings that are still advised; a controller counts at most 31 days. */
const LONG_INTERVAL_WEEKS = [4, 3, 2];
/** Odd or even dates never lie further apart than this (29 to 1 where the 31st is left out, or 30 to 2). */
const ALTERNATE_DATES_MAX_GAP = 3;
/**
 * A zone gets a program of its own when the next busier program would water it 1.5 times as often as it asks: less of a
 * difference is not worth another program for people to look after. Common practice, no source.
 */
const OWN_PROGRAM_RATIO = 1.5;

/** Every schedule that the days allow, fewest waterings first. */
export function schedulesOf(allowed: AdviceDays, wishes: DayWishes, avoid: readonly number[] = []): Schedule[] {
  if (allowed.kind === 'dates') {
    const days: WateringDays = allowed.parity === 'odd' ? { kind: 'odd', monthEnd: 'skip' } : { kind: 'even' };
    return [{ days, wateringsPerWeek: meanDaysPerWeek(days), peakDays: ALTERNATE_DATES_MAX_GAP }];
  }
  const single = chooseDays(allowed.weekdays, 1, wishes.prefer, avoid);
  const schedules: Schedule[] = LONG_INTERVAL_WEEKS.map((weeks) => ({
    days: { kind: 'interval', everyDays: 7 * weeks, startDate: firstOnOrAfter(wishes.fromDate, single.weekdays[0]!) },
    wateringsPerWeek: 1 / weeks, peakDays: 7 * weeks,
  }));
  for (let count = 1; count <= Math.min(allowed.maxDays, allowed.weekdays.length); count += 1) {
    const spread = chooseDays(allowed.weekdays, count, wishes.prefer, avoid);
    schedules.push({ days: { kind: 'weekdays', weekdays: spread.weekdays }, wateringsPerWeek: count, peakDays: spread.peakDays });
  }
  return schedules;
}

/** Does a schedule keep a zone's depletion within what is allowed? */
export function keepsDepletion(schedule: Schedule, zone: ZoneNeed): boolean {
  return schedule.peakDays * zone.dailyNeedInches <= zone.allowedDepletionInches * (1 + 1e-9);
}

/** The schedule with the fewest waterings that does for every zone, `denser` steps further where asked; the densest where none does. */
export function fewestThatKeep(schedules: readonly Schedule[], zones: readonly ZoneNeed[], denser = 0): Schedule {
  const index = schedules.findIndex((schedule) => zones.every((zone) => keepsDepletion(schedule, zone)));
  return schedules[Math.min(schedules.length - 1, (index < 0 ? schedules.length - 1 : index) + denser)]!;
}

/**
 * Groups zones into at most `maxGroups` programs by how often they need water, the busiest first. Slower groups water on some
 * of the busiest group's days, so that the property's watering days, which a rule may count, do not grow.
 * `denser` asks every group for so many steps more waterings (shorter nights).
 */
export function groupZones(zones: readonly ZoneNeed[], allowed: AdviceDays, maxGroups: number, wishes: DayWishes, denser = 0): ZoneGroup[] {
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
    groups.push({ zones: bucket.zones, schedule: fewestThatKeep(within, bucket.zones, denser) });
  }
  return groups;
}

/** Zones outside the rule that its days cannot keep: one group on any day. */
export function freeGroup(zones: readonly ZoneNeed[], wishes: DayWishes, denser = 0): ZoneGroup[] {
  return zones.length === 0 ? [] : [{ zones: [...zones], schedule: fewestThatKeep(schedulesOf(ALL_DAYS, wishes), zones, denser) }];
}

/** Schedules on the busiest group's days; on others than the groups between where that costs nothing. */
function schedulesWithin(busiest: Schedule, wishes: DayWishes, groups: readonly ZoneGroup[]): Schedule[] {
  if (busiest.days.kind === 'odd' || busiest.days.kind === 'even') return [busiest];
  if (busiest.days.kind === 'interval') {
    // Longer intervals than the busiest one, counted from its own start, so that its days hold theirs.
    const { everyDays, startDate } = busiest.days;
    const longer = everyDays === 14 ? [28] : [];
    return [...longer.map((days): Schedule => ({ days: { kind: 'interval', everyDays: days, startDate }, wateringsPerWeek: 7 / days, peakDays: days })), busiest];
  }
  const { weekdays } = busiest.days;
  const taken = groups.slice(1).flatMap((group) => (group.schedule.days.kind === 'weekdays' ? group.schedule.days.weekdays : []));
  return schedulesOf({ kind: 'weekdays', weekdays, maxDays: weekdays.length }, wishes, taken);
}

function firstOnOrAfter(date: string, weekday: number): string {
  const day = dayNumberOf(date, 'fromDate');
  return isoDateOf(day + ((weekday - weekdayOfDay(day) + 7) % 7));
}
