import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  advanceZones,
  checkZoneColumns,
  makeZoneColumns,
  soilBalance,
  stressFactor,
} from '../../core/agronomy/index.ts';
import type { SoilBalanceInput } from '../../core/agronomy/index.ts';
import { BookError } from '../../core/errors.ts';

const depth = (max: number) => fc.double({ min: 0, max, noNaN: true });
const season = fc.record({
  total: fc.double({ min: 0.1, max: 6, noNaN: true }),
  allowed: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
  start: fc.double({ min: 0, max: 1, noNaN: true }),
  days: fc.array(fc.tuple(depth(0.6), fc.oneof(fc.constant(0), depth(3)), fc.oneof(fc.constant(0), depth(1.5))), {
    minLength: 1,
    maxLength: 120,
  }),
  intake: fc.oneof(fc.constant(undefined), depth(1)),
  stress: fc.boolean(),
});
function toInput(drawn: typeof season extends fc.Arbitrary<infer T> ? T : never): SoilBalanceInput {
  return {
    totalAvailableInches: drawn.total,
    allowedDepletion: drawn.allowed,
    startDepletionInches: drawn.start * drawn.total,
    needInches: Float64Array.from(drawn.days, (day) => day[0]),
    rainInches: Float64Array.from(drawn.days, (day) => day[1]),
    irrigationInches: Float64Array.from(drawn.days, (day) => day[2]),
    rainIntakeInches: drawn.intake,
    stress: drawn.stress,
  };
}
const sum = (values: ArrayLike<number>) => Array.from(values).reduce((a, b) => a + b, 0);

describe('soilBalance', () => {
  it('depletion stays within 0…total, water is conserved each day and in all, and no plant uses more than it needs', () => {
    fc.assert(
      fc.property(season, (drawn) => {
        const input = toInput(drawn);
        const result = soilBalance(input);
        let before = input.startDepletionInches;
        for (let day = 0; day < drawn.days.length; day++) {
          const after = result.depletionInches[day]!;
          expect(after).toBeGreaterThanOrEqual(0);
          expect(after).toBeLessThanOrEqual(input.totalAvailableInches + 1e-12);
          const incoming = input.rainInches[day]! + input.irrigationInches[day]!;
          const outgoing = result.actualEtInches[day]! + result.drainageInches[day]! + result.runoffInches[day]!;
          expect(Math.abs(incoming - outgoing - (before - after))).toBeLessThan(1e-12);
          expect(result.actualEtInches[day]!).toBeLessThanOrEqual(input.needInches[day]! + 1e-15);
          expect(result.effectiveRainInches[day]!).toBeLessThanOrEqual(input.rainInches[day]!);
          before = after;
        }
        expect(Math.abs(result.totals.residualInches)).toBeLessThan(1e-9);
        expect(result.totals.actualEtInches).toBeCloseTo(sum(result.actualEtInches), 12);
        expect(result.totals.effectiveRainInches).toBeCloseTo(sum(result.effectiveRainInches), 12);
        expect(result.totals.drainageInches).toBeCloseTo(sum(result.drainageInches), 12);
        expect(result.totals.runoffInches).toBeCloseTo(sum(result.runoffInches), 12);
        expect(result.totals.rainInches).toBeCloseTo(sum(input.rainInches), 12);
        expect(result.totals.irrigationInches).toBeCloseTo(sum(input.irrigationInches), 12);
        expect(result.totals.storeChangeInches).toBeCloseTo(input.startDepletionInches - before, 12);
      }),
    );
  });

  it('more irrigation never leaves the ground drier', () => {
    fc.assert(
      fc.property(season, depth(0.5), (drawn, extra) => {
        const input = toInput(drawn);
        const drier = soilBalance(input);
        const wetter = soilBalance({
          ...input,
          irrigationInches: Float64Array.from(input.irrigationInches, (inches) => inches + extra),
        });
        for (let day = 0; day < drawn.days.length; day++)
          expect(wetter.depletionInches[day]!).toBeLessThanOrEqual(drier.depletionInches[day]! + 1e-12);
      }),
    );
  });

  it('a day by hand: rain runs off above the intake, irrigation fills, the surplus after ET drains as rain', () => {
    const result = soilBalance({
      totalAvailableInches: 2,
      allowedDepletion: 0.5,
      startDepletionInches: 0.6,
      needInches: [0.2],
      rainInches: [1.5],
      irrigationInches: [0.1],
      rainIntakeInches: 1,
    });
    expect(result.runoffInches[0]).toBeCloseTo(0.5, 12);
    expect(result.drainageInches[0]).toBeCloseTo(0.3, 12);
    expect(result.effectiveRainInches[0]).toBeCloseTo(0.7, 12);
    expect(result.depletionInches[0]).toBe(0);
    expect(result.stress[0]).toBe(1);
  });

  it('without stress a plant drinks on until the wilting point, and then nothing', () => {
    const input = {
      totalAvailableInches: 1,
      allowedDepletion: 0.5,
      startDepletionInches: 0.5,
      needInches: [0.3, 0.3, 0.3],
      rainInches: [0, 0, 0],
      irrigationInches: [0, 0, 0],
    };
    const result = soilBalance({ ...input, stress: false });
    [0.3, 0.2, 0].forEach((used, day) => expect(result.actualEtInches[day]).toBeCloseTo(used, 12));
    expect(soilBalance(input).actualEtInches[1]).toBeCloseTo(0.3 * 0.4, 12);
  });

  it('takes no days at all', () => {
    expect(
      soilBalance({
        totalAvailableInches: 1,
        allowedDepletion: 0.5,
        startDepletionInches: 0.2,
        needInches: [],
        rainInches: [],
        irrigationInches: [],
      }).totals.residualInches,
    ).toBe(0);
  });

  it.each([
    [{ totalAvailableInches: 0 }, 'totalAvailableInches'],
    [{ allowedDepletion: 1 }, 'allowedDepletion'],
    [{ startDepletionInches: 2 }, 'startDepletionInches'],
    [{ rainInches: [0] }, 'rainInches'],
    [{ irrigationInches: [0, -1] }, 'irrigationInches.1'],
    [{ needInches: [NaN, 0] }, 'needInches.0'],
    [{ rainIntakeInches: -1 }, 'rainIntakeInches'],
  ] as [Partial<SoilBalanceInput>, string][])('%o is refused at %s', (change, field) => {
    const input = {
      totalAvailableInches: 1,
      allowedDepletion: 0.5,
      startDepletionInches: 0.2,
      needInches: [0.1, 0.1],
      rainInches: [0, 0],
      irrigationInches: [0, 0],
    };
    expect(() => soilBalance({ ...input, ...change })).toThrow(expect.objectContaining({ code: 'bad-input', field }));
  });
});

