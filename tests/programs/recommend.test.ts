import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { programSettingsSchema } from '../../core/programs/contract.ts';
import type { RestrictionStage } from '../../core/settings/contract.ts';
import { minutesOfClock } from '../../core/dates.ts';
import { checkProgram } from '../../core/programs/check-program.ts';
import { expandPrograms, type ProgramOnController, type RunBlock } from '../../core/programs/expand.ts';
import { recommend, type Recommendation, type RecommendInput } from '../../core/programs/recommend.ts';
import type { RuleInForce } from '../../core/programs/restrictions.ts';
import { seasonalTable } from '../../core/programs/seasonal-table.ts';
import type { ZoneNeed } from '../../core/programs/zone-need.ts';
import { zoneRun } from '../../core/programs/zone-run.ts';
import { CONTROLLER, makeProgram, makeStage, makeZone, run, ulid } from './builders.ts';

function need(number: number, changes: Partial<ZoneNeed> = {}): ZoneNeed {
  return {
    zoneId: ulid(number),
    controllerId: CONTROLLER,
    station: number,
    zoneName: `Zone ${number}`,
    emissionDevice: 'pop-up-spray',
    flowGpm: 10,
    dailyNeedInches: 0.2,
    prInchesPerHour: 1.5,
    prHow: { key: 'rate.entered' },
    distributionUniformity: 0.7,
    allowedDepletionInches: 0.5,
    longestCycleMinutes: null,
    soakPerCycleMinute: 0,
    ...changes,
  };
}

function input(zones: ZoneNeed[], changes: Partial<RecommendInput> = {}): RecommendInput {
  return {
    zones,
    programs: [],
    rule: null,
    settings: { waterEndsBy: '07:00', roundToMinutes: 1 },
    fromDate: '2026-06-03',
    ...changes,
  };
}

const rule = (changes: Partial<RestrictionStage>, parity: RuleInForce['parity'] = 'odd'): RuleInForce => ({
  restrictionName: 'Mill Creek water',
  stage: makeStage(changes),
  parity,
});

/** The advice run through the expander, as a controller would. */
function blocksOf(advice: Recommendation, zones: ZoneNeed[], from: string, to: string, step = 1): RunBlock[] {
  const programs = advice.programs.map((program, index): ProgramOnController => ({
    programId: program.programId ?? ulid(500 + index),
    controllerId: program.controllerId,
    name: program.name,
    settings: program.settings,
  }));
  return expandPrograms(
    programs,
    zones.map((zone) => makeZone(zone.station, { id: zone.zoneId, controllerId: zone.controllerId })),
    from,
    to,
    step,
  );
}

