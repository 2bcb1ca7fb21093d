import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

/** How one set of weekdays spreads over the week, which comes round again and again. */
export interface DaySpread {
  weekdays: number[];
  /** Days between neighbouring watering days, in order, the last one round to the first of next week. */
  gaps: number[];
  maxGap: number;
  sumOfSquares: number;
  /**
   * Days of need that are missing at the worst moment, just before watering, when every watering brings the same share of the
   * week's need. Uneven gaps in a row can make this more than the longest gap: the short one between did not catch up.
   */
  peakDays: number;
}

/** All 128 sets of weekdays, worked out once; the index has bit 0 set for Monday … bit 6 for Sunday. */
const SPREADS: readonly DaySpread[] = Array.from({ length: 128 }, (_, mask) => measure(weekdaysOfMask(mask)));

/** How a set of weekdays (1 Monday … 7 Sunday) spreads. No days: gaps are empty and the peak is infinite. */
export function spreadOf(weekdays: readonly number[]): DaySpread {
  return SPREADS[maskOf(weekdays)]!;
}

/**
 * The `count` weekdays out of `allowed` with the most even gaps: the shortest longest gap, then the least sum of squared gaps
 * (which spreads what is left), then the most days the property waters on already (`prefer`: fewer changes to explain), then the
 * fewest of `avoid`, then the earliest in the week. Throws bad-input unless `count` is 1 to the number of days allowed.
 */
export function chooseDays(
  allowed: readonly number[],
  count: number,
  prefer: readonly number[] = [],
  avoid: readonly number[] = [],
): DaySpread {
  const allowedMask = maskOf(allowed);
  const preferMask = maskOf(prefer);
  const avoidMask = maskOf(avoid);
  let best = -1;
  let bestRank: number[] = [];
  for (let mask = 1; mask < 128; mask += 1) {
    if ((mask & ~allowedMask) !== 0 || bitCount(mask) !== count) continue;
    const spread = SPREADS[mask]!;
    const rank = [
      spread.maxGap,
      spread.sumOfSquares,
      -bitCount(mask & preferMask),
      bitCount(mask & avoidMask),
      reversedBits(mask),
    ];
    if (best < 0 || isLess(rank, bestRank)) {
      best = mask;
      bestRank = rank;
    }
  }
  if (best < 0)
    throw new BookError('bad-input', fact('agronomy.tooFewDays', { count, allowed: bitCount(allowedMask) }), 'days');
  return SPREADS[best]!;
}

function measure(weekdays: number[]): DaySpread {
  const gaps = weekdays.map((weekday, index) =>
    index + 1 < weekdays.length ? weekdays[index + 1]! - weekday : weekdays[0]! + 7 - weekday,
  );
  return {
    weekdays,
    gaps,
    maxGap: Math.max(0, ...gaps),
    sumOfSquares: gaps.reduce((sum, gap) => sum + gap * gap, 0),
    peakDays: peakDays(gaps),
  };
}

/** Peak depletion, in days of need, once the week repeats itself. */
function peakDays(gaps: readonly number[]): number {
  if (gaps.length === 0) return Infinity;
  const share = 7 / gaps.length;
  let missing = 0;
  let peak = 0;
  // Starting full, what is missing rises to its cycle within a week; the peak of the second week is the lasting one.
  for (let week = 0; week < 2; week += 1) {
    peak = 0;
    for (const gap of gaps) {
      missing += gap;
      peak = Math.max(peak, missing);
      missing = Math.max(0, missing - share);
    }
  }
  return Math.round(peak * 1e9) / 1e9;
}

function weekdaysOfMask(mask: number): number[] {
  return [1, 2, 3, 4, 5, 6, 7].filter((weekday) => (mask & (1 << (weekday - 1))) !== 0);
}

function maskOf(weekdays: readonly number[]): number {
  let mask = 0;
  for (const weekday of weekdays) mask |= 1 << (weekday - 1);
  return mask & 127;
}

function bitCount(mask: number): number {
  let count = 0;
  for (let rest = mask; rest > 0; rest >>= 1) count += rest & 1;
  return count;
}

/** Smaller for sets whose first day is earlier: Monday weighs most, and less is earlier. */
function reversedBits(mask: number): number {
  let value = 0;
  for (let bit = 0; bit < 7; bit += 1) if ((mask & (1 << bit)) === 0) value |= 1 << (6 - bit);
  return value;
}

function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (let i = 0; i < a.length; i += 1) if (a[i] !== b[i]) return a[i]! < b[i]!;
  return false;
}
