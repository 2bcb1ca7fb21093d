import { parsePhoneNumberFromString, type CountryCode } from 'libphonenumber-js';
import { stripFormulaGuard } from '../csv/index.ts';
import { fact, type Fact } from '../text/say.ts';

// What people write in the cells of a list, read leniently.

const BLANKS = new Set([
  '',
  '-',
  '--',
  '---',
  '.',
  '?',
  'n/a',
  'na',
  'n.a.',
  '#n/a',
  'none',
  'null',
  'nil',
  'unknown',
  'tbd',
  '(blank)',
  'nan',
]);

/** What of a cell has to be looked at at all: odd characters, outer or doubled spaces, a beginning that may be a text mark. */
const UNCLEAN =
  /[\u0000-\u001f\u007f-\u00a0\u1680\u2000-\u200f\u2028\u2029\u202f\u205f\u2060\u3000\ufeff]|^[ =']| {2}| $/;

/** A cell as text: no-break and zero-width spaces, control characters, doubled spaces and a spreadsheet's text marks gone; line breaks kept. */
export function cleanCell(cell: string): string {
  if (!UNCLEAN.test(cell)) return cell;
  // The guard of an export comes off first: behind it stands the text as it was, whatever it looks like.
  let text = stripFormulaGuard(cell);
  const guarded = text !== cell;
  if (
    /[\u0000-\u0009\u000b-\u001f\u007f-\u00a0\u1680\u2000-\u200f\u2028\u2029\u202f\u205f\u2060\u3000\ufeff]/.test(text)
  ) {
    text = text
      .replace(/\r\n?|[\u2028\u2029]/g, '\n')
      .replace(/[\u200b-\u200f\u2060\ufeff]/g, '')
      .replace(/[\t\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]/g, ' ')
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]/g, '');
  }
  const formulaText = guarded ? null : /^="(.*)"$/s.exec(text);
  if (formulaText) text = formulaText[1]!.replaceAll('""', '"');
  text = text
    .replace(/ {2,}/g, ' ')
    .replace(/ ?\n ?/g, '\n')
    .trim();
  return guarded ? text : stripFormulaGuard(text);
}

/** The same on one line. */
export function oneLine(text: string): string {
  return text.includes('\n') ? text.replace(/\s*\n\s*/g, ', ') : text;
}

/** Does this cell say nothing ("n/a", "-", "none")? */
export function isBlank(text: string): boolean {
  return text === '' || (text.length <= 9 && BLANKS.has(text.toLowerCase()));
}

/** The text, or '' where it only says that there is nothing. */
export function said(text: string): string {
  return isBlank(text) ? '' : text;
}

/** Lower case words of a cell, for looking up what it means. */
export function wordsOf(text: string): string {
  if (/^[a-z0-9]*$/.test(text)) return text;
  // Plain letters need no normal form.
  if (/^[ -~]*$/.test(text))
    return text
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, ' ')
      .trim();
  return text
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();
}

/** A number with its unit, however it is written. */
const LONGEST_FIGURE = 60;

export type NumberReading = { ok: true; value: number | null } | { ok: false };