describe('the recommender', () => {
  test('days: the fewest that keep depletion in bounds, evenly spread; minutes by need, rate and uniformity', () => {
    // 0.5 in / 0.2 in a day = 2.5 days: gaps of 2 do (three of them in a row peak at 2.5 days of need), gaps of 3 do not.
    const advice = recommend(input([need(1)]));
    expect(advice.programs).toHaveLength(1);
    expect(advice.programs[0]!.settings.days).toEqual({ kind: 'weekdays', weekdays: [1, 2, 4, 6] });
    // 1.4 in / 4 = 0.35 in; 60 × 0.35 / 1.5 = 14 min; × 1 / (0.4 + 0.6 × 0.7) = 17.07 → 17 min.
    expect(advice.zones[0]).toMatchObject({
      runMinutes: 17,
      daysPerWeek: 4,
      minutesPerWeek: 68,
      gallonsPerWeek: 680,
      cycles: 1,
    });
    expect(advice.zones[0]!.lowerMinutes).toBeCloseTo(14, 9);
    expect(advice.zones[0]!.upperMinutes).toBeCloseTo(14 / 0.82, 9);
    expect(advice.programs[0]!.settings.startTimes).toEqual(['06:40']);
    expect(advice.findings).toEqual([]);
    // A deeper soil: 0.85 in / 0.2 = 4.25 days, twice a week at opposite ends.
    expect(recommend(input([need(1, { allowedDepletionInches: 0.85 })])).programs[0]!.settings.days).toEqual({
      kind: 'weekdays',
      weekdays: [1, 4],
    });
  });

  test("trees get a program of their own, on the turf's days, right after it", () => {
    const zones = [need(1), need(2), need(3, { dailyNeedInches: 0.1, allowedDepletionInches: 2, prInchesPerHour: 1 })];
    const advice = recommend(input(zones));
    expect(
      advice.programs.map((program) => [program.name, program.settings.days, program.settings.runs.length]),
    ).toEqual([
      ['A', { kind: 'weekdays', weekdays: [1, 2, 4, 6] }, 2],
      // 20 days of soil: every two weeks, on a Monday on or after the day asked for.
      ['B', { kind: 'interval', everyDays: 14, startDate: '2026-06-08' }, 1],
    ]);
    const blocks = blocksOf(advice, zones, '2026-06-08', '2026-06-08');
    expect(blocks.every((block) => block.waitedMinutes === 0)).toBe(true);
    expect(blocks.map((block) => block.zoneId)).toEqual([ulid(1), ulid(2), ulid(3)]);
  });

  test('two groups by intervals of weeks share their start, so that the rarer waters on days of the other', () => {
    const zones = [
      need(1, { dailyNeedInches: 0.1, allowedDepletionInches: 1.5 }),
      need(2, { dailyNeedInches: 0.1, allowedDepletionInches: 2.9 }),
    ];
    const advice = recommend(input(zones));
    expect(advice.programs.map((program) => program.settings.days)).toEqual([
      { kind: 'interval', everyDays: 14, startDate: '2026-06-08' },
      { kind: 'interval', everyDays: 28, startDate: '2026-06-08' },
    ]);
    expect(
      blocksOf(advice, zones, '2026-06-03', '2026-07-06').map((block) => `${block.date} s${block.station}`),
    ).toEqual(['2026-06-08 s1', '2026-06-08 s2', '2026-06-22 s1', '2026-07-06 s1', '2026-07-06 s2']);
  });

  test('cycles as equal as can be, soaked, interleaved with other stations', () => {
    const zones = [
      need(1, { allowedDepletionInches: 0.85, longestCycleMinutes: 9.5, soakPerCycleMinute: 2 }),
      need(2, { allowedDepletionInches: 0.85 }),
    ];
    const advice = recommend(input(zones));
    // 0.7 in / 1.5 × 60 / 0.82 = 34.1 → 34 min in 4 cycles of 9 (9, 9, 9, 7), soak 18.
    expect(advice.zones[0]).toMatchObject({ runMinutes: 34, cycles: 4, cycleMinutes: 9, soakMinutes: 18 });
    const blocks = blocksOf(advice, zones, '2026-06-01', '2026-06-01');
    expect(blocks.map((block) => block.station)).toEqual([1, 2, 1, 1, 1]);
    const end = Math.max(...blocks.map((block) => block.startMinute + block.runMinutes));
    // 9 + 34 (zone 2, longer than the soak) + 9 + 18 + 9 + 18 + 7.
    expect(end - blocks[0]!.startMinute).toBe(104);
    expect(end).toBeLessThanOrEqual(420);
  });

  test('a night too short gets more days before it ends late', () => {
    const zones = Array.from({ length: 14 }, (_, index) => need(index + 1, { allowedDepletionInches: 0.85 }));
    // Twice a week 14 × 34 = 476 min do not end by 07:00; three times a week 14 × 23 = 322 do.
    const advice = recommend(input(zones));
    expect(advice.programs[0]!.settings.days).toEqual({ kind: 'weekdays', weekdays: [1, 3, 5] });
    expect(advice.findings.map((finding) => finding.code)).toEqual(['more-days-for-night']);
    const short = recommend(input(zones, { settings: { waterEndsBy: '01:00', roundToMinutes: 1 } }));
    expect(short.findings.map((finding) => finding.code)).toContain('ends-late');
  });

  test('hours that hold too little: runs are cut, and it says so', () => {
    const zones = Array.from({ length: 20 }, (_, index) => need(index + 1));
    const advice = recommend(input(zones, { rule: rule({ forbiddenHours: [{ from: '02:00', to: '00:00' }] }) }));
    expect(advice.findings.map((finding) => finding.code)).toContain('minutes-cut');
    expect(
      checkProgram(
        blocksOf(advice, zones, '2026-06-01', '2026-06-28'),
        zones.map((zone) => makeZone(zone.station)),
        rule({ forbiddenHours: [{ from: '02:00', to: '00:00' }] }),
      ),
    ).toEqual([]);
    expect(() => recommend(input(zones, { rule: rule({ forbiddenHours: [{ from: '00:10', to: '00:00' }] }) }))).toThrow(
      expect.objectContaining({ code: 'conflict', message: expect.stringContaining('at most 10 minutes in a row') }),
    );
  });

  test('a restriction that keeps too few days: the most allowed, and a finding naming the zones', () => {
    const advice = recommend(
      input([need(1)], { rule: rule({ dayRule: { kind: 'weekdays', oddAddress: [3, 6], evenAddress: [4, 7] } }) }),
    );
    expect(advice.programs[0]!.settings.days).toEqual({ kind: 'weekdays', weekdays: [3, 6] });
    expect(advice.findings).toMatchObject([
      {
        code: 'cannot-keep-depletion',
        text: { key: 'finding.tooDryByRule', given: { zones: [{ station: 1, zoneName: 'Zone 1' }] } },
      },
    ]);
  });

  test('a restriction that forbids every day is said, naming it and its stage', () => {
    const message = (changes: Partial<RestrictionStage>, parity: RuleInForce['parity'] = 'odd') => {
      try {
        recommend(input([need(1)], { rule: rule(changes, parity) }));
      } catch (error) {
        expect(error).toMatchObject({ code: 'conflict' });
        return (error as Error).message;
      }
      throw new Error('no conflict was raised');
    };
    for (const changes of [{ dayRule: { kind: 'no-watering' as const } }, { maxDaysPerWeek: 0 }]) {
      expect(message(changes)).toBe(
        'Stage 1 of Mill Creek water allows no watering on any day, so there is no program to advise. Choose another stage of the restriction when it is lifted.',
      );
    }
    expect(message({ dayRule: { kind: 'weekdays', oddAddress: [], evenAddress: [1] } })).toContain(
      'Stage 1 of Mill Creek water allows no day of the week at odd addresses',
    );
    expect(message({ forbiddenHours: [{ from: '06:00', to: '06:00' }] })).toContain('forbids watering at every hour');
    expect(message({ dayRule: { kind: 'date-parity' } }, null)).toContain('house number of this property is not known');
    expect(message({ dayRule: { kind: 'weekdays', oddAddress: [1], evenAddress: [2] } }, null)).toContain(
      'house number of this property is not known',
    );
    expect(message({ dayRule: { kind: 'date-parity' }, maxDaysPerWeek: 2 })).toContain('at most 2 days a week');
  });

  test('drip outside the rule still gets advice when all else may not water', () => {
    const zones = [need(1), need(2, { emissionDevice: 'drip-line' })];
    const advice = recommend(input(zones, { rule: rule({ dayRule: { kind: 'no-watering' } }) }));
    expect(advice.findings.map((finding) => finding.code)).toEqual(['rule-allows-drip-only']);
    expect(advice.zones.map((zone) => zone.runMinutes > 0)).toEqual([false, true]);
    expect(advice.programs[0]!.settings.runs.map((item) => item.runMinutes > 0)).toEqual([false, true]);
  });

  test("an exempt zone that the rule's days cannot keep waters on days of its own", () => {
    const zones = [
      need(1, { allowedDepletionInches: 0.85 }),
      need(2, { emissionDevice: 'drip-line', allowedDepletionInches: 0.25 }),
    ];
    const advice = recommend(
      input(zones, { rule: rule({ dayRule: { kind: 'weekdays', oddAddress: [3, 6], evenAddress: [] } }) }),
    );
    expect(advice.programs.map((program) => program.settings.days)).toEqual([
      { kind: 'weekdays', weekdays: [3, 6] },
      { kind: 'weekdays', weekdays: [1, 2, 3, 4, 5, 6, 7] },
    ]);
  });

  test('programs that exist are kept by the zones they run; what is left over is switched off', () => {
    const programs = [
      makeProgram(
        { runs: [run(3, 9)], days: { kind: 'weekdays', weekdays: [6] } },
        { programId: ulid(701), name: 'Trees' },
      ),
      makeProgram(
        { runs: [run(1, 9), run(2, 9)], days: { kind: 'weekdays', weekdays: [2, 6] } },
        { programId: ulid(702), name: 'Lawn' },
      ),
      makeProgram(
        { runs: [run(1, 9)], days: { kind: 'weekdays', weekdays: [2] } },
        { programId: ulid(703), name: 'Extra' },
      ),
    ];
    const zones = [
      need(1, { allowedDepletionInches: 0.85 }),
      need(2, { allowedDepletionInches: 0.85 }),
      need(3, { dailyNeedInches: 0.1, allowedDepletionInches: 2 }),
    ];
    const advice = recommend(input(zones, { programs }));
    expect(advice.programs.map((program) => [program.programId, program.name, program.settings.enabled])).toEqual([
      [ulid(702), 'Lawn', true],
      [ulid(701), 'Trees', true],
      [ulid(703), 'Extra', false],
    ]);
    // Days set now are kept where they are as even as any.
    expect(advice.programs[0]!.settings.days).toEqual({ kind: 'weekdays', weekdays: [2, 6] });
  });

  test('groups that come to the same days are one program, so that their soaks overlap', () => {
    // Two days allowed: the second zone would do with one, but its run is then too long for the night, and more waterings bring it to the same two days.
    const zones = [
      need(1, { longestCycleMinutes: 5, soakPerCycleMinute: 8, allowedDepletionInches: 0.85 }),
      need(2, { longestCycleMinutes: 5, soakPerCycleMinute: 8, allowedDepletionInches: 1.5, dailyNeedInches: 0.2 }),
    ];
    const advice = recommend(
      input(zones, {
        rule: rule({ dayRule: { kind: 'weekdays', oddAddress: [1, 4], evenAddress: [] } }),
        settings: { waterEndsBy: '05:00', roundToMinutes: 1 },
      }),
    );
    expect(advice.programs.map((program) => [program.settings.days, program.settings.runs.length])).toEqual([
      [{ kind: 'weekdays', weekdays: [1, 4] }, 2],
    ]);
    expect(blocksOf(advice, zones, '2026-07-06', '2026-07-06').map((block) => block.station)).toEqual([
      1, 2, 1, 2, 1, 2, 1, 2, 1, 2, 1, 2, 1, 2,
    ]);
  });

  test('a long interval that would need a longer run than a controller takes is not advised', () => {
    // 100 days of soil, but four weeks of need at 0.1 in/h are 28 × 6 min / 0.82 × 10 = 2049 min: with 720 min, every week it is.
    const advice = recommend(
      input([need(1, { dailyNeedInches: 0.1, allowedDepletionInches: 10, prInchesPerHour: 0.1 })], {
        settings: { waterEndsBy: '23:00', roundToMinutes: 1 },
      }),
    );
    expect(advice.programs[0]!.settings.days).toEqual({ kind: 'weekdays', weekdays: [1] });
    expect(advice.zones[0]).toMatchObject({ runMinutes: 512, reasons: [] });
  });

  test('no need: everything is off, and the reason is given', () => {
    const advice = recommend(
      input([need(1, { dailyNeedInches: 0 })], { programs: [makeProgram({ runs: [run(1, 9)] })] }),
    );
    expect(advice.findings.map((finding) => finding.code)).toEqual(['no-need']);
    expect(advice.programs.map((program) => program.settings.enabled)).toEqual([false]);
    expect(advice.zones[0]).toMatchObject({ runMinutes: 0, daysPerWeek: 0, minutesPerWeek: 0 });
  });
});

