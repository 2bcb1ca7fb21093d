import { type Fact, fact } from '../text/say.ts';
import type { BookTables, Db } from '../store/tables.ts';
import { monotonicFactory } from 'ulid';
import type { Settings } from '../settings/contract.ts';
import type { Findings } from './notes.ts';
import { type DateOrder, readDate } from './dates.ts';
import type { RowReader, Source } from './source.ts';
import type { z } from 'zod';
import { reasonOf } from '../contract/reason-of.ts';
import { readNumber } from './cell-values.ts';

export type Outcome = { row: number; outcome: 'added' | 'joined' | 'skipped'; what: Fact };

/** What an import would do, worked out without writing. */
export class Plan {
  readonly outcomes: Outcome[] = [];
  readonly sample: Record<string, string>[] = [];
  readonly added: Record<string, number> = {};
  joined = 0;
  skipped = 0;
  /** Rows to insert, in an order in which foreign keys hold. */
  readonly inserts: { table: keyof BookTables; rows: Record<string, unknown>[] }[] = [];
  /** What follows once the rows are in: projections of the ledger, raised counts. */
  readonly afterwards: ((db: Db, before: () => Promise<void>) => Promise<void>)[] = [];

  outcome(row: number, outcome: Outcome['outcome'], what: Fact): void {
    this.outcomes.push({ row, outcome, what });
    if (outcome === 'joined') this.joined += 1;
    if (outcome === 'skipped') this.skipped += 1;
  }

  count(what: string, times = 1): void {
    this.added[what] = (this.added[what] ?? 0) + times;
  }

  show(sample: () => Record<string, string>): void {
    if (this.sample.length < 20) this.sample.push(sample());
  }
}

/** New ids in the order they are asked for. One moment for all of them: drawing random bits for each would be slow. */
export function idMaker(): () => string {
  const make = monotonicFactory();
  const at = Date.now();
  return () => make(at);
}

/** What a planner works with. */
export interface Planning {
  db: Db;
  source: Source;
  reader: RowReader;
  findings: Findings;
  plan: Plan;
  settings: Settings;
  today: string;
  now: string;
  fileName: string;
  stationId: string | null;
  /** month-first or day-first for a field's column, found out from all its cells. */
  dateOrder(field: string): DateOrder;
  /** Reports progress and stops when cancelled; called for every row. */
  tick(): Promise<void> | void;
}

/** Puts a value through the contract's schema; what it refuses becomes a problem of the cell behind it. Null when refused. `fits` may prove that the schema would return the value as it is. */
export function checked<S extends z.ZodType>(
  schema: S,
  value: z.output<S> & z.input<S>,
  reader: RowReader,
  fieldOf: (key: string) => string,
  fits: (value: z.output<S>) => boolean,
): z.output<S> | null;

export function checked<S extends z.ZodType>(
  schema: S,
  value: z.input<S>,
  reader: RowReader,
  fieldOf: (key: string) => string,
): z.output<S> | null;

export function checked<S extends z.ZodType>(
  schema: S,
  value: z.input<S>,
  reader: RowReader,
  fieldOf: (key: string) => string,
  fits?: (value: z.output<S>) => boolean,
): z.output<S> | null {
  if (fits?.(value as z.output<S>)) return value as z.output<S>;
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  for (const issue of result.error.issues) {
    const field = fieldOf(String(issue.path[0] ?? ''));
    reader.problem(field, reasonOf(issue));
  }
  return null;
}

/** A number cell; a text that is no number is a problem (undefined). */
export function numberOf(reader: RowReader, field: string): number | null | undefined {
  const text = reader.line(field);
  if (text === '') return null;
  const reading = readNumber(text);
  if (reading.ok) return reading.value;
  reader.problem(field, fact('import.why.notNumber'));
  return undefined;
}

/** A date cell; undefined after a problem. */
export function dateOf(planning: Planning, field: string): string | null | undefined {
  const text = planning.reader.line(field);
  if (text === '') return null;
  const reading = readDate(text, planning.dateOrder(field), planning.today);
  if (!reading.ok) {
    planning.reader.problem(field, reading.reason);
    return undefined;
  }
  if (reading.monthOnly) planning.reader.warn(fact('import.why.monthOnly', { column: planning.reader.column(field) }));
  return reading.date;
}

/** Looks a cell's words up in a table of synonyms: exactly, then by the longest synonym that stands in it. */
export function lookUp<T>(words: string, table: Readonly<Record<string, T>>): T | undefined {
  if (Object.hasOwn(table, words)) return table[words];
  if (words === '') return undefined;
  const padded = ` ${words} `;
  let best: T | undefined;
  let length = 0;
  for (const [synonym, value] of Object.entries(table)) {
    if (synonym.length > length && synonym.length >= 3 && padded.includes(` ${synonym} `)) {
      best = value;
      length = synonym.length;
    }
  }
  return best;
}
