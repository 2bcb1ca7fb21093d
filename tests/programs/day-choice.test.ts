import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chooseDays, spreadOf } from '../../core/programs/day-choice.ts';
import { longestFreeMinutes, placeWindow } from '../../core/programs/night-window.ts';
import { firstForbiddenMinute, forbiddenSpells } from '../../core/programs/restrictions.ts';

/** Gaps by walking day after day through the repeating week. */
function gapsByWalking(days: number[]): number[] {
  return [...days]
    .sort((a, b) => a - b)
    .map((day) => {
      for (let step = 1; ; step += 1) if (days.includes(((day + step - 1) % 7) + 1)) return step;
    });
}

function subsets(days: number[], count: number): number[][] {
  if (count === 0) return [[]];
  return days.flatMap((day, index) => subsets(days.slice(index + 1), count - 1).map((rest) => [day, ...rest]));
}

describe('choosing days', () => {
  const allowed = fc.uniqueArray(fc.integer({ min: 1, max: 7 }), { minLength: 1 });

  test('gaps are the most even of all sets of as many days', () => {
    fc.assert(
      fc.property(
        allowed,
        fc.integer({ min: 1, max: 7 }),
        fc.uniqueArray(fc.integer({ min: 1, max: 7 })),
        (days, count, prefer) => {
          fc.pre(count <= days.length);
          const chosen = chooseDays(days, count, prefer);
          expect(chosen.weekdays).toHaveLength(count);
          for (const day of chosen.weekdays) expect(days).toContain(day);
          expect(chosen.gaps).toEqual(gapsByWalking(chosen.weekdays));
          for (const other of subsets(
            [...days].sort((a, b) => a - b),
            count,
          )) {
            const gaps = gapsByWalking(other);
            const max = Math.max(...gaps);
            const squares = gaps.reduce((sum, gap) => sum + gap * gap, 0);
            expect(chosen.maxGap < max || (chosen.maxGap === max && chosen.sumOfSquares <= squares)).toBe(true);
            // Of equally even sets, none keeps more of the days that are set now.
            if (chosen.maxGap === max && chosen.sumOfSquares === squares) {
              expect(chosen.weekdays.filter((day) => prefer.includes(day)).length).toBeGreaterThanOrEqual(
                other.filter((day) => prefer.includes(day)).length,
              );
            }
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  test('two days stand at opposite ends of the week, three are every other day', () => {
    expect(chooseDays([1, 2, 3, 4, 5, 6, 7], 2).weekdays).toEqual([1, 4]);
    expect(chooseDays([1, 2, 3, 4, 5, 6, 7], 3).weekdays).toEqual([1, 3, 5]);
    expect(chooseDays([1, 2, 3, 4, 5, 6, 7], 2, [2, 6]).weekdays).toEqual([2, 6]);
    expect(chooseDays([3, 6, 7], 2).weekdays).toEqual([3, 6]);
    expect(() => chooseDays([1], 2)).toThrow(expect.objectContaining({ code: 'bad-input' }));
  });

  test('the peak is what a bucket emptied day by day shows in its hundredth week', () => {
    for (let mask = 1; mask < 128; mask += 1) {
      const days = [1, 2, 3, 4, 5, 6, 7].filter((day) => mask & (1 << (day - 1)));
      let missing = 0;
      let peak = 0;
      for (let week = 0; week < 100; week += 1) {
        peak = 0;
        for (let day = 1; day <= 7; day += 1) {
          if (days.includes(day)) {
            peak = Math.max(peak, missing);
            missing = Math.max(0, missing - 7 / days.length);
          }
          missing += 1;
        }
      }
      expect(spreadOf(days).peakDays, days.join()).toBeCloseTo(peak, 6);
    }
    // Uneven gaps in a row: the peak is above the longest gap.
    expect(spreadOf([1, 4, 7]).maxGap).toBe(3);
    expect(spreadOf([1, 4, 7]).peakDays).toBeCloseTo(11 / 3, 9);
  });
});

describe('placing a window', () => {
  test('ends by the hour wished for, as late as it may, clear of forbidden spells', () => {
    expect(placeWindow(100, 420, [])).toEqual({ startMinute: 320, endsLate: false });
    expect(placeWindow(103, 420, [])).toEqual({ startMinute: 315, endsLate: false });
    expect(placeWindow(100, 420, [{ fromMinute: 300, toMinute: 1080 }])).toEqual({ startMinute: 200, endsLate: false });
    expect(placeWindow(60, 0, [])).toEqual({ startMinute: 1380, endsLate: false });
    // No room before 07:00: the soonest end after it.
    expect(placeWindow(500, 420, [])).toEqual({ startMinute: 0, endsLate: true });
    expect(placeWindow(300, 420, [{ fromMinute: 200, toMinute: 1080 }])).toEqual({ startMinute: 1080, endsLate: true });
    expect(placeWindow(400, 420, [{ fromMinute: 300, toMinute: 1080 }])).toBeNull();
  });

  test('never in a forbidden spell, never past midnight; null only when no start fits', () => {
    const clock = fc.integer({ min: 0, max: 23 }).map((hour) => `${String(hour).padStart(2, '0')}:00`);
    fc.assert(
      fc.property(
        fc.array(fc.record({ from: clock, to: clock }), { maxLength: 3 }),
        fc.integer({ min: 1, max: 1440 }),
        fc.integer({ min: 0, max: 1439 }),
        (forbiddenHours, length, endsBy) => {
          const spells = forbiddenSpells({ forbiddenHours });
          const place = placeWindow(length, endsBy, spells);
          if (place === null) {
            expect(longestFreeMinutes(spells)).toBeLessThan(length);
            return;
          }
          expect(place.startMinute).toBeGreaterThanOrEqual(0);
          expect(place.startMinute + length).toBeLessThanOrEqual(1440);
          expect(firstForbiddenMinute(spells, place.startMinute, place.startMinute + length)).toBeNull();
          if (!place.endsLate && endsBy > 0) expect(place.startMinute + length).toBeLessThanOrEqual(endsBy);
        },
      ),
    );
  });
});
