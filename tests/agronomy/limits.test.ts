import { describe, expect, it } from 'vitest';
import {
  auditCatchCans,
  computeEto,
  landscapeCoefficient,
  longestCycleMinutes,
  plantFactor,
  plantNeed,
  prFromCatch,
  prFromEmitters,
  prFromFlowAndArea,
  prFromHose,
  prFromSpacing,
  runBounds,
  schedulingMultiplier,
  slopeClass,
  soakMinutes,
  soilBalance,
  splitCycles,
  totalAvailableInches,
  wateringInterval,
} from '../../core/agronomy/index.ts';
import { BookError } from '../../core/errors.ts';

// Every figure is taken at both ends of its range and refused just outside, by its own name. The ranges are ours (what a
// yard, a device or a day on Earth can be), no source; each docstring says them.

type Bound = [field: string, call: (value: number) => unknown, least: number, most: number, leastIsTaken?: boolean];

const day = { latitudeDeg: 40, elevationM: 1500, date: '2026-07-01', tmaxC: 30, tminC: 12 };
const eto = (part: object) => computeEto({ ...day, ...part } as Parameters<typeof computeEto>[0]);
const zone = { availableWaterInPerIn: 0.17, rootDepthInches: 6, allowedDepletion: 0.4, dailyNeedInches: 0.2 };
const intake = { prInchesPerHour: 1.7, intakeInchesPerHour: 0.35, accumulationInches: 0.3 };
const cans = (part: object) => auditCatchCans({ volumesMl: [20, 22, 24, 26], throatAreaIn2: 12, minutes: 10, ...part });
const soil = (part: object) =>
  soilBalance({
    totalAvailableInches: 1,
    allowedDepletion: 0.4,
    startDepletionInches: 0,
    needInches: [0.2],
    rainInches: [0],
    irrigationInches: [0],
    ...part,
  });
/** Where the sun is up for part of every day of the year. */
const equator = { latitudeDeg: 0, elevationM: 0, date: '2026-03-21' };

