import { Temporal } from 'temporal-polyfill';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ProgramSettings } from '../../core/programs/contract.ts';
import type { WateringDays } from '../../core/contract/parts.ts';
import { clockOfMinutes } from '../../core/dates.ts';
import { expandPrograms, type ProgramOnController, type RunBlock } from '../../core/programs/expand.ts';
import { cycleLengths } from '../../core/programs/start-pattern.ts';
import { scaledMinutes } from '../../core/programs/seasonal.ts';
import { watersOn } from '../../core/programs/watering-days.ts';
import { CONTROLLER, makeProgram, makeZone, run, ulid } from './builders.ts';

const brief = (blocks: RunBlock[]) =>
  blocks.map(
    (block) =>
      `${block.date.slice(5)} ${clockOfMinutes(block.startMinute)} s${block.station}c${block.cycle} ${block.runMinutes}`,
  );

describe('expanding programs', () => {
  test('a plain program: stations in order, one after the other, on its days', () => {
    const zones = [makeZone(2), makeZone(1)];
    const blocks = expandPrograms(
      [makeProgram({ runs: [run(2, 10), run(1, 20)], seasonalPercent: 150 })],
      zones,
      '2026-06-01',
      '2026-06-07',
      1,
    );
    expect(brief(blocks)).toEqual([
      '06-01 05:00 s1c1 30',
      '06-01 05:30 s2c1 15',
      '06-04 05:00 s1c1 30',
      '06-04 05:30 s2c1 15',
    ]);
  });

  test('while zone 1 soaks, zone 2 runs; the controller idles only when all soak', () => {
    const zones = [makeZone(1), makeZone(2)];
    const blocks = expandPrograms(
      [makeProgram({ runs: [run(1, 12, 5, 10), run(2, 6, 4, 3)] })],
      zones,
      '2026-06-01',
      '2026-06-01',
      1,
    );
    // 0-5 zone 1; 5-9 zone 2; idle to 12; 12-14 zone 2; idle to 15; 15-20 zone 1; idle to 30; 30-32 zone 1.
    expect(brief(blocks)).toEqual([
      '06-01 05:00 s1c1 5',
      '06-01 05:05 s2c1 4',
      '06-01 05:12 s2c2 2',
      '06-01 05:15 s1c2 5',
      '06-01 05:30 s1c3 2',
    ]);
    expect(blocks.map((block) => block.soakAfterMinutes)).toEqual([10, 3, 0, 10, 0]);
  });

  test('a start that falls while another runs waits, and goes past midnight into the next day', () => {
    const zones = [makeZone(1), makeZone(2)];
    const a = makeProgram({
      days: { kind: 'weekdays', weekdays: [7] },
      startTimes: ['23:30', '23:45'],
      runs: [run(1, 25)],
    });
    const b = makeProgram(
      { days: { kind: 'weekdays', weekdays: [7] }, startTimes: ['23:40'], runs: [run(2, 10)] },
      { programId: ulid(701), name: 'B' },
    );
    const blocks = expandPrograms([a, b], zones, '2026-06-07', '2026-06-08', 1);
    expect(brief(blocks)).toEqual(['06-07 23:30 s1c1 25', '06-07 23:55 s2c1 10', '06-08 00:05 s1c1 25']);
    expect(blocks.map((block) => [block.startedBy, block.waitedMinutes])).toEqual([
      ['23:30', 0],
      ['23:40', 15],
      ['23:45', 20],
    ]);
    // Asked for Monday alone, what Sunday left over is there all the same.
    expect(brief(expandPrograms([a, b], zones, '2026-06-08', '2026-06-08', 1))).toEqual(['06-08 00:05 s1c1 25']);
  });

  test('off programs, off zones, zones of other controllers and retired zones do not run', () => {
    const zones = [makeZone(1), makeZone(2, { retired: true }), makeZone(3, { controllerId: ulid(901) })];
    const program = makeProgram({ runs: [run(1, 0), run(2, 10), run(3, 10)] });
    expect(expandPrograms([program], zones, '2026-06-01', '2026-06-30', 1)).toEqual([]);
    expect(
      expandPrograms([makeProgram({ enabled: false, runs: [run(1, 10)] })], zones, '2026-06-01', '2026-06-30', 1),
    ).toEqual([]);
    expect(
      expandPrograms([makeProgram({ seasonalPercent: 0, runs: [run(1, 10)] })], zones, '2026-06-01', '2026-06-30', 1),
    ).toEqual([]);
  });

  test('two controllers run side by side', () => {
    const zones = [makeZone(1), makeZone(2, { controllerId: ulid(901) })];
    const blocks = expandPrograms(
      [makeProgram({ runs: [run(1, 10)] }), makeProgram({ runs: [run(2, 10)] }, { controllerId: ulid(901) })],
      zones,
      '2026-06-01',
      '2026-06-01',
      1,
    );
    expect(blocks.map((block) => block.startMinute)).toEqual([300, 300]);
  });

  test('refuses a range that ends before it begins', () => {
    expect(() => expandPrograms([], [], '2026-06-02', '2026-06-01', 1)).toThrow(
      expect.objectContaining({ code: 'bad-input', field: 'to' }),
    );
  });

  test('splits a run into full cycles and the rest', () => {
    expect(cycleLengths(20, 6)).toEqual([6, 6, 6, 2]);
    expect(cycleLengths(18, 6)).toEqual([6, 6, 6]);
    expect(cycleLengths(6, 6)).toEqual([6]);
    expect(cycleLengths(20, null)).toEqual([20]);
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 720, noNaN: true }),
        fc.integer({ min: 1, max: 720 }),
        (minutes, cycle) => {
          const lengths = cycleLengths(minutes, cycle);
          expect(lengths.reduce((sum, length) => sum + length, 0)).toBeCloseTo(minutes, 4);
          expect(Math.max(...lengths)).toBeLessThanOrEqual(cycle + 1e-6);
        },
      ),
    );
  });
});

