// A cell that begins with = + - @ may run as a formula when a spreadsheet opens the file; so may one that begins with a tab
// or a line break, and spreadsheets look past blanks and characters that show nothing, and read full-width signs as plain
// ones (OWASP, "CSV Injection", from memory: = + - @, tab, carriage return, line feed, full-width = + - @; the rest is ours, to be
// on the safe side). Text columns of an export put an apostrophe before such a cell; an import takes exactly one off again,
// so that what goes out comes back the same (also text that began with apostrophes of its own). Numbers are never touched.

/** Blanks of every kind, controls and characters that show nothing. */
const SHOWS_NOTHING = String.raw`\s\p{Cc}\p{Cf}\p{Zs}\p{Default_Ignorable_Code_Point}\u2800`;
/** = + - @, and their full-width and small forms. */
const SIGN = String.raw`=+\-@\uff1d\uff0b\uff0d\uff20\ufe66\ufe62\ufe63\ufe6b`;
const LINE_OR_TAB = String.raw`\t\n\v\f\r\u0085\u2028\u2029`;
/** Apostrophes before it are passed over, so that a text that looks guarded gets a guard of its own. */
const DANGER = `['${SHOWS_NOTHING}]*[${SIGN}${LINE_OR_TAB}]`;
const TO_GUARD = new RegExp(`^${DANGER}`, 'u');
const GUARDED = new RegExp(`^'${DANGER}`, 'u');

/** Text as it is written to a CSV that a spreadsheet may open. */
export function guardFormula(text: string): string {
  return TO_GUARD.test(text) ? `'${text}` : text;
}

/** Takes the guard off again. */
export function stripFormulaGuard(text: string): string {
  return GUARDED.test(text) ? text.slice(1) : text;
}