const BOUNDS: Record<string, Bound[]> = {
  'a rate by flow and area': [
    ['flowGpm', (value) => prFromFlowAndArea(value, 1000), 0, 2000, false],
    ['areaFt2', (value) => prFromFlowAndArea(10, value), 0, 1e7, false],
  ],
  'a rate by spacing': [
    ['fullCircleGpm', (value) => prFromSpacing(value, 15, 15), 0, 200, false],
    ['headSpacingFt', (value) => prFromSpacing(3, value, 15), 0, 300, false],
    ['rowSpacingFt', (value) => prFromSpacing(3, 15, value), 0, 300, false],
  ],
  'a rate of emitters': [
    ['emitterGph', (value) => prFromEmitters(value, 1, 1.5), 0, 60, false],
    ['emitterSpacingFt', (value) => prFromEmitters(0.9, value, 1.5), 0, 100, false],
    ['rowSpacingFt', (value) => prFromEmitters(0.9, 1, value), 0, 100, false],
  ],
  'a rate of hose': [
    ['gpmPer100Ft', (value) => prFromHose(value, 1.5), 0, 20, false],
    ['rowSpacingFt', (value) => prFromHose(1.5, value), 0, 100, false],
  ],
  'a rate by cans': [
    ['meanMl', (value) => prFromCatch(value, 12, 10), 0, 1e5],
    ['throatAreaIn2', (value) => prFromCatch(20, value, 10), 0, 1000, false],
    ['minutes', (value) => prFromCatch(20, 12, value), 0, 1440, false],
    ['volumesMl.1', (value) => cans({ volumesMl: [9000, value, 9000, 9000, 9000, 9000] }), 0, 10_000],
    ['du', (value) => schedulingMultiplier(value), 0, 1, false],
  ],
  'a soil': [
    ['slopePercent', (value) => slopeClass(value), 0, 100],
    ['rootDepthInches', (value) => totalAvailableInches('loam', value), 0.5, 120],
    ['totalAvailableInches', (value) => soil({ totalAvailableInches: value }), 0, 60, false],
    ['allowedDepletion', (value) => soil({ allowedDepletion: value }), 0, 0.99, false],
    ['startDepletionInches', (value) => soil({ startDepletionInches: value }), 0, 1],
    ['rainIntakeInches', (value) => soil({ rainIntakeInches: value }), 0, 100],
    ['needInches.0', (value) => soil({ needInches: [value] }), 0, 1000],
    ['rainInches.0', (value) => soil({ rainInches: [value] }), 0, 1000],
    ['irrigationInches.0', (value) => soil({ irrigationInches: [value] }), 0, 1000],
  ],
  'a planting': [
    ['plantFactor', (value) => plantFactor('shrubs', value), 0.05, 1.5],
    ['species', (species) => landscapeCoefficient({ species, density: 1, microclimate: 1 }), 0.05, 1],
    ['density', (density) => landscapeCoefficient({ species: 0.5, density, microclimate: 1 }), 0.3, 1.5],
    ['microclimate', (microclimate) => landscapeCoefficient({ species: 0.5, density: 1, microclimate }), 0.3, 1.6],
    ['eto', (value) => plantNeed(value, 0.8), 0, 5000],
    ['factor', (value) => plantNeed(5, value), 0, 2],
  ],
  'a run': [
    ['depthInches', (value) => runBounds(value, 1.7, 0.6), 0, 20],
    ['prInchesPerHour', (value) => runBounds(0.5, value, 0.6), 0, 100, false],
    ['availableWaterInPerIn', (value) => wateringInterval({ ...zone, availableWaterInPerIn: value }), 0, 0.5, false],
    ['rootDepthInches', (value) => wateringInterval({ ...zone, rootDepthInches: value }), 0.5, 120],
    ['allowedDepletion', (value) => wateringInterval({ ...zone, allowedDepletion: value }), 0, 1, false],
    ['dailyNeedInches', (value) => wateringInterval({ ...zone, dailyNeedInches: value }), 0, 2],
    ['prInchesPerHour', (value) => longestCycleMinutes({ ...intake, prInchesPerHour: value }), 0, 100, false],
    ['intakeInchesPerHour', (value) => longestCycleMinutes({ ...intake, intakeInchesPerHour: value }), 0, 50, false],
    ['accumulationInches', (value) => longestCycleMinutes({ ...intake, accumulationInches: value }), 0, 5, false],
    ['cycleMinutes', (value) => soakMinutes(value, intake), 0, 1440],
    ['runMinutes', (value) => splitCycles(value, intake), 0, 1440],
  ],
  'a day of weather': [
    ['latitudeDeg', (value) => eto({ ...equator, latitudeDeg: value }), -90, 90],
    ['elevationM', (value) => eto({ elevationM: value }), -500, 6000],
    ['tmaxC', (value) => eto({ tmaxC: value, tminC: -90 }), -90, 60],
    ['tminC', (value) => eto({ tmaxC: 60, tminC: value }), -90, 60],
    ['rhMaxPct', (value) => eto({ rhMaxPct: value }), 0, 100],
    ['rhMinPct', (value) => eto({ rhMinPct: value }), 0, 100],
    ['rhMeanPct', (value) => eto({ rhMeanPct: value }), 0, 100],
    ['tdewC', (value) => eto({ tmaxC: 60, tdewC: value }), -90, 60],
    ['vapourPressureKpa', (value) => eto({ vapourPressureKpa: value }), 0, 20],
    ['windMps', (value) => eto({ windMps: value }), 0, 60],
    ['windHeightM', (value) => eto({ windMps: 2, windHeightM: value }), 0.5, 100],
    ['previousMonthMeanC', (value) => eto({ previousMonthMeanC: value }), -90, 60],
    ['nextMonthMeanC', (value) => eto({ previousMonthMeanC: 10, nextMonthMeanC: value }), -90, 60],
    ['angstromA', (value) => eto({ sunshineHours: 8, angstromA: value }), 0, 1],
    ['angstromB', (value) => eto({ sunshineHours: 8, angstromB: value }), 0, 1],
  ],
};

