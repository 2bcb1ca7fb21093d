import { CsvError, parse } from 'csv-parse/sync';
import { assertIsList, LONGEST_LINE } from './limits.ts';

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
/** Records the parser reads at the first difficult line before plain reading is tried again; twice as many every time. */
const FIRST_DETOUR = 64;
const LINES_A_TICK = 4000;

interface Rows {
  rows: string[][];
  stray: number[];
  plainFrom: number | null;
}

/** Splits CSV text into records (RFC 4180, and leniently what breaks it); throws bad-input for what is too wide or long for a list. `tick` is called now and then, so that a caller may report and stop. */
export function readRecords(text: string, asked?: Delimiter, tick?: () => void): CsvRecords {
  const named = /^sep=(.)\r?\n/i.exec(text);
  const delimiter = asked ?? (named && isDelimiter(named[1]) ? named[1] : sniffDelimiter(text));
  assertIsList(text, delimiter);
  const { rows, stray, plainFrom } = split(text, delimiter, tick);
  return { delimiter, records: rows.map((cells, index) => ({ row: index + 1, cells })), strayQuotes: stray, plainFrom };
}

/** The delimiter that cuts the beginning of a text into the most even rows. */
export function sniffDelimiter(text: string): Delimiter {
  let sample = text.slice(0, SAMPLE_CHARS);
  if (sample.length < text.length)
    sample = sample.slice(0, Math.max(sample.lastIndexOf('\n'), sample.lastIndexOf('\r')) + 1) || sample;
  let best: Delimiter = ',';
  let bestScore = 0;
  for (const delimiter of DELIMITERS) {
    const counts = new Map<number, number>();
    let total = 0;
    for (const cells of split(sample, delimiter).rows) {
      if (cells.length === 1 && cells[0]!.trim() === '') continue;
      counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
      total += 1;
    }
    let score = 0;
    // Even rows count most; among equally even cuts the one with more columns is the likelier.
    for (const [columns, times] of counts)
      if (columns > 1) score = Math.max(score, (times / total) * (1 + Math.log2(columns) / 8));
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

/** Reads plain lines by itself, which is most of nearly every list, and leaves to the parser what is not plain. */
function split(given: string, delimiter: Delimiter, tick?: () => void): Rows {
  // What UTF-8 cannot hold is replaced as an encoder would.
  const text = given.toWellFormed();
  const out: Rows = { rows: [], stray: [], plainFrom: null };
  const parts = new ByteParts(text);
  let at = 0;
  let repairs = 0;
  let detour = FIRST_DETOUR;
  while (at < text.length) {
    if (repairs < MAX_REPAIRS) at = readPlainLines(text, at, delimiter, out.rows, tick);
    if (at >= text.length) break;
    const rest = parts.from(at);
    const step = parseStep(rest, delimiter, repairs < MAX_REPAIRS, out, detour, tick);
    if (step === null) break;
    repairs += step.repaired ? 1 : 0;
    detour *= 2;
    at += rest.toString('utf8', 0, step.bytes).length;
  }
  return out;
}

/** The split by the parser alone: what `split` must always agree with. */
export function splitByParser(given: string, delimiter: Delimiter): Rows {
  const out: Rows = { rows: [], stray: [], plainFrom: null };
  let bytes = Buffer.from(given, 'utf8');
  for (let repairs = 0; bytes.length > 0; repairs += 1) {
    const step = parseStep(bytes, delimiter, repairs < MAX_REPAIRS, out, Infinity);
    if (step === null) break;
    bytes = bytes.subarray(step.bytes);
  }
  return out;
}

/** One text as bytes, from places that only go forward. */
class ByteParts {
  private readonly text: string;
  private bytes: Buffer | null = null;
  private at = 0;

  constructor(text: string) {
    this.text = text;
  }

  from(at: number): Buffer {
    this.bytes ??= Buffer.from(this.text, 'utf8');
    this.bytes = this.bytes.subarray(Buffer.byteLength(this.text.slice(this.at, at), 'utf8'));
    this.at = at;
    return this.bytes;
  }
}

/** Reads lines as long as they hold no quotation mark or pair them within the line as the RFC says; returns where it stopped. */
function readPlainLines(text: string, from: number, delimiter: Delimiter, rows: string[][], tick?: () => void): number {
  let at = from;
  let lines = 0;
  // Looked for once and again only when passed, so that a file without one is searched once.
  let nextReturn = indexOrEnd(text, '\r', at);
  let nextQuote = indexOrEnd(text, '"', at);
  let nextFeed = indexOrEnd(text, '\n', at);
  while (at < text.length) {
    if (nextReturn < at) nextReturn = indexOrEnd(text, '\r', at);
    if (nextFeed < at) nextFeed = indexOrEnd(text, '\n', at);
    if (nextQuote < at) nextQuote = indexOrEnd(text, '"', at);
    const end = Math.min(nextReturn, nextFeed);
    const line = text.slice(at, end);
    if (nextQuote >= end) rows.push(line.split(delimiter));
    else {
      const cells = quotedCells(line, delimiter);
      if (cells === null) return at;
      rows.push(cells);
    }
    at = end + (nextReturn === end && nextFeed === end + 1 ? 2 : 1);
    lines += 1;
    if (lines % LINES_A_TICK === 0) tick?.();
  }
  return at;
}

function indexOrEnd(text: string, what: string, from: number): number {
  const index = text.indexOf(what, from);
  return index === -1 ? text.length : index;
}

/** The cells of a line in which every quotation mark is where the RFC allows it; null where one is not. */
function quotedCells(line: string, delimiter: Delimiter): string[] | null {
  const cells: string[] = [];
  let at = 0;
  for (;;) {
    if (line[at] === '"') {
      let close = line.indexOf('"', at + 1);
      while (close !== -1 && line[close + 1] === '"') close = line.indexOf('"', close + 2);
      if (close === -1 || (close + 1 < line.length && line[close + 1] !== delimiter)) return null;
      cells.push(line.slice(at + 1, close).replaceAll('""', '"'));
      at = close + 1;
    } else {
      const next = line.indexOf(delimiter, at);
      const cell = line.slice(at, next === -1 ? line.length : next);
      if (cell.includes('"')) return null;
      cells.push(cell);
      at += cell.length;
    }
    if (at >= line.length) return cells;
    at += 1;
  }
}

/** Lets the parser read up to `most` records and reads past one whose quotation is broken. Null at the end of the text. */
function parseStep(
  bytes: Buffer,
  delimiter: Delimiter,
  quoted: boolean,
  out: Rows,
  most: number,
  tick?: () => void,
): { bytes: number; repaired: boolean } | null {
  if (!quoted) out.plainFrom ??= out.rows.length + 1;
  const stop = parsePart(bytes, delimiter, quoted, out.rows, quoted ? most : Infinity, tick);
  if (stop === null || !stop.broken) return stop && { bytes: stop.at, repaired: false };
  // The record at `stop` opens a quotation that is never closed, or swallowed whole lines: its first line is read as it stands.
  const lineEnd = endOfLine(bytes, stop.at);
  parsePart(bytes.subarray(stop.at, lineEnd), delimiter, false, out.rows, Infinity);
  out.stray.push(out.rows.length);
  return { bytes: lineEnd, repaired: true };
}

/** Reads records until the end (null), until `most` are read, or until one whose quotation is broken; with the byte offset after what was read. */
function parsePart(
  bytes: Buffer,
  delimiter: Delimiter,
  quoted: boolean,
  rows: string[][],
  most: number,
  tick?: () => void,
): { at: number; broken: boolean } | null {
  let read = 0;
  let records = 0;
  let stop: { at: number; broken: boolean } | null = null;
  // The width of the row before: what a row of this list usually has.
  let width = rows.findLast((cells) => cells.length > 1)?.length ?? 0;
  const mark = new Error('stop here');
  try {
    parse(bytes, {
      delimiter,
      quote: quoted ? '"' : false,
      relax_quotes: true,
      relax_column_count: true,
      // A quotation that goes on for longer than any line may is one that is never closed.
      max_record_size: LONGEST_LINE,
      bom: false,
      record_delimiter: RECORD_ENDS,
      on_record: (cells: string[], context: { bytes: number }) => {
        if (
          quoted &&
          swallowedLines(cells, delimiter, width || cells.length, () => bytes.subarray(read, context.bytes))
        ) {
          stop = { at: read, broken: true };
          throw mark;
        }
        rows.push(cells);
        if (cells.length > 1) width = cells.length;
        read = context.bytes;
        records += 1;
        if (records % LINES_A_TICK === 0) tick?.();
        if (records >= most) {
          stop = { at: read, broken: false };
          throw mark;
        }
        return null;
      },
    });
  } catch (error) {
    if (error === mark) return stop;
    if (error instanceof CsvError && quoted) return { at: read, broken: true };
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
    if (
      cells.length !== columns &&
      columns >= 3 &&
      cell
        .split(/\r\n|\n|\r/)
        .slice(1)
        .some((line) => line.split(delimiter).length === columns)
    )
      return true;
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
