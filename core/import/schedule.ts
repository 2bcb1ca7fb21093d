import type { WateringDays } from '../contract/parts.ts';
import { isBlank } from './cell-values.ts';
import { fact, type Fact } from '../text/say.ts';

const DAY_NAMES: Record<string, number> = {
  mo: 1,
  mon: 1,
  monday: 1,
  m: 1,
  tu: 2,
  tue: 2,
  tues: 2,
  tuesday: 2,
  we: 3,
  wed: 3,
  weds: 3,
  wednesday: 3,
  w: 3,
  th: 4,
  thu: 4,
  thur: 4,
  thurs: 4,
  thursday: 4,
  r: 4,
  fr: 5,
  fri: 5,
  friday: 5,
  f: 5,
  sa: 6,
  sat: 6,
  saturday: 6,
  su: 7,
  sun: 7,
  sunday: 7,
  u: 7,
};

/** Watering days as people write them; null = not said, undefined = not understood. */
export function readWateringDays(text: string, startDate: string): WateringDays | null | undefined {
  const words = text.toLowerCase().trim();
  if (isBlank(words)) return null;
  if (/^(daily|every ?day|all( days)?|7 days?( a week)?)$/.test(words))
    return { kind: 'weekdays', weekdays: [1, 2, 3, 4, 5, 6, 7] };
  if (/^(odd|odd days?|odd dates?)$/.test(words)) return { kind: 'odd', monthEnd: 'skip' };
  if (/^(even|even days?|even dates?)$/.test(words)) return { kind: 'even' };
  if (/^every (other|second|2nd) day$/.test(words)) return { kind: 'interval', everyDays: 2, startDate };
  const interval =
    /^(?:every|interval:?)\s*(\d{1,2})\s*(?:days?|d)?$/.exec(words) ?? /^(\d{1,2})[- ]day interval$/.exec(words);
  if (interval) {
    const everyDays = Number(interval[1]);
    return everyDays >= 1 && everyDays <= 31 ? { kind: 'interval', everyDays, startDate } : undefined;
  }
  const days = new Set<number>();
  const parts = words.split(/[\s,;/&+.-]+|\band\b/).filter((part) => part !== '' && part !== 'and');
  for (const part of parts) {
    const day = DAY_NAMES[part];
    if (day !== undefined && Object.hasOwn(DAY_NAMES, part)) days.add(day);
    else if (/^(?:su|sa|th|tu|[mtwrfsu])+$/.test(part)) {
      for (const letters of part.match(/su|sa|th|tu|[mtwrfsu]/g) ?? []) {
        // A lone "t" is Tuesday and a lone "s" Saturday, as on the buttons of a controller.
        days.add(letters === 't' ? 2 : letters === 's' ? 6 : DAY_NAMES[letters]!);
      }
    } else return undefined;
  }
  return days.size === 0 ? undefined : { kind: 'weekdays', weekdays: [...days].sort((a, b) => a - b) };
}

/** Start times such as "5:00 AM; 6:30", "0500", "5am". */
export function readStartTimes(text: string): { ok: true; times: string[] } | { ok: false; reason: Fact } {
  if (isBlank(text)) return { ok: true, times: [] };
  const times = new Set<string>();
  for (const part of text.split(/\s*(?:[,;/&\n]|\band\b)\s*/i)) {
    if (part.trim() === '') continue;
    const match = /^(\d{1,2})(?::?(\d{2}))?(?::\d{2})?\s*([ap])?\.?m?\.?$/i.exec(part.trim());
    let hour = match ? Number(match[1]) : 99;
    const minute = match?.[2] ? Number(match[2]) : 0;
    const half = match?.[3]?.toLowerCase();
    if (half && (hour < 1 || hour > 12)) hour = 99;
    if (half === 'p' && hour < 12) hour += 12;
    if (half === 'a' && hour === 12) hour = 0;
    if (hour > 23 || minute > 59) return { ok: false, reason: fact('import.why.badStart') };
    times.add(`${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`);
  }
  if (times.size > 8) return { ok: false, reason: fact('import.why.manyStarts') };
  return { ok: true, times: [...times].sort() };
}
