import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { computeEto, etoSeries } from '../../core/agronomy/index.ts';
import type { EtoInput } from '../../core/agronomy/index.ts';
import * as eq from '../../core/agronomy/eto-equations.ts';
import { BookError } from '../../core/errors.ts';
import { isFact } from '../../core/text/say.ts';

const summerDay: EtoInput = { latitudeDeg: 37.3, elevationM: 50, date: '2023-07-10', tmaxC: 35, tminC: 17 };

function refusal(input: EtoInput): BookError {
  try {
    computeEto(input);
  } catch (error) {
    if (error instanceof BookError) return error;
    throw error;
  }
  throw new Error('was accepted');
}

describe('computeEto: choice of method', () => {
  it('takes Hargreaves only where nothing but temperatures is known', () => {
    expect(computeEto(summerDay).method).toBe('hargreaves-samani');
    expect(computeEto({ ...summerDay, windMps: null, rhMaxPct: undefined }).method).toBe('hargreaves-samani');
    for (const reading of [
      { windMps: 2 },
      { rhMaxPct: 80 },
      { rhMinPct: 30 },
      { rhMeanPct: 50 },
      { tdewC: 10 },
      { solarMjM2: 25 },
      { sunshineHours: 12 },
    ]) {
      expect(computeEto({ ...summerDay, ...reading }).method).toBe('fao56-penman-monteith');
    }
  });

  it('takes ASCE for the tall reference, and on request for the short', () => {
    expect(computeEto({ ...summerDay, reference: 'tall' }).method).toBe('asce-tall');
    expect(computeEto({ ...summerDay, method: 'asce' }).method).toBe('asce-short');
    expect(computeEto({ ...summerDay, method: 'asce', reference: 'tall' }).method).toBe('asce-tall');
    expect(computeEto({ ...summerDay, reference: 'tall', windMps: 3 }).etoMm).toBeGreaterThan(
      computeEto({ ...summerDay, windMps: 3 }).etoMm,
    );
    for (const method of ['fao56', 'hargreaves'] as const)
      expect(refusal({ ...summerDay, method, reference: 'tall' }).field).toBe('method');
  });

  it.each([
    [{ vapourPressureKpa: 1.5 }, 'measured'],
    [{ tdewC: 10, rhMaxPct: 80 }, 'dew-point'],
    [{ rhMaxPct: 80, rhMinPct: 30, rhMeanPct: 50 }, 'rh-max-min'],
    [{ rhMaxPct: 80, rhMeanPct: 50 }, 'rh-max'],
    [{ rhMeanPct: 50, rhMinPct: 30 }, 'rh-mean'],
    [{ rhMinPct: 30 }, 'rh-min'],
    [{ windMps: 1 }, 'tmin'],
  ] as const)('humidity from %o is %s', (reading, source) => {
    expect(computeEto({ ...summerDay, ...reading }).dataUsed.vapourPressure).toBe(source);
  });

  it('prefers measured sun to sunshine to temperature range, and the coast is sunnier for its range', () => {
    expect(computeEto({ ...summerDay, solarMjM2: 25, sunshineHours: 12 }).dataUsed.solar).toBe('measured');
    expect(computeEto({ ...summerDay, sunshineHours: 12 }).dataUsed.solar).toBe('sunshine');
    const inland = computeEto({ ...summerDay, tmaxC: 25, windMps: 2 });
    expect(inland.dataUsed.solar).toBe('temperature-range');
    expect(computeEto({ ...summerDay, tmaxC: 25, windMps: 2, coastal: true }).etoMm).toBeGreaterThan(inland.etoMm);
  });

  it('takes wind at 2 m as it is and lowers wind from above', () => {
    const windOf = (input: EtoInput) => computeEto(input).steps.find((step) => step.symbol === 'u2')!.value;
    expect(windOf({ ...summerDay, windMps: 3 })).toBe(3);
    expect(windOf({ ...summerDay, windMps: 3, windHeightM: 2 })).toBe(3);
    expect(windOf({ ...summerDay, windMps: 3, windHeightM: 10 })).toBeLessThan(2.3);
    expect(windOf({ ...summerDay, rhMaxPct: 80 })).toBe(2);
  });
});

