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

  // The single day is what the published examples check (tests/published); a series must agree with it to the last bit.
  describe('each day as the single day has it', () => {
    const readings = ['tdewC', 'rhMaxPct', 'rhMinPct', 'rhMeanPct', 'windMps', 'solarMjM2', 'sunshineHours'] as const;
    type Day = { tmaxC: number; tminC: number } & { [name in (typeof readings)[number]]?: number };
    const single = (site: object, day: Day): number => {
      try {
        return computeEto({ latitudeDeg: 40, elevationM: 100, date: '2023-06-21', ...site, ...day }).etoMm;
      } catch (error) {
        if (error instanceof BookError) return NaN;
        throw error;
      }
    };
    const series = (site: object, day: Day, missing: 'no column' | 'NaN'): number => {
      const column = (value: number | undefined) =>
        value === undefined && missing === 'no column' ? undefined : Float64Array.of(value ?? NaN);
      return etoSeries(
        { latitudeDeg: 40, elevationM: 100, ...site },
        {
          dayOfYear: [172],
          tmaxC: Float64Array.of(day.tmaxC),
          tminC: Float64Array.of(day.tminC),
          ...Object.fromEntries(readings.map((name) => [name, column(day[name])])),
        },
      )[0]!;
    };
    const agrees = (day: Day, site: object = {}) => {
      const expected = single(site, day);
      for (const missing of ['no column', 'NaN'] as const)
        expect(series(site, day, missing), `${JSON.stringify({ ...day, ...site })} ${missing}`).toBe(expected);
      return expected;
    };
    const day = { tmaxC: 31, tminC: 14 };
    const alone: [(typeof readings)[number], number, number[]][] = [
      ['tdewC', 9, [-90, -90.1, 31, 31.1]],
      ['rhMaxPct', 85, [0, -0.1, 100, 100.1]],
      ['rhMinPct', 35, [0, -0.1, 100, 100.1]],
      ['rhMeanPct', 55, [0, -0.1, 100, 100.1]],
      ['windMps', 3.5, [0, -0.1, 60, 60.1]],
      // More than 41.6 MJ of Ra and 15.0 h of daylight, and the slack of instruments: 42.6 MJ, 15.25 h.
      ['solarMjM2', 22, [0, -0.1, 42, 43, 50.1]],
      ['sunshineHours', 9, [0, -0.1, 15.1, 15.5, 24.1]],
    ];

    it.each(alone)('known by %s alone, and at the ends of what it can be', (name, usual, ends) => {
      const hargreaves = agrees(day);
      expect(agrees({ ...day, [name]: usual })).not.toBe(hargreaves);
      for (const method of ['fao56', 'asce', 'hargreaves'] as const) agrees({ ...day, [name]: usual }, { method });
      agrees({ ...day, [name]: usual }, { reference: 'tall' });
      const verdicts = ends.map((end) => Number.isNaN(agrees({ ...day, [name]: end })));
      expect(verdicts).toContain(true);
      expect(verdicts).toContain(false);
    });

    it('at the ends of temperature, humidity of the day, height and coast', () => {
      const taken = (days: Day[]) => days.map((one) => !Number.isNaN(agrees(one)));
      for (const more of [{}, { windMps: 2 }]) {
        const ends = [
          { tmaxC: 60, tminC: 10 },
          { tmaxC: 60.1, tminC: 10 },
          { tmaxC: 10, tminC: 10 },
          { tmaxC: 10, tminC: 10.1 },
          { tmaxC: 0, tminC: -90 },
          { tmaxC: 0, tminC: -90.1 },
        ];
        expect(taken(ends.map((one) => ({ ...one, ...more })))).toEqual([true, false, true, false, true, false]);
      }
      expect(
        taken([
          { ...day, rhMaxPct: 60, rhMinPct: 60 },
          { ...day, rhMaxPct: 60, rhMinPct: 60.1 },
        ]),
      ).toEqual([true, false]);
      for (const site of [
        { coastal: true },
        { windHeightM: 10 },
        { windHeightM: 0.5 },
        { windHeightM: 100 },
        { elevationM: -500 },
        { elevationM: 6000 },
        { latitudeDeg: 90 },
        { latitudeDeg: -90 },
      ])
        expect(agrees({ ...day, windMps: 2 }, site)).toBeGreaterThan(0);
      const columns = { dayOfYear: [0, 1, 366, 367], tmaxC: new Float64Array(4).fill(31), tminC: new Float64Array(4) };
      const known = (days: Float64Array) => Array.from(days, (eto) => !Number.isNaN(eto));
      const site = { latitudeDeg: 40, elevationM: 100 };
      expect(known(etoSeries(site, columns))).toEqual([false, true, true, false]);
      expect(known(etoSeries(site, { ...columns, windMps: new Float64Array(4).fill(2) }))).toEqual([
        false,
        true,
        true,
        false,
      ]);
    });

    it.each([
      ['elevationM', -500.1],
      ['elevationM', 6000.1],
      ['latitudeDeg', -90.1],
      ['latitudeDeg', 90.1],
      ['windHeightM', 0.49],
      ['windHeightM', 100.1],
    ])('a site with %s %d is refused', (field, value) => {
      expect(() => series({ [field]: value }, day, 'NaN')).toThrow(
        expect.objectContaining({ code: 'bad-input', field }),
      );
    });
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
