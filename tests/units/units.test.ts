import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromStored, toStored, unitDigits, unitLabel, type Quantity } from '../../core/units.ts';

const QUANTITIES: Quantity[] = [
  'depth',
  'rate',
  'length',
  'area',
  'volume',
  'flow',
  'emitterFlow',
  'pressure',
  'temperature',
];

describe('units', () => {
  it('converts by the definitions of the units', () => {
    // International foot 0.3048 m and US liquid gallon 3.785411784 L exactly (NIST SP 811, appendix B.8).
    expect(fromStored('depth', 1, 'metric')).toBeCloseTo(25.4, 12);
    expect(fromStored('length', 10, 'metric')).toBeCloseTo(3.048, 12);
    expect(fromStored('area', 100, 'metric')).toBeCloseTo(9.290304, 12);
    expect(fromStored('volume', 1, 'metric')).toBeCloseTo(3.785411784, 12);
    expect(fromStored('flow', 10, 'metric')).toBeCloseTo(37.85411784, 12);
    expect(fromStored('pressure', 1, 'metric')).toBeCloseTo(6.894757, 6);
    expect(fromStored('temperature', 32, 'metric')).toBeCloseTo(0, 12);
    expect(fromStored('temperature', 212, 'metric')).toBeCloseTo(100, 12);
    expect(fromStored('temperature', -40, 'metric')).toBeCloseTo(-40, 12);
  });
  it('leaves stored figures alone for a reader of US units', () => {
    for (const quantity of QUANTITIES) {
      expect(fromStored(quantity, 12.34, 'us')).toBe(12.34);
      expect(toStored(quantity, 12.34, 'us')).toBe(12.34);
    }
  });
  it('gives back what was typed', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...QUANTITIES),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        (quantity, value) => {
          expect(fromStored(quantity, toStored(quantity, value, 'metric'), 'metric')).toBeCloseTo(value, 6);
        },
      ),
    );
  });
  it('has a sign and decimals for every quantity in both systems', () => {
    for (const quantity of QUANTITIES) {
      expect(unitLabel(quantity, 'us')).not.toBe(unitLabel(quantity, 'metric'));
      expect(unitDigits(quantity, 'us')).toBeGreaterThanOrEqual(0);
      expect(unitDigits(quantity, 'metric')).toBeGreaterThanOrEqual(0);
    }
  });
});
