import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  symlinkSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it, test } from 'vitest';
import { listFolder, thisMachine, type Machine } from '../../core/book/places.ts';
import {
  faultOfName,
  isPathChoice,
  PATH_CHOICES,
  placeList,
  suggestedName,
  withEnding,
} from '../../core/contract/places.ts';
import { makeBook } from '../desk/make-book.ts';

// Real folders and files on this machine's disk.

let top: string;
let machine: Machine;
const at = (...names: string[]) => path.join(top, ...names);
const book = () => at('books', 'company.valvebook');
const list = (folder: string | null, want: 'file' | 'folder' = 'file', extensions: string[] = []) =>
  listFolder(book(), { path: folder, want, extensions }, machine);
const names = async (...input: Parameters<typeof list>) => (await list(...input)).entries.map(({ name }) => name);
function file(name: string, bytes = 1, modified = '2026-01-01T00:00:00.000Z'): void {
  mkdirSync(path.dirname(at(name)), { recursive: true });
  writeFileSync(at(name), '');
  truncateSync(at(name), bytes);
  utimesSync(at(name), new Date(modified), new Date(modified));
}

beforeEach(() => {
  top = mkdtempSync(path.join(tmpdir(), 'valvebook-places-'));
  file('books/company.valvebook', 4096);
  mkdirSync(at('home'));
  machine = { ...thisMachine(), home: at('home'), mountFolders: [], drives: [], secondHome: undefined };
});
afterEach(() => rmSync(top, { recursive: true, force: true }));

describe('a folder', () => {
  it('shows folders by name, then files with the newest first, with size and date', async () => {
    file('books/backups/a.valvebook');
    mkdirSync(at('books', 'Year 10'));
    mkdirSync(at('books', 'year 9'));
    file('books/old.valvebook', 10, '2025-05-05T05:05:05.000Z');
    file('books/new.valvebook', 20, '2026-06-06T06:06:06.000Z');
    const { entries, ...rest } = await list(null);
    expect(entries.map(({ name }) => name)).toEqual([
      'backups',
      'year 9',
      'Year 10',
      'new.valvebook',
      'company.valvebook',
      'old.valvebook',
    ]);
    expect(entries[3]).toEqual({
      name: 'new.valvebook',
      path: at('books', 'new.valvebook'),
      kind: 'file',
      bytes: 20,
      modifiedAt: '2026-06-06T06:06:06.000Z',
    });
    expect(entries[0]).toMatchObject({ kind: 'folder', bytes: null });
    expect(rest).toMatchObject({ path: at('books'), parent: top, separator: path.sep, more: 0 });
  });

  it('shows only files of the wanted ending, in any case; for a folder no file at all', async () => {
    file('books/list.csv');
    file('books/OLD.VALVEBOOK', 1, '2025-01-01T00:00:00.000Z');
    file('books/valvebook');
    mkdirSync(at('books', 'sub'));
    expect(await names(at('books'), 'file', ['valvebook'])).toEqual(['sub', 'company.valvebook', 'OLD.VALVEBOOK']);
    expect(await names(at('books'), 'folder', ['valvebook'])).toEqual(['sub']);
  });

  it('leaves out what systems hide, and what is neither file nor folder', async () => {
    for (const name of ['.hidden', '$RECYCLE.BIN/x', '~$open.csv', 'desktop.ini', 'Thumbs.db', 'lost+found/x'])
      file(`books/${name}`);
    expect(await names(null)).toEqual(['company.valvebook']);
  });

  it.skipIf(process.platform === 'win32')(
    'follows links, and leaves out those that lead nowhere or in a circle',
    async () => {
      file('elsewhere/far.valvebook', 77);
      symlinkSync(at('elsewhere'), at('books', 'to-folder'));
      symlinkSync(at('elsewhere', 'far.valvebook'), at('books', 'to-file.valvebook'));
      symlinkSync(at('nowhere'), at('books', 'broken'));
      symlinkSync(at('books', 'circle'), at('books', 'circle'));
      const { entries } = await list(null);
      expect(entries.map(({ name, kind, bytes }) => [name, kind, bytes])).toEqual([
        ['to-folder', 'folder', null],
        ['company.valvebook', 'file', 4096],
        ['to-file.valvebook', 'file', 77],
      ]);
      // Up from a link is where it was come from.
      expect((await list(at('books', 'to-folder'))).parent).toBe(at('books'));
      await expect(list(at('books', 'circle'))).rejects.toMatchObject({ code: 'disk', field: 'path' });
    },
  );

  it('lists 500 and says how many more there are', async () => {
    for (let n = 0; n < 507; n += 1) writeFileSync(at('home', `${n}.zip`), '');
    const { entries, more } = await list(at('home'));
    expect([entries.length, more]).toEqual([500, 7]);
  });

  it('is where a file’s path leads', async () => {
    expect((await list(book())).path).toBe(at('books'));
  });

  it('has nothing above it at the top of a disk', async () => {
    expect((await list(path.parse(top).root)).parent).toBeNull();
  });

  it('that is not there, is no folder or is not this machine’s is answered with a sentence', async () => {
    await expect(list(at('nowhere'))).rejects.toMatchObject({
      code: 'not-found',
      field: 'path',
      message: `There is no folder ${at('nowhere')}. Choose another, or make it first.`,
    });
    await expect(list(path.join(book(), 'below'))).rejects.toMatchObject({ code: 'not-found' });
    await expect(list(at('x'.repeat(300)))).rejects.toMatchObject({ code: 'not-found' });
    if (process.platform !== 'win32') await expect(list('C:\\Users')).rejects.toMatchObject({ code: 'bad-input' });
  });

  it('that may not be looked into is said so, whoever runs the tests', async () => {
    const { disk } = machine;
    for (const [code, sentence] of [
      ['EACCES', 'may not be looked into by this account. Choose another folder.'],
      ['EPERM', 'may not be looked into by this account. Choose another folder.'],
      ['EIO', 'cannot be looked into (EIO). Choose another folder.'],
    ]) {
      machine.disk = { ...disk, readdir: () => Promise.reject(Object.assign(new Error('no'), { code })) };
      await expect(list(at('home'))).rejects.toMatchObject({
        code: 'disk',
        field: 'path',
        message: `${at('home')} ${sentence}`,
      });
    }
  });

  it.skipIf(process.platform === 'win32' || process.getuid?.() === 0)('of another account is said so', async () => {
    mkdirSync(at('secret'));
    chmodSync(at('secret'), 0);
    await expect(list(at('secret'))).rejects.toMatchObject({ code: 'disk', field: 'path' });
  });
});

