import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { assertIsList, LONGEST_LINE, MOST_CELLS, MOST_COLUMNS, MOST_LINES } from '../../core/csv/limits.ts';
import { readRecords } from '../../core/csv/records.ts';
import { BookError } from '../../core/errors.ts';

const HEADER = 'client,street\n';
const refusalOf = (text: string, delimiter = ','): BookError => {
  try {
    assertIsList(text, delimiter);
  } catch (error) {
    if (error instanceof BookError) return error;
    throw error;
  }
  throw new Error('it was taken');
};

describe('what is no list is refused before it is split', () => {
  it('a line that is too long, by its number', () => {
    expect(() => assertIsList(`${HEADER}${'x'.repeat(LONGEST_LINE)}\n`, ',')).not.toThrow();
    for (const end of ['', '\n', '\r\n', '\r']) {
      const error = refusalOf(`${HEADER}Ada,1 Oak St\r\n${'x'.repeat(LONGEST_LINE + 1)}${end}`);
      expect(error).toMatchObject({ code: 'bad-input', field: 'bytesBase64' });
      expect(error.message).toContain('Line 3 of the file is 1,000,001 characters long');
      expect(error.message).toContain('one row a line');
    }
  });

  it('a line with too many columns, by the delimiter in use; text in quotation marks does not count', () => {
    const wide = ','.repeat(MOST_COLUMNS);
    expect(refusalOf(`${HEADER}${wide}`).message).toContain('Line 2 of the file has 1,001 columns');
    expect(refusalOf(`${HEADER}"never closed${wide}`).message).toContain('1,001 columns');
    expect(() => assertIsList(`${HEADER}${wide.slice(1)}`, ',')).not.toThrow();
    expect(() => assertIsList(`${HEADER}${wide}`, ';')).not.toThrow();
    expect(() => assertIsList(`${HEADER}"a note: ${wide}",1 Oak St\n`, ',')).not.toThrow();
  });

  it('too many lines, and too many cells in all', () => {
    expect(() => assertIsList('\n'.repeat(MOST_LINES), ',')).not.toThrow();
    expect(refusalOf('\n'.repeat(MOST_LINES + 1)).message).toContain('more than 1,048,576 lines');
    const line = `${','.repeat(MOST_COLUMNS - 1)}\n`;
    expect(() => assertIsList(line.repeat(MOST_CELLS / MOST_COLUMNS), ',')).not.toThrow();
    expect(refusalOf(line.repeat(MOST_CELLS / MOST_COLUMNS + 1)).message).toContain('more than 20,000,000 cells');
  });

  it('a quotation longer than any line may be is one that is never closed: its rows are read', () => {
    const rows = Array.from({ length: 60_000 }, (_, index) => `Client ${index},${index} Oak Street`);
    const { records, strayQuotes } = readRecords(
      `client,street,note\n"Ada,1 Oak St\n${rows.join('\n')}\n"x","y","z"\n`,
    );
    expect(strayQuotes).toContain(2);
    expect(records).toHaveLength(rows.length + 3);
    expect(records[2]!.cells).toEqual(['Client 0', '0 Oak Street']);
  });
});

/** What a process of its own needs at its peak, in bytes, to decode a list and (if asked) to preview it; and what it answers. */
function peakOf(shape: string, preview: boolean): { rss: number; answer: string } {
  const root = path.resolve(import.meta.dirname, '../..');
  const script = `
    import { decodeText } from './core/csv/decode.ts';
    import { readSource } from './core/import/source.ts';
    import { Findings } from './core/import/notes.ts';
    const bytesBase64 = Buffer.from(${shape}).toString('base64');
    let answer = 'decoded';
    if (${String(preview)}) {
      try {
        readSource({ target: 'clients', bytesBase64, hasHeader: true }, new Findings(), () => undefined);
        answer = 'taken';
      } catch (error) { answer = error.code + ': ' + error.message; }
    } else answer += decodeText(Buffer.from(bytesBase64, 'base64')).text.length;
    console.log(JSON.stringify({ rss: process.resourceUsage().maxRSS * 1024, answer }));
  `;
  // Collecting beside the program frees a copy of the list sooner or later as the machine is busy: 206 or 273 MB for the same.
  const flags = ['--single-threaded-gc', '--input-type=module'];
  const done = spawnSync(process.execPath, [...flags, '-e', script], { cwd: root, encoding: 'utf8' });
  if (done.status !== 0) throw new Error(done.stderr);
  return JSON.parse(done.stdout) as { rss: number; answer: string };
}

describe('in a process of its own', () => {
  const header = `'client,street\\n'`;
  it('one line of 34 MB, or 50,001 columns in each of 340, is refused in hardly more memory than decoding takes', () => {
    const shapes = {
      'Line 2 of the file is 34,000,000 characters long': `${header} + 'x,'.repeat(17_000_000)`,
      'Line 2 of the file has 50,001 columns': `${header} + ('x,'.repeat(50_000) + '\\n').repeat(340)`,
    };
    for (const [sentence, shape] of Object.entries(shapes)) {
      const decoded = peakOf(shape, false);
      const refused = peakOf(shape, true);
      expect(refused.answer).toContain('bad-input: ');
      expect(refused.answer).toContain(sentence);
      expect(refused.rss).toBeLessThan(decoded.rss * 1.3);
    }
  });
});
