import { describe, expect, it } from 'vitest';
import { correctionSentence, kindYears, seasonSentence, weekCurve } from '../../renderer/owner/owner-words.ts';

describe('the season curve', () => {
  it('counts up from nothing and leaves no week out', () => {
    const points = weekCurve([
      { weekStart: '2026-03-30', done: 2 },
      { weekStart: '2026-04-20', done: 5 },
    ]);
    expect(points.map((point) => [point.by, point.soFar])).toEqual([
      ['2026-03-30', 0],
      ['2026-04-06', 2],
      ['2026-04-13', 2],
      ['2026-04-20', 2],
      ['2026-04-27', 7],
    ]);
    expect(weekCurve([])).toEqual([]);
  });
});

describe('work by kind', () => {
  it('ranks kinds by their year and leaves out those without any', () => {
    const rows = kindYears([
      { month: 4, kind: 'repair', count: 2 },
      { month: 10, kind: 'winterization', count: 9 },
      { month: 11, kind: 'winterization', count: 3 },
    ]);
    expect(rows.map((row) => [row.kind, row.total])).toEqual([
      ['winterization', 12],
      ['repair', 2],
    ]);
    expect(rows[0]?.months).toEqual([0, 0, 0, 0, 0, 0, 0, 0, 0, 9, 3, 0]);
  });
});

describe('sentences', () => {
  const season = (done: number, booked: number, notBooked: number) => ({
    serviced: done + booked + notBooked,
    done,
    booked,
    notBooked,
    byWeek: [],
  });
  it('never round a season up to all or down to none', () => {
    expect(seasonSentence(season(999, 1, 0), 'winterization', false)).toContain('99 %');
    expect(seasonSentence(season(1, 999, 0), 'winterization', false)).toContain('1 %');
    expect(seasonSentence(season(0, 3, 2), 'winterization', false)).toBe(
      'None is winterized yet. 3 more are booked; 2 properties are not booked yet.',
    );
    expect(seasonSentence(season(5, 0, 0), 'start-up', false)).toBe('100 % are started up. Nothing is left to do.');
    expect(seasonSentence(season(4, 0, 1), 'start-up', true)).toContain('1 property was never marked');
  });
  it('say how rare corrections are', () => {
    expect(correctionSentence(0, 40)).toContain('No entry');
    expect(correctionSentence(3, 635)).toContain('one for every 212');
    expect(correctionSentence(30, 40)).toContain('worth a look');
  });
});
