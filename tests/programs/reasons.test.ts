import { describe, expect, test } from 'vitest';
import { reasonsFor, thumbDiffers, type ReasonFacts } from '../../core/programs/reasons.ts';
import { zoneNeed } from '../../core/programs/zone-need.ts';
import { makeThumb, makeZone, ulid } from './builders.ts';

// When a reason is given, at the figure where it turns. The figures are common practice, no source.

const zone = makeZone(1, { prMethod: 'catch-can', precipitationRateInPerHour: 1.7, soil: 'sand' });
const need = zoneNeed(zone, { etoInches: 7.75, effectiveRainInches: 0, daysInMonth: 31 });
const advised = {
  zoneId: ulid(1),
  runMinutes: 20,
  lowerMinutes: 18,
  upperMinutes: 20,
  daysPerWeek: 3,
  minutesPerWeek: 60,
  inchesPerWeek: 1.7,
  gallonsPerWeek: 600,
  cycles: 1,
  cycleMinutes: null,
  soakMinutes: null,
  programName: 'A',
  reasons: [],
};
const now = {
  zoneId: ulid(1),
  setMinutes: 20,
  runMinutes: 20,
  daysPerWeek: 3,
  minutesPerWeek: 60,
  programNames: ['A'],
  percents: [100],
};
const reasons = (changes: Partial<ReasonFacts>) =>
  reasonsFor({
    zone,
    need,
    now,
    advice: advised,
    thumb: null,
    thumbDiffersShare: 0.25,
    longestCycleNow: 20,
    breaches: [],
    guesses: [],
    ...changes,
  } as ReasonFacts);
const codes = (changes: Partial<ReasonFacts>) => reasons(changes).map((reason) => reason.code);
const withNow = (changes: object) => codes({ now: { ...now, ...changes } as never });

describe('amounts and days', () => {
  test('more or less than a tenth off the advice is told, in whole percent', () => {
    expect(codes({})).toEqual([]);
    expect(withNow({ minutesPerWeek: 65.9 })).toEqual([]);
    expect(withNow({ minutesPerWeek: 66.1 })).toEqual(['too-much']);
    expect(withNow({ minutesPerWeek: 54.1 })).toEqual([]);
    expect(withNow({ minutesPerWeek: 53.9 })).toEqual(['too-little']);
    expect(reasons({ now: { ...now, minutesPerWeek: 90 } as never })[0]!.text.given).toEqual({ percent: 50 });
    expect(reasons({ now: { ...now, minutesPerWeek: 45 } as never })[0]!.text.given).toEqual({ percent: 25 });
  });

  test('more than half a day a week off the advice is told', () => {
    expect(withNow({ daysPerWeek: 3.5 })).toEqual([]);
    expect(withNow({ daysPerWeek: 3.51 })).toEqual(['too-often']);
    expect(withNow({ daysPerWeek: 2.5 })).toEqual([]);
    expect(withNow({ daysPerWeek: 2.49 })).toEqual(['too-rarely']);
  });

  test('no water where some is needed, water where none is', () => {
    expect(withNow({ minutesPerWeek: 0, daysPerWeek: 0 })).toEqual(['not-watered']);
    const none = { ...advised, minutesPerWeek: 0, runMinutes: 0 };
    expect(codes({ advice: none })).toEqual(['no-need']);
    expect(codes({ advice: none, now: { ...now, minutesPerWeek: 0 } as never })).toEqual([]);
  });

  test('a seasonal percentage other than 100 is told once, several programs by name', () => {
    expect(reasons({ now: { ...now, percents: [150, 100, 150, 80] } as never })).toMatchObject([
      { code: 'seasonal-percent', text: { given: { percents: [150, 80] } } },
    ]);
    expect(withNow({ programNames: ['A', 'B'] })).toEqual(['several-programs']);
  });
});

describe('what the soil takes in', () => {
  const slow = { ...need, longestCycleMinutes: 8 };

  test('a cycle longer than is safe is told; a billionth of a minute is the dust of arithmetic', () => {
    const runsOff = (longestCycleNow: number) => codes({ need: slow, longestCycleNow }).includes('runs-off');
    expect([7.9, 8, 8 + 1e-9, 8 + 1e-8, 8.1].map(runsOff)).toEqual([false, false, false, true, true]);
    expect(codes({ need: { ...need, longestCycleMinutes: null }, longestCycleNow: 1000 })).toEqual([]);
  });

  test('clay and slope are told where they cut the run into cycles: steeper than 3 %', () => {
    const cycles = (soil: 'clay' | 'clay-loam' | 'loam', slopePercent: number, count = 2) =>
      codes({
        zone: { ...zone, soil, slopePercent },
        need: slow,
        longestCycleNow: 8,
        advice: { ...advised, cycles: count },
      });
    expect(cycles('clay', 3)).toEqual(['clay-soil']);
    expect(cycles('clay-loam', 3.1)).toEqual(['clay-soil', 'slope']);
    expect(cycles('loam', 12)).toEqual(['slope']);
    expect(cycles('clay', 12, 1)).toEqual([]);
  });
});

