import { copyFileSync, existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { expect, onTestFinished, test } from 'vitest';
import { makeDemoBook } from '../../core/demo/make-demo-book.ts';
import { openDesk } from '../../core/desk/desk.ts';
import { makeDemo } from '../../electron/demo.ts';
import { makeBook } from '../desk/make-book.ts';

// SQLite takes what lies under a name of its own beside a book for its own (sqlite.org/tempfiles.html: NAME-journal, NAME-wal,
// NAME-shm). A backup put there once made the book unopenable; a demo put beside the journal of an older one came out damaged.

test('nothing is put under a name of the files beside a book, and the book stays usable', async () => {
  const book = await makeBook();
  for (const end of ['-journal', '-WAL', '-shm', '-lock']) {
    const other = join(book.path, '..', `other.valvebook${end}`);
    for (const name of ['book.backup', 'export.book'] as const)
      expect(await book.fails(name, { toPath: other })).toMatchObject({
        code: 'bad-input',
        field: 'toPath',
        message: expect.stringContaining(`ends in ${end}`),
      });
    const refused = { code: 'bad-input', field: 'book' };
    await expect(openDesk({ bookPath: other, create: true })).rejects.toMatchObject(refused);
    await expect(makeDemo({ path: other, properties: 1 })).rejects.toMatchObject(refused);
    expect(existsSync(other)).toBe(false);
  }
  expect(await book.fails('book.backup', { toPath: `${book.path}-journal` })).toMatchObject({ code: 'bad-input' });
  expect(await book.call('book.check', {})).toMatchObject({ clean: true });
});

test.each(['-wal', '-journal'])('no book and no backup is made beside a %s that a book left behind', async (end) => {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const book = await makeBook();
  await book.call('client.save', { writeId: ulid(), client: { id: ulid(), name: 'Ann' } });
  const path = join(folder, 'gone.valvebook');
  if (end === '-wal') copyFileSync(`${book.path}-wal`, `${path}-wal`);
  else writeFileSync(`${path}-journal`, 'left by another program');
  const refused = { code: 'book-unreadable', message: expect.stringContaining(`gone.valvebook${end}) with changes`) };
  await expect(makeDemo({ path, properties: 1 })).rejects.toMatchObject(refused);
  await expect(makeDemoBook({ path, properties: 1, seed: 1, today: '2026-06-15' })).rejects.toMatchObject(refused);
  await expect(openDesk({ bookPath: path, create: true })).rejects.toMatchObject(refused);
  expect(await book.fails('book.backup', { toPath: path })).toMatchObject({ ...refused, field: 'toPath' });
  expect(readdirSync(folder).filter((name) => !name.endsWith('-lock'))).toEqual([`gone.valvebook${end}`]);
});
