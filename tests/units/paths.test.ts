import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { openDesk } from '../../core/desk/desk.ts';
import { BookError } from '../../core/errors.ts';
import { fullPlaceOf, isDeviceName, placeOf } from '../../core/paths.ts';
import { makeBook } from '../desk/make-book.ts';

function refusal(work: () => string): BookError {
  try {
    throw new Error(`taken as ${work()}`);
  } catch (error) {
    if (error instanceof BookError) return error;
    throw error;
  }
}

// The names of Microsoft's "Naming Files, Paths, and Namespaces", and their neighbors that are files like any other.
test.each([
  ['CON', true],
  ['con.valvebook', true],
  ['Nul.tar.gz', true],
  ['COM1.valvebook', true],
  ['LPT³', true],
  ['CONIN$', true],
  ['aux .txt', true],
  ['CONTRACT.valvebook', false],
  ['COM10.valvebook', false],
  ['my CON.valvebook', false],
  ['NUL-2026.valvebook', false],
  ['valve.con', false],
])('%s is a device of Windows: %s', (name, device) => {
  expect(isDeviceName(name)).toBe(device);
});

test.each([
  ['C:\\Books\\CON.valvebook', 'name CON for a device'],
  ['C:\\nul\\b.valvebook', 'name nul for a device'],
  ['\\\\server\\share\\COM3', 'name COM3 for a device'],
  ['\\\\?\\C:\\Books\\prn.valvebook', 'name prn for a device'],
  ['C:\\Books\\b.valvebook.', 'drops a dot or a blank'],
  ['C:\\Books \\b.valvebook', 'drops a dot or a blank'],
  ['C:\\Books\\a:b.valvebook', 'character :'],
  ['C:\\Books\\a<b.valvebook', 'character <'],
  ['C:\\Books\\a\tb.valvebook', 'control character'],
  ['\\\\.\\PhysicalDrive0', 'device of this computer'],
  [`C:\\Books\\${'x'.repeat(248)}`, 'too long'],
  [`C:\\${'folder\\'.repeat(200)}b.valvebook`, 'too deep'],
])('Windows cannot have %.80s', (named, sentence) => {
  const refused = refusal(() => placeOf(named, 'book', 'win32'));
  expect(refused).toMatchObject({ code: 'bad-input', field: 'book' });
  expect(refused.message).toContain(sentence);
});

test.each([
  ['C:/Büro & Söhne/Bücher  2026/b.valvebook', 'C:\\Büro & Söhne\\Bücher  2026\\b.valvebook'],
  ['c:\\a\\..\\b.valvebook', 'c:\\b.valvebook'],
  ['\\\\server\\share\\b.valvebook', '\\\\server\\share\\b.valvebook'],
  ['\\\\?\\C:\\a\\b.valvebook', '\\\\?\\C:\\a\\b.valvebook'],
  ['\\\\?\\UNC\\server\\share\\b.valvebook', '\\\\?\\UNC\\server\\share\\b.valvebook'],
  [`C:\\${'folder\\'.repeat(100)}b.valvebook`, `C:\\${'folder\\'.repeat(100)}b.valvebook`],
])('Windows takes %.80s', (named, place) => {
  expect(fullPlaceOf(named, 'toPath', 'win32')).toBe(place);
});

test('a full path is full on the system it is used on', () => {
  for (const named of ['/b.valvebook', '\\b.valvebook', 'C:b.valvebook'])
    expect(refusal(() => fullPlaceOf(named, 'toPath', 'win32')).message).toContain('does not say on which drive');
  for (const named of ['C:\\b.valvebook', '\\\\server\\share\\b.valvebook'])
    expect(refusal(() => fullPlaceOf(named, 'toPath', 'linux')).message).toContain('not a full path on this system');
  expect(fullPlaceOf('/books/CON.valvebook', 'toPath', 'linux')).toBe('/books/CON.valvebook');
});

test.skipIf(process.platform === 'win32')(
  'a drive letter elsewhere makes no file in the folder the program runs in',
  async () => {
    const book = await makeBook();
    for (const name of ['book.backup', 'export.book'] as const)
      expect(await book.fails(name, { toPath: 'C:\\copy.valvebook' })).toMatchObject({
        code: 'bad-input',
        field: 'toPath',
      });
    expect(existsSync('C:\\copy.valvebook')).toBe(false);
  },
);

test.skipIf(process.platform === 'win32')(
  'a path too long for SQLite is called too deep, and one that just fits works',
  async () => {
    const root = mkdtempSync(path.join(tmpdir(), 'valvebook-'));
    onTestFinished(() => rmSync(root, { recursive: true, force: true }));
    const ofLength = (length: number): string => {
      let folder = root;
      while (folder.length < length - 150) folder = path.join(folder, 'd'.repeat(60));
      return path.join(folder, 'b'.repeat(length - folder.length - 1));
    };
    await expect(openDesk({ bookPath: ofLength(500), create: true })).rejects.toMatchObject({
      code: 'bad-input',
      field: 'book',
      message: expect.stringContaining('too deep'),
    });
    expect(readdirSync(root)).toEqual([]);
    const desk = await openDesk({ bookPath: ofLength(499), create: true });
    expect(await desk.call('book.check', {})).toMatchObject({ ok: true, data: { clean: true } });
    await desk.close();
    await expect(openDesk({ bookPath: path.join(root, 'n'.repeat(252)), create: true })).rejects.toMatchObject({
      code: 'bad-input',
      message: expect.stringContaining('too long'),
    });
  },
);

test.skipIf(process.platform === 'win32')('a folder that cannot be made for a new book is said so', async () => {
  const book = await makeBook();
  await expect(
    openDesk({ bookPath: path.join(book.path, 'in-a-file', 'b.valvebook'), create: true }),
  ).rejects.toMatchObject({
    code: 'disk',
    field: 'book',
    message: expect.stringContaining('cannot be made'),
  });
});
