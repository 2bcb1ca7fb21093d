import { fact, type Fact, factAround } from '../text/say.ts';
/** How the rows of an import went, gathered as they are read. Counts are complete; lists are capped. */

export interface Problem {
  row: number;
  column: string;
  value: string;
  reason: Fact;
}

const MAX_PROBLEMS = 2000;
const MAX_IGNORED = 500;
const MAX_WARNINGS = 200;
const MAX_VALUE = 120;

export class Findings {
  readonly problems: Problem[] = [];
  readonly ignored: { row: number; why: Fact }[] = [];
  readonly badRows = new Set<number>();
  ignoredRows = 0;
  private readonly general: Fact[] = [];
  private readonly byReason = new Map<string, { reason: Fact; rows: number[] }>();

  /** A cell that keeps its row out. */
  problem(row: number, column: string, value: string, reason: Fact): void {
    this.badRows.add(row);
    if (this.problems.length < MAX_PROBLEMS) this.problems.push({ row, column, value: shorten(value), reason });
  }

  ignore(row: number, why: Fact): void {
    this.ignoredRows += 1;
    if (this.ignored.length < MAX_IGNORED) this.ignored.push({ row, why });
  }

  /** Something to know about a row that is imported all the same; rows with the same reason become one sentence. */
  warn(row: number, reason: Fact): void {
    const key = JSON.stringify(reason);
    const known = this.byReason.get(key);
    if (known) known.rows.push(row);
    else this.byReason.set(key, { reason, rows: [row] });
  }

  /** Something to know about the whole file. */
  tell(what: Fact): void {
    this.general.push(what);
  }

  warnings(): Fact[] {
    const sentences = [...this.general];
    for (const { reason, rows } of this.byReason.values()) {
      if (sentences.length >= MAX_WARNINGS) {
        sentences.push(fact('import.moreKinds', { count: this.byReason.size - (MAX_WARNINGS - this.general.length) }));
        break;
      }
      sentences.push(factAround('import.rows', reason, { rows: rows.slice(0, 5), count: rows.length }));
    }
    return sentences;
  }
}

function shorten(value: string): string {
  return value.length > MAX_VALUE ? `${value.slice(0, MAX_VALUE - 1)}…` : value;
}
