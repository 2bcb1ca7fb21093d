import { BYTE_ORDER_MARK, csvOfList } from '../../../core/csv/write.ts';
import type { OutputOf } from '../../../core/contract/index.ts';
import { say, sayTold } from '../../state/say.ts';

// Files in and out of the browser: reading a list as base64, and saving small CSV files for the reader.

export type Preview = OutputOf<'import.preview'>;
export type Report = OutputOf<'import.apply'>;
export type Problem = Preview['problems'][number];

/** The largest file the book takes in one piece; base64 makes four characters of three bytes. */
export const LARGEST_FILE = 95 * 1024 * 1024;
// A multiple of three, so that pieces of base64 can be put one after the other.
const PIECE = 3 * 256 * 1024;

/** Reads a file as base64 in pieces, so that a large one does not hold up the window. */
export async function fileAsBase64(file: Blob): Promise<string> {
  const pieces: string[] = [];
  for (let from = 0; from < file.size; from += PIECE) {
    pieces.push(base64Of(new Uint8Array(await file.slice(from, from + PIECE).arrayBuffer())));
  }
  return pieces.join('');
}

function base64Of(bytes: Uint8Array): string {
  if ('toBase64' in bytes) return (bytes as Uint8Array & { toBase64(): string }).toBase64();
  const parts: string[] = [];
  for (let from = 0; from < bytes.length; from += 0x8000)
    parts.push(String.fromCharCode(...(bytes as Uint8Array).subarray(from, from + 0x8000)));
  return btoa(parts.join(''));
}

/** Hands the reader a file. */
export function saveText(fileName: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/csv;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  document.body.append(link);
  link.click();
  link.remove();
  // The download has its own copy once it has begun.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Rows as CSV that a spreadsheet opens with its letters right and runs nothing of. */
export const csvOf = (rows: readonly (readonly string[])[]): string => BYTE_ORDER_MARK + csvOfList(rows);

/** Splits CSV text into records; quoted cells may hold line breaks. A quotation that is never closed ends with the text. */
export function splitCsv(text: string, delimiter: string): string[][] {
  const records: string[][] = [];
  let cells: string[] = [];
  let cell = '';
  let quoted = false;
  const endCell = () => {
    cells.push(cell);
    cell = '';
  };
  for (let at = 0; at < text.length; at += 1) {
    const letter = text[at];
    if (quoted) {
      if (letter !== '"') cell += letter;
      else if (text[at + 1] === '"') {
        cell += '"';
        at += 1;
      } else quoted = false;
    } else if (letter === '"' && cell === '') quoted = true;
    else if (letter === delimiter) endCell();
    else if (letter === '\n' || letter === '\r') {
      if (letter === '\r' && text[at + 1] === '\n') at += 1;
      endCell();
      records.push(cells);
      cells = [];
    } else cell += letter;
  }
  if (cell !== '' || cells.length > 0) {
    endCell();
    records.push(cells);
  }
  return records;
}

/**
 * The rows that have a problem, as they stand in the reader's own file, with what to mend beside them.
 * Where the rows cannot be told for certain (broken quotation marks), the list of problems alone.
 */
export async function mendingCsv(
  file: Blob,
  preview: Pick<Preview, 'encoding' | 'delimiter' | 'problems'>,
  headers: readonly string[],
): Promise<string> {
  const byRow = new Map<number, Problem[]>();
  for (const problem of preview.problems) byRow.set(problem.row, [...(byRow.get(problem.row) ?? []), problem]);
  const records = splitCsv(new TextDecoder(preview.encoding).decode(await file.arrayBuffer()), preview.delimiter);
  const certain = [...byRow].every(([row, problems]) =>
    problems.every(({ value }) => records[row - 1]?.some((cell) => sameText(cell, value)) ?? false),
  );
  if (!certain)
    return csvOf([
      [say('import.row'), say('import.column'), say('import.value'), say('import.whatToMend')],
      ...preview.problems.map(({ row, column, value, reason }) => [String(row), column, value, sayTold(reason)]),
    ]);
  return csvOf([
    [...headers, say('import.whatToMend')],
    ...[...byRow]
      .toSorted(([one], [other]) => one - other)
      .map(([row, problems]) => {
        const cells = records[row - 1] ?? [];
        return [
          ...headers.map((_, index) => cells[index] ?? ''),
          problems.map(({ column, reason }) => `${column}: ${sayTold(reason)}`).join('; '),
        ];
      }),
  ]);
}

function sameText(cell: string, value: string): boolean {
  const plain = (text: string) => text.replaceAll(/[\s\u00a0]+/g, ' ').trim();
  return (
    plain(cell) === plain(value) ||
    (value.endsWith('…') && plain(cell).startsWith(plain(value.slice(0, -1)))) ||
    value === ''
  );
}
