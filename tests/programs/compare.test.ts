import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Zone } from '../../core/properties/contract.ts';
import { EMISSION_DEVICES, PLANT_KINDS, SOILS } from '../../core/agronomy/contract.ts';
import { reviewRowSchema, type ReviewRow } from '../../core/programs/contract.ts';
import { checkProgram } from '../../core/programs/check-program.ts';
import { compareZones, distanceFromNeed, gallonsOf } from '../../core/programs/compare.ts';
import { expandPrograms, type ProgramOnController } from '../../core/programs/expand.ts';
import { bestMeasurement, guessesOf } from '../../core/programs/guesses.ts';
import { recommend } from '../../core/programs/recommend.ts';
import type { RuleInForce } from '../../core/programs/restrictions.ts';
import { precipitationRate, zoneNeed, type MonthWater } from '../../core/programs/zone-need.ts';
import { makeProgram, makeStage, makeThumb, makeZone, run, ulid } from './builders.ts';
import { PLAIN_READER, sayFact } from '../../core/text/say.ts';
import type { Told } from '../../core/contract/parts.ts';

const said = (told: Told) => sayFact(PLAIN_READER, told);

const JULY: MonthWater = { etoInches: 7.75, effectiveRainInches: 0, daysInMonth: 31 };
const measured: Partial<Zone> = {
  flowKnown: 'measured',
  areaKnown: 'measured',
  soilKnown: 'measured',
  prMethod: 'catch-can',
  precipitationRateInPerHour: 1.7,
  distributionUniformity: 0.7,
  rootDepthInches: 6,
};

function review(
  zones: Zone[],
  programs: ProgramOnController[],
  changes: { rule?: RuleInForce; month?: MonthWater; thumbs?: ReturnType<typeof makeThumb>[] } = {},
): ReviewRow[] {
  const rule = changes.rule ?? null;
  const month = changes.month ?? JULY;
  const settings = { waterEndsBy: '07:00', roundToMinutes: 1, thumbDiffersShare: 0.25 };
  const needs = zones.map((zone) => zoneNeed(zone, month));
  const recommendation = recommend({ zones: needs, programs, rule, settings, fromDate: '2026-07-01' });
  const breaches = checkProgram(expandPrograms(programs, zones, '2026-07-06', '2026-07-12', 1), zones, rule);
  const rows = compareZones({
    zones,
    needs,
    programs,
    recommendation,
    rule,
    month,
    thumbRules: changes.thumbs ?? [],
    settings,
    breaches,
  });
  for (const row of rows) reviewRowSchema.parse(row);
  return rows;
}
const codes = (row: ReviewRow) => row.reasons.map((reason) => reason.code);
const program = (runMinutes: number, changes: Parameters<typeof makeProgram>[0] = {}) =>
  makeProgram({ runs: [run(1, runMinutes)], ...changes });