// ---- properties ----------------------------------------------------------------
const days: fc.Arbitrary<WateringDays> = fc.oneof(
  fc.uniqueArray(fc.integer({ min: 1, max: 7 })).map((weekdays) => ({ kind: 'weekdays' as const, weekdays })),
  fc.constantFrom('water' as const, 'skip' as const).map((monthEnd) => ({ kind: 'odd' as const, monthEnd })),
  fc.constant({ kind: 'even' as const }),
  fc.record({
    kind: fc.constant('interval' as const),
    everyDays: fc.integer({ min: 1, max: 9 }),
    startDate: fc.constantFrom('2024-02-20', '2024-02-29'),
  }),
);
const settings: fc.Arbitrary<ProgramSettings> = fc.record({
  days,
  startTimes: fc.uniqueArray(fc.integer({ min: 0, max: 1439 }).map(clockOfMinutes), { maxLength: 3 }),
  seasonalPercent: fc.integer({ min: 0, max: 200 }),
  runs: fc
    .uniqueArray(
      fc.tuple(
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 0, max: 60 }),
        fc.option(fc.integer({ min: 3, max: 25 })),
        fc.option(fc.integer({ min: 0, max: 50 })),
      ),
      { selector: (item) => item[0] },
    )
    .map((items) => items.map(([zone, minutes, cycle, soak]) => run(zone, minutes, cycle, soak))),
  enabled: fc.integer({ min: 0, max: 5 }).map((number) => number > 0),
});
const programs = fc.array(settings, { minLength: 1, maxLength: 3 }).map((list) =>
  list.map((item, index): ProgramOnController => ({
    programId: ulid(700 + index),
    controllerId: CONTROLLER,
    name: 'ABC'[index]!,
    settings: item,
  })),
);
const fiveZones = [1, 2, 3, 4, 5].map((number) => makeZone(number));
const FROM = '2024-02-24';
const TO = '2024-03-03';

/**
 * The controller again, as a clock that ticks minute by minute and knows only what it is doing now. Written apart from the
 * expander on purpose: no pattern, no arithmetic on offsets, dates from Temporal.
 */
