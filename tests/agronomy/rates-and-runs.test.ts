import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as entities from '../../core/agronomy/contract.ts';
import {
  EMISSION_DEVICES,
  PLANT_KINDS,
  SLOPE_CLASSES,
  SOILS,
  allowableAccumulationInches,
  auditCatchCans,
  emissionDeviceRow,
  landscapeCoefficient,
  longestCycleMinutes,
  plantFactor,
  plantNeed,
  prFromEmitters,
  prFromFlowAndArea,
  prFromHose,
  prFromSpacing,
  runBounds,
  schedulingMultiplier,
  slopeClass,
  soakMinutes,
  soilRow,
  splitCycles,
  totalAvailableInches,
  wateringInterval,
} from '../../core/agronomy/index.ts';
import { BookError } from '../../core/errors.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

function fieldOf(call: () => unknown): string | undefined {
  try {
    call();
  } catch (error) {
    if (error instanceof BookError && error.code === 'bad-input' && error.message.includes(error.field!))
      return error.field;
    throw error;
  }
  return 'nothing was refused';
}

describe('tables', () => {
  it('cover exactly the ids of the contract', () => {
    expect(PLANT_KINDS.map((row) => row.id).sort()).toEqual([...entities.PLANT_KINDS].sort());
    expect(EMISSION_DEVICES.map((row) => row.id).sort()).toEqual([...entities.EMISSION_DEVICES].sort());
    expect(SOILS.map((row) => row.id).sort()).toEqual([...entities.SOILS].sort());
  });

  it('state a source for every value, and values that make sense', () => {
    for (const row of PLANT_KINDS) {
      expect(row.source).toMatch(/no source|S623|FAO-56/);
      expect(row.factorWet).toBeGreaterThanOrEqual(row.factor);
      expect(row.allowedDepletion).toBeLessThan(1);
    }
    for (const row of EMISSION_DEVICES) expect(row.source).toMatch(/no source|University/);
    for (const row of SOILS) {
      expect(row.availableWaterSource && row.intakeSource && row.accumulationSource).not.toBe('');
      // Steeper ground lets less stand.
      const standing = SLOPE_CLASSES.map((slope) => row.accumulationInches[slope]);
      expect([...standing].sort((a, b) => b - a)).toEqual(standing);
    }
  });

  it('finer soil takes water more slowly', () => {
    const intake = SOILS.map((row) => row.intakeInchesPerHour);
    expect([...intake].sort((a, b) => b - a)).toEqual(intake);
  });

  it('computed device rates follow from their stated layouts', () => {
    expect(emissionDeviceRow('drip-line').prInchesPerHour).toBeCloseTo(prFromEmitters(0.9, 1, 1.5), 2);
    expect(emissionDeviceRow('drip-emitter').prInchesPerHour).toBeCloseTo(prFromEmitters(2, 3, 3), 2);
    expect(emissionDeviceRow('soaker-hose').prInchesPerHour).toBeCloseTo(prFromHose(1.5, 1.5), 2);
  });

  it('slope classes meet at 3, 6 and 12 %', () => {
    const cases = [
      [0, 'flat'],
      [3, 'flat'],
      [3.1, 'gentle'],
      [6, 'gentle'],
      [6.1, 'moderate'],
      [12, 'moderate'],
      [12.1, 'steep'],
      [100, 'steep'],
    ] as const;
    for (const [percent, expected] of cases) expect(slopeClass(percent)).toBe(expected);
    expect(allowableAccumulationInches('clay', 8)).toBe(0.1);
    expect(totalAvailableInches('loam', 10)).toBeCloseTo(1.7, 12);
  });

  it('an unknown id or impossible value is refused by name', () => {
    expect(fieldOf(() => plantFactor('moss' as never))).toBe('plantKind');
    expect(fieldOf(() => emissionDeviceRow('hose' as never))).toBe('emissionDevice');
    expect(fieldOf(() => soilRow('peat' as never))).toBe('soil');
    expect(fieldOf(() => slopeClass(-1))).toBe('slopePercent');
    expect(fieldOf(() => plantFactor('trees', 1.6))).toBe('plantFactor');
    expect(fieldOf(() => totalAvailableInches('loam', 0))).toBe('rootDepthInches');
    expect(fieldOf(() => landscapeCoefficient({ species: 0.5, density: 0, microclimate: 1 }))).toBe('density');
    expect(fieldOf(() => plantNeed(-1, 0.8))).toBe('eto');
    expect(plantFactor('trees', 0.35)).toBe(0.35);
    expect(plantFactor('trees', 0.35, 'wet')).toBe(0.35);
    expect(plantNeed(0.25, 0.8)).toBeCloseTo(0.2, 12);
  });
});

