import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stripFormulaGuard } from '../../core/csv/formula-guard.ts';
import { csvOf, fileAsBase64, mendingCsv, splitCsv } from '../../renderer/office/import/import-files.ts';

describe('files of an import', () => {
  it('reads any file as the same base64 in pieces as in one', async () => {
    // More than one piece, and lengths that are no multiple of three.
    for (const length of [0, 1, 2, 3, 786_431, 786_432, 786_433, 1_800_001]) {
      const bytes = Uint8Array.from({ length }, (_, index) => (index * 31 + (index >> 8)) % 256);
      expect((await fileAsBase64(new Blob([bytes]))) === Buffer.from(bytes).toString('base64')).toBe(true);
    }
  });

  it('reads back what it wrote, whatever the cells hold', () => {
    const cell = fc.string({
      unit: fc.constantFrom('a', 'é', ' ', ',', ';', '"', '\n', '\r', '\t', '=', '-', "'", '7'),
    });
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 8 }), (rows) => {
        const back = splitCsv(csvOf(rows).slice(1), ',');
        expect(back.map((row) => row.map(stripFormulaGuard))).toEqual(rows);
      }),
    );
  });

  it('lets no cell run as a formula, and leaves numbers alone', () => {
    expect(csvOf([['=1+1', '@cmd', '-105.2', '+1', '-x']])).toBe("\uFEFF'=1+1,'@cmd,-105.2,+1,'-x\r\n");
    expect(csvOf([['\u00a0=1', '\uff1d1', '\n=1', '\u200b@x']])).toBe(
      "\uFEFF'\u00a0=1,'\uff1d1,\"'\n=1\",'\u200b@x\r\n",
    );
  });

  it('splits every line end and quoted line breaks', () => {
    expect(splitCsv('a;b\r\n"x;""y"";\nz";2\rlast;\n', ';')).toEqual([
      ['a', 'b'],
      ['x;"y";\nz', '2'],
      ['last', ''],
    ]);
  });
});

describe('rows to mend', () => {
  const headers = ['Name', 'Street'];
  const file = (text: string) => new Blob([text]);
  it('gives the rows as they stand with what to mend, in the order of the file', async () => {
    const text = await mendingCsv(
      file('Name,Street\nAda,\n\n"Ben, the\nsecond",7 Mill\n'),
      {
        encoding: 'utf-8',
        delimiter: ',',
        problems: [
          { row: 4, column: 'Street', value: '7 Mill', reason: { key: 'no such street' } },
          { row: 2, column: 'Street', value: '', reason: { key: 'there is no street' } },
          { row: 4, column: 'Name', value: 'Ben, the second', reason: { key: 'two of them' } },
        ],
      },
      headers,
    );
    expect(text).toBe(
      '\uFEFFName,Street,What to mend\r\nAda,,Street: there is no street\r\n"Ben, the\nsecond",7 Mill,Street: no such street; Name: two of them\r\n',
    );
  });

  it('falls back to the list of problems when the rows cannot be told for certain', async () => {
    const text = await mendingCsv(
      file('Name,Street\n"Ada,1 Mill\nBen,2 Mill\n'),
      {
        encoding: 'utf-8',
        delimiter: ',',
        problems: [{ row: 3, column: 'Street', value: '2 Mill', reason: { key: 'no such street' } }],
      },
      headers,
    );
    expect(text).toBe('\uFEFFRow,Column,Value,What to mend\r\n3,Street,2 Mill,no such street\r\n');
  });

  it('reads the file in its own encoding', async () => {
    const bytes = Buffer.from('Name;Street\nHäberlin;\n', 'latin1');
    expect(
      await mendingCsv(
        new Blob([bytes]),
        {
          encoding: 'windows-1252',
          delimiter: ';',
          problems: [{ row: 2, column: 'Street', value: '', reason: { key: 'there is no street' } }],
        },
        headers,
      ),
    ).toContain('Häberlin,,Street: there is no street');
  });
});