describe('the places', () => {
  const places = async () => (await list(null)).places.map(({ kind, name, path: where }) => [kind, name, where]);

  it('are the book’s folder, its backups and the home folders that are there, each once', async () => {
    machine.home = at('books');
    mkdirSync(at('books', 'Documents'));
    mkdirSync(at('books', 'backups'));
    file('books/Desktop');
    expect(await places()).toEqual([
      ['book', '', at('books')],
      ['backups', '', at('books', 'backups')],
      ['documents', '', at('books', 'Documents')],
    ]);
  });

  it('are drives that are there, and Documents kept elsewhere', async () => {
    machine.drives = [path.parse(top).root, at('no-drive')];
    machine.secondHome = at('Cloud - Tamsett');
    mkdirSync(at('Cloud - Tamsett', 'Documents'), { recursive: true });
    expect((await places()).slice(2)).toEqual([
      ['documents', 'Cloud - Tamsett', at('Cloud - Tamsett', 'Documents')],
      path.parse(top).root === '/' ? ['computer', '', '/'] : ['drive', path.parse(top).root, path.parse(top).root],
    ]);
  });

  it.skipIf(process.platform !== 'linux')(
    'are disks put into a folder, and not empty folders where a disk could be',
    async () => {
      mkdirSync(at('media', 'no disk'), { recursive: true });
      // A file system of its own on every Linux.
      symlinkSync('/proc', at('media', 'stick'));
      machine.mountFolders = [at('media'), at('no-media')];
      expect((await places()).filter(([kind]) => kind === 'drive')).toEqual([['drive', 'stick', at('media', 'stick')]]);
    },
  );

  it('that do not answer are left out, and a folder that does not is said so and not asked again at once', async () => {
    const { disk } = machine;
    let asked = 0;
    machine.patienceMs = 100;
    machine.disk = {
      ...disk,
      stat: (name) => {
        if (name !== at('home')) return disk.stat(name);
        asked += 1;
        return new Promise(() => undefined);
      },
    };
    expect((await places()).map(([kind]) => kind)).not.toContain('home');
    expect(asked).toBe(1);
    // The folder above it shows everything else.
    expect(await names(top)).toEqual(['books']);
    asked = 1;
    await expect(list(at('home'))).rejects.toMatchObject({
      code: 'disk',
      message: `${at('home')} does not answer. Choose another place, or try again in a minute.`,
    });
    expect(asked).toBe(1);
  });
});

test('through a desk: any session of the book may ask, the answer keeps to the contract, and nothing is changed', async () => {
  const opened = await makeBook();
  const answer = await opened.call('place.list', { want: 'file', extensions: ['valvebook'] });
  expect(answer.path).toBe(path.dirname(opened.path));
  expect(answer.entries.map(({ name }) => name)).toEqual(['book.valvebook']);
  expect(answer.places[0]).toEqual({ kind: 'book', name: '', path: path.dirname(opened.path) });
  expect(answer.places.some(({ kind }) => kind === 'home')).toBe(true);
  expect(placeList.output.safeParse(answer).success).toBe(true);
  for (const wrong of [{ path: 'here' }, { path: '/a\u0000b' }, { extensions: ['../x'] }, { want: 'all' }])
    expect(await opened.fails('place.list', wrong)).toMatchObject({ code: 'bad-input' });
});

test('this machine has a home and somewhere disks are', () => {
  expect(path.isAbsolute(thisMachine().home)).toBe(true);
  expect(thisMachine().mountFolders.length + thisMachine().drives.length).toBeGreaterThan(0);
});

test('names for files about to be made', () => {
  expect(suggestedName(PATH_CHOICES['backup-to'], '/a/company.valvebook', '2026-06-15')).toBe(
    'company-2026-06-15.valvebook',
  );
  expect(suggestedName(PATH_CHOICES['export-to'], 'C:\\a\\Größe 2.valvebook', '2026-06-15')).toBe(
    'Größe 2-2026-06-15.zip',
  );
  expect([withEnding(' a ', 'zip'), withEnding('a.ZIP', 'zip'), withEnding('a.b', 'zip')]).toEqual([
    'a.zip',
    'a.ZIP',
    'a.b.zip',
  ]);
  for (const good of ['a', 'Größe 2.zip', 'a.b']) expect(faultOfName(good), good).toBeNull();
  for (const bad of ['a/b', 'a\\b', '../a']) expect(faultOfName(bad), bad).toBe('is-path');
  for (const none of ['', ' ']) expect(faultOfName(none)).toBe('missing');
  expect([isPathChoice('export-to'), isPathChoice('toString'), isPathChoice(7)]).toEqual([true, false, false]);
});
