/** How the rows of an import went, gathered as they are read. Counts are complete; lists are capped. */

export interface Problem {
  row: number;
  column: string;
  value: string;
  reason: string;
}

const MAX_PROBLEMS = 2000;
const MAX_IGNORED = 500;
const MAX_WARNINGS = 200;
const MAX_VALUE = 120;

export class Findings {
  readonly problems: Problem[] = [];
  readonly ignored: { row: number; why: string }[] = [];
  readonly badRows = new Set<number>();
  ignoredRows = 0;
  private readonly general: string[] = [];
  private readonly byReason = new Map<string, number[]>();

  /** A cell that keeps its row out. */
  problem(row: number, column: string, value: string, reason: string): void {
    this.badRows.add(row);
    if (this.problems.length < MAX_PROBLEMS) this.problems.push({ row, column, value: shorten(value), reason });
  }

  ignore(row: number, why: string): void {
    this.ignoredRows += 1;
    if (this.ignored.length < MAX_IGNORED) this.ignored.push({ row, why });
  }

  /** Something to know about a row that is imported all the same; rows with the same reason become one sentence. */
  warn(row: number, reason: string): void {
    const rows = this.byReason.get(reason);
    if (rows) rows.push(row);
    else this.byReason.set(reason, [row]);
  }

  /** Something to know about the whole file. */
  tell(sentence: string): void {
    this.general.push(sentence);
  }

  warnings(): string[] {
    const sentences = [...this.general];
    for (const [reason, rows] of this.byReason) {
      if (sentences.length >= MAX_WARNINGS) {
        sentences.push(`… and ${this.byReason.size - (MAX_WARNINGS - this.general.length)} more kinds of warning.`);
        break;
      }
      sentences.push(`${rowList(rows)}: ${reason}`);
    }
    return sentences;
  }
}

function rowList(rows: readonly number[]): string {
  if (rows.length === 1) return `Row ${rows[0]}`;
  const shown = rows.slice(0, 5).join(', ');
  return rows.length > 5 ? `Rows ${shown} and ${rows.length - 5} more` : `Rows ${shown}`;
}

function shorten(value: string): string {
  return value.length > MAX_VALUE ? `${value.slice(0, MAX_VALUE - 1)}…` : value;
}
