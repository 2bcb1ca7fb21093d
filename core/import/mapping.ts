import { createHash } from 'node:crypto';
import { BookError } from '../errors.ts';
import { contentGuess } from './content-guess.ts';
import { fieldsOf, labelOf, type Field, type ImportTarget } from './fields.ts';
import { wordsOf } from './cell-values.ts';
import { fact, factAround } from '../text/say.ts';

export type MatchHow = 'remembered' | 'guessed' | 'given' | 'none';
export interface ColumnMatch {
  index: number;
  header: string;
  /** '' = left out. */
  field: string;
  how: MatchHow;
}

/** A header in the form in which it is compared: "FirstName", "first_name" and "First  name:" are one. */
export function headerWords(header: string): string {
  return wordsOf(
    header
      .replace(/([a-z])([A-Z])/g, '$1 $2')
      .replace(/#/g, ' no ')
      .replace(/°/g, ' '),
  );
}

/** What a remembered matching is remembered by. */
export function headerSignature(headers: readonly string[], hasHeader: boolean): string {
  const text = hasHeader ? headers.map(headerWords).join('|') : `no header, ${headers.length} columns`;
  return createHash('sha256').update(text).digest('hex').slice(0, 32);
}

const BILLING = /\b(billing|mailing|invoice|bill to|bill)\b/;
const GENERIC = /^(column|field|col|unnamed|f)? ?\d*$/;

/** How well a header says a field, 0 to 100. */
export function headerScore(header: string, field: Field): number {
  const words = headerWords(header);
  if (words === '') return 0;
  if (BILLING.test(words) && words !== 'bill to' && words !== 'bill to name') {
    return field.name === 'billingAddress' &&
      /\b(address|street|city|state|zip|postcode|postal code|unit|province)\b/.test(words)
      ? 100
      : 0;
  }
  const tokens = words.split(' ');
  let best = 0;
  for (const entry of field.words) {
    const asPart = entry.startsWith('~');
    const meaning = asPart ? entry.slice(1) : entry;
    if (!asPart) {
      if (meaning === words) return 100;
      if (meaning.replaceAll(' ', '') === words.replaceAll(' ', '')) best = Math.max(best, 98);
      continue;
    }
    const parts = meaning.split(' ');
    if (parts.every((part) => tokens.includes(part))) best = Math.max(best, 45 + (45 * parts.length) / tokens.length);
  }
  return best;
}

/** How many columns of a would-be header row say a field. */
export function headerHits(target: ImportTarget, cells: readonly string[]): number {
  const fields = fieldsOf(target);
  return cells.filter((cell) => cell.length <= 60 && fields.some((field) => headerScore(cell, field) >= 60)).length;
}

/** Matches columns to fields: what the caller said, then what was remembered, then headers, then what the cells look like. */
export function matchColumns(
  target: ImportTarget,
  headers: readonly string[],
  hasHeader: boolean,
  columnCells: (index: number) => string[],
  remembered: Record<string, string> | null,
  given: Record<string, string> | undefined,
): ColumnMatch[] {
  const fields = fieldsOf(target);
  const known = new Map(fields.map((field) => [field.name, field]));
  const matches: ColumnMatch[] = headers.map((header, index) => ({ index, header, field: '', how: 'none' }));
  const taken = new Map<string, number>();
  const put = (match: ColumnMatch, field: string, how: MatchHow): void => {
    match.field = field;
    match.how = how;
    if (field !== '') taken.set(field, match.index);
  };
  for (const [key, field] of Object.entries(given ?? {})) {
    const match = matches[Number(key)];
    if (!match)
      throw new BookError(
        'bad-input',
        fact('errors.noColumn', { column: Number(key) + 1, count: headers.length }),
        `mapping.${key}`,
      );
    if (field !== '' && !known.has(field))
      throw new BookError(
        'bad-input',
        fact('import.noField', { field, target, fields: fields.map((one) => one.name) }),
        `mapping.${key}`,
      );
    const other = field === '' ? undefined : taken.get(field);
    if (other !== undefined && known.get(field)!.join === undefined) {
      throw new BookError(
        'bad-input',
        factAround('import.twoColumns', labelOf(target, field), { first: other + 1, second: match.index + 1 }),
        `mapping.${key}`,
      );
    }
    put(match, field, 'given');
  }
  const free = (field: Field): boolean => !taken.has(field.name) || field.join !== undefined;
  if (remembered) {
    for (const match of matches) {
      const field = remembered[String(match.index)];
      if (match.how !== 'none' || field === undefined || (field !== '' && !known.has(field))) continue;
      if (field === '' || free(known.get(field)!)) put(match, field, 'remembered');
    }
    return matches;
  }
  if (hasHeader) guessByHeader(matches, fields, free, put);
  for (const [index, field] of contentGuess(
    target,
    matches.map((match) => ({
      index: match.index,
      matched: match.how !== 'none',
      generic: !hasHeader || GENERIC.test(headerWords(match.header)),
      header: hasHeader ? headerWords(match.header) : '',
    })),
    (name) => taken.has(name),
    columnCells,
  )) {
    put(matches[index]!, field, 'guessed');
  }
  // A list with one telephone column has it as the first phone, whatever it is called.
  const second = matches.find((match) => match.field === 'phone2' && match.how === 'guessed');
  if (second && !taken.has('phone')) put(second, 'phone', 'guessed');
  return matches;
}

function guessByHeader(
  matches: ColumnMatch[],
  fields: readonly Field[],
  free: (field: Field) => boolean,
  put: (match: ColumnMatch, field: string, how: MatchHow) => void,
): void {
  const pairs: { match: ColumnMatch; field: Field; score: number }[] = [];
  for (const match of matches) {
    if (match.how !== 'none') continue;
    for (const field of fields) {
      const score = headerScore(match.header, field);
      if (score >= 55) pairs.push({ match, field, score });
    }
  }
  pairs.sort((a, b) => b.score - a.score || a.match.index - b.match.index);
  for (const { match, field } of pairs) {
    if (match.how === 'none' && free(field)) put(match, field.name, 'guessed');
  }
  // "Phone" twice, or "Home phone" and "Work phone": the one left over is the second.
  const phone2 = fields.find((field) => field.name === 'phone2');
  if (phone2 && free(phone2)) {
    const other = pairs.find(({ match, field }) => field.name === 'phone' && match.how === 'none');
    if (other) put(other.match, 'phone2', 'guessed');
  }
}
