/** One measured line of `npm run bench`. */
export interface BenchRow {
  name: string;
  value: number;
  unit: string;
  /** What was promised, in words, for example '≤ 1.0 s'. */
  aim: string;
  /** The same work as a bare loop, in the same unit; null where there is no such thing. */
  bare: number | null;
  /** value / bare. */
  ratio: number | null;
}
