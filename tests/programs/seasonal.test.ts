import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { roundMinutes, roundMinutesDown, roundMinutesUp, scaledMinutes } from '../../core/programs/seasonal.ts';

const steps = fc.constantFrom(1 / 60, 1 / 6, 0.1, 0.25, 0.5, 1, 2, 5);

describe('scaled minutes', () => {
  // Common practice, no source: the trade's own arithmetic.
  test('20 min at 150 % is 30 min', () => {
    expect(scaledMinutes(20, 150, 1)).toBe(30);
    expect(scaledMinutes(20, 50, 1)).toBe(10);
  });

  test('halves go up, also where binary fractions fall just below the half', () => {
    expect(scaledMinutes(5, 50, 1)).toBe(3);
    expect(scaledMinutes(5, 49, 1)).toBe(2);
    expect(scaledMinutes(1.15, 1000 / 10, 0.1)).toBe(1.2);
    expect(scaledMinutes(1.005 * 100, 100, 1)).toBe(101);
    expect(scaledMinutes(15, 30, 1)).toBe(5);
  });

  test('a base above 0 never rounds to 0, except at 0 %', () => {
    expect(scaledMinutes(3, 10, 1)).toBe(1);
    expect(scaledMinutes(3, 0, 1)).toBe(0);
    expect(scaledMinutes(0, 200, 1)).toBe(0);
    expect(scaledMinutes(1, 10, 0.5)).toBe(0.5);
  });

  test('stays within the rounding step of the exact figure, is a multiple of it, and never falls as the percentage grows', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 720, noNaN: true }),
        fc.integer({ min: 0, max: 300 }),
        fc.integer({ min: 0, max: 300 }),
        steps,
        (base, a, b, step) => {
          const [low, high] = [Math.min(a, b), Math.max(a, b)];
          const minutes = scaledMinutes(base, low, step);
          expect(Math.abs(minutes - (base * low) / 100)).toBeLessThanOrEqual(step + 1e-9);
          expect(Math.abs(minutes / step - Math.round(minutes / step))).toBeLessThan(1e-6);
          expect(scaledMinutes(base, high, step)).toBeGreaterThanOrEqual(minutes);
          expect(Math.abs(roundMinutes(base, step) - base)).toBeLessThanOrEqual(step / 2 + 1e-6);
          expect(roundMinutesUp(base, step)).toBeGreaterThanOrEqual(base - 1e-6);
          expect(roundMinutesDown(base, step)).toBeLessThanOrEqual(base + 1e-6);
          expect(roundMinutesUp(base, step) - roundMinutesDown(base, step)).toBeLessThanOrEqual(step + 1e-9);
        },
      ),
    );
  });

  test('refuses figures outside what a controller takes', () => {
    expect(() => scaledMinutes(10, 301, 1)).toThrow(
      expect.objectContaining({ code: 'bad-input', field: 'seasonalPercent' }),
    );
    expect(() => scaledMinutes(-1, 100, 1)).toThrow(expect.objectContaining({ field: 'runMinutes' }));
    expect(() => scaledMinutes(NaN, 100, 1)).toThrow(expect.objectContaining({ field: 'runMinutes' }));
    expect(() => scaledMinutes(10, 100, 0)).toThrow(expect.objectContaining({ field: 'roundToMinutes' }));
  });
});
