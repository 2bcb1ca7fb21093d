// The arithmetic of the bench, apart so that a test can hold it to account.

/** The value below or at which `share` of the sorted list lies: nearest rank, so it is always a measured value. */
export function percentile(values: readonly number[], share: number): number {
  if (values.length === 0) throw new Error('percentile of nothing');
  if (!(share > 0 && share <= 1)) throw new Error(`share must be above 0 and up to 1, not ${share}`);
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;
}

export interface Summary {
  n: number;
  p50: number;
  p95: number;
  max: number;
}

export function summarise(values: readonly number[]): Summary {
  return { n: values.length, p50: percentile(values, 0.5), p95: percentile(values, 0.95), max: percentile(values, 1) };
}

/** Which figure an aim speaks of, and the most it may be. */
export interface Aim {
  of: 'p50' | 'p95' | 'max';
  atMost: number;
  /** How many times the bare loop's median ours may be; null = no bare loop to compare with. */
  ratioAtMost: number | null;
}

export interface Verdict {
  value: number;
  ratio: number | null;
  /** The absolute aim and the ratio are two promises; each is told. */
  aimMet: boolean;
  ratioMet: boolean | null;
}

/** Holds a measurement against its aim; the ratio is that of the medians. */
export function judge(ours: Summary, bare: Summary | null, aim: Aim): Verdict {
  const ratio = bare === null || bare.p50 === 0 ? null : ours.p50 / bare.p50;
  const value = ours[aim.of];
  return {
    value,
    ratio,
    aimMet: value <= aim.atMost,
    ratioMet: ratio === null || aim.ratioAtMost === null ? null : ratio <= aim.ratioAtMost,
  };
}

/** Longest wait between neighbours of a list of moments, the start and the end among them. */
export function longestGap(start: number, moments: readonly number[], end: number): number {
  let longest = 0;
  let last = start;
  for (const moment of [...moments, end]) {
    longest = Math.max(longest, moment - last);
    last = moment;
  }
  return longest;
}

/**
 * Times two ways to the same answer in turns, each going first in every other round, so that noise and warm caches
 * favour neither. The first `warm` rounds are played by both and not counted.
 */
export async function duel<T>(
  inputs: readonly T[],
  warm: number,
  ours: (input: T, round: number) => Promise<unknown>,
  bare: (input: T, round: number) => unknown,
): Promise<{ ours: Summary; bare: Summary }> {
  const times: { ours: number[]; bare: number[] } = { ours: [], bare: [] };
  for (const [round, input] of inputs.entries()) {
    const first = round % 2 === 0 ? (['ours', 'bare'] as const) : (['bare', 'ours'] as const);
    for (const side of first) {
      const start = performance.now();
      if (side === 'ours') await ours(input, round);
      else await bare(input, round);
      if (round >= warm) times[side].push(performance.now() - start);
    }
  }
  return { ours: summarise(times.ours), bare: summarise(times.bare) };
}