describe('rates', () => {
  // Pop-up sprays apply 1.7 in/h or so.
  const rate = (prInchesPerHour: number, changes: object = {}) =>
    codes({
      zone: { ...zone, precipitationRateInPerHour: prInchesPerHour, ...changes } as never,
      need: { ...need, prInchesPerHour },
    });

  test('a measured rate more than 30 % off the usual one of its device is told', () => {
    expect([1.7 * 1.299, 1.7 * 1.301].map((one) => rate(one))).toEqual([[], ['pr-high']]);
    expect([1.7 * 0.701, 1.7 * 0.699].map((one) => rate(one))).toEqual([[], ['pr-low']]);
  });

  test('an unknown flow is told, with the rate where that is the table’s; an area only where the rate is', () => {
    const unknown = (changes: object) =>
      reasons({ zone: { ...zone, ...changes } as never }).map((reason) => reason.text.key);
    expect(unknown({ flowGpm: null })).toEqual(['advice.flowUnknown']);
    expect(unknown({ areaFt2: null })).toEqual([]);
    const table = { prMethod: 'table', precipitationRateInPerHour: null };
    expect(unknown({ ...table, flowGpm: null })).toEqual(['advice.flowUnknownUsualRate']);
    expect(unknown({ ...table, areaFt2: null })).toEqual(['advice.areaUnknown']);
  });
});

describe('rules of thumb', () => {
  const rule = makeThumb({ minutesFrom: 8, minutesTo: 10 });
  const why = (runMinutes: number, changes: Partial<ReasonFacts> = {}, advice: object = {}) =>
    reasons({ thumb: rule, advice: { ...advised, runMinutes, ...advice }, ...changes }).find(
      (reason) => reason.code === 'thumb-differs',
    )?.text.key;

  test('differ where the advice lies further outside than the company lets pass; a zone that is off is not compared', () => {
    expect([12.5, 12.6, 6, 5.9, 0].map((minutes) => thumbDiffers(minutes, rule, 0.25))).toEqual([
      false,
      true,
      false,
      true,
      false,
    ]);
    expect(why(12.5)).toBeUndefined();
    expect(why(20)).toBeDefined();
  });

  const between = { zone: { ...zone, betweenHouses: true } };
  const rate = (prInchesPerHour: number) => ({ need: { ...need, prInchesPerHour } });
  const guess = (effectShare: number) => ({
    guesses: [{ field: 'soil', measurement: 'soil-check', effectShare }] as never,
  });

  test('longer than the rule: neighbors, a slow rate, a guess, few days, else the month', () => {
    expect(why(20, between)).toBe('thumb.neighbors');
    expect(why(20, rate(1.7 * 0.69))).toBe('thumb.slow');
    expect(why(20, rate(1.7 * 0.71))).toBe('thumb.month');
    expect(why(20, rate(1.7 * 1.5))).toBe('thumb.month');
    expect(why(20, guess(0.3))).toBe('thumb.guess');
    expect(why(20, guess(0.29))).toBe('thumb.month');
    expect(why(20, {}, { daysPerWeek: 2 })).toBe('thumb.fewDays');
    expect(why(20, {}, { daysPerWeek: 3 })).toBe('thumb.month');
  });

  test('shorter than the rule: a fast rate, a guess, else the month or the plants', () => {
    expect(why(3, between)).toBe('thumb.monthOrPlants');
    expect(why(3, rate(1.7 * 1.31))).toBe('thumb.fast');
    expect(why(3, rate(1.7 * 1.29))).toBe('thumb.monthOrPlants');
    expect(why(3, rate(1.7 * 0.5))).toBe('thumb.monthOrPlants');
    expect(why(3, guess(0.3))).toBe('thumb.guess');
    expect(why(3, {}, { daysPerWeek: 2 })).toBe('thumb.monthOrPlants');
  });
});
