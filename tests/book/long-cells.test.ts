import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fieldsOf, type ImportTarget } from '../../core/import/fields.ts';
import { plantGround } from './ground.ts';
import { base64, makeBook, type TestBook } from './job-context.ts';

// What reads a cell may take time by the square of its length: 60,000 letters in one column took 16 seconds, and a row holds
// forty of them. The time limits below are there to find what never ends, not to measure.

let book: TestBook;
let stationId: string;
beforeEach(async () => {
  book = await makeBook();
  ({ stationId } = await plantGround(book));
});
afterEach(() => book.close());

const TARGETS: readonly ImportTarget[] = ['clients', 'zones', 'work', 'weather'];
/** Begins of what a reader looks for, over and over, and an end that it does not take. */
const PIECES = [
  'a',
  '1',
  'T',
  'aB ',
  'a@',
  '@.',
  '=',
  '"',
  ' x',
  '(555',
  '1,234',
  'mon ',
  'jan ',
  '1/',
  'AB, ',
  'zone ',
  '.0',
  '-',
];

function preview(target: ImportTarget, cell: (field: string) => string) {
  const fields = fieldsOf(target).map(({ name }) => name);
  const row = (cells: string[]) => cells.map((text) => `"${text.replaceAll('"', '""')}"`).join(',');
  const csv = `${row(fields.map((_, index) => `c${index}`))}\n${row(fields.map(cell))}\n`;
  const mapping = Object.fromEntries(fields.map((name, index) => [String(index), name]));
  const station = target === 'weather' ? { stationId } : {};
  return book.run('import.preview', { target, bytesBase64: base64(csv), delimiter: ',', mapping, ...station });
}

describe.each(TARGETS)('a list of %s', (target) => {
  it.each([11_000, 9000])(
    'is read to its end with %i characters of anything in every cell',
    async (length) => {
      for (const piece of PIECES) {
        const plan = await preview(target, () => `${piece.repeat(Math.ceil(length / piece.length)).slice(0, length)}!`);
        expect(plan).toMatchObject({ goodRows: 0, badRows: 1 });
        const tooLong = plan.problems.filter(({ reason }) => reason.key === 'import.why.longCell');
        expect(tooLong.length, piece).toBe(length > 10_000 ? fieldsOf(target).length : 0);
      }
    },
    60_000,
  );
});

it('a long cell keeps only its own row out, and none in a column that is left out', async () => {
  const csv = (cell: string) => `Client,Address,Old notes\nAnn Reed,1 Elm St,${cell}\nBo Hart,2 Elm St,\n`;
  const long = 'x'.repeat(10_001);
  const mapping = { 0: 'clientName', 1: 'street', 2: 'clientNotes' };
  const mapped = await book.run('import.preview', { bytesBase64: base64(csv(long)), mapping });
  expect(mapped).toMatchObject({ goodRows: 1, badRows: 1, problems: [{ row: 2, column: 'Old notes' }] });
  const leftOut = await book.run('import.preview', { bytesBase64: base64(csv(long)), mapping: { ...mapping, 2: '' } });
  expect(leftOut).toMatchObject({ goodRows: 2, badRows: 0 });
});
