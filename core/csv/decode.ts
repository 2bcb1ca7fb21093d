import iconv from 'iconv-lite';
import { BookError } from '../errors.ts';
import { fact, type Fact } from '../text/say.ts';

export interface DecodedText {
  text: string;
  /** As it is shown to the user. */
  encoding: string;
  warnings: Fact[];
}

const NOT_A_LIST: readonly (readonly [
  magic: string,
  what: 'workbook' | 'old-workbook' | 'pdf' | 'database' | 'picture',
])[] = [
  ['PK\u0003\u0004', 'workbook'],
  ['\u00d0\u00cf\u0011\u00e0', 'old-workbook'],
  ['%PDF', 'pdf'],
  ['SQLite format 3', 'database'],
  ['\u0089PNG', 'picture'],
  ['\u00ff\u00d8\u00ff', 'picture'],
];

/** Turns a file's bytes into text: by its byte-order mark, else UTF-8 where it is valid, else Windows-1252. */
export function decodeText(bytes: Buffer, asked?: 'utf-8' | 'windows-1252'): DecodedText {
  const head = bytes.toString('latin1', 0, 16);
  for (const [magic, what] of NOT_A_LIST) {
    if (head.startsWith(magic)) {
      throw new BookError('bad-input', fact('errors.notCsv', { what }), 'bytesBase64');
    }
  }
  const warnings: Fact[] = [];
  const { text, encoding } = decode(bytes, asked, warnings);
  const clean = text.includes('\u0000') ? text.replaceAll('\u0000', '') : text;
  if (clean.length !== text.length) warnings.push(fact('import.why.zeroBytes', { count: text.length - clean.length }));
  return { text: clean, encoding, warnings };
}

function decode(
  bytes: Buffer,
  asked: 'utf-8' | 'windows-1252' | undefined,
  warnings: Fact[],
): { text: string; encoding: string } {
  if (asked === 'windows-1252') return { text: iconv.decode(bytes, 'windows-1252'), encoding: 'windows-1252' };
  const sixteen = sixteenBits(bytes);
  if (sixteen !== null) return { text: iconv.decode(bytes, sixteen), encoding: sixteen };
  try {
    // A byte-order mark is dropped by the decoder itself.
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), encoding: 'utf-8' };
  } catch {
    if (asked === 'utf-8') {
      warnings.push(fact('import.why.badBytes'));
      return { text: new TextDecoder('utf-8').decode(bytes), encoding: 'utf-8' };
    }
    return { text: iconv.decode(bytes, 'windows-1252'), encoding: 'windows-1252' };
  }
}

/** UTF-16 by its byte-order mark, or (without one) by every other byte of the beginning being zero. */
function sixteenBits(bytes: Buffer): 'utf-16le' | 'utf-16be' | null {
  if (bytes.length >= 2 && bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes.length >= 2 && bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  const looked = Math.min(bytes.length - (bytes.length % 2), 1000);
  if (looked < 8) return null;
  let even = 0;
  let odd = 0;
  for (let at = 0; at < looked; at += 2) {
    if (bytes[at] === 0) even += 1;
    if (bytes[at + 1] === 0) odd += 1;
  }
  const half = looked / 2;
  if (odd > half * 0.8 && even < half * 0.1) return 'utf-16le';
  if (even > half * 0.8 && odd < half * 0.1) return 'utf-16be';
  return null;
}
