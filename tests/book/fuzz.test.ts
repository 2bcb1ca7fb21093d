import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { IMPORT_TARGETS } from '../../core/import/contract.ts';
import { BookError } from '../../core/errors.ts';
import { plantGround } from './ground.ts';
import { makeBook, type TestBook } from './job-context.ts';

let book: TestBook;
let stationId: string;
beforeAll(async () => {
  book = await makeBook();
  ({ stationId } = await plantGround(book));
});
afterAll(() => book.close());

/** Text that is nearly a list: pieces of headers, values, delimiters and broken quotation marks. */
const nearlyCsv = fc
  .array(
    fc.constantFrom(
      'name',
      'street',
      'zip',
      'date',
      'station',
      'work',
      'account',
      'tmax',
      '1001',
      'Reed, Ada',
      '12 Oak St',
      '5 Elm St',
      '80501',
      '3/4/2025',
      '2025-02-30',
      '45365',
      'battery',
      'winterized',
      '1',
      '99',
      '-9999',
      '"',
      '""',
      ',',
      ',',
      ',',
      ';',
      '\t',
      '|',
      '\n',
      '\n',
      '\r\n',
      '\r',
      '\u0000',
      '\ufeff',
      '\u00a0',
      'Total',
      '=1+1',
      "'",
      '#',
      '\ud800',
      '😀',
      'é',
      '1e999',
      '__proto__',
      'constructor',
      'toString',
      '5:00',
      'MWF',
      '%',
      '/',
      '(303) 555-0101',
      'a@b',
      '999999999999999999999',
    ),
    { maxLength: 60 },
  )
  .map((parts) => Buffer.from(parts.join('')));
const bytes = fc.oneof(
  nearlyCsv,
  fc.uint8Array({ maxLength: 300 }).map((array) => Buffer.from(array)),
  nearlyCsv.map((text) =>
    Buffer.concat([Buffer.from('name,street,zip,station,date,work,account,minutes,tmax f\n'), text]),
  ),
);

it('arbitrary bytes give a result or a sentence, never a crash, and a preview writes nothing', async () => {
  const before = await book.everything();
  await fc.assert(
    fc.asyncProperty(
      bytes,
      fc.constantFrom(...IMPORT_TARGETS),
      fc.boolean(),
      fc.constantFrom(undefined, ',', ';', '\t', '|'),
      fc.constantFrom(undefined, 'utf-8', 'windows-1252'),
      async (content, target, hasHeader, delimiter, encoding) => {
        try {
          const result = await book.run('import.preview', {
            target,
            bytesBase64: content.toString('base64'),
            hasHeader,
            delimiter,
            encoding,
            stationId,
          } as never);
          expect(result.goodRows + result.badRows + result.ignoredRows).toBe(result.rowCount);
          expect(result.goodRows).toBeGreaterThanOrEqual(0);
        } catch (error) {
          if (!(error instanceof BookError)) throw error;
          expect(['bad-input', 'not-found']).toContain(error.code);
        }
      },
    ),
    { numRuns: 600 },
  );
  expect(await book.everything()).toEqual(before);
});

it('whatever is applied is applied once: the second time adds nothing, and the book stays clean', async () => {
  await fc.assert(
    fc.asyncProperty(bytes, fc.constantFrom(...IMPORT_TARGETS), async (content, target) => {
      const input = { target, bytesBase64: content.toString('base64'), stationId };
      try {
        await book.run('import.apply', input);
      } catch (error) {
        if (!(error instanceof BookError)) throw error;
        return;
      }
      const once = await book.everything();
      const again = await book.run('import.apply', input);
      expect(again.added).toEqual({});
      expect(await book.everything()).toEqual(once);
    }),
    { numRuns: 150 },
  );
  expect((await book.run('book.check', {})).checks.flatMap((check) => check.findings)).toEqual([]);
});

it('any mixture of namesakes, shared phones and accounts is the same the second time', async () => {
  const pick = (...values: string[]) => fc.constantFrom(...values);
  const row = fc.tuple(
    pick('', 'A1', 'A2', 'A3'),
    pick('Lee Park', 'PARK, LEE', 'Al Reed', 'Moss & Co'),
    pick('1 Oak St', '1 Oak Street', '2 N Elm Ave', '3 Fir Ln #4'),
    pick('', 'Fairview', 'Marlow'),
    pick('', '80501', '80600'),
    pick('', '303-555-0101', '(303) 555-0102'),
    pick('', 'a@example.com', 'b@example.com'),
    pick('', 'North', 'south'),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(row, { minLength: 1, maxLength: 14 }), async (rows) => {
      const own = await makeBook();
      try {
        const csv = [
          'account,name,street,city,zip,phone,email,route',
          ...rows.map((cells) => cells.map((cell) => `"${cell}"`).join(',')),
        ].join('\n');
        const input = { bytesBase64: Buffer.from(csv).toString('base64') };
        const first = await own.run('import.apply', input);
        expect(first.outcomes).toHaveLength(rows.length);
        const once = await own.everything();
        const again = await own.run('import.apply', input);
        expect(again).toMatchObject({ added: {}, joined: 0, skipped: rows.length });
        expect(await own.everything()).toEqual(once);
      } finally {
        await own.close();
      }
    }),
    { numRuns: 120 },
  );
});
