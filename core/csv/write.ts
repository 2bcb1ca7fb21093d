// The build for pages has no need of Node, and is the same code.
import { stringify } from 'csv-stringify/browser/esm/sync';
import { guardFormula } from './formula-guard.ts';

/** Written before the first row, so that spreadsheets read accents right. */
export const BYTE_ORDER_MARK = '\ufeff';

/**
 * Rows as CSV: RFC 4180 with \r\n; text in quotation marks and numbers without, so that nothing (two commas) and an
 * empty text ("") stay apart; text that a spreadsheet would run as a formula has an apostrophe before it.
 */
export function csvOf(rows: readonly (readonly unknown[])[]): string {
  return stringify(rows as unknown[][], {
    record_delimiter: '\r\n',
    quoted_string: true,
    cast: { string: (text) => guardFormula(text), number: (figure) => String(figure) },
  });
}

/**
 * Rows of a list somebody else wrote, where every cell is text: as it was typed, in quotation marks only where it must be.
 * A figure with a sign before it stays a figure.
 */
export function csvOfList(rows: readonly (readonly string[])[]): string {
  const cast = (text: string) => (/^[+-]?[\d.,]+$/.test(text) ? text : guardFormula(text));
  return stringify(rows as string[][], { record_delimiter: '\r\n', quoted_match: /[\r\n]/, cast: { string: cast } });
}
