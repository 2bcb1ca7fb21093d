import { describe, expect, it } from 'vitest';
import { duel, judge, longestGap, percentile, summarise } from './stats.ts';

describe('percentiles', () => {
  it('are measured values by nearest rank', () => {
    const hundred = Array.from({ length: 100 }, (_, index) => 100 - index);
    expect(percentile(hundred, 0.5)).toBe(50);
    expect(percentile(hundred, 0.95)).toBe(95);
    expect(percentile(hundred, 1)).toBe(100);
    expect(percentile([7], 0.95)).toBe(7);
    expect(percentile([3, 1, 2], 0.5)).toBe(2);
    expect(percentile([4, 1, 2, 3], 0.5)).toBe(2);
    // One slow call in twenty is the 95th, two are above it.
    expect(percentile([...Array<number>(19).fill(1), 50], 0.95)).toBe(1);
    expect(percentile([...Array<number>(18).fill(1), 50, 50], 0.95)).toBe(50);
  });

  it('refuse an empty list and an impossible share', () => {
    expect(() => percentile([], 0.5)).toThrow('nothing');
    expect(() => percentile([1], 0)).toThrow('share');
    expect(() => percentile([1], 95)).toThrow('share');
  });

  it('leave the list as it was', () => {
    const values = [3, 1, 2];
    expect(summarise(values)).toEqual({ n: 3, p50: 2, p95: 3, max: 3 });
    expect(values).toEqual([3, 1, 2]);
  });
});

describe('verdicts', () => {
  const ours = { n: 10, p50: 6, p95: 20, max: 40 };
  it('hold the figure the aim speaks of against it, and the medians against each other', () => {
    expect(judge(ours, { n: 10, p50: 3, p95: 100, max: 100 }, { of: 'p95', atMost: 20, ratioAtMost: 3 })).toEqual({
      value: 20,
      ratio: 2,
      aimMet: true,
      ratioMet: true,
    });
    expect(judge(ours, { n: 10, p50: 1, p95: 1, max: 1 }, { of: 'max', atMost: 39, ratioAtMost: 3 })).toEqual({
      value: 40,
      ratio: 6,
      aimMet: false,
      ratioMet: false,
    });
    expect(judge(ours, null, { of: 'p50', atMost: 6, ratioAtMost: 3 })).toEqual({
      value: 6,
      ratio: null,
      aimMet: true,
      ratioMet: null,
    });
  });
});

describe('gaps and turns', () => {
  it('count the wait before the first and after the last', () => {
    expect(longestGap(0, [50, 60, 200], 210)).toBe(140);
    expect(longestGap(0, [], 90)).toBe(90);
    expect(longestGap(0, [80, 90], 95)).toBe(80);
  });

  it('let each side go first in every other round and leave the warm-up out', async () => {
    const order: string[] = [];
    const result = await duel(
      [1, 2, 3, 4],
      2,
      async (input) => void order.push(`ours ${input}`),
      (input) => void order.push(`bare ${input}`),
    );
    expect(order).toEqual(['ours 1', 'bare 1', 'bare 2', 'ours 2', 'ours 3', 'bare 3', 'bare 4', 'ours 4']);
    expect([result.ours.n, result.bare.n]).toEqual([2, 2]);
  });
});
