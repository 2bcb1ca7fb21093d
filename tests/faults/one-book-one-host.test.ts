import { spawnSync } from 'node:child_process';
import { existsSync, linkSync, mkdirSync, renameSync, rmSync, statSync, symlinkSync, utimesSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { expect, onTestFinished, test, vi } from 'vitest';
import { openDesk } from '../../core/desk/desk.ts';
import { copyBookFile, readWholeFile, syncFile } from '../../core/store/book-file.ts';
import { makeBook, makeSite } from '../desk/make-book.ts';
import { serveInProcess } from './host-client.ts';
import { other } from './in-other-process.ts';

// A book that is open is open under every name, whoever asks and however: in this process and from another.

/** Ways to the same file while a host has it open; each returns the path to try. */
const WAYS: [string, (path: string) => string][] = [
  ['its own name', (path) => path],
  [
    'a symbolic link to it',
    (path) => {
      const link = join(dirname(path), 'link.valvebook');
      symlinkSync(path, link);
      return link;
    },
  ],
  [
    'a link to a link, by a relative path, in another folder',
    (path) => {
      const folder = join(dirname(path), 'elsewhere');
      mkdirSync(folder);
      symlinkSync(join('..', 'book.valvebook'), join(folder, 'one'));
      symlinkSync('one', join(folder, 'two.valvebook'));
      return join(folder, 'two.valvebook');
    },
  ],
  [
    'a link to its folder',
    (path) => {
      symlinkSync(dirname(path), join(dirname(path), 'here'));
      return join(dirname(path), 'here', 'book.valvebook');
    },
  ],
  [
    'a hard link to it',
    (path) => {
      const link = join(dirname(path), 'second.valvebook');
      linkSync(path, link);
      return link;
    },
  ],
  [
    'its own name, after its lock file was deleted',
    (path) => {
      rmSync(`${path}-lock`);
      return path;
    },
  ],
  [
    'a hard link to it, after its lock file was deleted',
    (path) => {
      rmSync(`${path}-lock`);
      mkdirSync(join(dirname(path), 'elsewhere'));
      const link = join(dirname(path), 'elsewhere', 'second.valvebook');
      linkSync(path, link);
      return link;
    },
  ],
];

test.each(WAYS)('an open book is already open by %s', async (_, way) => {
  const book = await makeBook();
  await makeSite(book);
  const path = way(book.path);
  // Twice: what the first try leaves behind must not let the second in.
  for (const attempt of [1, 2]) {
    await expect(openDesk({ bookPath: path }), `attempt ${attempt}`).rejects.toMatchObject({
      code: 'book-busy',
      message: expect.stringMatching(/already open/),
    });
    expect(await other('open', path), `attempt ${attempt} from another process`).toMatchObject({
      code: 'book-busy',
      message: expect.stringMatching(/already open/),
    });
  }
  expect((await book.call('book.check', {})).clean).toBe(true);
  await book.desk.close();
  const again = await openDesk({ bookPath: path });
  expect(await again.call('client.list', {})).toMatchObject({ ok: true, data: { total: 1 } });
  await again.close();
});

test('a book that was renamed while open is already open by its new name, also where that name had a lock file before', async () => {
  const book = await makeBook();
  await makeSite(book);
  const path = join(dirname(book.path), 'renamed.valvebook');
  // A lock file of an earlier book of that name.
  await (await openDesk({ bookPath: path, create: true })).close();
  rmSync(path);
  renameSync(book.path, path);
  expect(await other('open', path)).toMatchObject({ code: 'book-busy' });
  renameSync(path, book.path);
});

test('a second name of a book that another process has open is refused at once: four short looks, where one wait of SQLite alone took three seconds', async () => {
  const book = await makeBook();
  await makeSite(book);
  await book.desk.close();
  const link = join(dirname(book.path), 'second.valvebook');
  linkSync(book.path, link);
  const host = await serveInProcess(book.path, 1);
  onTestFinished(async () => {
    host.child.kill('SIGTERM');
    await host.ended;
  });
  // What is waited for is asked of the system by this call; SQLite itself is given no time at all.
  const waits = vi.spyOn(Atomics, 'wait');
  await expect(openDesk({ bookPath: link })).rejects.toMatchObject({ code: 'book-busy' });
  const asked = waits.mock.calls.map(([, , , milliseconds]) => milliseconds ?? Infinity);
  waits.mockRestore();
  expect(asked).toHaveLength(3);
  expect(asked.reduce((sum, one) => sum + one, 0)).toBeLessThanOrEqual(300);
});

test('a backup that a kill left with the passing name beside its own opens as any other, and the passing name goes', async () => {
  const book = await makeBook();
  await makeSite(book);
  const { path } = await book.call('book.backup', {});
  // A backup gets its name as a second one of the finished file; here the process ended before it gave up the first.
  const ended = spawnSync(process.execPath, ['-e', '']).pid;
  const passing = join(dirname(path), `.${basename(path)}.${ended}-mb3k2x1z.part`);
  linkSync(path, passing);
  const longAgo = new Date(Date.now() - 3_600_000);
  utimesSync(path, longAgo, longAgo);
  const opened = await openDesk({ bookPath: path });
  expect(await opened.call('client.list', {})).toMatchObject({ ok: true, data: { total: 1 } });
  await opened.close();
  utimesSync(path, longAgo, longAgo);
  await book.desk.close();
  const again = await openDesk({ bookPath: book.path });
  await again.close();
  expect(existsSync(passing)).toBe(false);
  expect(statSync(path).nlink).toBe(1);
});

test('a look by another program does not keep a book from being opened for work', async () => {
  const book = await makeBook();
  await makeSite(book);
  await book.desk.close();
  const looking = await openDesk({ bookPath: book.path, access: 'read' });
  try {
    const desk = await openDesk({ bookPath: book.path });
    expect(await desk.call('client.list', {})).toMatchObject({ ok: true });
    await desk.close();
  } finally {
    await looking.close();
  }
});

test('nothing of ours opens the file of a book that is open here, by whatever name', async () => {
  const book = await makeBook();
  await makeSite(book);
  const hard = join(dirname(book.path), 'second.valvebook');
  const soft = join(dirname(book.path), 'link.valvebook');
  linkSync(book.path, hard);
  symlinkSync(book.path, soft);
  for (const path of [book.path, hard, soft]) {
    const refusal = expect.objectContaining({ code: 'conflict' });
    expect(() => readWholeFile(path)).toThrow(refusal);
    expect(() => syncFile(path)).toThrow(refusal);
    expect(() => copyBookFile(path, join(dirname(path), 'copy'))).toThrow(refusal);
    expect(await book.fails('book.restore', { fromPath: path })).toMatchObject({
      code: 'conflict',
      message: expect.stringMatching(/open book itself/),
    });
  }
  await book.desk.close();
  expect(readWholeFile(book.path).length).toBeGreaterThan(8192);
});
