import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it, onTestFinished } from 'vitest';
import { guardFormula, stripFormulaGuard } from '../../core/csv/formula-guard.ts';
import { readRecords } from '../../core/csv/records.ts';
import { csvOf } from '../../core/csv/write.ts';
import { cleanCell } from '../../core/import/cell-values.ts';
import { base64, makeBook } from './job-context.ts';

// The judge: what a spreadsheet may look past, by number (Unicode 16, DerivedCoreProperties, Default_Ignorable_Code_Point; and
// its blanks and controls), written out here so that it is not the same text as the rule it judges.
const LOOKED_PAST: readonly (readonly [from: number, to: number])[] = [
  [0x00, 0x20],
  [0x7f, 0xa0],
  [0xad, 0xad],
  [0x34f, 0x34f],
  [0x61c, 0x61c],
  [0x115f, 0x1160],
  [0x1680, 0x1680],
  [0x17b4, 0x17b5],
  [0x180b, 0x180f],
  [0x2000, 0x200f],
  [0x2028, 0x202f],
  [0x205f, 0x206f],
  [0x2800, 0x2800],
  [0x3000, 0x3000],
  [0x3164, 0x3164],
  [0xfe00, 0xfe0f],
  [0xfeff, 0xfeff],
  [0xffa0, 0xffa0],
];
const SIGNS = '=+-@\uff1d\uff0b\uff0d\uff20\ufe66\ufe62\ufe63\ufe6b';

function couldRun(cell: string): boolean {
  if ('\t\r\n'.includes(cell[0] ?? 'x')) return true;
  const first = [...cell].find((letter) => {
    const code = letter.codePointAt(0)!;
    return !LOOKED_PAST.some(([from, to]) => code >= from && code <= to);
  });
  return first !== undefined && SIGNS.includes(first);
}

const hidden = fc.constantFrom(
  ...LOOKED_PAST.flatMap(([from, to]) => [from, to]).map((code) => String.fromCodePoint(code)),
);
const start = fc.string({
  unit: fc.oneof(hidden, fc.constantFrom(...SIGNS, "'", '"', ',', '\r\n', 'a', '1')),
  maxLength: 6,
});
const cell = fc
  .tuple(start, fc.string({ unit: 'grapheme', maxLength: 6 }))
  .map(([before, after]) => `${before}${after}`.toWellFormed());

describe('formula guard', () => {
  it('guards what a spreadsheet would run, and nothing else', () => {
    for (const text of [
      '=1+1',
      '+1 303',
      '-2',
      '@sum',
      "'=x",
      '\t1',
      '\r1',
      '\n=1',
      '\n',
      ' =1',
      '\u00a0=1',
      '\u200b@x',
      '\u2060-2',
      '\ufeff=1',
      '\uff1d1',
      '\uff0b1',
      '\uff0d1',
      '\uff20x',
      ' \u200d\uff1d1',
      '\u00ad=1',
      '\u3164+1',
    ])
      expect(guardFormula(text), JSON.stringify(text)).toBe(`'${text}`);
    for (const text of [
      'Ada',
      '12 Oak',
      "'s Gravenhage",
      '',
      ' ',
      '\u200b',
      'a=1',
      ' Ada',
      "' a",
      "'",
      '1-2',
      '\u2013 5',
    ])
      expect(guardFormula(text), JSON.stringify(text)).toBe(text);
  });

  it('leaves no cell that could run, whatever stands before the sign', () => {
    fc.assert(
      fc.property(cell, (text) => !couldRun(guardFormula(text))),
      { numRuns: 5000 },
    );
  });

  it('comes off again exactly: written as CSV and read back, every text is the same', () => {
    fc.assert(
      fc.property(cell, cell, (one, other) => {
        expect(stripFormulaGuard(guardFormula(one))).toBe(one);
        // With a cell between, so that no line of one cell is taken for a row of its own.
        const [row] = readRecords(csvOf([[one, 'x', other]]), ',').records;
        expect(row!.cells.map(stripFormulaGuard)).toEqual([one, 'x', other]);
      }),
      { numRuns: 3000 },
    );
  });

  it('an import takes it off and nothing more: a clean text is the same after it', () => {
    fc.assert(
      fc.property(cell, (text) => {
        // What an import makes of a text that carries no guard: blanks in order, hidden characters gone.
        const clean = cleanCell(`x${text}x`).slice(1, -1).trim();
        expect(cleanCell(guardFormula(clean))).toBe(clean);
        expect(cleanCell(guardFormula(text))).toBe(clean);
      }),
      { numRuns: 3000 },
    );
    expect(cleanCell('\'="a"')).toBe('="a"');
    expect(cleanCell('="0123"')).toBe('0123');
    expect(cleanCell("'=1")).toBe('=1');
  });

  it('goes from one book through its export into another', async () => {
    const names = ['=HYPERLINK("x")', "'=quoted", '+1 Yard', '-Ridge', '@home', '\uff1dWide', '="007"', "''", 'Plain'];
    const first = await makeBook();
    const second = await makeBook();
    onTestFinished(async () => {
      await first.close();
      await second.close();
    });
    const list = (rows: readonly (readonly string[])[]) => base64(csvOf([['client', 'street', 'notes'], ...rows]));
    const rows = names.map((name, index) => [name, `${index + 1} Oak St`, `${name} note`]);
    await first.run('import.apply', { bytesBase64: list(rows) });
    const { path } = await first.run('export.book', {});
    const exported: Record<string, string>[] = parse(strFromU8(unzipSync(readFileSync(path))['client.csv']!), {
      bom: true,
      columns: true,
    });
    expect(exported.filter((row) => Object.values(row).some(couldRun))).toEqual([]);
    expect(exported).toHaveLength(names.length);
    // The cells as they stand in the export, guards and all.
    const again = exported.map((row, index) => [row['name']!, `${index + 1} Oak St`, row['notes']!]);
    const csv = [
      'client,street,notes',
      ...again.map((row) => row.map((text) => `"${text.replaceAll('"', '""')}"`).join(',')),
    ];
    await second.run('import.apply', { bytesBase64: base64(csv.join('\r\n')) });
    const clients = await second.connection.db.selectFrom('client').select(['name', 'notes']).execute();
    expect(new Set(clients.map(({ name }) => name))).toEqual(new Set(names));
    expect(new Set(clients.map(({ notes }) => notes))).toEqual(new Set(names.map((name) => `${name} note`)));
  });
});