describe('stressFactor', () => {
  it('is 1 up to what is readily available, 0 at the wilting point, a straight line between', () => {
    expect([0, 1, 1.5, 2, 3].map((at) => stressFactor(at, 2, 1))).toEqual([1, 1, 0.5, 0, 0]);
  });
});

describe('advanceZones', () => {
  it('moves many zones exactly as soilBalance moves each', () => {
    fc.assert(
      fc.property(
        fc.array(season, { minLength: 1, maxLength: 5 }),
        fc.double({ min: 0.1, max: 1, noNaN: true }),
        (drawn, factor) => {
          const days = Math.min(...drawn.map((zone) => zone.days.length));
          const zones = makeZoneColumns(drawn.length);
          drawn.forEach((zone, i) => {
            zones.totalInches[i] = zone.total;
            zones.readilyInches[i] = zone.allowed * zone.total;
            zones.plantFactor[i] = factor;
            zones.station[i] = i;
            zones.depletionInches[i] = zone.start * zone.total;
          });
          checkZoneColumns(zones, drawn.length);
          for (let day = 0; day < days; day++) {
            const column = (k: 0 | 1 | 2) => Float64Array.from(drawn, (zone) => zone.days[day]![k]);
            advanceZones(zones, { etoInches: column(0), rainInches: column(1), irrigationInches: column(2) });
          }
          drawn.forEach((zone, i) => {
            const alone = soilBalance({
              ...toInput({ ...zone, days: zone.days.slice(0, days), intake: undefined, stress: true }),
              needInches: zone.days.slice(0, days).map((day) => day[0] * factor),
            });
            expect(zones.depletionInches[i]).toBe(alone.depletionInches.at(-1));
            expect(zones.actualEtInches[i]).toBe(alone.totals.actualEtInches);
            expect(zones.drainageInches[i]).toBe(alone.totals.drainageInches);
          });
        },
      ),
    );
  });

  it('columns that cannot be are refused by zone', () => {
    const zones = makeZoneColumns(2);
    zones.totalInches.fill(2);
    zones.readilyInches.fill(1);
    zones.plantFactor.fill(0.8);
    expect(() => checkZoneColumns(zones, 1)).not.toThrow();
    zones.station[1] = 1;
    expect(() => checkZoneColumns(zones, 1)).toThrow(BookError);
    zones.station[1] = 0;
    zones.depletionInches[1] = 2.5;
    expect(() => checkZoneColumns(zones, 1)).toThrow(/zones\.1/);
    expect(() => checkZoneColumns({ ...zones, plantFactor: new Float64Array(1) }, 1)).toThrow(
      /plantFactor has 1 zone,/,
    );
  });
});
