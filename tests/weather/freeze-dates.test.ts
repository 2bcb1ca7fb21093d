import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { freezeDates, type LowOfDay } from '../../core/weather/freeze-dates.ts';
import { addDays, datesFrom } from '../../core/dates.ts';

const MILWAUKEE = fileURLToPath(
  new URL('../../../shared/data/weather/milwaukee-usw00014839-daily-1938-2026.csv', import.meta.url),
);
const milwaukee = (): LowOfDay[] =>
  readFileSync(MILWAUKEE, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','))
    .map((cells) => ({ date: cells[3]!, tminF: cells[9] === 'NA' ? null : Number(cells[9]) }));
const dates = (side: { byDate: { date: string | null }[] }) => side.byDate.map((one) => one.date).join(' ');
/** Days a date lies from another of the same year. */
const apart = (a: string | null, b: string) => Math.abs(Date.parse(`2001-${a}`) - Date.parse(`2001-${b}`)) / 86_400_000;

// GHCN-Daily USW00014839 (Milwaukee Mitchell) through github.com/jdjohn215/milwaukee-weather, af12cf09; the dates were worked
// out independently of this project from the same file (guide freeze-checks.md).
describe.skipIf(!existsSync(MILWAUKEE))('Milwaukee, 1991 to 2020', () => {
  const years = { from: 1991, to: 2020 };
  it('has the first autumn freezes of an independent computation', () => {
    const all = milwaukee();
    const at32 = freezeDates(all, 32, years);
    expect(dates(at32.firstAutumn)).toBe('10-06 10-10 10-15 10-21 10-23 10-28 10-29 11-02 11-08');
    const at28 = freezeDates(all, 28, years);
    expect(dates(at28.firstAutumn)).toBe('10-30 11-01 11-03 11-06 11-08 11-11 11-14 11-16 11-21');
    for (const one of [at32, at28]) {
      expect(one).toMatchObject({ thin: false, skippedDays: 0, repeatedDays: 0 });
      expect(one.firstAutumn).toMatchObject({ seasons: 30, seasonsWithout: 0, seasonsSkipped: 0 });
      expect(one.lastSpring).toMatchObject({ seasons: 30, seasonsWithout: 0, seasonsSkipped: 0 });
    }
  });
  it('has its last spring freezes', () => {
    const all = milwaukee();
    expect(freezeDates(all, 32, years).lastSpring).toMatchObject({ p10: '05-04', p50: '04-23', p90: '04-10' });
    expect(freezeDates(all, 28, years).lastSpring).toMatchObject({ p10: '04-16', p50: '04-02', p90: '03-24' });
  });
  it('is the same from only the thirty years, the last autumn being told by 31 December', () => {
    const thirty = milwaukee().filter(({ date }) => date >= '1991-01-01' && date <= '2020-12-31');
    expect(freezeDates(thirty, 32)).toEqual(freezeDates(milwaukee(), 32, years));
  });
  it("lies within a week of NOAA's 1991–2020 normals, which rest on adjusted minima", () => {
    const { firstAutumn, lastSpring } = freezeDates(milwaukee(), 32, years);
    expect(apart(firstAutumn.p50, '10-29')).toBeLessThanOrEqual(7);
    expect(apart(lastSpring.p50, '04-19')).toBeLessThanOrEqual(7);
  });
  it('uses no season that the record begins or ends within', () => {
    const { firstAutumn, lastSpring } = freezeDates(milwaukee(), 32);
    // 1938-04-01 to 2026-08-19: springs 1939 to 2026 and autumns 1938 to 2025.
    expect(lastSpring).toMatchObject({ seasons: 88, seasonsSkipped: 1 });
    expect(firstAutumn).toMatchObject({ seasons: 88, seasonsSkipped: 1 });
  });
});

/** Warm days but for those named. */
const warmBut = (from: string, to: string, cold: Record<string, number | null>): LowOfDay[] =>
  datesFrom(from, to).map((date) => ({ date, tminF: date in cold ? cold[date]! : 60 }));

test('years without a freeze are a discrete share, and chances beyond it have no date', () => {
  // Four autumns, three with a freeze on 10, 20 and 30 October: by hand, 30 % is 0.3 / 0.75 = 40 % of the way through the
  // three (type 7: 10 + 0.8 × 10 = 18 October), 75 % of all is the last of them.
  const cold = { '2001-10-10': 32, '2002-10-20': 31, '2003-10-30': 32 };
  const { firstAutumn, lastSpring, thin } = freezeDates(warmBut('2001-08-01', '2005-07-31', cold), 32);
  expect(firstAutumn).toMatchObject({ seasons: 4, seasonsWithout: 1, p90: null });
  expect(firstAutumn.byDate.find(({ chance }) => chance === 30)!.date).toBe('10-18');
  expect(firstAutumn.byDate.filter(({ date }) => date === null).map(({ chance }) => chance)).toEqual([80, 90]);
  // Four springs (2002 to 2005) without one; that of 2001 is not in the records but for nothing: they begin in August.
  expect(lastSpring).toMatchObject({ seasons: 4, seasonsWithout: 4, p10: null });
  expect(thin).toBe(true);
});