describe('precipitation rate', () => {
  it('a zero area, spacing or time and a negative flow are refused by name', () => {
    expect(fieldOf(() => prFromFlowAndArea(10, 0))).toBe('areaFt2');
    expect(fieldOf(() => prFromFlowAndArea(-1, 100))).toBe('flowGpm');
    expect(fieldOf(() => prFromFlowAndArea(NaN, 100))).toBe('flowGpm');
    expect(fieldOf(() => prFromSpacing(3, 0, 10))).toBe('headSpacingFt');
    expect(fieldOf(() => prFromEmitters(1, 1, 0))).toBe('rowSpacingFt');
    expect(fieldOf(() => prFromHose(0, 2))).toBe('gpmPer100Ft');
    expect(fieldOf(() => schedulingMultiplier(0))).toBe('du');
    expect(fieldOf(() => schedulingMultiplier(60))).toBe('du');
    expect(fieldOf(() => auditCatchCans({ volumesMl: [1, 2, 3], throatAreaIn2: 16, minutes: 5 }))).toBe('volumesMl');
    expect(fieldOf(() => auditCatchCans({ volumesMl: [1, 2, -3, 4], throatAreaIn2: 16, minutes: 5 }))).toBe(
      'volumesMl.2',
    );
    expect(fieldOf(() => auditCatchCans({ volumesMl: [0, 2, 3, 4], throatAreaIn2: 16, minutes: 5 }))).toBe('volumesMl');
    expect(fieldOf(() => auditCatchCans({ volumesMl: [1, 2, 3, 4], throatAreaIn2: 0, minutes: 5 }))).toBe(
      'throatAreaIn2',
    );
    expect(fieldOf(() => auditCatchCans({ volumesMl: [1, 2, 3, 4], throatAreaIn2: 16, minutes: 0 }))).toBe('minutes');
  });

  it('spacing and total area agree for any grid of heads', () => {
    fc.assert(
      fc.property(
        number(0.1, 20),
        number(1, 60),
        number(1, 60),
        fc.integer({ min: 1, max: 50 }),
        (gpm, head, row, heads) => {
          expect(prFromSpacing(gpm, head, row)).toBeCloseTo(prFromFlowAndArea(gpm * heads, head * row * heads), 8);
        },
      ),
    );
  });

  it('catch cans: order does not matter, DU is 0…1, twice the water is twice the rate at the same DU', () => {
    const cans = fc.array(number(0.5, 200), { minLength: 4, maxLength: 60 });
    fc.assert(
      fc.property(cans, (volumesMl) => {
        const audit = auditCatchCans({ volumesMl, throatAreaIn2: 16, minutes: 10 });
        expect(audit.du).toBeGreaterThan(0);
        expect(audit.du).toBeLessThanOrEqual(1);
        expect(audit.thin).toBe(volumesMl.length < 24);
        expect(auditCatchCans({ volumesMl: [...volumesMl].reverse(), throatAreaIn2: 16, minutes: 10 })).toEqual(audit);
        const twice = auditCatchCans({ volumesMl: volumesMl.map((ml) => ml * 2), throatAreaIn2: 16, minutes: 10 });
        expect(twice.prInchesPerHour).toBeCloseTo(audit.prInchesPerHour * 2, 9);
        expect(twice.du).toBeCloseTo(audit.du, 9);
      }),
    );
    expect(auditCatchCans({ volumesMl: [20, 20, 20, 20], throatAreaIn2: 16, minutes: 10 })).toMatchObject({
      du: 1,
      multiplier: 1,
      lowQuarterCount: 1,
    });
    expect(auditCatchCans({ volumesMl: [1, 9, 9, 9, 9, 2, 9, 9, 9, 9], throatAreaIn2: 16, minutes: 10 })).toMatchObject(
      { lowQuarterCount: 3, lowQuarterMeanMl: 4 },
    );
  });
});

describe('run bounds', () => {
  const run = fc.record({
    depth: number(0, 3),
    more: number(0, 2),
    pr: number(0.05, 10),
    faster: number(0, 5),
    du: number(0.05, 0.95),
    even: number(0, 0.05),
  });
  it('more need never shortens a run, a higher rate never lengthens one, worse uniformity never shortens the upper bound', () => {
    fc.assert(
      fc.property(run, ({ depth, more, pr, faster, du, even }) => {
        const base = runBounds(depth, pr, du);
        expect(base.upperMinutes).toBeGreaterThanOrEqual(base.lowerMinutes);
        expect(runBounds(depth + more, pr, du).lowerMinutes).toBeGreaterThanOrEqual(base.lowerMinutes);
        expect(runBounds(depth + more, pr, du).upperMinutes).toBeGreaterThanOrEqual(base.upperMinutes);
        expect(runBounds(depth, pr + faster, du).lowerMinutes).toBeLessThanOrEqual(base.lowerMinutes);
        expect(runBounds(depth, pr + faster, du).upperMinutes).toBeLessThanOrEqual(base.upperMinutes);
        expect(runBounds(depth, pr, du + even).upperMinutes).toBeLessThanOrEqual(base.upperMinutes);
        expect((base.lowerMinutes / 60) * pr).toBeCloseTo(depth, 9);
      }),
    );
  });

  it('refuses what cannot be', () => {
    expect(fieldOf(() => runBounds(-0.1, 1, 0.7))).toBe('depthInches');
    expect(fieldOf(() => runBounds(0.5, 0, 0.7))).toBe('prInchesPerHour');
    expect(fieldOf(() => runBounds(0.5, 1, 1.2))).toBe('du');
  });
});

