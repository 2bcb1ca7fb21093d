import type { BenchRow } from './bench-row.ts';
import { judge, type Aim, type Summary } from './stats.ts';

/** One line of the table. */
export interface Measured {
  name: string;
  unit: 'ms' | 's';
  ours: Summary | null;
  bare: Summary | null;
  aim: Aim | null;
  /** What the bare loop does, or why there is no figure. */
  note: string;
}

/** A row of a part that could not run, with the reason. */
export const notMeasured = (name: string, note: string): Measured => ({
  name,
  unit: 'ms',
  ours: null,
  bare: null,
  aim: null,
  note,
});

const OF_MEDIAN = /≤\s*([\d.]+)\s*s/;
const TIMES = /≤\s*([\d.]+)\s*×/;

/** The agronomy bench reports medians only. */
export function fromBenchRow(row: BenchRow, rounds = 7): Measured {
  const single = (value: number): Summary => ({ n: rounds, p50: value, p95: Number.NaN, max: Number.NaN });
  return {
    name: row.name,
    unit: 's',
    ours: single(row.value),
    bare: row.bare === null ? null : single(row.bare),
    aim: {
      of: 'p50',
      atMost: Number(OF_MEDIAN.exec(row.aim)?.[1] ?? Number.NaN),
      ratioAtMost: Number(TIMES.exec(row.aim)?.[1] ?? 2),
    },
    note: 'the same arithmetic as a bare typed-array loop',
  };
}

const show = (value: number | undefined) =>
  value === undefined || Number.isNaN(value)
    ? '–'
    : value >= 100
      ? value.toFixed(0)
      : value >= 10
        ? value.toFixed(1)
        : value >= 0.1
          ? value.toFixed(2)
          : value.toFixed(4);

/** The table as text: one line a measurement, what the bare loops did below it. */
export function renderTable(rows: readonly Measured[]): string {
  const head = ['name', 'n', 'p50', 'p95', 'max', 'unit', 'aim', 'bare p50', 'bare p95', 'ratio', 'verdict'];
  const lines = rows.map(({ name, unit, ours, bare, aim }) => {
    if (ours === null) return [name, '–', '–', '–', '–', '', '', '–', '–', '–', 'not measured'];
    const verdict = aim === null ? null : judge(ours, bare, aim);
    return [
      name,
      String(ours.n),
      show(ours.p50),
      show(ours.p95),
      show(ours.max),
      unit,
      aim === null ? '' : `${aim.of} ≤ ${aim.atMost}`,
      show(bare?.p50),
      show(bare?.p95),
      verdict?.ratio == null ? '–' : `${verdict.ratio.toFixed(2)}×`,
      verdict === null
        ? ''
        : `${verdict.aimMet ? 'met' : 'MISSED'}${verdict.ratioMet === null ? '' : verdict.ratioMet ? `, ≤ ${aim!.ratioAtMost}×` : `, ABOVE ${aim!.ratioAtMost}×`}`,
    ];
  });
  const widths = head.map((title, column) => Math.max(title.length, ...lines.map((line) => line[column]!.length)));
  const left = new Set([0, 5, 6, 10]);
  const row = (cells: readonly string[]) =>
    cells
      .map((cell, column) => (left.has(column) ? cell.padEnd(widths[column]!) : cell.padStart(widths[column]!)))
      .join('  ')
      .trimEnd();
  const notes = rows.filter((one) => one.note !== '').map((one) => `  ${one.name}: ${one.note}`);
  return [
    row(head),
    widths.map((width) => '─'.repeat(width)).join('  '),
    ...lines.map(row),
    '',
    'Beside what:',
    ...notes,
  ].join('\n');
}