describe('need of a zone from the book', () => {
  test('July turf: 0.25 in a day of ETo × 0.8, its soil, its intake', () => {
    const need = zoneNeed(makeZone(1, { ...measured, soil: 'clay-loam', slopePercent: 8 }), JULY);
    expect(need.dailyNeedInches).toBeCloseTo(0.2, 9);
    expect(need.allowedDepletionInches).toBeCloseTo(0.18 * 6 * 0.4, 9);
    // Clay loam at 8 %: 0.18 in may stand; 60 × 0.18 / (1.7 − 0.2) = 7.2 min; soaks 1.5 / 0.2 = 7.5 min a minute.
    expect(need.longestCycleMinutes).toBeCloseTo(7.2, 9);
    expect(need.soakPerCycleMinute).toBeCloseTo(7.5, 9);
    expect(zoneNeed(makeZone(1, { ...measured, soil: 'sand', precipitationRateInPerHour: 0.5 }), JULY)).toMatchObject({
      longestCycleMinutes: null,
      soakPerCycleMinute: 0,
    });
  });

  test('shade needs less unless the factor was set by hand; rain is taken off; need never falls below 0', () => {
    expect(zoneNeed(makeZone(1, { sunExposure: 'shade' }), JULY).dailyNeedInches).toBeCloseTo(0.2 * 0.7, 9);
    expect(zoneNeed(makeZone(1, { sunExposure: 'shade', plantFactor: 0.8 }), JULY).dailyNeedInches).toBeCloseTo(0.2, 9);
    expect(zoneNeed(makeZone(1), { ...JULY, effectiveRainInches: 3.1 }).dailyNeedInches).toBeCloseTo(0.1, 9);
    expect(zoneNeed(makeZone(1), { ...JULY, effectiveRainInches: 30 }).dailyNeedInches).toBe(0);
  });

  test('the rate: measured before computed before the table', () => {
    expect(precipitationRate(makeZone(1, measured))).toMatchObject({
      inchesPerHour: 1.7,
      basis: 'measured',
      how: { key: 'rate.catchCans' },
    });
    expect(precipitationRate(makeZone(1, { prMethod: 'flow-area', flowGpm: 10, areaFt2: 962.5 }))).toMatchObject({
      inchesPerHour: 1,
      basis: 'flow-area',
    });
    expect(precipitationRate(makeZone(1, { prMethod: 'flow-area', flowGpm: null }))).toMatchObject({
      inchesPerHour: 1.7,
      basis: 'table',
    });
    expect(
      precipitationRate(
        makeZone(1, { prMethod: 'spacing', prInputs: { headGpm: 4, headSpacingFt: 15, rowSpacingFt: 15 } }),
      ).inchesPerHour,
    ).toBeCloseTo((96.25 * 4) / 225, 9);
    expect(
      precipitationRate(
        makeZone(1, { prMethod: 'drip', prInputs: { emitterGph: 0.9, emitterSpacingFt: 1, rowSpacingFt: 1.5 } }),
      ).inchesPerHour,
    ).toBeCloseTo((1.604 * 0.9) / 1.5, 9);
    expect(() => precipitationRate(makeZone(1, { prMethod: 'flow-area', flowGpm: 100, areaFt2: 10 }))).toThrow(
      expect.objectContaining({ code: 'bad-input', field: 'areaFt2' }),
    );
    expect(() => precipitationRate({ ...makeZone(1, { prMethod: 'flow-area' }), flowGpm: -3 })).toThrow(
      expect.objectContaining({ code: 'bad-input', field: 'flowGpm' }),
    );
    expect(() => precipitationRate({ ...makeZone(1, { prMethod: 'flow-area' }), areaFt2: 0 })).toThrow(
      expect.objectContaining({ code: 'bad-input', field: 'areaFt2' }),
    );
  });
});