describe('computeEto: steps', () => {
  it('holds every intermediate value, finite, named, with how it came about', () => {
    const { steps } = computeEto({ ...summerDay, windMps: 2 });
    const symbols = steps.map((step) => step.symbol);
    for (const symbol of [
      'J',
      'φ',
      'dr',
      'δ',
      'ωs',
      'Ra',
      'N',
      'Tmean',
      'P',
      'γ',
      'Δ',
      'es',
      'ea',
      'Rso',
      'Rs',
      'Rns',
      'Rnl',
      'Rn',
      'G',
      'u2',
      'ETo',
    ]) {
      expect(symbols).toContain(symbol);
    }
    expect(new Set(symbols).size).toBe(symbols.length);
    for (const step of steps) {
      expect(Number.isFinite(step.value), step.symbol).toBe(true);
      expect(isFact(step.name) && isFact(step.how), step.symbol).toBe(true);
    }
  });
});

describe('computeEto: impossible weather', () => {
  it.each([
    [{ tminC: 36 }, 'tminC'],
    [{ tmaxC: 61 }, 'tmaxC'],
    [{ tmaxC: NaN }, 'tmaxC'],
    [{ latitudeDeg: 95 }, 'latitudeDeg'],
    [{ latitudeDeg: -90.1 }, 'latitudeDeg'],
    [{ elevationM: 9000 }, 'elevationM'],
    [{ rhMaxPct: 101 }, 'rhMaxPct'],
    [{ rhMinPct: -1 }, 'rhMinPct'],
    [{ rhMeanPct: 100.1 }, 'rhMeanPct'],
    [{ rhMaxPct: 40, rhMinPct: 41 }, 'rhMinPct'],
    [{ windMps: -0.1 }, 'windMps'],
    [{ windMps: 2, windHeightM: 0 }, 'windHeightM'],
    [{ solarMjM2: -1 }, 'solarMjM2'],
    [{ solarMjM2: 45 }, 'solarMjM2'],
    [{ sunshineHours: 15 }, 'sunshineHours'],
    [{ sunshineHours: -1 }, 'sunshineHours'],
    [{ tdewC: 36 }, 'tdewC'],
    [{ date: '2023-02-29' }, 'date'],
    [{ date: '10 July' }, 'date'],
    [{ date: '2023-13-01' }, 'date'],
  ] as [Partial<EtoInput>, string][])('%o is refused at %s', (change, field) => {
    const error = refusal({ ...summerDay, ...change });
    expect(error.code).toBe('bad-input');
    expect(error.field).toBe(field);
    expect(error.message).toContain(field);
    expect(error.message).toMatch(/must|allowed|only/);
  });

  it('takes the edges: 29 February of a leap year, the poles in their night and day', () => {
    expect(computeEto({ ...summerDay, date: '2024-02-29' }).steps[0]!.value).toBe(60);
    expect(computeEto({ ...summerDay, date: '2023-12-31' }).steps[0]!.value).toBe(365);
    expect(computeEto({ ...summerDay, date: '2000-03-01' }).steps[0]!.value).toBe(61);
    expect(computeEto({ ...summerDay, date: '2100-03-01' }).steps[0]!.value).toBe(60);
    const night = computeEto({
      latitudeDeg: 78,
      elevationM: 10,
      date: '2023-12-21',
      tmaxC: -10,
      tminC: -18,
      windMps: 3,
    });
    expect(night.steps.find((step) => step.symbol === 'Ra')!.value).toBe(0);
    expect(night.etoMm).toBeGreaterThanOrEqual(0);
    const day = computeEto({ latitudeDeg: 78, elevationM: 10, date: '2023-06-21', tmaxC: 6, tminC: 1, windMps: 3 });
    expect(day.steps.find((step) => step.symbol === 'N')!.value).toBeCloseTo(24, 10);
    for (const latitudeDeg of [-90, 90])
      expect(Number.isFinite(computeEto({ ...summerDay, latitudeDeg, method: 'fao56' }).etoMm)).toBe(true);
  });
});

