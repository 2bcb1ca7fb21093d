import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { WateringDays } from '../../core/contract/parts.ts';
import { expandPrograms } from '../../core/programs/expand.ts';
import { meanWeeks, weeklyMinutes, yearlyRuns, zoneTotals } from '../../core/programs/totals.ts';
import { makeProgram, makeZone, run, ulid } from './builders.ts';

describe('totals', () => {
  test('a week: minutes, runs (not cycles), gallons by flow', () => {
    const zones = [makeZone(1, { flowGpm: 12.5 }), makeZone(2, { flowGpm: null }), makeZone(3)];
    const blocks = expandPrograms(
      [makeProgram({ runs: [run(1, 12, 5, 10), run(2, 6)] })],
      zones,
      '2026-06-01',
      '2026-06-07',
      1,
    );
    expect(weeklyMinutes(blocks).get(ulid(1))).toBe(24);
    expect(zoneTotals(blocks, zones)).toEqual([
      { zoneId: ulid(1), minutes: 24, runs: 2, gallons: 300 },
      { zoneId: ulid(2), minutes: 12, runs: 2, gallons: null },
      { zoneId: ulid(3), minutes: 0, runs: 0, gallons: 0 },
    ]);
  });

  test('a year: odd dates 179 + 7 days in a common year when the 31sts are kept', () => {
    const program = makeProgram({ days: { kind: 'odd', monthEnd: 'water' }, runs: [run(1, 10)] });
    expect(yearlyRuns([program], [makeZone(1)], 2025, 1)[0]).toMatchObject({
      runs: 186,
      minutes: 1860,
      gallons: 18_600,
    });
    expect(yearlyRuns([program], [makeZone(1)], 2024, 1)[0]).toMatchObject({ runs: 187 });
    expect(
      yearlyRuns(
        [makeProgram({ days: { kind: 'odd', monthEnd: 'skip' }, runs: [run(1, 10)] })],
        [makeZone(1)],
        2024,
        1,
      )[0],
    ).toMatchObject({ runs: 179 });
  });

  test('the mean week is the expanded time divided by its weeks, for any mix of programs', () => {
    const mixed: WateringDays[] = [
      { kind: 'weekdays', weekdays: [1, 3] },
      { kind: 'weekdays', weekdays: [3, 6] },
      { kind: 'even' },
      { kind: 'odd', monthEnd: 'skip' },
      { kind: 'interval', everyDays: 3, startDate: '2020-01-01' },
    ];
    const days = fc.constantFrom(...mixed);
    const weeks = 1461 / 7;
    fc.assert(
      fc.property(days, days, fc.integer({ min: 0, max: 200 }), (one, two, percent) => {
        const programs = [
          makeProgram({ days: one, runs: [run(1, 9), run(2, 5)], startTimes: ['04:00', '05:00'] }),
          makeProgram(
            { days: two, runs: [run(1, 7)], seasonalPercent: percent, startTimes: ['06:00'] },
            { programId: ulid(701), name: 'B' },
          ),
        ];
        const zones = [makeZone(1), makeZone(2)];
        const blocks = expandPrograms(programs, zones, '2024-01-01', '2027-12-31', 1).filter(
          (block) => block.zoneId === ulid(1),
        );
        const mean = meanWeeks(programs, zones, 1).get(ulid(1))!;
        expect(mean.minutesPerWeek / (blocks.reduce((sum, block) => sum + block.runMinutes, 0) / weeks)).toBeCloseTo(
          1,
          2,
        );
        expect(mean.daysPerWeek / (new Set(blocks.map((block) => block.date)).size / weeks)).toBeCloseTo(1, 2);
        expect(mean.runsPerWeek / (blocks.length / weeks)).toBeCloseTo(1, 2);
      }),
      { numRuns: 30 },
    );
    expect(
      meanWeeks([makeProgram({ runs: [run(1, 20)], seasonalPercent: 150 })], [makeZone(1)], 1).get(ulid(1)),
    ).toMatchObject({ setMinutes: 20, runMinutes: 30, minutesPerWeek: 60, daysPerWeek: 2, programNames: ['A'] });
  });
});
