import { MINUTES_PER_DAY } from './day-number.ts';
import { firstForbiddenMinute, type Spell } from './restrictions.ts';

/** Start times people set and remember: multiples of this, where one fits. */
const START_GRID_MINUTES = 5;

/** Where a controller's watering goes in its day. */
export interface NightPlace {
  startMinute: number;
  /** It ends after the hour wished for; there was no earlier room. */
  endsLate: boolean;
}

/**
 * The start for a window of whole minutes: the latest that still ends by `endsByMinute` (less wind and evaporation than in the
 * evening before, leaves dry soon after sunrise) and keeps clear of the forbidden spells; if there is none, the one that ends
 * soonest after that hour. The whole window lies inside one calendar day, so that the day the program names is the day on
 * which all of it runs: that is what a rule of days is judged by. null where no spell of the day is long enough.
 * `windowMinutes` above 0; `endsByMinute` 0 to 1440, 0 meaning the midnight that ends the day.
 */
export function placeWindow(windowMinutes: number, endsByMinute: number, spells: readonly Spell[]): NightPlace | null {
  const endsBy = endsByMinute === 0 ? MINUTES_PER_DAY : endsByMinute;
  const isFree = (start: number) => firstForbiddenMinute(spells, start, start + windowMinutes) === null;
  const latest = Math.floor(endsBy - windowMinutes);
  for (const step of [START_GRID_MINUTES, 1]) {
    for (let start = Math.floor(latest / step) * step; start >= 0; start -= step)
      if (isFree(start)) return { startMinute: start, endsLate: false };
  }
  for (let start = Math.max(0, latest + 1); start + windowMinutes <= MINUTES_PER_DAY; start += 1)
    if (isFree(start)) return { startMinute: start, endsLate: true };
  return null;
}

/** Length of the longest spell of a day in which watering may run, minutes. */
export function longestFreeMinutes(spells: readonly Spell[]): number {
  let longest = 0;
  let from = 0;
  for (const spell of spells) {
    longest = Math.max(longest, spell.fromMinute - from);
    from = spell.toMinute;
  }
  return Math.max(longest, MINUTES_PER_DAY - from);
}