function tick(list: ProgramOnController[], from: string, to: string): string[] {
  type Job = {
    program: ProgramOnController;
    zones: { zone: number; left: number; cycle: number | null; soak: number; soakedAt: number; number: number }[];
    turn: number;
  };
  const waiting: Job[] = [];
  const log: string[] = [];
  let job: Job | undefined;
  let valve: { zone: Job['zones'][number]; openUntil: number } | undefined;
  const begin = Temporal.PlainDate.from(from).subtract({ days: 35 });
  const end = Temporal.PlainDate.from(to).add({ days: 1 });
  const minutes = begin.until(end, { largestUnit: 'day' }).days * 1440;
  let today = begin;
  for (let now = 0; now < minutes; now += 1) {
    if (now > 0 && now % 1440 === 0) today = today.add({ days: 1 });
    const clock = `${String(Math.floor((now % 1440) / 60)).padStart(2, '0')}:${String(now % 60).padStart(2, '0')}`;
    for (const program of list) {
      if (
        !program.settings.enabled ||
        !program.settings.startTimes.includes(clock) ||
        !watersOn(program.settings.days, today.toString())
      )
        continue;
      const zones = program.settings.runs
        .map((item) => ({
          zone: Number(item.zoneId),
          left: scaledMinutes(item.runMinutes, program.settings.seasonalPercent, 1),
          cycle: item.cycleMinutes,
          soak: item.soakMinutes ?? 0,
          soakedAt: 0,
          number: 0,
        }))
        .filter((item) => item.left > 0)
        .sort((a, b) => a.zone - b.zone);
      if (zones.length > 0) waiting.push({ program, zones, turn: 0 });
    }
    if (valve && valve.openUntil === now) valve = undefined;
    if (!valve && job && job.zones.every((zone) => zone.left === 0)) job = undefined;
    if (!job && !valve) job = waiting.shift();
    if (job && !valve) {
      const order = [...job.zones.slice(job.turn), ...job.zones.slice(0, job.turn)];
      const zone = order.find((item) => item.left > 0 && item.soakedAt <= now);
      if (zone) {
        const length = Math.min(zone.cycle ?? Infinity, zone.left);
        zone.left -= length;
        zone.number += 1;
        zone.soakedAt = now + length + zone.soak;
        job.turn = job.zones.indexOf(zone) + 1;
        valve = { zone, openUntil: now + length };
        if (today.toString() >= from)
          log.push(`${today.toString()} ${now % 1440} ${job.program.name} z${zone.zone} c${zone.number} ${length}`);
      }
    }
  }
  return log;
}

describe('expanding programs: properties', () => {
  test('agrees with a controller simulated minute by minute', () => {
    let blocksSeen = 0;
    let waits = 0;
    fc.assert(
      fc.property(programs, (list) => {
        const blocks = expandPrograms(list, fiveZones, FROM, TO, 1);
        blocksSeen += blocks.length;
        waits += blocks.filter((block) => block.waitedMinutes > 0).length;
        expect(
          blocks.map(
            (block) =>
              `${block.date} ${block.startMinute} ${list.find((item) => item.programId === block.programId)!.name} z${block.station} c${block.cycle} ${block.runMinutes}`,
          ),
        ).toEqual(tick(list, FROM, TO));
      }),
      { numRuns: 120 },
    );
    // The comparison is worth something only if there was something to compare.
    expect(blocksSeen).toBeGreaterThan(1000);
    expect(waits).toBeGreaterThan(50);
  });

  test('blocks of one controller never overlap, soaks are kept, minutes are conserved', () => {
    fc.assert(
      fc.property(programs, (list) => {
        const blocks = expandPrograms(list, fiveZones, '2024-01-01', '2024-12-31', 1);
        const absolute = blocks.map(
          (block) =>
            Temporal.PlainDate.from('2024-01-01').until(Temporal.PlainDate.from(block.date), { largestUnit: 'day' })
              .days *
              1440 +
            block.startMinute,
        );
        for (let i = 1; i < blocks.length; i += 1)
          expect(absolute[i]!).toBeGreaterThanOrEqual(absolute[i - 1]! + blocks[i - 1]!.runMinutes - 1e-6);
        // Complete runs carry the scaled minutes exactly, cycle by cycle.
        const openRuns = new Map<string, number>();
        for (const block of blocks) {
          const item = list.find((program) => program.programId === block.programId)!;
          const set = item.settings.runs.find((entry) => entry.zoneId === block.zoneId)!;
          const key = `${block.programId} ${block.zoneId}`;
          if (block.cycle > 1 && !openRuns.has(key)) continue; // began before the range
          const sum = (block.cycle === 1 ? 0 : openRuns.get(key)!) + block.runMinutes;
          openRuns.set(key, sum);
          if (block.cycle === block.cycles)
            expect(sum).toBeCloseTo(scaledMinutes(set.runMinutes, item.settings.seasonalPercent, 1), 6);
          else expect(block.soakAfterMinutes).toBeGreaterThanOrEqual((set.soakMinutes ?? 0) - 1e-6);
        }
      }),
      { numRuns: 40 },
    );
  });

  test('a year is its weeks put together', () => {
    fc.assert(
      fc.property(programs, (list) => {
        const whole = expandPrograms(list, fiveZones, '2024-02-05', '2024-03-03', 1);
        const weeks = ['2024-02-05', '2024-02-12', '2024-02-19', '2024-02-26'].flatMap((monday, index) =>
          expandPrograms(list, fiveZones, monday, ['2024-02-11', '2024-02-18', '2024-02-25', '2024-03-03'][index]!, 1),
        );
        // Programs that ask for more than 24 hours a day are behind for ever; how far depends on where one looks back from.
        const busy = whole.some((block) => block.waitedMinutes > 1440);
        if (!busy) expect(weeks).toEqual(whole);
      }),
      { numRuns: 60 },
    );
  });
});
