import fc from 'fast-check';
import iconv from 'iconv-lite';
import { describe, expect, it } from 'vitest';
import { decodeText } from '../../core/csv/decode.ts';
import { stripFormulaGuard } from '../../core/csv/formula-guard.ts';
import { readRecords, sniffDelimiter, splitByParser } from '../../core/csv/records.ts';
import { csvOf } from '../../core/csv/write.ts';

const cellsOf = (text: string) => readRecords(text).records.map((record) => record.cells);

// Source: RFC 4180, "Common Format and MIME Type for Comma-Separated Values (CSV) Files", section 2, examples of rules 1 to 7.
describe('RFC 4180, section 2', () => {
  const aaa = ['aaa', 'bbb', 'ccc'];
  const zzz = ['zzz', 'yyy', 'xxx'];
  it('rule 1: each record on its line', () => expect(cellsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual([aaa, zzz]));
  it('rule 2: the last line break may be missing', () =>
    expect(cellsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toEqual([aaa, zzz]));
  it('rule 3: a header line', () =>
    expect(cellsOf('field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual([
      ['field_name', 'field_name', 'field_name'],
      aaa,
      zzz,
    ]));
  it('rule 4: spaces are part of a field', () => expect(cellsOf('aaa, bbb ,ccc')).toEqual([['aaa', ' bbb ', 'ccc']]));
  it('rule 5: quoted fields', () => expect(cellsOf('"aaa","bbb","ccc"\r\nzzz,yyy,xxx')).toEqual([aaa, zzz]));
  it('rule 6: a line break inside quotes', () =>
    expect(cellsOf('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([['aaa', 'b\r\nbb', 'ccc'], zzz]));
  it('rule 7: a doubled quote', () => expect(cellsOf('"aaa","b""bb","ccc"')).toEqual([['aaa', 'b"bb', 'ccc']]));
  it('what is exported reads back the same', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.string({ unit: 'grapheme', maxLength: 12 }), { minLength: 2, maxLength: 5 }), {
          minLength: 1,
          maxLength: 6,
        }),
        (rows) => {
          const read = readRecords(csvOf(rows), ',').records.map((record) => record.cells.map(stripFormulaGuard));
          // Cells that look like rows of their own are read as an unclosed quotation: a record never holds that here.
          expect(read).toEqual(rows);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('reading what breaks the rules', () => {
  it('takes every usual line end, mixed', () =>
    expect(cellsOf('a,b\n1,2\r\n3,4\r5,6')).toEqual([
      ['a', 'b'],
      ['1', '2'],
      ['3', '4'],
      ['5', '6'],
    ]));
  it('counts blank lines as rows, as a spreadsheet does', () => {
    const { records } = readRecords('name,phone\n\nAda,1\n');
    expect(records.map((record) => record.row)).toEqual([1, 2, 3]);
    expect(records[2]!.cells).toEqual(['Ada', '1']);
  });
  it('keeps an inch mark', () => expect(cellsOf('part,size\nelbow,3/4" pvc\n')[1]).toEqual(['elbow', '3/4" pvc']));
  it('reads on after a quotation that is never closed, and says which row', () => {
    const { records, strayQuotes } = readRecords(
      'name,street,city\nAda,"12 Oak,Fairview\nBea,9 Elm,Fairview\nCy,8 Fir,Fairview\n',
    );
    expect(strayQuotes).toEqual([2]);
    expect(records.map((record) => record.cells[0])).toEqual(['name', 'Ada', 'Bea', 'Cy']);
  });
  it('reads on after one that is closed by a later row', () => {
    const { records, strayQuotes } = readRecords(
      'name,street,city,zip\nAda,"12 Oak,Fairview,1\nBea,9 Elm,Fairview,2\nCy,"8 Fir",Fairview,3\nDee,1 Ash,Fairview,4\n',
    );
    expect(records.map((record) => record.cells[0])).toEqual(['name', 'Ada', 'Bea', 'Cy', 'Dee']);
    expect(strayQuotes).toEqual([2]);
    expect(records[3]!.cells).toEqual(['Cy', '8 Fir', 'Fairview', '3']);
  });
  it('gives up pairing quotation marks where hardly any pair up, says from where, and loses no row', () => {
    const lines = Array.from({ length: 3000 }, (_, index) => `"Client ${index},${index} Oak St,Fairview`);
    const { records, strayQuotes, plainFrom } = readRecords(['name,street,city', ...lines].join('\n'));
    expect(records).toHaveLength(3001);
    expect(records.every((record) => record.cells.length === 3)).toBe(true);
    expect(plainFrom).toBe(strayQuotes.length + 2);
  });
  it('leaves a long note of several lines alone, whatever commas and quotation marks it holds', () => {
    const note = 'Zones:\n1 front, 2 back, 3 side, 4 beds, 5 drip, 6 pots\n"ask" first, a, b, c';
    for (const text of [note, `"Bob" says\n1, 2, 3, 4`, 'a\nb,c,d,e']) {
      const { records, strayQuotes } = readRecords(
        csvOf([
          ['name', 'street', 'city', 'note'],
          ['Ada', '12 Oak St', 'Fairview', text],
          ['Bea', '9 Elm St', 'Fairview', text],
        ]),
      );
      expect(strayQuotes).toEqual([]);
      expect(records.map((record) => record.cells[3])).toEqual(['note', text, text]);
    }
  });
  it('keeps a quoted address of several lines whole', () => {
    const { records, strayQuotes } = readRecords(
      'name,address,phone\nAda,"12 Oak St, Unit 4\nFairview, CO 80501",5550101\nBea,x,1\n',
    );
    expect(strayQuotes).toEqual([]);
    expect(records[1]!.cells[1]).toBe('12 Oak St, Unit 4\nFairview, CO 80501');
  });
});

describe('delimiters', () => {
  it.each([[','], [';'], ['\t'], ['|']] as const)('finds %j', (delimiter) => {
    const text = [
      ['name', 'street', 'note'],
      ['Ada', '12 Oak St', 'a'],
      ['Bea', '9 Elm St', 'b'],
    ]
      .map((row) => row.join(delimiter))
      .join('\n');
    expect(sniffDelimiter(text)).toBe(delimiter);
  });
  it('is not misled by commas inside semicolon lists', () =>
    expect(sniffDelimiter('name;street;note\nMoss, Pat;9 Fir, rear;x\nReed, Al;10 Fir;"a, b, c"\n')).toBe(';'));
  it('takes the one a first line names', () => {
    const read = readRecords('sep=;\nname;note\nAda;1,5\n');
    expect(read.delimiter).toBe(';');
    expect(read.records[2]!.cells).toEqual(['Ada', '1,5']);
  });
});

describe('encodings', () => {
  const text = 'Müller, Zoë – 12 “Oak” €5';
  it.each([
    ['UTF-8', Buffer.from(text), 'utf-8'],
    ['UTF-8 with a mark', Buffer.from(`\ufeff${text}`), 'utf-8'],
    ['Windows-1252', iconv.encode(text, 'windows-1252'), 'windows-1252'],
    ['UTF-16LE with a mark', iconv.encode(text, 'utf-16le', { addBOM: true }), 'utf-16le'],
    ['UTF-16BE with a mark', iconv.encode(text, 'utf-16be', { addBOM: true }), 'utf-16be'],
    ['UTF-16LE without one', iconv.encode(text, 'utf-16le'), 'utf-16le'],
  ] as const)('%s', (_name, bytes, encoding) => {
    expect(decodeText(bytes)).toEqual({ text, encoding, warnings: [] });
  });
  it('leaves zero bytes out and says so', () => {
    const read = decodeText(Buffer.from('name,phone\nAda\u0000,1\n and a long enough tail'));
    expect(read.text).toContain('Ada,1');
    expect(read.warnings).toHaveLength(1);
  });
  it('refuses a workbook with a sentence', () =>
    expect(() => decodeText(Buffer.from('PK\u0003\u0004rest'))).toThrow(/workbook/));
  it('says when asked-for UTF-8 is not', () =>
    expect(decodeText(Buffer.from([0x4d, 0xfc, 0x6c]), 'utf-8').warnings).toHaveLength(1));
});

describe('reading plain lines without the parser', () => {
  /** Pieces that make nearly-lists with broken quotation marks, mixed line ends and text no encoder can write. */
  const pieces = fc.array(
    fc.constantFrom(
      'a',
      'Oak St',
      ' ',
      '"',
      '"',
      '""',
      ',',
      ',',
      ';',
      '\n',
      '\n',
      '\r\n',
      '\r',
      'é',
      '😀',
      '\ud800',
      '\ufeff',
      '"a"',
      '"b ""c"""',
      '"two\nlines"',
      'x,y,z\n',
      '"x","y","z"\r\n',
    ),
    { maxLength: 40 },
  );
  const read = (text: string, delimiter: ',' | ';' = ',') => {
    const { records, strayQuotes, plainFrom } = readRecords(text, delimiter);
    return { rows: records.map((record) => record.cells), stray: strayQuotes, plainFrom };
  };
  it('gives what the parser alone gives', () => {
    fc.assert(
      fc.property(pieces, fc.constantFrom(',' as const, ';' as const), (parts, delimiter) => {
        expect(read(parts.join(''), delimiter)).toEqual(splitByParser(parts.join(''), delimiter));
      }),
      { numRuns: 3000 },
    );
  });
  it('goes on plainly after a difficult record, and again', () => {
    const block = (at: number) =>
      [
        `Ada ${at},"two\nlines",x`,
        `Bea,"12 Oak ${at},y`,
        ...Array.from({ length: 300 }, (_, index) =>
          index % 7 === 0 ? `"Cy, ${index}","",é` : `Dee ${index},9 Fir,😀`,
        ),
      ].join('\n');
    const text = Array.from({ length: 12 }, (_, at) => block(at)).join('\r\n');
    expect(read(text)).toEqual(splitByParser(text, ','));
  });
  it('gives up pairing at the same row', () => {
    const text = [
      'name,street,city',
      ...Array.from({ length: 700 }, (_, index) =>
        index % 3 === 0 ? `"Client ${index},${index} Oak St,Fairview` : `Eve,"${index}",Marlow`,
      ),
    ].join('\n');
    expect(read(text).plainFrom).not.toBeNull();
    expect(read(text)).toEqual(splitByParser(text, ','));
  });
  it('reports while it reads', () => {
    let ticks = 0;
    readRecords('a,b\n'.repeat(20_000), ',', () => {
      ticks += 1;
    });
    expect(ticks).toBeGreaterThanOrEqual(4);
  });
});
