import { describe, expect, it } from 'vitest';
import {
  formatAway,
  formatClock,
  formatDate,
  formatDay,
  formatDayNear,
  formatEstimate,
  formatFigure,
  formatMeasure,
  formatMinutes,
  formatSpan,
  formatWindow,
  plural,
  wordsOf,
} from '../../renderer/parts/format.ts';

describe('wordsOf for dates and times', () => {
  it('names the day that is meant, in any time zone of the machine', () => {
    expect(formatDay('2026-11-25')).toBe('Wed, Nov 25');
    expect(formatDate('2026-01-01')).toBe('Jan 1, 2026');
    expect(formatDayNear('2026-11-09', '2026-11-25')).toBe('Mon, Nov 9');
    expect(formatDayNear('2024-03-13', '2026-11-25')).toBe('Mar 13, 2024');
  });
  it('says how far away a day is', () => {
    const today = '2026-07-14';
    expect(formatAway('2026-07-14', today)).toBe('today');
    expect(formatAway('2026-07-15', today)).toBe('tomorrow');
    expect(formatAway('2026-07-13', today)).toBe('yesterday');
    expect(formatAway('2026-07-24', today)).toBe('in 10 days');
    expect(formatAway('2026-05-31', today)).toBe('44 days ago');
    expect(formatAway('2025-07-14', today)).toBe('12 months ago');
    expect(formatAway('2029-07-14', today)).toBe('in 3 years');
  });
  it('says a long time in months and years', () => {
    expect([1, 59, 90, 987].map(formatSpan)).toEqual(['1 day', '59 days', '3 months', '3 years']);
  });
  it('gives an estimate three figures, and small ones what the unit has', () => {
    expect(formatEstimate('volume', 52_971, 'us')).toBe('53,000');
    expect(formatEstimate('volume', 5_610_101, 'us')).toBe('5,610,000');
    expect(formatEstimate('volume', 449, 'us')).toBe('449');
    expect(formatEstimate('volume', 1000, 'metric')).toBe('3,790');
    expect(formatEstimate('volume', null, 'us')).toBe('–');
  });
  it('writes clock times and windows', () => {
    expect(formatClock('00:05')).toBe('12:05 am');
    expect(formatClock('12:00')).toBe('12:00 pm');
    expect(formatClock('23:59')).toBe('11:59 pm');
    expect(formatWindow(null, null)).toBe('any time');
    expect(formatWindow('08:00', '12:00')).toBe('8:00 am–12:00 pm');
    expect(formatWindow(null, '12:00')).toBe('by 12:00 pm');
  });
  it('writes minutes as people say them', () => {
    expect(formatMinutes(45)).toBe('45 min');
    expect(formatMinutes(7.5)).toBe('7.5 min');
    expect(formatMinutes(60)).toBe('1 h');
    expect(formatMinutes(80)).toBe('1 h 20');
    expect(formatMinutes(126)).toBe('2 h 06');
    expect(formatMinutes(59.98)).toBe('1 h');
    expect(formatMinutes(119.8)).toBe('2 h');
  });
});

describe('figures', () => {
  it("are given in the reader's units, and what is not known is said", () => {
    expect(formatMeasure('flow', 8, 'us')).toBe('8 gpm');
    expect(formatMeasure('flow', 8, 'metric')).toBe('30.3 L/min');
    expect(formatMeasure('temperature', 37, 'metric')).toBe('2.8 °C');
    expect(formatMeasure('area', 12345, 'us')).toBe('12,345 ft²');
    expect(formatMeasure('pressure', null, 'us')).toBe('not known');
    expect(formatFigure('area', undefined, 'us')).toBe('–');
  });
  it('agree with their noun', () => {
    expect(plural(1, 'zone')).toBe('1 zone');
    expect(plural(0, 'zone')).toBe('0 zones');
    expect(plural(2000, 'entry', 'entries')).toBe('2,000 entries');
  });
  it('turn ids into wordsOf', () => {
    expect(wordsOf('pop-up-spray')).toBe('Pop-up spray');
    expect(wordsOf('reduced-pressure')).toBe('Reduced pressure');
    expect(wordsOf('pvc')).toBe('PVC');
  });
});