describe('limits that keep estimates physical', () => {
  it('clouds count between 0.3 and 1 of clear sky, and as 0.3 in polar night', () => {
    expect([eq.clearness(2, 20), eq.clearness(10, 20), eq.clearness(25, 20), eq.clearness(0, 0)]).toEqual([
      0.3, 0.5, 1, 0.3,
    ]);
  });

  it('a wide temperature range never makes more sun than a clear sky', () => {
    expect(eq.solarFromRange(45, 5, 40, 30, 0.16)).toBe(30);
    expect(eq.solarFromRange(20, 11, 40, 30, 0.16)).toBeCloseTo(0.16 * 3 * 40, 12);
  });

  it('under a sun at the horizon nearly all clear-sky light is scattered', () => {
    const share = eq.clearSkyFullMj((70 * Math.PI) / 180, 355, 101.3, 0.3, 1);
    expect(share).toBeGreaterThan(0.18);
    expect(share).toBeLessThan(0.25);
  });

  it('air wetter than the mean of the day does not count as drying below nothing', () => {
    const fog = { tmaxC: 25, tminC: 10, tdewC: 24, windMps: 10 };
    const result = computeEto({ ...summerDay, ...fog });
    expect(result.steps.find((step) => step.symbol === 'es − ea')!.value).toBe(0);
    const column = (value: number) => Float64Array.of(value);
    const series = etoSeries(
      { latitudeDeg: summerDay.latitudeDeg, elevationM: summerDay.elevationM },
      {
        dayOfYear: [191],
        tmaxC: column(25),
        tminC: column(10),
        tdewC: column(24),
        windMps: column(10),
      },
    );
    expect(series[0]).toBe(result.etoMm);
  });

  it('the coldest days need 0, not minus 0', () => {
    const cold = { ...summerDay, tmaxC: -30, tminC: -30 };
    expect(computeEto(cold).etoMm).toBe(0);
    expect(
      etoSeries(
        { latitudeDeg: 37.3, elevationM: 50 },
        { dayOfYear: [191], tmaxC: Float64Array.of(-30), tminC: Float64Array.of(-30) },
      )[0],
    ).toBe(0);
  });
});

const maybe = (min: number, max: number) => fc.option(fc.double({ min, max, noNaN: true }), { nil: undefined });
type Reading =
  | 'tminC'
  | 'tmaxC'
  | 'tdewC'
  | 'rhMaxPct'
  | 'rhMinPct'
  | 'rhMeanPct'
  | 'windMps'
  | 'solarMjM2'
  | 'sunshineHours';
/** Mostly possible days; one in four has a reading replaced by one that cannot be. */
const anyDay = fc
  .record({
    latitudeDeg: fc.double({ min: -90, max: 90, noNaN: true }),
    elevationM: fc.double({ min: -500, max: 6000, noNaN: true }),
    month: fc.integer({ min: 1, max: 12 }),
    tmaxC: fc.double({ min: -30, max: 55, noNaN: true }),
    range: fc.double({ min: 0, max: 25, noNaN: true }),
    dryness: maybe(0, 20),
    rhMaxPct: maybe(50, 100),
    rhMinPct: maybe(0, 50),
    rhMeanPct: maybe(0, 100),
    windMps: maybe(0, 40),
    solarMjM2: maybe(0, 12),
    sunshineHours: maybe(0, 6),
    coastal: fc.boolean(),
    reference: fc.constantFrom('short' as const, 'tall' as const),
    method: fc.constantFrom(undefined, 'fao56' as const, 'asce' as const, 'hargreaves' as const),
    windHeightM: fc.constantFrom(2, 3, 10),
    spoiled: fc.option(
      fc.constantFrom<Partial<Record<Reading, number>>>(
        { tminC: 56 },
        { tmaxC: 61 },
        { tdewC: 59 },
        { tdewC: -91 },
        { rhMaxPct: 101 },
        { rhMinPct: -1 },
        { rhMaxPct: 20, rhMinPct: 21 },
        { rhMeanPct: 101 },
        { windMps: -1 },
        { windMps: 61 },
        { solarMjM2: -1 },
        { solarMjM2: 49 },
        { sunshineHours: -1 },
        { sunshineHours: 24.5 },
        { tminC: NaN },
      ),
      { nil: undefined, freq: 3 },
    ),
  })
  .map(({ range, dryness, spoiled, ...day }) => ({
    ...day,
    tminC: day.tmaxC - range,
    tdewC: dryness === undefined ? undefined : day.tmaxC - range - dryness,
    ...spoiled,
  }))
  .filter((day) => day.reference === 'short' || day.method === undefined || day.method === 'asce');