test('the same day of a leap year is the same date, and 29 February is 28 February', () => {
  const cold = { '2003-10-15': 30, '2004-02-29': 30, '2004-10-15': 30 };
  const { firstAutumn, lastSpring } = freezeDates(warmBut('2003-08-01', '2005-07-31', cold), 32);
  expect(firstAutumn).toMatchObject({ p10: '10-15', p90: '10-15' });
  expect(lastSpring.byDate[0]!.date).toBe('02-28');
});

test('a first freeze after New Year belongs to the autumn before', () => {
  const { firstAutumn } = freezeDates(warmBut('2003-08-01', '2005-07-31', { '2004-01-05': 31, '2005-01-05': 31 }), 32);
  expect(firstAutumn).toMatchObject({ p10: '01-05', p90: '01-05', seasons: 2, seasonsWithout: 0 });
});

test('ten days without a reading are borne, eleven are not; a day told twice counts once', () => {
  const without = (days: number) => {
    const records = warmBut('2001-08-01', '2002-07-31', { '2001-10-10': 30 });
    // Some absent, some present without a figure.
    return records
      .filter(({ date }) => date < '2001-09-01' || date > addDays('2001-09-01', days - 4))
      .map((one) => (['2001-12-01', '2001-12-02', '2001-12-03'].includes(one.date) ? { ...one, tminF: null } : one));
  };
  expect(freezeDates(without(10), 32).firstAutumn).toMatchObject({ seasons: 1, seasonsSkipped: 0, p50: '10-10' });
  expect(freezeDates(without(10), 32).skippedDays).toBe(10);
  expect(freezeDates(without(11), 32).firstAutumn).toMatchObject({ seasons: 0, seasonsSkipped: 1, p50: null });
  const twice = [...warmBut('2001-08-01', '2002-07-31', {}), { date: '2001-10-10', tminF: 20 }];
  expect(freezeDates(twice, 32)).toMatchObject({ repeatedDays: 1, firstAutumn: { seasonsWithout: 1 } });
});

test('no records: nothing is said', () => {
  const none = freezeDates([], 32);
  expect(none).toMatchObject({ thin: true, skippedDays: 0, firstAutumn: { seasons: 0, p50: null } });
});

describe('whatever the records', () => {
  const days = datesFrom('2001-01-01', '2013-12-31');
  /** Lows around a yearly wave, with gaps. */
  const records = fc
    .array(fc.double({ min: -25, max: 25, noNaN: true }), { minLength: 97, maxLength: 97 })
    .chain((noise) =>
      fc
        .record({
          mean: fc.integer({ min: 30, max: 80 }),
          gaps: fc.array(fc.tuple(fc.nat(days.length - 1), fc.integer({ min: 1, max: 20 })), { maxLength: 12 }),
          asNull: fc.boolean(),
        })
        .map(({ mean, gaps, asNull }) => {
          const isGap = new Set(gaps.flatMap(([from, length]) => Array.from({ length }, (_, at) => from + at)));
          return days
            .map((date, at): LowOfDay => ({
              date,
              tminF: isGap.has(at) ? null : mean - 28 * Math.cos((2 * Math.PI * (at - 15)) / 365.25) + noise[at % 97]!,
            }))
            .filter((one) => asNull || one.tminF !== null);
        }),
    );
  const sinceAugust = (monthDay: string) => (monthDay < '08-01' ? 1 : 0) + monthDay;
  it('dates follow their chances, colder thresholds come later in autumn, and every season is accounted for', () => {
    fc.assert(
      fc.property(records, (all) => {
        const [warm, cold] = [freezeDates(all, 36), freezeDates(all, 28)];
        for (const { firstAutumn, lastSpring, thin } of [warm, cold]) {
          expect(firstAutumn.seasons + firstAutumn.seasonsSkipped).toBe(13);
          expect(lastSpring.seasons + lastSpring.seasonsSkipped).toBe(13);
          expect(thin).toBe(Math.min(firstAutumn.seasons, lastSpring.seasons) < 10);
          const autumn = firstAutumn.byDate.map(({ date }) => date).filter((date) => date !== null);
          const spring = lastSpring.byDate.map(({ date }) => date).filter((date) => date !== null);
          expect(autumn.map(sinceAugust)).toEqual(autumn.map(sinceAugust).toSorted());
          expect(spring).toEqual(spring.toSorted().toReversed());
          for (const side of [firstAutumn, lastSpring])
            for (const { chance, date } of side.byDate)
              expect(date !== null).toBe(
                side.seasons > side.seasonsWithout &&
                  chance * side.seasons <= 100 * (side.seasons - side.seasonsWithout),
              );
        }
        // Springs are judged by the same days whatever the threshold, so theirs can be held against each other.
        expect(cold.lastSpring.seasonsWithout).toBeGreaterThanOrEqual(warm.lastSpring.seasonsWithout);
        for (const [at, { date }] of cold.lastSpring.byDate.entries())
          if (date !== null) expect(date <= warm.lastSpring.byDate[at]!.date!).toBe(true);
      }),
      { numRuns: 40 },
    );
  });
  it('the order of the records says nothing', () => {
    fc.assert(
      fc.property(records, (all) => {
        expect(freezeDates(all.toReversed(), 32)).toEqual(freezeDates(all, 32));
      }),
      { numRuns: 10 },
    );
  });
});
