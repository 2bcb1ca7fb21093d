// A cell that begins with = + - @ (or a tab or carriage return) may run as a formula when a spreadsheet opens the file.
// Text columns of an export put an apostrophe before such a cell; an import takes exactly one off again, so that what
// goes out comes back the same (also text that began with apostrophes of its own). Numbers are never touched.

/** Text as it is written to a CSV that a spreadsheet may open. */
export function guardFormula(text: string): string {
  return /^'*[=+\-@\t\r]/.test(text) ? `'${text}` : text;
}

/** Takes the guard off again. */
export function stripFormulaGuard(text: string): string {
  return /^'+[=+\-@\t\r]/.test(text) ? text.slice(1) : text;
}