// ---- properties ----------------------------------------------------------------
const zoneNeeds = fc
  .array(
    fc.record({
      dailyNeedInches: fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 0.4, noNaN: true })),
      prInchesPerHour: fc.double({ min: 0.2, max: 3, noNaN: true }),
      distributionUniformity: fc.double({ min: 0.4, max: 0.95, noNaN: true }),
      allowedDepletionInches: fc.double({ min: 0.1, max: 3, noNaN: true }),
      longestCycleMinutes: fc.option(fc.double({ min: 0.5, max: 40, noNaN: true })),
      soakPerCycleMinute: fc.double({ min: 0.1, max: 8, noNaN: true }),
      emissionDevice: fc.constantFrom('pop-up-spray' as const, 'rotor' as const, 'drip-line' as const),
      second: fc.boolean(),
    }),
    { minLength: 1, maxLength: 7 },
  )
  .map((list) =>
    list.map(({ second, ...item }, index) =>
      need(index + 1, { ...item, controllerId: second ? ulid(901) : CONTROLLER }),
    ),
  );
const weekdays = fc.uniqueArray(fc.integer({ min: 1, max: 7 }));
const hour = fc.integer({ min: 0, max: 23 }).map((value) => `${String(value).padStart(2, '0')}:00`);
const rules: fc.Arbitrary<RuleInForce | null> = fc.option(
  fc.record({
    restrictionName: fc.constant('R'),
    parity: fc.constantFrom('odd' as const, 'even' as const, null),
    stage: fc.record({
      title: fc.constant('S'),
      dayRule: fc.oneof(
        fc.constant({ kind: 'any-day' as const }),
        fc.record({ kind: fc.constant('weekdays' as const), oddAddress: weekdays, evenAddress: weekdays }),
        fc.constant({ kind: 'date-parity' as const }),
        fc.constant({ kind: 'no-watering' as const }),
      ),
      maxDaysPerWeek: fc.option(fc.integer({ min: 0, max: 7 })),
      forbiddenHours: fc.array(fc.record({ from: hour, to: hour }), { maxLength: 2 }),
      dripExempt: fc.boolean(),
    }),
  }),
  { freq: 6 },
);
const steps = fc.constantFrom(0.1, 0.5, 1, 2);

