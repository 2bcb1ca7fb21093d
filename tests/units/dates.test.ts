import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  addMonths,
  clockOfMinutes,
  datesFrom,
  dayOfYear,
  daysBetween,
  daysInYear,
  minutesOfClock,
  todayIn,
  weekdayOf,
  weekStartOf,
} from '../../core/dates.ts';

const date = fc
  .date({ min: new Date('1900-01-01'), max: new Date('2199-11-30'), noInvalidDate: true })
  .map((moment) => moment.toISOString().slice(0, 10));

describe('plain dates', () => {
  it('counts over month ends, leap days and new year', () => {
    expect(addDays('2028-02-28', 1)).toBe('2028-02-29');
    expect(addDays('2027-02-28', 1)).toBe('2027-03-01');
    expect(addDays('2026-12-31', 1)).toBe('2027-01-01');
    expect(addMonths('2026-01-31', 1)).toBe('2026-02-28');
    expect(addMonths('2026-11-30', 3)).toBe('2027-02-28');
    expect(daysBetween('2026-03-01', '2026-02-27')).toBe(-2);
    expect(dayOfYear('2028-12-31')).toBe(366);
    expect(daysInYear(2100)).toBe(365);
    expect(daysInYear(2000)).toBe(366);
  });
  it('knows the weekday', () => {
    expect(weekdayOf('2026-11-25')).toBe(3);
    expect(weekdayOf('2000-01-01')).toBe(6);
    expect(weekStartOf('2026-11-29')).toBe('2026-11-23');
    expect(weekStartOf('2026-11-23')).toBe('2026-11-23');
  });
  it('does not lose a day to the clock going forward or back', () => {
    expect(datesFrom('2026-03-07', '2026-03-09')).toEqual(['2026-03-07', '2026-03-08', '2026-03-09']);
    expect(datesFrom('2026-10-31', '2026-11-02')).toHaveLength(3);
    expect(datesFrom('2026-11-02', '2026-11-01')).toEqual([]);
  });
  it('undoes what it did', () => {
    fc.assert(
      fc.property(date, fc.integer({ min: -20_000, max: 20_000 }), (from, days) => {
        const to = addDays(from, days);
        expect(daysBetween(from, to)).toBe(days);
        expect(addDays(to, -days)).toBe(from);
        expect((weekdayOf(from) - 1 + ((days % 7) + 7)) % 7).toBe(weekdayOf(to) - 1);
      }),
    );
  });
  it('says today as a plain date', () => {
    expect(todayIn('Pacific/Kiritimati')).toMatch(/^\d{4}-\d\d-\d\d$/);
    expect([0, 1]).toContain(daysBetween(todayIn('Pacific/Honolulu'), todayIn('Pacific/Kiritimati')));
  });
});

describe('clock times', () => {
  it('turns minutes into a clock and back, wrapping at midnight', () => {
    expect(minutesOfClock('04:30')).toBe(270);
    expect(clockOfMinutes(1440 + 65)).toBe('01:05');
    expect(clockOfMinutes(-30)).toBe('23:30');
    expect(clockOfMinutes(59.6)).toBe('01:00');
    for (let minutes = 0; minutes < 1440; minutes += 7) expect(minutesOfClock(clockOfMinutes(minutes))).toBe(minutes);
  });
});
