import type { ParsedInputOf } from '../contract/index.ts';
import { decodeText } from '../csv/index.ts';
import { readRecords, type CsvRecord } from '../csv/index.ts';
import type { ImportTarget } from './fields.ts';
import { headerHits, headerSignature, headerWords, type ColumnMatch } from './mapping.ts';
import type { Findings } from './notes.ts';
import { cleanCell, isBlank, oneLine } from './cell-values.ts';
import { fact, type Fact } from '../text/say.ts';

/** A list read as far as it can be without the book: its text, its header, its rows. */
export interface Source {
  target: ImportTarget;
  encoding: string;
  delimiter: string;
  hasHeader: boolean;
  headers: string[];
  signature: string;
  rows: CsvRecord[];
  /** Rows set aside before any was looked at: blank lines, titles, the header again. */
  ignoredBefore: number;
}

/** Rows looked at above the header, where a report's title often stands. */
const TITLE_ROWS = 10;
const COLUMN_SAMPLE = 200;
/** More than any field takes. What reads a cell may take time by the square of its length, so nothing longer is read at all. */
const LONGEST_CELL = 10_000;
/** As much of a cell as telling what its column holds takes. */
const GUESSED_BY = 500;

const ROWS_A_TICK = 4000;

/** Decodes and splits a list, finds its header and sets blank lines, titles and repeated headers aside. `tick` is called all along. */
export function readSource(input: ParsedInputOf<'import.preview'>, findings: Findings, tick: () => void): Source {
  tick();
  const decoded = decodeText(Buffer.from(input.bytesBase64, 'base64'), input.encoding);
  for (const warning of decoded.warnings) findings.tell(warning);
  const { records, delimiter, strayQuotes, plainFrom } = readRecords(decoded.text, input.delimiter, tick);
  for (const row of strayQuotes) findings.warn(row, fact('import.why.openQuote'));

  if (plainFrom !== null) findings.tell(fact('import.why.plainQuotes', { row: plainFrom }));

  let start = 0;
  while (
    start < records.length &&
    (isBlankRow(records[start]!) || (start === 0 && /^sep=.?$/i.test(records[0]!.cells.join(delimiter).trim())))
  ) {
    findings.ignore(
      records[start]!.row,
      isBlankRow(records[start]!) ? fact('import.why.blank') : fact('import.why.namesDelimiter'),
    );
    start += 1;
  }
  let hasHeader = input.hasHeader && start < records.length;
  if (hasHeader) {
    const header = findHeader(input.target, records, start);
    if (header === null) {
      hasHeader = false;
      findings.tell(fact('import.why.looksLikeData'));
    } else {
      for (let at = start; at < header; at += 1)
        findings.ignore(
          records[at]!.row,
          isBlankRow(records[at]!) ? fact('import.why.blank') : fact('import.why.aboveHeader'),
        );
      start = header;
    }
  }
  const headerCells = hasHeader ? records[start]!.cells.map((cell) => oneLine(cleanCell(cell))) : [];
  const data = hasHeader ? records.slice(start + 1) : records.slice(start);
  const width = hasHeader ? Math.max(headerCells.length, widerThanHeader(data, headerCells.length)) : usualWidth(data);
  const headers = Array.from({ length: width }, (_, index) => headerCells[index] ?? '');
  const rows = setAside(data, headerCells, width, findings, tick);
  return {
    target: input.target,
    encoding: decoded.encoding,
    delimiter,
    hasHeader,
    headers,
    signature: headerSignature(headers, hasHeader),
    rows,
    ignoredBefore: findings.ignoredRows,
  };
}

function isBlankRow(record: CsvRecord): boolean {
  for (const cell of record.cells) if (cell.trim() !== '' && cleanCell(cell) !== '') return false;
  return true;
}

/** The index of the header: the first row, a better one a few rows on, or null where the first row is data. */
function findHeader(target: ImportTarget, records: readonly CsvRecord[], start: number): number | null {
  const first = records[start]!;
  const hits = headerHits(target, first.cells.map(cleanCell));
  if (hits >= 2) return start;
  for (let at = start + 1; at < Math.min(records.length, start + TITLE_ROWS); at += 1) {
    if (headerHits(target, records[at]!.cells.map(cleanCell)) >= Math.max(2, hits + 1)) return at;
  }
  if (hits >= 1) return start;
  const looksLikeData = first.cells
    .map((cell) => cell.slice(0, GUESSED_BY))
    .some(
      (cell) =>
        /^[^\s@]+@[^\s@]+\.[^\s@]+$/.test(cell.trim()) ||
        cell.replace(/\D/g, '').length >= 7 ||
        /^\d+\s+\p{L}/u.test(cell.trim()),
    );
  return looksLikeData ? null : start;
}

/** A width beyond the header's, where most rows have cells there. */
function widerThanHeader(data: readonly CsvRecord[], width: number): number {
  const wider = data
    .slice(0, COLUMN_SAMPLE)
    .filter((record) => record.cells.slice(width).some((cell) => cell.trim() !== ''));
  return wider.length * 2 > Math.min(data.length, COLUMN_SAMPLE) ? usualWidth(wider) : 0;
}

function usualWidth(data: readonly CsvRecord[]): number {
  const counts = new Map<number, number>();
  for (const record of data.slice(0, COLUMN_SAMPLE)) {
    let width = record.cells.length;
    while (width > 0 && record.cells[width - 1]!.trim() === '') width -= 1;
    counts.set(width, (counts.get(width) ?? 0) + 1);
  }
  let usual = 0;
  let most = 0;
  for (const [width, times] of counts)
    if (times > most || (times === most && width > usual)) [usual, most] = [width, times];
  return usual;
}

