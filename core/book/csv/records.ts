import { CsvError, parse } from 'csv-parse/sync';

/** One record. `row` is the number a spreadsheet shows beside it: the first record is row 1, and a blank line counts. */
export interface CsvRecord {
  row: number;
  cells: string[];
}

export interface CsvRecords {
  delimiter: Delimiter;
  records: CsvRecord[];
  /** Rows whose quotation marks do not pair up; they were read as they stand. */
  strayQuotes: number[];
  /** From this row on quotation marks were taken as plain characters, because too many did not pair up. */
  plainFrom: number | null;
}

export const DELIMITERS = [',', ';', '\t', '|'] as const;
export type Delimiter = (typeof DELIMITERS)[number];

const RECORD_ENDS = ['\r\n', '\n', '\r'];
const SAMPLE_CHARS = 48_000;
/** Past this many repairs a file is read with its quotation marks as plain characters. */
const MAX_REPAIRS = 200;

/** Splits CSV text into records (RFC 4180, and leniently what breaks it). */
export function readRecords(text: string, asked?: Delimiter): CsvRecords {
  const named = /^sep=(.)\r?\n/i.exec(text);
  const delimiter = asked ?? (named && isDelimiter(named[1]) ? named[1] : sniffDelimiter(text));
  const { rows, stray, plainFrom } = split(Buffer.from(text, 'utf8'), delimiter);
  return { delimiter, records: rows.map((cells, index) => ({ row: index + 1, cells })), strayQuotes: stray, plainFrom };
}

/** The delimiter that cuts the beginning of a text into the most even rows. */
export function sniffDelimiter(text: string): Delimiter {
  let sample = text.slice(0, SAMPLE_CHARS);
  if (sample.length < text.length) sample = sample.slice(0, Math.max(sample.lastIndexOf('\n'), sample.lastIndexOf('\r')) + 1) || sample;
  let best: Delimiter = ',';
  let bestScore = 0;
  for (const delimiter of DELIMITERS) {
    const counts = new Map<number, number>();
    let total = 0;
    for (const cells of split(Buffer.from(sample, 'utf8'), delimiter).rows) {
      if (cells.length === 1 && cells[0]!.trim() === '') continue;
      counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
      total += 1;
    }
    let score = 0;
    // Even rows count most; among equally even cuts the one with more columns is the likelier.
    for (const [columns, times] of counts) if (columns > 1) score = Math.max(score, (times / total) * (1 + Math.log2(columns) / 8));
    if (score > bestScore + 1e-9) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

function isDelimiter(text: string | undefined): text is Delimiter {
  return (DELIMITERS as readonly (string | undefined)[]).includes(text);
}

function split(bytes: Buffer, delimiter: Delimiter): { rows: string[][]; stray: number[]; plainFrom: number | null } {
  const rows: string[][] = [];
  const stray: number[] = [];
  let offset = 0;
  let plainFrom: number | null = null;
  for (let repairs = 0; offset < bytes.length; repairs += 1) {
    const quoted = repairs < MAX_REPAIRS;
    if (!quoted) plainFrom ??= rows.length + 1;
    const part = bytes.subarray(offset);
    const stop = parsePart(part, delimiter, quoted, rows);
    if (stop === null) break;
    // The record at `stop` opens a quotation that is never closed, or swallowed whole lines: its first line is read as it stands.
    const lineEnd = endOfLine(part, stop);
    parsePart(part.subarray(stop, lineEnd), delimiter, false, rows);
    stray.push(rows.length);
    offset += lineEnd;
  }
  return { rows, stray, plainFrom };
}

/** Reads records until the end (null) or until one whose quotation is broken (its byte offset). */
function parsePart(bytes: Buffer, delimiter: Delimiter, quoted: boolean, rows: string[][]): number | null {
  let read = 0;
  let broken: number | null = null;
  // The width of the row before: what a row of this list usually has.
  let width = rows.findLast((cells) => cells.length > 1)?.length ?? 0;
  const mark = new Error('broken record');
  try {
    parse(bytes, {
      delimiter,
      quote: quoted ? '"' : false,
      relax_quotes: true,
      relax_column_count: true,
      bom: false,
      record_delimiter: RECORD_ENDS,
      on_record: (cells: string[], context: { bytes: number }) => {
        if (quoted && swallowedLines(cells, delimiter, width || cells.length, () => bytes.subarray(read, context.bytes))) {
          broken = read;
          throw mark;
        }
        rows.push(cells);
        if (cells.length > 1) width = cells.length;
        read = context.bytes;
        return null;
      },
    });
  } catch (error) {
    if (broken !== null) return broken;
    if (error instanceof CsvError && quoted) return read;
    throw error;
  }
  return null;
}

/**
 * Did a quotation mark that is never closed swallow the rows after it? Either the relaxed reading gave up in the middle of
 * the cell and put its opening mark back (a strict reading of the same bytes then fails), or the record has not the width
 * of the others while lines inside it have. A note of several lines in a row of the right width is left alone.
 */
function swallowedLines(cells: string[], delimiter: Delimiter, columns: number, raw: () => Buffer): boolean {
  for (const cell of cells) {
    if (!cell.includes('\n') && !cell.includes('\r')) continue;
    if (cell.startsWith('"') && !isStrict(raw(), delimiter)) return true;
    if (cells.length !== columns && columns >= 3 && cell.split(/\r\n|\n|\r/).slice(1).some((line) => line.split(delimiter).length === columns)) return true;
  }
  return false;
}

function isStrict(record: Buffer, delimiter: Delimiter): boolean {
  try {
    return parse(record, { delimiter, relax_column_count: true, record_delimiter: RECORD_ENDS }).length === 1;
  } catch {
    return false;
  }
}

function endOfLine(bytes: Buffer, from: number): number {
  for (let at = from; at < bytes.length; at += 1) {
    if (bytes[at] === 10) return at + 1;
    if (bytes[at] === 13) return bytes[at + 1] === 10 ? at + 2 : at + 1;
  }
  return bytes.length;
}
