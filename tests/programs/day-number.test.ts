import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { civilOf, dayNumberOf, isoDateOf, mondayOf, weekdayOfDay } from '../../core/programs/day-number.ts';

describe('day numbers', () => {
  test('agree with Temporal on every date of 400 years: number, date, weekday', () => {
    let date = Temporal.PlainDate.from('1900-01-01');
    let day = dayNumberOf('1900-01-01');
    expect(day).toBe(-25567);
    const wrong: string[] = [];
    for (let i = 0; i < 146_097; i += 1) {
      const iso = date.toString();
      const civil = civilOf(day);
      if (
        isoDateOf(day) !== iso ||
        dayNumberOf(iso) !== day ||
        weekdayOfDay(day) !== date.dayOfWeek ||
        civil.day !== date.day ||
        civil.month !== date.month
      )
        wrong.push(iso);
      date = date.add({ days: 1 });
      day += 1;
    }
    expect(wrong).toEqual([]);
    expect(isoDateOf(day)).toBe('2300-01-01');
  });

  test('refuse what is not a date, naming the field', () => {
    for (const bad of ['2026-02-29', '2026-13-01', '2026-00-10', '2026-04-31', '26-01-01', '2026-1-1', 'tomorrow']) {
      expect(() => dayNumberOf(bad, 'from'), bad).toThrow(
        expect.objectContaining({ code: 'bad-input', field: 'from' }),
      );
    }
  });

  test('the week starts on Monday', () => {
    expect(isoDateOf(mondayOf(dayNumberOf('2026-06-07')))).toBe('2026-06-01');
    expect(isoDateOf(mondayOf(dayNumberOf('2026-06-01')))).toBe('2026-06-01');
  });
});