describe('interval', () => {
  it('never lets depletion pass what is allowed, unless a single day already does', () => {
    fc.assert(
      fc.property(number(0.01, 0.3), number(1, 40), number(0.1, 0.9), number(0.001, 1), (aw, root, allowed, need) => {
        const interval = wateringInterval({
          availableWaterInPerIn: aw,
          rootDepthInches: root,
          allowedDepletion: allowed,
          dailyNeedInches: need,
        });
        expect(interval.wholeDays).toBeGreaterThanOrEqual(1);
        if (interval.wholeDays > 1)
          expect(interval.wholeDays * need).toBeLessThanOrEqual(interval.allowedDepletionInches * (1 + 1e-8));
        expect((interval.wholeDays + 1) * need).toBeGreaterThan(interval.allowedDepletionInches);
      }),
    );
  });

  it('keeps a day that only rounding would lose, and lasts for ever without need', () => {
    const zone = { availableWaterInPerIn: 0.1, rootDepthInches: 12, allowedDepletion: 0.5 };
    expect(wateringInterval({ ...zone, dailyNeedInches: 0.2 }).wholeDays).toBe(3);
    // 0.18 × 18 × 0.5 / 0.27 is 6, but 5.999999999999999 in binary.
    expect(
      wateringInterval({
        availableWaterInPerIn: 0.18,
        rootDepthInches: 18,
        allowedDepletion: 0.5,
        dailyNeedInches: 0.27,
      }).wholeDays,
    ).toBe(6);
    expect(wateringInterval({ ...zone, dailyNeedInches: 0 })).toMatchObject({
      exactDays: Infinity,
      wholeDays: Infinity,
    });
    expect(fieldOf(() => wateringInterval({ ...zone, allowedDepletion: 0, dailyNeedInches: 0.2 }))).toBe(
      'allowedDepletion',
    );
    expect(fieldOf(() => wateringInterval({ ...zone, dailyNeedInches: -0.2 }))).toBe('dailyNeedInches');
  });
});

describe('cycle and soak', () => {
  const ground = fc.record({
    prInchesPerHour: number(0.05, 6),
    intakeInchesPerHour: number(0.05, 2),
    accumulationInches: number(0.05, 0.5),
  });
  it('the cycles make up the run, none lets too much stand, each pause swallows what stands, and one cycle fewer would not do', () => {
    fc.assert(
      fc.property(number(0.5, 300), ground, (minutes, intake) => {
        const split = splitCycles(minutes, intake);
        const longest = longestCycleMinutes(intake);
        expect(split.cycles * split.cycleMinutes).toBeCloseTo(minutes, 8);
        const standing = (each: number) =>
          Math.max(0, ((intake.prInchesPerHour - intake.intakeInchesPerHour) * each) / 60);
        expect(standing(split.cycleMinutes)).toBeLessThanOrEqual(intake.accumulationInches * (1 + 1e-8));
        if (split.cycles > 1) {
          expect(minutes / (split.cycles - 1)).toBeGreaterThan(longest * (1 - 1e-8));
          expect((split.soakMinutes / 60) * intake.intakeInchesPerHour).toBeCloseTo(standing(split.cycleMinutes), 8);
        } else {
          expect(split.soakMinutes).toBe(0);
        }
        expect(split.windowMinutes).toBeCloseTo(minutes + split.soakMinutes * (split.cycles - 1), 8);
      }),
    );
  });

  it('adds no cycle for rounding alone: 10 minutes at 3 1/3 a cycle are 3, though 3.0000000000000004 in binary', () => {
    expect(splitCycles(10, { prInchesPerHour: 2, intakeInchesPerHour: 0.2, accumulationInches: 0.1 }).cycles).toBe(3);
  });

  it('needs no split where the soil keeps up, and nothing for no run', () => {
    const intake = { prInchesPerHour: 0.4, intakeInchesPerHour: 0.4, accumulationInches: 0.3 };
    expect(longestCycleMinutes(intake)).toBe(Infinity);
    expect(splitCycles(90, intake)).toEqual({ cycles: 1, cycleMinutes: 90, soakMinutes: 0, windowMinutes: 90 });
    expect(soakMinutes(90, intake)).toBe(0);
    expect(splitCycles(0, intake)).toEqual({ cycles: 0, cycleMinutes: 0, soakMinutes: 0, windowMinutes: 0 });
    expect(fieldOf(() => splitCycles(-1, intake))).toBe('runMinutes');
    expect(fieldOf(() => longestCycleMinutes({ ...intake, intakeInchesPerHour: 0 }))).toBe('intakeInchesPerHour');
    expect(fieldOf(() => soakMinutes(-1, intake))).toBe('cycleMinutes');
  });
});
