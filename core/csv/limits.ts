import { BookError } from '../errors.ts';
import { fact, type Fact } from '../text/say.ts';

// What is no list is refused before it is split: one line of 34 MB took two minutes and 3 GB. Each limit is far above what a
// list of clients, zones, work or weather needs, and below what would make the machine slow.

/** Characters in a line: a thousand cells of a thousand characters, or a note a hundred times as long as the book takes. */
export const LONGEST_LINE = 1_000_000;
/** Cells in a line: the widest list has some sixty fields; the rest is room for exports that carry everything. */
export const MOST_COLUMNS = 1_000;
/** Lines: as many as a spreadsheet's sheet holds. */
export const MOST_LINES = 1_048_576;
/** Cells in all: 50 columns of 400,000 rows. */
export const MOST_CELLS = 20_000_000;

const FEED = 10;
const RETURN = 13;
const QUOTE = 34;

/** Walks the text once, before anything of it is kept. Throws bad-input that names the line and what to do. */
export function assertIsList(text: string, delimiter: string): void {
  const cut = delimiter.charCodeAt(0);
  let line = 1;
  let start = 0;
  let cells = 1;
  let withQuoted = 1;
  let allCells = 0;
  let quoted = false;
  for (let at = 0; at <= text.length; at += 1) {
    // The line break at the end of a file begins no line.
    if (at === text.length && at === start) return;
    const code = at === text.length ? FEED : text.charCodeAt(at);
    if (code === QUOTE) quoted = !quoted;
    else if (code === cut) {
      withQuoted += 1;
      if (!quoted) cells += 1;
    } else if (code === FEED || code === RETURN) {
      if (at - start > LONGEST_LINE) throw tooLong(line, at - start);
      // Inside quotation marks a delimiter is text, unless a mark is never closed.
      if (quoted) cells = withQuoted;
      if (cells > MOST_COLUMNS) throw tooWide(line, cells);
      allCells += cells;
      if (allCells > MOST_CELLS) throw refusal(fact('errors.tooManyCells', { most: MOST_CELLS }));
      if (code === RETURN && text.charCodeAt(at + 1) === FEED) at += 1;
      line += 1;
      if (line > MOST_LINES && at + 1 < text.length) throw refusal(fact('errors.tooManyLines', { most: MOST_LINES }));
      start = at + 1;
      cells = 1;
      withQuoted = 1;
      quoted = false;
    }
  }
}

function tooLong(line: number, characters: number): BookError {
  return refusal(fact('errors.longLine', { line, characters, most: LONGEST_LINE }));
}

function tooWide(line: number, cells: number): BookError {
  return refusal(fact('errors.wideLine', { line, columns: cells, most: MOST_COLUMNS }));
}

const refusal = (what: Fact): BookError => new BookError('bad-input', what, 'bytesBase64');
