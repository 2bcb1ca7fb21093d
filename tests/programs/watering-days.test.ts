import { Temporal } from 'temporal-polyfill';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { WateringDays } from '../../core/contract/parts.ts';
import { meanDaysPerWeek, wateringDates, watersOn } from '../../core/programs/watering-days.ts';

const anyDays: fc.Arbitrary<WateringDays> = fc.oneof(
  fc.uniqueArray(fc.integer({ min: 1, max: 7 })).map((weekdays) => ({ kind: 'weekdays' as const, weekdays })),
  fc.constantFrom('water' as const, 'skip' as const).map((monthEnd) => ({ kind: 'odd' as const, monthEnd })),
  fc.constant({ kind: 'even' as const }),
  fc.record({
    kind: fc.constant('interval' as const),
    everyDays: fc.integer({ min: 1, max: 31 }),
    startDate: fc.constantFrom('2023-12-30', '2024-02-29', '2025-06-15'),
  }),
);

/** The same rules said again with Temporal. */
function watersByTemporal(days: WateringDays, date: Temporal.PlainDate): boolean {
  if (days.kind === 'weekdays') return days.weekdays.includes(date.dayOfWeek);
  if (days.kind === 'even') return date.day % 2 === 0;
  if (days.kind === 'odd') {
    if (days.monthEnd === 'skip' && (date.day === 31 || (date.month === 2 && date.day === 29))) return false;
    return date.day % 2 === 1;
  }
  const since = Temporal.PlainDate.from(days.startDate).until(date, { largestUnit: 'day' }).days;
  return since >= 0 && since % days.everyDays === 0;
}

describe('watering days', () => {
  test('agree with the rules written with Temporal, over three years with a leap day', () => {
    fc.assert(
      fc.property(anyDays, fc.integer({ min: 0, max: 1200 }), (days, offset) => {
        const date = Temporal.PlainDate.from('2023-06-01').add({ days: offset });
        expect(watersOn(days, date.toString())).toBe(watersByTemporal(days, date));
      }),
      { numRuns: 2000 },
    );
  });

  test('odd dates at month ends: skip leaves out the 31st and 29 February, water keeps them', () => {
    const skip: WateringDays = { kind: 'odd', monthEnd: 'skip' };
    const water: WateringDays = { kind: 'odd', monthEnd: 'water' };
    expect(wateringDates(skip, '2024-01-29', '2024-02-03')).toEqual(['2024-01-29', '2024-02-01', '2024-02-03']);
    expect(wateringDates(water, '2024-01-29', '2024-02-03')).toEqual([
      '2024-01-29',
      '2024-01-31',
      '2024-02-01',
      '2024-02-03',
    ]);
    expect(wateringDates(skip, '2024-02-26', '2024-03-01')).toEqual(['2024-02-27', '2024-03-01']);
    expect(wateringDates(water, '2024-02-26', '2024-03-01')).toEqual(['2024-02-27', '2024-02-29', '2024-03-01']);
    expect(wateringDates(skip, '2025-02-26', '2025-03-01')).toEqual(['2025-02-27', '2025-03-01']);
    // 29th of other months is an ordinary odd date.
    expect(watersOn(skip, '2024-04-29')).toBe(true);
    // 2100 is not a leap year: there is no 29 February to leave out, and asking for it is an error.
    expect(() => watersOn(skip, '2100-02-29')).toThrow(/not a day of the calendar/);
  });

  test('even dates with month ends', () => {
    expect(wateringDates({ kind: 'even' }, '2026-01-28', '2026-02-03')).toEqual([
      '2026-01-28',
      '2026-01-30',
      '2026-02-02',
    ]);
    expect(wateringDates({ kind: 'even' }, '2024-02-28', '2024-03-02')).toEqual(['2024-02-28', '2024-03-02']);
  });

  test('an interval waters on its start date, never before it, and over a leap day', () => {
    const days: WateringDays = { kind: 'interval', everyDays: 3, startDate: '2024-02-27' };
    expect(wateringDates(days, '2024-02-18', '2024-03-07')).toEqual([
      '2024-02-27',
      '2024-03-01',
      '2024-03-04',
      '2024-03-07',
    ]);
  });

  test('mean days a week are the count over 400 years', () => {
    const cases: WateringDays[] = [
      { kind: 'odd', monthEnd: 'skip' },
      { kind: 'odd', monthEnd: 'water' },
      { kind: 'even' },
      { kind: 'weekdays', weekdays: [1, 4] },
    ];
    for (const days of cases) {
      const count = wateringDates(days, '2000-01-01', '2399-12-31').length;
      expect(meanDaysPerWeek(days)).toBeCloseTo((7 * count) / 146_097, 12);
    }
    expect(meanDaysPerWeek({ kind: 'interval', everyDays: 14, startDate: '2026-01-01' })).toBe(0.5);
  });
});