/** Readings and values that may be missing: no number at all means that. */
const MAY_MISS = /^(plantFactor|rh|tdewC|vapour|wind|previousMonth|nextMonth|angstrom)/;

function refused(call: () => unknown): string | null {
  try {
    call();
    return null;
  } catch (error) {
    if (error instanceof BookError && error.code === 'bad-input') return error.field ?? '';
    throw error;
  }
}

describe.each(Object.entries(BOUNDS))('%s', (_what, bounds) => {
  it.each(bounds)('takes %s in its range and refuses it outside', (field, call, least, most, leastIsTaken = true) => {
    const step = (most - least) * 1e-6;
    expect(
      refused(() => call(most)),
      `${most}`,
    ).toBeNull();
    expect(
      refused(() => call(least)),
      `${least}`,
    ).toBe(leastIsTaken ? null : field);
    expect(refused(() => call(least + step))).toBeNull();
    for (const outside of [least - step, most + step, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
      // No bound on what soaks in at once is meant by Infinity.
      if (
        !(field === 'rainIntakeInches' && outside === Number.POSITIVE_INFINITY) &&
        !(MAY_MISS.test(field) && Number.isNaN(outside))
      )
        expect(
          refused(() => call(outside)),
          `${outside}`,
        ).toBe(field);
  });
});

describe('a catch-can test', () => {
  it('takes 4 to 1,000 cans, and says which test is thin', () => {
    const of = (count: number) => cans({ volumesMl: Array.from({ length: count }, () => 20) });
    expect([4, 1000].map((count) => of(count).canCount)).toEqual([4, 1000]);
    for (const count of [0, 3, 1001]) expect(refused(() => of(count))).toBe('volumesMl');
    // Irrigation Association, Recommended Audit Guidelines, 2009: at least 24 (from memory).
    expect([23, 24].map((count) => of(count).thin)).toEqual([true, false]);
  });
  it('takes the nearest whole number of cans to a quarter as the lowest quarter', () => {
    const counts = [4, 5, 6, 9, 10, 11, 13, 14, 24].map(
      (count) => cans({ volumesMl: Array.from({ length: count }, () => 20) }).lowQuarterCount,
    );
    expect(counts).toEqual([1, 1, 2, 2, 3, 3, 3, 4, 6]);
  });
});

describe('sun', () => {
  it('is refused where it is more than the day has, a quarter of an hour and 1 MJ aside', () => {
    const { raMjM2 } = eto({}) as unknown as { raMjM2?: number };
    // FAO-56 table 2.6: Ra at 40° N in July is 40.8 MJ m⁻² d⁻¹ or so; daylight table 2.7, 14.7 h.
    expect(refused(() => eto({ sunshineHours: 14.9 }))).toBeNull();
    expect(refused(() => eto({ sunshineHours: 15.3 }))).toBe('sunshineHours');
    expect(refused(() => eto({ solarMjM2: 42 }))).toBeNull();
    expect(refused(() => eto({ solarMjM2: 43 }))).toBe('solarMjM2');
    expect(refused(() => eto({ sunshineHours: -0.1 }))).toBe('sunshineHours');
    expect(refused(() => eto({ solarMjM2: -0.1 }))).toBe('solarMjM2');
    expect(raMjM2 === undefined || raMjM2 > 0).toBe(true);
  });
  it('is never below the night before: a least temperature above the greatest is refused', () => {
    expect(refused(() => eto({ tmaxC: 10, tminC: 10 }))).toBeNull();
    expect(refused(() => eto({ tmaxC: 10, tminC: 10.01 }))).toBe('tminC');
    expect(refused(() => eto({ rhMaxPct: 50, rhMinPct: 50 }))).toBeNull();
    expect(refused(() => eto({ rhMaxPct: 50, rhMinPct: 50.1 }))).toBe('rhMinPct');
    expect(refused(() => eto({ tdewC: 30 }))).toBeNull();
    expect(refused(() => eto({ tdewC: 30.1 }))).toBe('tdewC');
  });
});