describe('comparing a program with physics and thumb', () => {
  test('now and then: minutes, inches, gallons of a mean week', () => {
    const [row] = review([makeZone(1, measured)], [program(20, { seasonalPercent: 150 })]);
    expect(row!.now).toMatchObject({
      programNames: ['A'],
      runMinutes: 20,
      daysPerWeek: 2,
      minutesPerWeek: 60,
      gallonsPerWeek: 600,
    });
    expect(row!.now.inchesPerWeek).toBeCloseTo(1.7, 9);
    expect(row!.advice.gallonsPerWeek).toBe(row!.advice.minutesPerWeek * 10);
    expect(row!.needInchesPerWeek).toBeCloseTo(1.4, 9);
    // The depth advised is need × multiplier, but for rounding.
    expect(row!.advice.inchesPerWeek! / (1.4 / 0.82)).toBeCloseTo(1, 1);
    expect(codes(row!)).toContain('seasonal-percent');
    expect(said(row!.reasons.find((reason) => reason.code === 'seasonal-percent')!.text)).toBe(
      'Set 20 min, run 30 min at 150 %.',
    );
    expect(gallonsOf([row!])).toEqual({ now: 600, advised: row!.advice.gallonsPerWeek });
    expect(gallonsOf([row!, ...review([makeZone(1, { ...measured, flowGpm: null })], [program(20)])]).now).toBeNull();
  });

  test('a program set as advised has no complaint and no distance', () => {
    const zone = makeZone(1, { ...measured, soil: 'sandy-loam' });
    const advised = recommend({
      zones: [zoneNeed(zone, JULY)],
      programs: [],
      rule: null,
      settings: { waterEndsBy: '07:00', roundToMinutes: 1 },
      fromDate: '2026-07-01',
    });
    const rows = review([zone], [{ ...makeProgram({}), settings: advised.programs[0]!.settings }]);
    expect(codes(rows[0]!).filter((code) => !['slope', 'clay-soil'].includes(code))).toEqual([]);
    expect(distanceFromNeed(rows, [zone])).toBe(0);
    expect(rows[0]!.guesses).toEqual([]);
    expect(rows[0]!.bestMeasurement).toBeNull();
  });

  test('too much and too often, too little and too rarely, not at all', () => {
    const zone = makeZone(1, { ...measured, rootDepthInches: 12 });
    const often = review([zone], [program(30, { days: { kind: 'weekdays', weekdays: [1, 2, 3, 4, 5, 6, 7] } })]);
    expect(codes(often[0]!)).toEqual(expect.arrayContaining(['too-much', 'too-often']));
    expect(distanceFromNeed(often, [zone])).toBeGreaterThan(1);
    expect(codes(review([zone], [program(5, { days: { kind: 'weekdays', weekdays: [1] } })])[0]!)).toEqual(
      expect.arrayContaining(['too-little', 'too-rarely']),
    );
    expect(codes(review([zone], [program(5, { enabled: false })])[0]!)).toContain('not-watered');
    expect(
      codes(review([zone], [program(5)], { month: { etoInches: 1, effectiveRainInches: 4, daysInMonth: 31 } })[0]!),
    ).toEqual(['no-need']);
  });

  test('runs off on a clay slope: says how long is safe; cycles that are set cure it', () => {
    const zone = makeZone(1, { ...measured, soil: 'clay', slopePercent: 8 });
    const rows = review([zone], [program(20)]);
    expect(codes(rows[0]!)).toEqual(expect.arrayContaining(['runs-off', 'clay-soil', 'slope']));
    // Clay at 8 %: 60 × 0.1 / 1.6 = 3.75 min.
    expect(said(rows[0]!.reasons.find((reason) => reason.code === 'runs-off')!.text)).toContain(
      'after about 3.8 min, but it runs 20 min in one go',
    );
    expect(codes(review([zone], [makeProgram({ runs: [run(1, 20, 3, 60)] })])[0]!)).not.toContain('runs-off');
    // Cycles without a soak are no cure.
    expect(codes(review([zone], [makeProgram({ runs: [run(1, 20, 3, null)] })])[0]!)).toContain('runs-off');
  });

  test('rate, flow, area, place, several programs, restriction', () => {
    expect(codes(review([makeZone(1, { ...measured, precipitationRateInPerHour: 2.6 })], [program(10)])[0]!)).toContain(
      'pr-high',
    );
    expect(codes(review([makeZone(1, { ...measured, precipitationRateInPerHour: 0.8 })], [program(10)])[0]!)).toContain(
      'pr-low',
    );
    expect(
      codes(review([makeZone(1, { ...measured, precipitationRateInPerHour: 1.5 })], [program(10)])[0]!),
    ).not.toContain('pr-low');
    expect(codes(review([makeZone(1, { flowGpm: null, areaFt2: null })], [program(10)])[0]!)).toEqual(
      expect.arrayContaining(['flow-unknown', 'area-unknown']),
    );
    expect(codes(review([makeZone(1, { ...measured, betweenHouses: true })], [program(10)])[0]!)).toContain(
      'between-houses',
    );
    expect(
      codes(review([makeZone(1, measured)], [program(10), { ...program(5), programId: ulid(701), name: 'B' }])[0]!),
    ).toContain('several-programs');
    const rule: RuleInForce = {
      restrictionName: 'Mill Creek water',
      parity: 'odd',
      stage: makeStage({ dayRule: { kind: 'weekdays', oddAddress: [3, 6], evenAddress: [] } }),
    };
    const broken = review([makeZone(1, measured)], [program(10)], { rule })[0]!.reasons[0]!;
    expect(broken.code).toBe('breaks-restriction');
    expect(said(broken.text)).toMatch(/only Wed, Sat at odd addresses\. \(2 breaches in the week\)/);
  });

  test('physics and thumb stand side by side with the reason where they differ by more than the share', () => {
    const thumbs = [
      makeThumb({ emissionDevice: 'pop-up-spray', minutesFrom: 7, minutesTo: 9 }),
      makeThumb({ betweenHouses: true, minutesFrom: 3, minutesTo: 4 }),
    ];
    const slow = review([makeZone(1, { ...measured, precipitationRateInPerHour: 0.8 })], [program(8)], { thumbs })[0]!;
    expect(slow.thumb).toMatchObject({ minutesFrom: 7, minutesTo: 9, differs: true });
    expect(said(slow.reasons.at(-1)!.text)).toMatch(/rule of thumb 7 to 9 min: this zone applies water more slowly/);
    const between = review([makeZone(1, { ...measured, betweenHouses: true })], [program(8)], { thumbs })[0]!;
    expect(said(between.reasons.at(-1)!.text)).toMatch(
      /rule of thumb 3 to 4 min: the rule allows for the water of the neighbors/,
    );
    const near = review([makeZone(1, measured)], [program(8)], {
      thumbs: [makeThumb({ minutesFrom: slow.advice.runMinutes / 2, minutesTo: slow.advice.runMinutes * 2 })],
    })[0]!;
    expect(near.thumb!.differs).toBe(false);
    expect(codes(near)).not.toContain('thumb-differs');
  });
});

