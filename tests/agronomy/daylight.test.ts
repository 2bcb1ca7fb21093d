import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { daylight } from '../../core/agronomy/index.ts';

describe('daylight', () => {
  it('is even about noon, follows the clock, and is longer in summer', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        (latitude, longitude) => {
          const sun = daylight(latitude, longitude, '2024-06-20', 0);
          expect(sun.kind).toBe('normal');
          expect((sun.sunriseMinutes! + sun.sunsetMinutes!) / 2).toBeCloseTo(sun.solarNoonMinutes, 6);
          expect(sun.sunsetMinutes! - sun.sunriseMinutes!).toBeCloseTo(sun.dayLengthMinutes, 6);
          expect(daylight(latitude, longitude, '2024-06-20', 60).sunriseMinutes! - sun.sunriseMinutes!).toBeCloseTo(
            60,
            6,
          );
          if (Math.abs(latitude) > 1) {
            const winter = daylight(latitude, longitude, '2024-12-20', 0);
            expect(Math.sign(sun.dayLengthMinutes - winter.dayLengthMinutes)).toBe(Math.sign(latitude));
          }
        },
      ),
    );
  });

  it('has no sunrise in polar day and night', () => {
    expect(daylight(75, 20, '2024-06-20', 0)).toMatchObject({
      kind: 'polar-day',
      sunriseMinutes: null,
      sunsetMinutes: null,
      dayLengthMinutes: 1440,
    });
    expect(daylight(75, 20, '2024-12-20', 0)).toMatchObject({
      kind: 'polar-night',
      sunriseMinutes: null,
      sunsetMinutes: null,
      dayLengthMinutes: 0,
    });
    expect(daylight(90, 0, '2024-06-20', 0).kind).toBe('polar-day');
    expect(daylight(-90, 0, '2024-06-20', 0).kind).toBe('polar-night');
  });

  it.each([
    [91, 0, '2024-01-01', 0, 'latitudeDeg'],
    [0, 181, '2024-01-01', 0, 'longitudeDeg'],
    [0, 0, '2024-02-30', 0, 'date'],
    [0, 0, '2024-01-01', 900, 'utcOffsetMinutes'],
  ] as const)('%d, %d, %s, %d is refused at %s', (latitude, longitude, date, offset, field) => {
    expect(() => daylight(latitude, longitude, date, offset)).toThrow(
      expect.objectContaining({ code: 'bad-input', field }),
    );
  });
});