describe('etoSeries', () => {
  it('gives bit for bit what computeEto gives, and NaN exactly where computeEto refuses the day', () => {
    let accepted = 0;
    let refused = 0;
    fc.assert(
      fc.property(anyDay, ({ month, ...day }) => {
        const date = `2023-${String(month).padStart(2, '0')}-01`;
        let single = NaN;
        try {
          single = computeEto({ ...day, date }).etoMm;
          accepted++;
        } catch (error) {
          if (!(error instanceof BookError)) throw error;
          refused++;
        }
        const { latitudeDeg, elevationM, coastal, reference, method, windHeightM } = day;
        const column = (value: number) => Float64Array.of(value);
        // A missing reading is now a column of NaN, now no column at all: both have to mean the same.
        const optional = (value: number | undefined) =>
          value === undefined && month % 2 === 0 ? undefined : Float64Array.of(value ?? NaN);
        const dayOfYear = Int16Array.of(
          Math.round((Date.UTC(2023, month - 1, 1) - Date.UTC(2022, 11, 31)) / 86_400_000),
        );
        const series = etoSeries(
          { latitudeDeg, elevationM, coastal, reference, method, windHeightM },
          {
            dayOfYear,
            tmaxC: column(day.tmaxC),
            tminC: column(day.tminC),
            tdewC: optional(day.tdewC),
            rhMaxPct: optional(day.rhMaxPct),
            rhMinPct: optional(day.rhMinPct),
            rhMeanPct: optional(day.rhMeanPct),
            windMps: optional(day.windMps),
            solarMjM2: optional(day.solarMjM2),
            sunshineHours: optional(day.sunshineHours),
          },
        );
        expect(series[0]).toBe(single);
      }),
      { numRuns: 3000 },
    );
    // Both sides must have been met, or the comparison says nothing.
    expect(accepted).toBeGreaterThan(300);
    expect(refused).toBeGreaterThan(300);
  });

  it('chooses day by day, writes into a given array and leaves gaps as NaN', () => {
    const out = new Float64Array(3);
    const result = etoSeries(
      { latitudeDeg: 37.3, elevationM: 50 },
      {
        dayOfYear: [191, 191, 191],
        tmaxC: Float64Array.of(35, 35, NaN),
        tminC: Float64Array.of(17, 17, 17),
        windMps: Float64Array.of(NaN, 2, 2),
      },
      out,
    );
    expect(result).toBe(out);
    expect(out[0]).toBe(computeEto(summerDay).etoMm);
    expect(out[1]).toBe(computeEto({ ...summerDay, windMps: 2 }).etoMm);
    expect(out[2]).toBeNaN();
  });

  it('refuses columns of unequal length, an impossible site and a tall reference it has not', () => {
    const columns = { dayOfYear: [1, 2], tmaxC: Float64Array.of(10, 11), tminC: Float64Array.of(1, 2) };
    const site = { latitudeDeg: 40, elevationM: 0 };
    expect(() => etoSeries(site, { ...columns, windMps: Float64Array.of(1) })).toThrow(/windMps has 1 day,/);
    expect(() => etoSeries(site, columns, new Float64Array(3))).toThrow(/out has 3 days/);
    expect(() => etoSeries({ ...site, latitudeDeg: 91 }, columns)).toThrow(/latitudeDeg/);
    expect(() => etoSeries({ ...site, reference: 'tall', method: 'hargreaves' }, columns)).toThrow(/method/);
  });

  it('a sunnier day, and a hotter one known by its temperatures alone, never needs less', () => {
    const base = fc.record({
      tminC: fc.double({ min: 0, max: 20, noNaN: true }),
      range: fc.double({ min: 5, max: 20, noNaN: true }),
      solarMjM2: fc.double({ min: 12, max: 25, noNaN: true }),
      more: fc.double({ min: 0.1, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(base, ({ tminC, range, solarMjM2, more }) => {
        const day = { latitudeDeg: 37.3, elevationM: 50, date: '2023-07-10', tmaxC: tminC + range, tminC };
        expect(computeEto({ ...day, solarMjM2: solarMjM2 + more }).etoMm).toBeGreaterThanOrEqual(
          computeEto({ ...day, solarMjM2 }).etoMm,
        );
        expect(computeEto({ ...day, tmaxC: day.tmaxC + more }).etoMm).toBeGreaterThan(computeEto(day).etoMm);
      }),
    );
  });
});
