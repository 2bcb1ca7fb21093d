import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nudge, problemOf } from '../../renderer/field/choice.tsx';
import { centsOf } from '../../renderer/field/forms/work-forms.tsx';
import { airLimitWords, commonAirLimitPsi } from '../../renderer/field/forms/season-forms.tsx';
import { measureOf } from '../../renderer/field/measures.ts';
import { visitKindOf } from '../../renderer/field/visit-kind.ts';

describe('steppers', () => {
  it('step onto the grid and stop at the bounds', () => {
    expect(nudge(10, 1, 0, 720, 0)).toBe(11);
    expect(nudge(82, 5, 0, 300, 0)).toBe(85);
    expect(nudge(82, -5, 0, 300, 0)).toBe(80);
    expect(nudge(85, -5, 0, 300, 0)).toBe(80);
    expect(nudge(300, 5, 0, 300, 0)).toBe(300);
    expect(nudge(null, 1, 0, 99, 0)).toBe(0);
    expect(nudge(0.25, 0.05, 0, 3, 3)).toBe(0.3);
  });
  it('never leave their bounds and always move where they can', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 300 }), fc.constantFrom(1, 5, 25), fc.boolean(), (value, size, up) => {
        const next = nudge(value, up ? size : -size, 0, 300, 0);
        expect(next).toBeGreaterThanOrEqual(0);
        expect(next).toBeLessThanOrEqual(300);
        if (up) expect(next).toBeGreaterThan(value === 300 ? 299 : value);
        else expect(next).toBeLessThan(value === 0 ? 1 : value);
      }),
    );
  });
  it('say what is wrong with a typed figure', () => {
    for (const good of ['', '12', '12,345', '0.5', '.5', '12.'])
      expect(problemOf(good, 0, 100_000, 1), good).toBeNull();
    for (const bad of ['abc', '1e5', '-3', '1,23', '200000', '0.25'])
      expect(problemOf(bad, 0, 100_000, 1), bad).not.toBeNull();
    expect(problemOf('600', 1, 120, 0)).toBe('Must be 1 to 120.');
    expect(problemOf('1.5', 1, 120, 0)).toBe('Must be a whole number.');
  });
});

describe('what a technician types', () => {
  it('becomes cents, or is no price', () => {
    expect(centsOf('')).toBeNull();
    expect(centsOf('4.25')).toBe(425);
    expect(centsOf('$4')).toBe(400);
    expect(centsOf('4,5')).toBe(450);
    expect(centsOf('19.99')).toBe(1999);
    expect(centsOf('-1')).toBeUndefined();
    expect(centsOf('4.999')).toBeUndefined();
  });
  it('is stored in US units whichever way it is read', () => {
    const meter = measureOf('volume', 'metric');
    expect(meter.bounds(0, 1e10).unit).toBe('m³');
    expect(meter.store(1)).toBeCloseTo(264.172, 3);
    expect(meter.show(264.172052)).toBe(1);
    expect(measureOf('volume', 'us').store(12345)).toBe(12345);
    expect(measureOf('pressure', 'metric').store(344.737864)).toBeCloseTo(50, 5);
    expect(measureOf('temperature', 'metric').show(32)).toBe(0);
  });
  it('stays inside the stored bounds at the ends of the shown ones', () => {
    for (const [name, min, max] of [
      ['pressure', 1, 120],
      ['rainDepth', 0, 3],
      ['temperature', 20, 60],
      ['volume', 0, 1e10],
    ] as const) {
      for (const system of ['us', 'metric'] as const) {
        const measure = measureOf(name, system);
        const bounds = measure.bounds(min, max);
        expect(measure.store(bounds.min)).toBeGreaterThanOrEqual(min);
        expect(measure.store(bounds.max)).toBeLessThanOrEqual(max);
      }
    }
  });
});

describe('rules of the field', () => {
  it('keep to the lower air pressure unless the pipe is known to be rigid', () => {
    expect(['pvc', 'copper'].map(commonAirLimitPsi)).toEqual([80, 80]);
    expect(['polyethylene', 'mixed', 'unknown', undefined].map(commonAirLimitPsi)).toEqual([50, 50, 50, 50]);
  });
  it('never round a pressure limit up', () => {
    const words = (psi: number, units: 'us' | 'metric') => airLimitWords(psi, units);
    expect([words(80, 'us'), words(50, 'us'), words(80, 'metric'), words(50, 'metric')]).toEqual([
      '80 psi',
      '50 psi',
      '550 kPa',
      '340 kPa',
    ]);
  });
  it('name unplanned work by its weightiest entry', () => {
    expect(visitKindOf(['note', 'part-used', 'winterization'])).toBe('winterization');
    expect(visitKindOf(['note', 'part-used'])).toBe('repair');
    expect(visitKindOf(['run-time-change', 'battery-swap'])).toBe('program-adjustment');
    expect(visitKindOf(['meter-read'])).toBe('walk-through');
  });
});