describe('the recommender: properties', () => {
  test('no advice breaks a restriction, no start waits, settings pass the contract, minutes stay within a step of the bound', () => {
    let advised = 0;
    let underRule = 0;
    fc.assert(
      fc.property(zoneNeeds, rules, hour, steps, (zones, ruleNow, waterEndsBy, roundToMinutes) => {
        let advice: Recommendation;
        try {
          advice = recommend(input(zones, { rule: ruleNow, settings: { waterEndsBy, roundToMinutes } }));
        } catch (error) {
          expect(error).toMatchObject({ code: 'conflict' });
          expect(ruleNow !== null || (error as Error).message.startsWith('A day leaves')).toBe(true);
          return;
        }
        const checkedZones = zones.map((zone) => makeZone(zone.station, { emissionDevice: zone.emissionDevice }));
        // Ten weeks over two 31-day months, from the Monday on or after the day asked for.
        const blocks = blocksOf(advice, zones, '2026-06-29', '2026-09-06', roundToMinutes);
        expect(checkProgram(blocks, checkedZones, ruleNow)).toEqual([]);
        for (const block of blocks) expect(block.waitedMinutes).toBe(0);
        for (const program of advice.programs) programSettingsSchema.parse(program.settings);
        const isCut = advice.findings.some((finding) => finding.code === 'minutes-cut');
        for (const zone of advice.zones) {
          const isCapped = zone.reasons.some((reason) => reason.code === 'run-too-long');
          if (zone.runMinutes > 0 && !isCut && !isCapped)
            expect(Math.abs(zone.runMinutes - zone.upperMinutes)).toBeLessThanOrEqual(roundToMinutes + 1e-6);
        }
        if (advice.findings.every((finding) => finding.code !== 'ends-late' && finding.code !== 'minutes-cut')) {
          for (const block of blocks)
            expect(block.startMinute + block.runMinutes).toBeLessThanOrEqual(
              (minutesOfClock(waterEndsBy) || 1440) + 1e-6,
            );
        }
        if (blocks.length > 0) advised += 1;
        if (blocks.length > 0 && ruleNow !== null) underRule += 1;
      }),
      { numRuns: 600 },
    );
    expect(advised).toBeGreaterThan(150);
    expect(underRule).toBeGreaterThan(80);
  });

  test('depletion stays within what is allowed, day by day, unless a finding says it cannot', () => {
    let checked = 0;
    fc.assert(
      fc.property(zoneNeeds, rules, (zones, ruleNow) => {
        let advice: Recommendation;
        try {
          advice = recommend(input(zones, { rule: ruleNow }));
        } catch {
          return;
        }
        if (
          advice.findings.some((finding) =>
            ['cannot-keep-depletion', 'minutes-cut', 'rule-allows-drip-only'].includes(finding.code),
          )
        )
          return;
        const blocks = blocksOf(advice, zones, '2026-06-29', '2026-10-04');
        for (const zone of zones.filter((item) => item.dailyNeedInches > 0)) {
          const depth =
            (zone.dailyNeedInches * 7) / advice.zones.find((item) => item.zoneId === zone.zoneId)!.daysPerWeek;
          const dates = new Set(blocks.filter((block) => block.zoneId === zone.zoneId).map((block) => block.date));
          let missing = 0;
          let hasBegun = false;
          for (let day = 0; day < 98; day += 1) {
            const date = new Date(Date.UTC(2026, 5, 29) + day * 86_400_000).toISOString().slice(0, 10);
            if (dates.has(date)) {
              if (hasBegun) expect(missing).toBeLessThanOrEqual(zone.allowedDepletionInches * (1 + 1e-6));
              missing = hasBegun ? Math.max(0, missing - depth) : 0;
              hasBegun = true;
              checked += 1;
            }
            missing += zone.dailyNeedInches;
          }
          expect(hasBegun).toBe(true);
        }
      }),
      { numRuns: 300 },
    );
    expect(checked).toBeGreaterThan(2000);
  });

  test('more need never shortens: not a run on the same days, not the week', () => {
    fc.assert(
      fc.property(
        zoneNeeds,
        fc.double({ min: 1, max: 3, noNaN: true }),
        fc.double({ min: 1, max: 7, noNaN: true }),
        steps,
        (zones, factor, perWeek, step) => {
          const zone = zones[0]!;
          const more = { ...zone, dailyNeedInches: zone.dailyNeedInches * factor };
          expect(zoneRun(more, perWeek, step).run.runMinutes).toBeGreaterThanOrEqual(
            zoneRun(zone, perWeek, step).run.runMinutes,
          );
          const faster = { ...zone, prInchesPerHour: zone.prInchesPerHour * factor };
          expect(zoneRun(faster, perWeek, step).run.runMinutes).toBeLessThanOrEqual(
            zoneRun(zone, perWeek, step).run.runMinutes,
          );
          const single = { ...zone, longestCycleMinutes: null };
          const before = recommend(input([single])).zones[0]!;
          const after = recommend(input([{ ...more, longestCycleMinutes: null }])).zones[0]!;
          // Minutes are rounded at each watering: the week may differ by half a step a watering. A capped run (720 min) cannot grow.
          const rounding = (before.daysPerWeek + after.daysPerWeek) / 2;
          if (before.upperMinutes < 720 && after.upperMinutes < 720 && before.upperMinutes > 1)
            expect(after.minutesPerWeek).toBeGreaterThanOrEqual(before.minutesPerWeek - rounding - 1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });

  test('cycles never run longer than the soil allows, where a controller can be told so', () => {
    fc.assert(
      fc.property(zoneNeeds, fc.double({ min: 0.25, max: 7, noNaN: true }), steps, (zones, perWeek, step) => {
        const result = zoneRun(zones[0]!, perWeek, step);
        const { runMinutes, cycleMinutes, soakMinutes } = result.run;
        const longest = zones[0]!.longestCycleMinutes;
        if (longest === null || runMinutes === 0) return;
        const cycle = cycleMinutes ?? runMinutes;
        if (longest >= Math.max(1, step) && !result.runsOffAnyway) expect(cycle).toBeLessThanOrEqual(longest + 1e-6);
        expect(result.runsOffAnyway).toBe(Math.min(cycle, runMinutes) > longest + 1e-9);
        if (longest >= Math.ceil(Math.max(1, step) / step) * step) expect(result.runsOffAnyway).toBe(false);
        if (cycleMinutes !== null && soakMinutes! < 720)
          expect(soakMinutes).toBeGreaterThanOrEqual(cycleMinutes * zones[0]!.soakPerCycleMinute - 1e-6);
        expect(result.cycles).toBe(Math.ceil(runMinutes / cycle - 1e-9));
      }),
      { numRuns: 500 },
    );
  });
});

describe('the yearly table', () => {
  const year = [0, 0.5, 1, 2, 4, 5, 6, 5, 3, 1.5, 0.2, 0];

  test("need of the month over need of the basis month, clamped, with each zone's minutes", () => {
    const table = seasonalTable(
      year,
      5,
      [
        { zoneId: 'a', runMinutes: 20 },
        { zoneId: 'b', runMinutes: 3 },
      ],
      1,
    );
    expect(table.map((row) => row.percent)).toEqual([10, 13, 25, 50, 100, 125, 150, 125, 75, 38, 10, 10]);
    expect(table[6]).toEqual({
      month: 7,
      percent: 150,
      unclampedPercent: 150,
      zoneMinutes: [
        { zoneId: 'a', runMinutes: 30 },
        { zoneId: 'b', runMinutes: 5 },
      ],
    });
    expect(table[0]!.unclampedPercent).toBe(0);
    expect(seasonalTable(year, 3, [], 1)[6]!.percent).toBe(200);
  });

  test('no table for a month without need; bad input is refused', () => {
    expect(seasonalTable(year, 1, [], 1)).toEqual([]);
    expect(() => seasonalTable(year, 13, [], 1)).toThrow(expect.objectContaining({ field: 'month' }));
    expect(() => seasonalTable(year.slice(1), 1, [], 1)).toThrow(expect.objectContaining({ field: 'monthlyNeed' }));
  });
});
