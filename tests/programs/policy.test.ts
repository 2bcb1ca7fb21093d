import { expect, it } from 'vitest';
import { effectiveRainOfMonth, plantFactor } from '../../core/agronomy/index.ts';
import { runningSpells } from '../../core/programs/running-spells.ts';
import { roundMinutes, roundMinutesDown, roundMinutesUp, scaledMinutes } from '../../core/programs/seasonal.ts';
import { zoneNeed } from '../../core/programs/zone-need.ts';
import { chooseStation } from '../../core/weather/climate.ts';
import { makeZone } from './builders.ts';

// Numbers of policy that no law of nature holds in place.

const month = { etoInches: 6.2, effectiveRainInches: 0, daysInMonth: 31 };

it('sun: all of a planting’s need in full sun, 85 % in part shade, 70 % in shade (common practice, no source)', () => {
  const need = (sunExposure: 'full-sun' | 'part-shade' | 'shade', plantFactorSet: number | null = null) =>
    zoneNeed(makeZone(1, { plantKind: 'cool-turf', sunExposure, plantFactor: plantFactorSet }), month).dailyNeedInches;
  expect(need('full-sun')).toBeCloseTo(0.2 * 0.8, 12);
  expect(need('part-shade')).toBeCloseTo(0.2 * 0.8 * 0.85, 12);
  expect(need('shade')).toBeCloseTo(0.2 * 0.8 * 0.7, 12);
  // One set by hand holds it already.
  expect(need('shade', 0.5)).toBeCloseTo(0.2 * 0.5, 12);
  expect(plantFactor('shrubs', null, 'wet')).toBe(0.7);
});

it('rain: what the month’s planting can use comes off its need, never below none', () => {
  const need = (effectiveRainInches: number) =>
    zoneNeed(makeZone(1, { plantKind: 'cool-turf', sunExposure: 'full-sun' }), { ...month, effectiveRainInches })
      .dailyNeedInches;
  expect(need(3.1)).toBeCloseTo((6.2 * 0.8 - 3.1) / 31, 12);
  expect(need(9)).toBe(0);
  // National Engineering Handbook part 623, chapter 2, figure 2-43: 3 in of storage, 4 in of rain, 6 in of use give 2.9 in or so.
  expect(effectiveRainOfMonth(4, 6)).toBeGreaterThan(2.6);
  expect(effectiveRainOfMonth(4, 6)).toBeLessThan(3.3);
  expect(effectiveRainOfMonth(0.5, 6)).toBeLessThanOrEqual(0.5);
  expect(effectiveRainOfMonth(9, 1)).toBe(1);
  // The fit was made for 0.75 to 3 in of storage, and is held at its ends.
  expect(effectiveRainOfMonth(4, 6, 7.5)).toBe(effectiveRainOfMonth(4, 6, 3));
  expect(effectiveRainOfMonth(4, 6, 0.3)).toBe(effectiveRainOfMonth(4, 6, 0.75));
  expect(effectiveRainOfMonth(4, 6, 1.5)).toBeLessThan(effectiveRainOfMonth(4, 6, 3));
});

it('a thousand feet of height count as fifteen miles, and thirty miles are far (our own measure, no source)', () => {
  const place = { weatherStationId: null, latitudeDeg: 40, longitudeDeg: -105, elevationFt: 5000 };
  const at = (id: string, miles: number, elevationFt: number) =>
    ({ id, latitudeDeg: 40 + miles / ((Math.PI / 180) * 3958.8), longitudeDeg: -105, elevationFt }) as never;
  const chosen = (...stations: never[]) => {
    const { station, isGuess } = chooseStation(place, stations);
    return [(station as { id: string }).id, isGuess];
  };
  expect(chosen(at('high', 0, 6000), at('far', 14.9, 5000))).toEqual(['far', false]);
  expect(chosen(at('high', 0, 6000), at('far', 15.1, 5000))).toEqual(['high', false]);
  expect(chosen(at('high', 0, 4000), at('far', 15.1, 5000))).toEqual(['high', false]);
  expect(chosen(at('one', 29.9, 5000))).toEqual(['one', false]);
  expect(chosen(at('one', 30.1, 5000))).toEqual(['one', true]);
  expect(chosen(at('one', 16, 6000))).toEqual(['one', true]);
});

it('minutes are rounded half up to the controller’s step, and a time that is set never to none', () => {
  expect([0.49, 0.5, 1.5, 2.49].map((minutes) => roundMinutes(minutes, 1))).toEqual([0, 1, 2, 2]);
  expect(roundMinutes(1.15 * 50, 1)).toBe(58);
  expect([2.01, 2, 3].map((minutes) => roundMinutesUp(minutes, 2))).toEqual([4, 2, 4]);
  expect([3.99, 4, 0.5].map((minutes) => roundMinutesDown(minutes, 2))).toEqual([2, 4, 0]);
  expect([
    scaledMinutes(20, 150, 1),
    scaledMinutes(1, 10, 1),
    scaledMinutes(10, 0, 1),
    scaledMinutes(0, 100, 1),
  ]).toEqual([30, 1, 0, 0]);
  expect(scaledMinutes(10, 300, 1)).toBe(30);
  for (const percent of [-1, 300.1, Number.NaN]) expect(() => scaledMinutes(10, percent, 1)).toThrow(/percent|%/i);
});

it('water runs from a start-up to the day before a winterization; of both on one day the start-up is later', () => {
  const year = (startedUpOn: string | null, winterizedOn: string | null, number = 2026) => ({
    year: number,
    startedUpOn,
    winterizedOn,
  });
  const spells = (...seasons: ReturnType<typeof year>[]) =>
    runningSpells(seasons, '2026-01-01', '2026-12-31').map(({ fromDate, toDate }) => `${fromDate} ${toDate}`);
  expect(spells()).toEqual(['2026-01-01 2026-12-31']);
  expect(spells(year('2026-04-10', '2026-10-20'))).toEqual(['2026-04-10 2026-10-19']);
  expect(spells(year('2026-04-10', null))).toEqual(['2026-04-10 2026-12-31']);
  expect(spells(year(null, '2026-10-20'))).toEqual(['2026-01-01 2026-10-19']);
  expect(spells(year('2026-05-01', '2026-05-01'))).toEqual(['2026-01-01 2026-04-30', '2026-05-01 2026-12-31']);
  expect(spells(year('2025-04-01', '2025-10-01', 2025))).toEqual([]);
  expect(spells(year('2025-04-01', null, 2025))).toEqual(['2026-01-01 2026-12-31']);
  expect(spells(year('2026-01-01', '2026-12-31'))).toEqual(['2026-01-01 2026-12-30']);
});
