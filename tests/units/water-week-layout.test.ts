import { describe, expect, it } from 'vitest';
import { assignLanes, forbiddenSpells, hourStep, weekScale } from '../../renderer/charts/water-week-layout.ts';
import type { WaterWeek } from '../../core/programs/contract.ts';

type Day = WaterWeek['days'][number];
const block = (startMinute: number, runMinutes: number, station = 1): Day['blocks'][number] => ({
  zoneId: `zone-${station}`,
  station,
  zoneName: '',
  programName: 'A',
  startMinute,
  runMinutes,
  cycle: 1,
  soakAfterMinutes: 0,
});
const day = (index: number, part: Partial<Day>): Day => ({
  date: `2026-09-${28 + index}`,
  weekday: index + 1,
  blocks: [],
  forbidden: [],
  forbiddenAllDay: false,
  sunriseMinute: null,
  ...part,
});
const week = (...days: Array<Partial<Day>>): WaterWeek => ({
  weekStart: '2026-09-28',
  days: days.map((part, index) => day(index, part)),
  totals: [],
  breaches: [],
});

describe('the scale of a water week', () => {
  it('stretches the hours in use', () => {
    const scale = weekScale([week({ blocks: [block(240, 30), block(270, 95)] })]);
    expect(scale.from).toBeLessThanOrEqual(240);
    expect(scale.to).toBeGreaterThanOrEqual(365);
    expect(scale.to - scale.from).toBeLessThan(720);
  });
  it('is one for all weeks compared, so that nothing of either falls outside', () => {
    const before = week({ blocks: [block(240, 60)] });
    const after = week({ blocks: [block(60, 30), block(420, 60)] });
    const scale = weekScale([before, after]);
    expect(scale.from).toBeLessThanOrEqual(60);
    expect(scale.to).toBeGreaterThanOrEqual(480);
    expect(weekScale([after, before])).toEqual(scale);
  });
  it('goes from midnight to midnight when runs are spread over the day, and past it when a run does', () => {
    expect(weekScale([week({ blocks: [block(60, 30), block(1200, 30)] })])).toEqual({ from: 0, to: 1440 });
    expect(weekScale([week({ blocks: [block(60, 30), block(1380, 120)] })]).to).toBeGreaterThanOrEqual(1500);
    expect(weekScale([week({})])).toEqual({ from: 0, to: 1440 });
  });
  it('shows a sunrise that follows soon after the runs', () => {
    expect(weekScale([week({ blocks: [block(240, 60)], sunriseMinute: 415 })]).to).toBeGreaterThanOrEqual(415);
  });
  it('marks fewer hours where there is less room', () => {
    const scale = { from: 0, to: 1440 };
    expect(hourStep(scale, 1400)).toBe(1);
    expect(hourStep(scale, 300)).toBeGreaterThan(hourStep(scale, 700));
  });
});

describe('lanes', () => {
  it('keeps runs that follow each other in one lane and gives those at the same time their own', () => {
    expect(assignLanes([block(0, 10), block(10, 10)]).lanes).toBe(1);
    const blocks = [block(0, 30, 1), block(10, 30, 2), block(35, 10, 3)];
    const { lanes, laneOf } = assignLanes(blocks);
    expect(lanes).toBe(2);
    for (const a of blocks) {
      for (const b of blocks) {
        if (a !== b && laneOf.get(a) === laneOf.get(b))
          expect(a.startMinute + a.runMinutes <= b.startMinute || b.startMinute + b.runMinutes <= a.startMinute).toBe(
            true,
          );
      }
    }
  });
});

describe('forbidden hours', () => {
  it('are cut to the hours drawn', () => {
    const { days } = week({ forbidden: [{ fromMinute: 600, toMinute: 1080 }] }, {});
    expect(forbiddenSpells(days, 0, { from: 120, to: 720 })).toEqual([{ from: 600, to: 720 }]);
    expect(forbiddenSpells(days, 0, { from: 120, to: 480 })).toEqual([]);
    expect(forbiddenSpells(days, 1, { from: 120, to: 720 })).toEqual([]);
  });
  it('take in the next day where a row reaches into it', () => {
    const { days } = week({}, { forbiddenAllDay: true });
    expect(forbiddenSpells(days, 0, { from: 1200, to: 1560 })).toEqual([{ from: 1440, to: 1560 }]);
    expect(forbiddenSpells(days, 1, { from: 0, to: 1440 })).toEqual([{ from: 0, to: 1440 }]);
  });
});
