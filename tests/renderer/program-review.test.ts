import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { auditCatchCans, runBounds } from '../../core/agronomy/index.ts';
import { lowQuarter } from '../../core/agronomy/precipitation-rate.ts';
import { balanceSentences } from '../../renderer/charts/trace-words.ts';
import { minutesAfterTest } from '../../renderer/office/program-review/after-test.ts';
import { readVolume, volumesIn } from '../../renderer/office/program-review/can-volumes.ts';
import { firstMonth, isOffMonth } from '../../renderer/office/program-review/review-month.ts';
import { minutesADay, sayCycles } from '../../renderer/office/program-review/review-words.ts';

describe('the month a review starts with', () => {
  const season = { startUpFrom: '04-01', winterizationTo: '11-15' };
  it('is this one while systems run, both ends included', () => {
    for (const day of ['2026-04-01', '2026-07-14', '2026-11-15'])
      expect(firstMonth(day, season, 40)).toEqual({ month: Number(day.slice(5, 7)), why: null });
  });
  it('is the month that asks most in the cold season, and says why', () => {
    expect(firstMonth('2026-11-16', season, 40)).toMatchObject({
      month: 7,
      why: expect.stringContaining('off in November'),
    });
    expect(firstMonth('2026-06-20', { startUpFrom: '09-01', winterizationTo: '04-30' }, -33).month).toBe(1);
    expect(firstMonth('2026-01-20', { startUpFrom: '09-01', winterizationTo: '04-30' }, -33)).toEqual({
      month: 1,
      why: null,
    });
  });
  it('knows the months in which systems are off throughout', () => {
    expect([1, 2, 3, 4, 7, 10, 11, 12].map((month) => isOffMonth(month, season))).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
      false,
      true,
    ]);
    expect(isOffMonth(1, { startUpFrom: '09-01', winterizationTo: '04-30' })).toBe(false);
  });
});

describe('words of the review', () => {
  it('says cycles and minutes a day', () => {
    expect(sayCycles({ cycles: 3, cycleMinutes: 7, soakMinutes: 50, runMinutes: 21 })).toBe('3 × 7, soak 50');
    expect(sayCycles({ cycles: 1, cycleMinutes: null, soakMinutes: null, runMinutes: 9 })).toBe('one go');
    expect(minutesADay({ minutesPerWeek: 200, daysPerWeek: 5 })).toBe(40);
    expect(minutesADay({ minutesPerWeek: 0, daysPerWeek: 0 })).toBe(0);
  });
});

describe('catch cans', () => {
  it('reads pasted lists, with commas between or in the figures', () => {
    expect(volumesIn('62, 71,55\n')).toEqual(['62', '71', '55']);
    expect(volumesIn('62\t71\r\n55.5\t48')).toEqual(['62', '71', '55.5', '48']);
    expect(volumesIn('62,5\n71,0')).toEqual(['62.5', '71.0']);
    expect(volumesIn('62;71,5')).toEqual(['62', '71.5']);
    expect(volumesIn('62,71\n55,48')).toEqual(['62', '71', '55', '48']);
    expect(readVolume(' 7,5 ')).toBe(7.5);
    expect(readVolume('')).toBeNull();
    for (const wrong of ['-1', 'dry', '5001', '1e99']) expect(readVolume(wrong)).toBeNaN();
  });
  it('marks as lowest quarter the cans whose mean the book reckons with', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.5, max: 500, noNaN: true }), { minLength: 4, maxLength: 60 }),
        (volumesMl) => {
          const low = lowQuarter(volumesMl);
          const audit = auditCatchCans({ volumesMl, throatAreaIn2: 14, minutes: 10 });
          expect(new Set(low).size).toBe(audit.lowQuarterCount);
          expect(low.reduce((sum, at) => sum + (volumesMl[at] ?? 0), 0) / low.length).toBeCloseTo(
            audit.lowQuarterMeanMl,
            6,
          );
        },
      ),
    );
  });
  it('foretells the minutes that the same need asks for at the tested rate', () => {
    const before = runBounds(0.6, 1.6, 0.55);
    const row = {
      precipitationRateInPerHour: 1.6,
      advice: { lowerMinutes: before.lowerMinutes, upperMinutes: before.upperMinutes },
    } as never;
    const audit = auditCatchCans({ volumesMl: [30, 42, 38, 45, 51, 29, 40, 44], throatAreaIn2: 14, minutes: 12 });
    const after = minutesAfterTest(row, {
      precipitationRateInPerHour: audit.prInchesPerHour,
      schedulingMultiplier: audit.multiplier,
    });
    const truth = runBounds(0.6, audit.prInchesPerHour, audit.du);
    expect(after.lower).toBeCloseTo(truth.lowerMinutes, 9);
    expect(after.upper).toBeCloseTo(truth.upperMinutes, 9);
  });
});

it('says a water balance in words', () => {
  const totals = {
    etInches: 20,
    rainInches: 5,
    irrigationInches: 20,
    drainageInches: 5,
    storeChangeInches: 0,
    daysBelowRefill: 3,
  };
  expect(balanceSentences({ totals } as never, { language: 'en', units: 'us' }).join(' ')).toBe(
    'In: rain 5 in and irrigation 20 in. Out: the plants used 20 in, 5 in drained below the roots (20 % of what came), and the soil ended as it began.',
  );
  expect(
    balanceSentences({ totals: { ...totals, storeChangeInches: -0.4 } } as never, {
      language: 'en',
      units: 'metric',
    }).join(' '),
  ).toContain('the soil ended 10 mm drier');
});