function setAside(
  data: readonly CsvRecord[],
  headerCells: readonly string[],
  width: number,
  findings: Findings,
  tick: () => void,
): CsvRecord[] {
  const rows: CsvRecord[] = [];
  const header = headerCells.map(headerWords);
  const last = data.at(-1);
  for (const [at, record] of data.entries()) {
    if (at % ROWS_A_TICK === 0) tick();
    if (isBlankRow(record)) {
      // The line break at the end of a file is not a row.
      if (record !== last || record.cells.length > 1) findings.ignore(record.row, fact('import.why.blank'));
      continue;
    }
    if (
      header.length > 1 &&
      header[0] === headerWords(record.cells[0]!.trim()) &&
      record.cells.every((cell, index) => headerWords(cleanCell(cell)) === (header[index] ?? ''))
    ) {
      findings.ignore(record.row, fact('import.why.headerAgain'));
      continue;
    }
    if (record.cells.length > width && record.cells.slice(width).some((cell) => cell.trim() !== '')) {
      findings.warn(record.row, fact('import.why.moreCells', { columns: width }));
    } else if (record.cells.length < width && record.cells.length < headerCells.length) {
      findings.warn(record.row, fact('import.why.fewCells'));
    }
    rows.push(record);
  }
  return rows;
}

/** Non-empty cells of a column, from the beginning of the list. */
export function columnCells(source: Source, index: number, most = COLUMN_SAMPLE): string[] {
  const cells: string[] = [];
  for (const record of source.rows) {
    const cell = oneLine(cleanCell((record.cells[index] ?? '').slice(0, GUESSED_BY)));
    if (cell !== '') cells.push(cell);
    if (cells.length >= most) break;
  }
  return cells;
}

/** Is this a line of sums or a report's last line? Such a line names no street of its own. */
export function isTotalsRow(cells: readonly string[]): boolean {
  const filled: string[] = [];
  for (const raw of cells) {
    const cell = cleanCell(raw);
    if (cell !== '') filled.push(cell);
  }
  if (/^(grand |sub ?|report |overall )?totals?\b/i.test(filled[0] ?? '')) return true;
  if (filled.length > 4) return false;
  const text = filled.join(' ');
  if (
    filled.length <= 2 &&
    /^(page \d+( of \d+)?|end of (report|list|file)|\d[\d,.]* (clients|customers|rows|records|properties|accounts)( listed| total)?|(count|sum|average)s?:?( [\d,.]+)?|printed .*|report (run|date).*)$/i.test(
      text,
    )
  )
    return true;
  return /\b(grand|sub)[ -]?total\b/i.test(text);
}

/** One row at a time, by field. */
export class RowReader {
  row = 0;
  private cells: readonly string[] = [];
  private readonly columns = new Map<string, number[]>();
  /** Rows whose long cells were told. */
  private readonly withLong = new Set<number>();
  private readonly joins: ReadonlyMap<string, string>;
  private readonly headers: readonly string[];
  private readonly findings: Findings;

  constructor(matches: readonly ColumnMatch[], joins: ReadonlyMap<string, string>, findings: Findings) {
    this.joins = joins;
    this.findings = findings;
    this.headers = matches.map((match) => match.header || `Column ${match.index + 1}`);
    for (const match of matches) {
      if (match.field === '') continue;
      const columns = this.columns.get(match.field);
      if (columns) columns.push(match.index);
      else this.columns.set(match.field, [match.index]);
    }
  }

  at(record: CsvRecord): void {
    this.row = record.row;
    this.cells = record.cells;
    if (record.cells.some((cell) => cell.length > LONGEST_CELL)) this.leaveOutLong();
  }

  /** A cell that no field could take keeps its row out, and is read no further. A column that is left out may hold any. */
  private leaveOutLong(): void {
    const first = !this.withLong.has(this.row);
    this.withLong.add(this.row);
    for (const columns of this.columns.values()) {
      for (const index of columns) {
        const cell = this.cells[index] ?? '';
        if (cell.length > LONGEST_CELL && first)
          this.findings.problem(
            this.row,
            this.headers[index]!,
            cell,
            fact('import.why.longCell', { most: LONGEST_CELL }),
          );
      }
    }
    this.cells = this.cells.map((cell) => (cell.length > LONGEST_CELL ? '' : cell));
  }

  has(field: string): boolean {
    return this.columns.has(field);
  }

  /** The cell's text, cleaned, line breaks kept. */
  text(field: string): string {
    const columns = this.columns.get(field);
    if (!columns) return '';
    if (columns.length === 1) return cleanCell(this.cells[columns[0]!] ?? '');
    return columns
      .map((index) => cleanCell(this.cells[index] ?? ''))
      .filter((cell) => !isBlank(cell))
      .join(this.joins.get(field) ?? ' ');
  }

  /** One line; '' where the cell only says that there is nothing. */
  line(field: string): string {
    const text = this.text(field);
    return isBlank(text) ? '' : oneLine(text);
  }

  /** The header over a field's cell, for telling where a fault is. */
  column(field: string): string {
    const columns = this.columns.get(field);
    return columns ? this.headers[columns[0]!]! : '';
  }

  problem(field: string, reason: Fact, value = this.text(field)): void {
    this.findings.problem(this.row, this.column(field), value, reason);
  }

  warn(reason: Fact): void {
    this.findings.warn(this.row, reason);
  }
}