describe('how far a property is from its need (our own measure, no source)', () => {
  const row = (zone: number, nowInches: number | null, adviceInches: number | null, needInchesPerWeek: number) =>
    ({
      zoneId: ulid(zone),
      now: { inchesPerWeek: nowInches },
      advice: { inchesPerWeek: adviceInches },
      needInchesPerWeek,
    }) as ReviewRow;
  const area = (zone: number, areaFt2: number | null) => ({ id: ulid(zone), areaFt2 });

  test('inches too much and too little add up over the areas, as a share of the need', () => {
    // 0.5 in too much on 3000 ft² and 0.2 in too little on 1000 ft²: 1700 of the 1 × 3000 + 2 × 1000 that are needed.
    const rows = [row(1, 1.5, 1, 1), row(2, 1.8, 2, 2)];
    expect(distanceFromNeed(rows, [area(1, 3000), area(2, 1000)])).toBeCloseTo(1700 / 5000, 12);
    // Nobody knows the second one's area: it counts as 1000 ft².
    expect(distanceFromNeed(rows, [area(1, 3000), area(2, null)])).toBeCloseTo(1700 / 5000, 12);
    expect(distanceFromNeed(rows, [area(1, 3000)])).toBeCloseTo(1700 / 5000, 12);
    expect(distanceFromNeed([row(1, null, 1, 1)], [area(1, 700)])).toBe(1);
    expect(distanceFromNeed([row(1, 1, null, 1)], [area(1, 700)])).toBe(1);
  });

  test('without need it is the mean of the inches that run for nothing', () => {
    const rows = [row(1, 0.4, 0, 0), row(2, 1, 0, 0)];
    expect(distanceFromNeed(rows, [area(1, 3000), area(2, 1000)])).toBeCloseTo((0.4 * 3000 + 1000) / 4000, 12);
    expect(distanceFromNeed([row(1, 0, 0, 0)], [area(1, 3000)])).toBe(0);
    expect(distanceFromNeed([], [])).toBe(0);
  });
});