/** A number as people type it: "1,250", "$40", "45 psi", "5'", "12,5" (a decimal comma). */
export function readNumber(text: string): NumberReading {
  if (isBlank(text)) return { ok: true, value: null };
  if (text.length > LONGEST_FIGURE) return { ok: false };
  let figure = text
    .replace(/^[~≈<>$€£\s]+/, '')
    .replace(/\s*(?:[a-z%°'"²³][a-z0-9%°'"²³./ ]*)$/i, '')
    .trim();
  // "1 250": a space between thousands, and nowhere else.
  if (/^[-+]?\d{1,3}( \d{3})+([.,]\d+)?$/.test(figure)) figure = figure.replaceAll(' ', '');
  if (/^[-+]?\d{1,3}(,\d{3})+(\.\d+)?$/.test(figure)) figure = figure.replaceAll(',', '');
  else if (/^[-+]?\d*,\d+$/.test(figure)) figure = figure.replace(',', '.');
  if (!/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d{1,2})?$/i.test(figure)) return { ok: false };
  const value = Number(figure);
  return Number.isFinite(value) ? { ok: true, value } : { ok: false };
}

const YES = new Set([
  'yes',
  'y',
  'true',
  't',
  '1',
  'x',
  'on',
  'ja',
  'si',
  'oui',
  'included',
  'check',
  'checked',
  '✓',
  '✔',
  '☑',
]);
const NO = new Set([
  'no',
  'n',
  'false',
  'f',
  '0',
  'off',
  'none',
  'nein',
  'non',
  'not',
  'excluded',
  'declined',
  '☐',
  '✗',
  '✘',
]);

/** yes / no / not said (null) / not understood (undefined). */
export function readYesNo(text: string): boolean | null | undefined {
  const word = text.trim().toLowerCase();
  if (YES.has(word)) return true;
  if (NO.has(word)) return false;
  if (isBlank(word)) return null;
  const first = word.split(/[^a-z]+/)[0]!;
  if (first === 'yes') return true;
  if (first === 'no') return false;
  return undefined;
}

export interface PhoneReading {
  /** To store; '' when nothing usable was written. */
  phone: string;
  /** What could not be used, to be kept in the notes. */
  rest: string;
  warning: Fact | null;
}

const US_PLAIN = /^\(?([2-9]\d\d)\)?[-. /]{0,3}([2-9]\d\d)[-. ]{0,3}(\d{4})$/;

/** One telephone number in the company's own way of writing; what cannot be read is kept as written when it could still be dialled. */
export function readPhone(text: string, region: string): PhoneReading {
  const written = oneLine(said(text)).replace(/\.0$/, '');
  if (written === '') return { phone: '', rest: '', warning: null };
  const plain = region === 'US' ? US_PLAIN.exec(written) : null;
  if (plain) return { phone: `(${plain[1]}) ${plain[2]}-${plain[3]}`, rest: '', warning: null };
  const number = parsePhoneNumberFromString(written, region as CountryCode);
  if (number?.isPossible()) {
    const own =
      number.country === region ||
      (number.country === undefined && region === 'US' && number.countryCallingCode === '1');
    const shown =
      own || (region === 'US' && number.countryCallingCode === '1')
        ? number.formatNational()
        : number.formatInternational();
    if (shown.length <= 40) return { phone: shown, rest: '', warning: null };
  }
  const digits = written.replace(/\D/g, '').length;
  if (digits >= 7 && written.length <= 40)
    return {
      phone: written,
      rest: '',
      warning: fact('import.why.unsurePhone'),
    };
  return {
    phone: '',
    rest: written,
    warning: fact('import.why.noPhone'),
  };
}

/** Several numbers in one cell, as people separate them. */
export function splitPhones(text: string): string[] {
  if (text === '') return [];
  // One number, with nothing in it that could part two.
  if (/^[\d(+][\d()+. -]*$/.test(text)) return [text.trim()];
  return text
    .split(/\s*(?:[;\n|]|\bor\b|\band\b|&|,(?=\s*[(+]?\d)|\/(?=\s*[(+]?\d{3}))\s*/i)
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

const EMAIL = /^[^\s@<>,;]+@[^\s@<>,;]+\.[^\s@<>,;]+$/;

/** The first e-mail address of a cell and whatever else stood there. */
export function readEmail(text: string): { email: string; rest: string } {
  const written = oneLine(said(text));
  if (written === '') return { email: '', rest: '' };
  if (written.length <= 160 && EMAIL.test(written) && !/^mailto:|[.)]$/i.test(written))
    return { email: written, rest: '' };
  const others: string[] = [];
  let email = '';
  for (const piece of written.split(/[\s,;<>]+/).filter((part) => part !== '')) {
    const address = piece.replace(/^mailto:/i, '').replace(/[.)]+$/, '');
    if (email === '' && address.length <= 160 && EMAIL.test(address)) email = address;
    else others.push(piece);
  }
  return { email, rest: others.join(' ') };
}

const US_STATES_WITH_ZERO = new Set([
  'ma',
  'ri',
  'nh',
  'me',
  'vt',
  'ct',
  'nj',
  'pr',
  'vi',
  'ae',
  'ap',
  'massachusetts',
  'rhode island',
  'new hampshire',
  'maine',
  'vermont',
  'connecticut',
  'new jersey',
  'puerto rico',
]);

/** A postcode as text: a spreadsheet's ".0" dropped, a lost leading zero of a United States ZIP put back. */
export function readPostcode(
  text: string,
  usual: { phoneRegion: string; region: string },
): { postcode: string; warning: Fact | null } {
  if (/^\d{5}$/.test(text)) return { postcode: text, warning: null };
  let postcode = oneLine(said(text)).toUpperCase().replace(/\.0+$/, '').replace(/^'+/, '');
  if (/^\d{9}$/.test(postcode)) postcode = `${postcode.slice(0, 5)}-${postcode.slice(5)}`;
  postcode = postcode.replace(/^(\d{5})[\s–—-]+(\d{4})$/, '$1-$2').replace(/^(\d{5})-0*$/, '$1');
  const us = usual.phoneRegion === 'US';
  const short = /^(\d{3,4})(-\d{4})?$/.exec(postcode);
  if (us && short && (short[1]!.length === 4 || US_STATES_WITH_ZERO.has(usual.region.toLowerCase()))) {
    return {
      postcode: `${short[1]!.padStart(5, '0')}${short[2] ?? ''}`,
      warning: fact('import.why.leadingZero'),
    };
  }
  return { postcode, warning: null };
}
