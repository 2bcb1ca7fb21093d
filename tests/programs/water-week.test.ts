import { describe, expect, test } from 'vitest';
import { waterWeekSchema } from '../../core/programs/contract.ts';
import type { RuleInForce } from '../../core/programs/restrictions.ts';
import { buildWaterWeek, holdBands } from '../../core/programs/water-week.ts';
import { makeProgram, makeStage, makeZone, run, ulid } from './builders.ts';

const rule: RuleInForce = {
  restrictionName: 'Mill Creek water',
  parity: 'odd',
  stage: makeStage({
    dayRule: { kind: 'weekdays', oddAddress: [3, 6], evenAddress: [] },
    forbiddenHours: [{ from: '20:00', to: '04:00' }],
  }),
};

describe('the water week', () => {
  const zones = [
    makeZone(2, { name: 'Hedge', emissionDevice: 'drip-line', flowGpm: null }),
    makeZone(1, { name: 'Front lawn' }),
    makeZone(3, { retired: true }),
  ];
  const programs = [
    makeProgram({
      days: { kind: 'weekdays', weekdays: [3, 7] },
      startTimes: ['23:50'],
      runs: [run(1, 20, 15, 5), run(2, 30)],
    }),
  ];

  test('seven days from Monday with blocks, hatching, totals and breaches, as the contract has it', () => {
    const week = buildWaterWeek({
      programs,
      zones,
      rule,
      date: '2026-06-04',
      stepMinutes: 1,
      sunriseOf: (date) => (date === '2026-06-01' ? 330 : null),
    });
    waterWeekSchema.parse(week);
    expect(week.weekStart).toBe('2026-06-01');
    expect(week.days.map((day) => day.weekday)).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(week.days.map((day) => day.forbiddenAllDay)).toEqual([true, true, false, true, true, false, true]);
    expect(week.days[0]!.forbidden).toEqual([
      { fromMinute: 0, toMinute: 240 },
      { fromMinute: 1200, toMinute: 1440 },
    ]);
    expect(week.days.map((day) => day.sunriseMinute)).toEqual([330, null, null, null, null, null, null]);
    // Wednesday 23:50 zone 1 (15 min), then past midnight: hedge 30, the rest of zone 1.
    expect(week.days[2]!.blocks).toEqual([
      {
        zoneId: ulid(1),
        station: 1,
        zoneName: 'Front lawn',
        programName: 'A',
        startMinute: 1430,
        runMinutes: 15,
        cycle: 1,
        soakAfterMinutes: 30,
      },
    ]);
    expect(week.days[3]!.blocks.map((block) => [block.station, block.startMinute, block.runMinutes])).toEqual([
      [2, 5, 30],
      [1, 35, 5],
    ]);
    // Sunday's first block is in this week; what follows midnight belongs to the next. Last Sunday's is on Monday.
    expect(week.days[0]!.blocks.map((block) => [block.station, block.startMinute])).toEqual([
      [2, 5],
      [1, 35],
    ]);
    expect(week.totals).toEqual([
      { zoneId: ulid(1), station: 1, zoneName: 'Front lawn', minutesPerWeek: 40, runsPerWeek: 2, gallonsPerWeek: 400 },
      { zoneId: ulid(2), station: 2, zoneName: 'Hedge', minutesPerWeek: 60, runsPerWeek: 2, gallonsPerWeek: null },
    ]);
    // Last Sunday's run goes on past midnight into Monday, which is forbidden.
    expect(
      week.breaches
        .filter((breach) => breach.code === 'forbidden-day')
        .map((breach) => [breach.date, breach.startMinute]),
    ).toEqual([
      ['2026-06-01', 1430],
      ['2026-06-01', 35],
      ['2026-06-04', 1430],
      ['2026-06-04', 35],
      ['2026-06-07', 1430],
    ]);
    expect(week.breaches.some((breach) => breach.code === 'forbidden-hours')).toBe(true);
  });

  test('totals stand by controller, then by station', () => {
    const [first, second] = [ulid(901), ulid(902)];
    const many = [
      makeZone(1, { controllerId: second, station: 2 }),
      makeZone(2, { controllerId: first, station: 3 }),
      makeZone(3, { controllerId: second, station: 1 }),
      makeZone(4, { controllerId: first, station: 2 }),
    ];
    const all = [many, many.toReversed(), [many[1]!, many[0]!, many[3]!, many[2]!]];
    for (const some of all)
      expect(
        buildWaterWeek({ programs: [], zones: some, rule: null, date: '2026-06-04', stepMinutes: 1 }).totals.map(
          (total) => [total.zoneId, total.station],
        ),
      ).toEqual([
        [ulid(4), 2],
        [ulid(2), 3],
        [ulid(3), 1],
        [ulid(1), 2],
      ]);
  });

  test('no hatching without a rule, nor where every zone is outside it', () => {
    expect(
      buildWaterWeek({ programs, zones, rule: null, date: '2026-06-04', stepMinutes: 1 }).days.every(
        (day) => !day.forbiddenAllDay && day.forbidden.length === 0,
      ),
    ).toBe(true);
    expect(
      buildWaterWeek({ programs: [], zones: [zones[0]!], rule, date: '2026-06-04', stepMinutes: 1 }).days.every(
        (day) => !day.forbiddenAllDay,
      ),
    ).toBe(true);
  });

  test('holds make bands on their days; one without an end goes on', () => {
    const bands = holdBands(
      [
        { from: { date: '2026-05-31', minute: 1200 }, to: { date: '2026-06-02', minute: 360 }, label: 'freeze' },
        { from: { date: '2026-06-06', minute: 720 }, to: null, label: 'rain' },
      ],
      '2026-06-01',
    );
    expect(bands).toEqual([
      [{ fromMinute: 0, toMinute: 1440, label: 'freeze' }],
      [{ fromMinute: 0, toMinute: 360, label: 'freeze' }],
      [],
      [],
      [],
      [{ fromMinute: 720, toMinute: 1440, label: 'rain' }],
      [{ fromMinute: 0, toMinute: 1440, label: 'rain' }],
    ]);
  });
});
