import { linkSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { askedBook, askedBySecondStart } from '../../electron/asked-book.ts';
import { call, makeShell, type Shell } from './run-shell.ts';

describe('the book a command line names', () => {
  const folder = path.resolve('/offices/tamsett');
  const at = (name: string) => path.resolve(folder, name);

  it('is the one of --book, made where it is not there', () => {
    expect(askedBook(['--book', 'new.valvebook'], folder)).toEqual({ path: at('new.valvebook'), create: true });
    expect(askedBook(['.', '--no-sandbox', '--book=b.valvebook'], folder)).toEqual({
      path: at('b.valvebook'),
      create: true,
    });
  });

  it('is a double-clicked file: a bare path on Windows, a path or a file: address on Linux; never made', () => {
    expect(askedBook(['/usr/lib/app', '--original-process-start-time=1', 'a b.valvebook'], folder)).toEqual({
      path: at('a b.valvebook'),
      create: false,
    });
    const file = path.resolve('/offices/Größe & Co/A B.VALVEBOOK');
    expect(askedBook([pathToFileURL(file).href], folder)).toEqual({ path: file, create: false });
  });

  it('is none where no book is named', () => {
    for (const args of [
      [],
      ['.'],
      ['--book'],
      ['notes.txt'],
      ['file://elsewhere%2f/x.valvebook'],
      ['file:///%00.valvebook'],
    ])
      expect(askedBook(args, folder), args.join(' ')).toBeUndefined();
  });

  it('comes from a second start as that one understood it, and is not taken on trust', () => {
    const file = at('b.valvebook');
    expect(askedBySecondStart({ asked: { path: file, create: true } }, ['app', 'other.valvebook'], folder)).toEqual({
      path: file,
      create: true,
    });
    expect(askedBySecondStart({ asked: null }, ['app', 'other.valvebook'], folder)).toBeUndefined();
    expect(askedBySecondStart(undefined, ['app', 'b.valvebook'], folder)).toEqual({ path: file, create: false });
    for (const wrong of [
      { path: 'b.valvebook', create: true },
      { path: `${file}\0`, create: true },
      { path: 7, create: 1 },
    ])
      expect(askedBySecondStart({ asked: wrong }, ['app'], folder)).toBeUndefined();
  });
});

describe('a book opened from outside', () => {
  let shell: Shell;
  let other: string;
  const openBooks = () => shell.desks.filter(({ closed }) => !closed).map(({ bookPath }) => bookPath);
  const second = (file: string | null, create = false) =>
    shell.standIn.app.emit('second-instance', {}, ['app'], shell.folder, {
      asked: file === null ? null : { path: file, create },
    });
  const openFile = (file: string) => {
    const preventDefault = vi.fn();
    shell.standIn.app.emit('open-file', { preventDefault }, file);
    expect(preventDefault).toHaveBeenCalledOnce();
  };
  const boxes = () => shell.standIn.record.errorBoxes;

  beforeEach(() => {
    shell = makeShell();
    other = path.join(shell.folder, 'other.valvebook');
  });
  afterEach(() => shell.end());

  it('by double click at the start: on Windows and Linux from the command line, on macOS told before ready', async () => {
    await shell.start({ argv: ['app', other] });
    expect(openBooks()).toEqual([other]);
    expect(shell.desks[0]!.created).toBe(false);
    expect(shell.standIn.record.lockData).toEqual({ asked: { path: other, create: false } });

    shell.desks.length = 0;
    await shell.start({ ready: false });
    openFile(other);
    shell.standIn.record.becomeReady();
    await vi.waitFor(() => expect(shell.standIn.record.windows).toHaveLength(1));
    expect(shell.desks.map(({ bookPath }) => bookPath)).toEqual([other]);
  });

  it.each([
    ['a second start', () => second(other)],
    ['open-file on macOS', () => openFile(other)],
  ])('by %s while the app runs: the first book is closed in order and the page starts afresh', async (_name, open) => {
    await shell.start();
    shell.window().minimized = true;
    open();
    await vi.waitFor(() => expect(openBooks()).toEqual([other]));
    await vi.waitFor(() => expect(shell.window().focused).toBe(1));
    expect(shell.desks[0]!.closed).toBe(true);
    expect(shell.desks[1]!.created).toBe(false);
    expect(shell.window().loads).toBe(2);
    expect(shell.window().restored).toBe(1);
    expect(shell.standIn.record.windows).toHaveLength(1);
    expect(shell.standIn.record.questions).toEqual([]);
    await shell.invoke(call());
    expect(shell.desks[1]!.calls).toHaveLength(1);
  });

  it('that is open already only comes to the front, by whatever name', async () => {
    const book = path.join(shell.folder, 'company.valvebook');
    writeFileSync(book, 'x');
    symlinkSync(book, path.join(shell.folder, 'link.valvebook'));
    linkSync(book, path.join(shell.folder, 'same.valvebook'));
    mkdirSync(path.join(shell.folder, 'sub'));
    await shell.start();
    for (const name of ['company.valvebook', 'link.valvebook', 'same.valvebook', 'sub/../company.valvebook'])
      second(path.join(shell.folder, name));
    second(null);
    await vi.waitFor(() => expect(shell.window().focused).toBe(5));
    expect(shell.desks).toHaveLength(1);
    expect(shell.window().loads).toBe(1);
  });

  it('that cannot be opened is said in a sentence, and the open book stays', async () => {
    await shell.start();
    shell.refused.set(other, 'other.valvebook is not a Valvebook book.');
    second(other);
    await vi.waitFor(() => expect(boxes()).toEqual(['other.valvebook is not a Valvebook book.']));
    expect(openBooks()).toEqual([path.join(shell.folder, 'company.valvebook')]);
    expect(shell.window().loads).toBe(1);
    expect(await shell.invoke(call())).toMatchObject({ ok: true });
  });

  it('waits for no long task and stops none: it is refused while one runs', async () => {
    await shell.start();
    let finish: () => void = () => undefined;
    shell.desks[0]!.behave = () => new Promise((resolve) => (finish = () => resolve({ ok: true, data: null })));
    const job = shell.invoke(call('import.apply'));
    openFile(other);
    await vi.waitFor(() =>
      expect(boxes()[0]).toMatch(
        /^A long task .* is still running in company\.valvebook\. .*other\.valvebook again\.$/,
      ),
    );
    expect(openBooks()).toEqual([path.join(shell.folder, 'company.valvebook')]);
    finish();
    await job;
    openFile(other);
    await vi.waitFor(() => expect(openBooks()).toEqual([other]));
  });

  it('asks before changes on the screen are lost, and stays where the answer is to stay', async () => {
    await shell.start();
    await shell.invoke({ kind: 'unsaved', callId: 'unsaved', holds: true });
    shell.window().holdsChanges = true;
    second(other);
    await vi.waitFor(() => expect(shell.standIn.record.questions).toEqual(['Open other.valvebook?']));
    await new Promise((resolve) => setImmediate(resolve));
    expect(openBooks()).toEqual([path.join(shell.folder, 'company.valvebook')]);
    expect(shell.window().loads).toBe(1);

    shell.standIn.record.answer = 1;
    second(other);
    await vi.waitFor(() => expect(openBooks()).toEqual([other]));
    await vi.waitFor(() => expect(shell.window().loads).toBe(2));
    // Asked once, not a second time by the page that goes.
    expect(shell.standIn.record.questions).toHaveLength(2);
    // The fresh page holds nothing.
    shell.window().holdsChanges = false;
    second(path.join(shell.folder, 'third.valvebook'));
    await vi.waitFor(() => expect(shell.window().loads).toBe(3));
    expect(shell.standIn.record.questions).toHaveLength(2);
  });

  it('a closing or reloading window with changes asks too, where Electron alone would stay shut in silence', async () => {
    await shell.start();
    const leave = () => {
      const preventDefault = vi.fn();
      shell.contents().emit('will-prevent-unload', { preventDefault });
      return preventDefault.mock.calls.length === 1;
    };
    expect(leave()).toBe(false);
    shell.standIn.record.answer = 1;
    expect(leave()).toBe(true);
    expect(shell.standIn.record.questions).toHaveLength(2);
  });

  it('many at once are opened one after another, and each is closed before the next', async () => {
    await shell.start();
    const books = ['a', 'b', 'c'].map((name) => path.join(shell.folder, `${name}.valvebook`));
    for (const file of books) second(file);
    await vi.waitFor(() => expect(shell.window().loads).toBe(4));
    expect(openBooks()).toEqual([books[2]]);
    expect(shell.desks.map(({ bookPath }) => path.basename(bookPath))).toEqual([
      'company.valvebook',
      'a.valvebook',
      'b.valvebook',
      'c.valvebook',
    ]);
  });

  it('the page of the old book writes nothing into the new one', async () => {
    await shell.start();
    // The page hears nothing of the change before it is gone.
    const { loadURL } = shell.window();
    let load: () => void = () => undefined;
    shell.window().loadURL = function (url: string) {
      return new Promise((resolve, reject) => (load = () => loadURL.call(this, url).then(resolve, reject)));
    };
    second(other);
    await vi.waitFor(() => expect(openBooks()).toEqual([other]));
    expect(await shell.invoke(call('client.save'))).toMatchObject({ ok: false, error: { code: 'conflict' } });
    expect(shell.desks[1]!.calls).toEqual([]);
    load();
    await vi.waitFor(async () => expect(await shell.invoke(call())).toMatchObject({ ok: true }));
  });

  it('on macOS with every window closed, it makes one', async () => {
    await shell.start();
    shell.window().emit('closed');
    openFile(other);
    await vi.waitFor(() => expect(shell.standIn.record.windows).toHaveLength(2));
    expect(openBooks()).toEqual([other]);
  });
});