describe('guesses', () => {
  test('what was measured is no guess; the rest is, with range and what would settle it', () => {
    expect(guessesOf(makeZone(1, measured), JULY)).toEqual([]);
    const guesses = guessesOf(makeZone(1), JULY);
    expect(guesses.map((guess) => guess.field).sort()).toEqual([
      'areaFt2',
      'distributionUniformity',
      'flowGpm',
      'precipitationRateInPerHour',
      'rootDepthInches',
      'soil',
    ]);
    const rate = guesses.find((guess) => guess.field === 'precipitationRateInPerHour')!;
    expect([said(rate.used), said(rate.range)]).toEqual(['1.7 in/h', '1.19 to 2.21 in/h']);
    expect(sayFact({ language: 'es', units: 'metric' }, rate.range)).toBe('30.2 a 56.1 mm/h');
    expect(rate.measurement).toBe('catch-can-test');
    const soil = guesses.find((guess) => guess.field === 'soil')!;
    expect([said(soil.used), said(soil.range)]).toEqual(['Loam', 'Sandy loam to Silt loam']);
    // Nobody knows roots to a tenth of an inch.
    const roots = guesses.find((guess) => guess.field === 'rootDepthInches')!;
    expect([said(roots.used), said(roots.range)].join(' ')).not.toContain('.');
    // The rate comes from the table, so flow and area do not move the minutes.
    expect(
      guesses.filter((guess) => ['flowGpm', 'areaFt2'].includes(guess.field)).map((guess) => guess.effectShare),
    ).toEqual([0, 0]);
  });

  test('the effect is that of advising the zone again at the end of the range', () => {
    const zone = makeZone(1, {
      ...measured,
      prMethod: 'flow-area',
      precipitationRateInPerHour: null,
      flowGpm: 10,
      areaFt2: 800,
      flowKnown: 'guess',
      areaKnown: 'guess',
    });
    const guesses = guessesOf(zone, JULY);
    // 30 % less flow is 1 / 0.7 − 1 more minutes; 25 % more area is 25 % more.
    expect(guesses.map((guess) => [guess.field, Math.round(guess.effectShare * 1000) / 1000])).toEqual([
      ['flowGpm', 0.429],
      ['areaFt2', 0.25],
    ]);
    expect(bestMeasurement(guesses)).toBe('flow-reading');
    expect(bestMeasurement(guessesOf({ ...zone, flowKnown: 'measured' }, JULY))).toBe('area-measure');
    expect(bestMeasurement(guessesOf({ ...zone, flowKnown: 'chart', areaKnown: 'measured' }, JULY))).toBeNull();
  });

  test('any zone gives sorted, finite effects and a row the contract takes', () => {
    const zones = fc.record({
      plantKind: fc.constantFrom(...PLANT_KINDS),
      emissionDevice: fc.constantFrom(...EMISSION_DEVICES),
      soil: fc.constantFrom(...SOILS),
      flowGpm: fc.option(fc.integer({ min: 1, max: 40 })),
      areaFt2: fc.option(fc.integer({ min: 300, max: 5000 })),
      prMethod: fc.constantFrom('table' as const, 'flow-area' as const),
      slopePercent: fc.integer({ min: 0, max: 40 }),
      betweenHouses: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(zones, { minLength: 1, maxLength: 6 }), fc.integer({ min: 0, max: 9 }), (list, rain) => {
        const made = list.map((changes, index) => makeZone(index + 1, changes));
        const rows = review(made, [makeProgram({ runs: made.map((zone) => run(zone.station, 8)) })], {
          month: { ...JULY, effectiveRainInches: rain },
          thumbs: [makeThumb({})],
        });
        expect(rows).toHaveLength(made.length);
        for (const row of rows) {
          const effects = row.guesses.map((guess) => guess.effectShare);
          expect(effects).toEqual([...effects].sort((a, b) => b - a));
          expect(effects.every(Number.isFinite)).toBe(true);
          expect(row.reasons.every((reason) => !/NaN|undefined|Infinity/.test(said(reason.text)))).toBe(true);
        }
      }),
      { numRuns: 100 },
    );
  });
});
