import type { WaterWeek } from '../../core/programs/contract.ts';

// Where things stand in a water week; kept apart from the drawing so that two weeks can share one scale.

/** The hours drawn, in minutes from midnight of each row's day; `to` may lie in the next day. */
export interface WeekScale {
  from: number;
  to: number;
}

type Day = WaterWeek['days'][number];
export type Block = Day['blocks'][number];

/** One scale for any number of weeks: the hours in use, stretched when they are a part of the day; else midnight to midnight. */
export function weekScale(weeks: readonly WaterWeek[]): WeekScale {
  let first = Infinity;
  let last = -Infinity;
  for (const week of weeks) {
    for (const day of week.days) {
      for (const block of day.blocks) {
        first = Math.min(first, block.startMinute);
        last = Math.max(last, block.startMinute + block.runMinutes);
      }
    }
  }
  if (first > last) return { from: 0, to: 1440 };
  const sunrise = weeks[0]?.days[0]?.sunriseMinute;
  // Sunrise near the end of the runs says whether they end before the wind and the sun.
  if (sunrise !== null && sunrise !== undefined && sunrise > last && sunrise - last < 150) last = sunrise + 10;
  let from = Math.max(0, Math.floor((first - 20) / 60) * 60);
  let to = Math.ceil((last + 20) / 60) * 60;
  if (to - from > 15 * 60) return { from: 0, to: Math.max(1440, to) };
  if (to - from < 240) {
    from = Math.max(0, from - 60);
    to = Math.max(to, from + 240);
  }
  return { from, to };
}

/** Hours between the marks on the time axis. */
export function hourStep(scale: WeekScale, width: number): number {
  const hours = (scale.to - scale.from) / 60;
  const room = Math.max(2, Math.floor(width / 58));
  return [1, 2, 3, 4, 6].find((step) => hours / step <= room) ?? 6;
}

/** Gives runs that happen at the same time (two controllers) lanes of their own. */
export function assignLanes(blocks: readonly Block[]): { laneOf: Map<Block, number>; lanes: number } {
  const ends: number[] = [];
  const laneOf = new Map<Block, number>();
  for (const block of [...blocks].sort((a, b) => a.startMinute - b.startMinute || a.station - b.station)) {
    let lane = ends.findIndex((end) => end <= block.startMinute + 1e-6);
    if (lane === -1) lane = ends.length;
    ends[lane] = block.startMinute + block.runMinutes;
    laneOf.set(block, lane);
  }
  return { laneOf, lanes: Math.max(1, ends.length) };
}

/** Spells when spray may not run in a row's hours, the next day's included when the row reaches into it. */
export function forbiddenSpells(
  days: readonly Day[],
  index: number,
  scale: WeekScale,
): Array<{ from: number; to: number }> {
  const spells: Array<{ from: number; to: number }> = [];
  const add = (day: Day | undefined, shift: number) => {
    if (day === undefined) return;
    const raw = day.forbiddenAllDay ? [{ fromMinute: 0, toMinute: 1440 }] : day.forbidden;
    for (const spell of raw) {
      const from = Math.max(scale.from, spell.fromMinute + shift);
      const to = Math.min(scale.to, Math.min(spell.toMinute, 1440) + shift);
      if (to > from) spells.push({ from, to });
    }
  };
  add(days[index], 0);
  if (scale.to > 1440) add(days[index + 1], 1440);
  return spells;
}
