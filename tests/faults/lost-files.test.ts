import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { openDesk } from '../../core/desk/desk.ts';
import { makeBook, makeSite, SITE_ENTRIES, type Site, type TestBook } from '../desk/make-book.ts';

// Somebody takes a running book's files away: it stops acknowledging, says so, and what it holds is in a new file.

const note = (book: TestBook, site: Site) => {
  const id = ulid();
  const reply = book.desk.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-06-15',
    entries: [{ id, detail: { kind: 'note', text: 'held' } }],
  });
  return reply.then((answer) => ({ id, answer }));
};

const LOSSES: [string, RegExp, (path: string) => void][] = [
  ['its journal is deleted', /journal \(.*-wal\)/, (path) => rmSync(`${path}-wal`)],
  [
    'its journal is exchanged',
    /journal \(.*-wal\)/,
    (path) => {
      renameSync(`${path}-wal`, `${path}-away`);
      writeFileSync(`${path}-wal`, '');
    },
  ],
  ["the journal's index is deleted", /index of the journal/, (path) => rmSync(`${path}-shm`)],
  ['its file is deleted', /book's file/, (path) => rmSync(path)],
  [
    'another file is put in its place',
    /book's file/,
    (path) => {
      copyFileSync(path, `${path}-copy`);
      renameSync(`${path}-copy`, path);
    },
  ],
];

test.each(LOSSES)('%s: no write is acknowledged, and all that were are in the rescued book', async (_, says, lose) => {
  const book = await makeBook();
  const site = await makeSite(book);
  const acknowledged: string[] = [];
  for (let n = 0; n < 12; n++) {
    const { id, answer } = await note(book, site);
    expect(answer.ok).toBe(true);
    acknowledged.push(id);
  }
  lose(book.path);
  const { answer } = await note(book, site);
  expect(answer).toMatchObject({ ok: false, error: { code: 'disk', message: expect.stringMatching(says) } });
  const again = await note(book, site);
  expect(again.answer).toEqual(answer);
  // Jobs would open the book by its path; reads still see what is held.
  expect(await book.desk.call('book.backup', {})).toEqual(answer);
  expect(await book.desk.call('export.book', {})).toEqual(answer);
  expect((await book.call('ledger.list', {})).total).toBe(SITE_ENTRIES + 12);

  const folder = dirname(book.path);
  const rescued = readdirSync(folder).filter((name) => /-rescued-.*\.valvebook$/.test(name));
  expect(rescued).toHaveLength(1);
  expect(!answer.ok && answer.error.message).toContain(join(folder, rescued[0]!));
  await book.desk.close();

  const desk = await openDesk({ bookPath: join(folder, rescued[0]!) });
  const check = await desk.call('book.check', {});
  expect(check).toMatchObject({ ok: true, data: { clean: true } });
  await desk.close();
  const raw = new Database(join(folder, rescued[0]!), { readonly: true });
  const held = raw.prepare('SELECT id FROM ledgerEntry').pluck().all() as string[];
  raw.close();
  expect(held).toEqual(expect.arrayContaining(acknowledged));
});

test('a journal of ours is not left beside a file that was put in the place of the book', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const { path: backup } = await book.call('book.backup', {});
  await note(book, site);
  copyFileSync(backup, `${book.path}-copy`);
  renameSync(`${book.path}-copy`, book.path);
  await note(book, site);
  await book.desk.close();
  expect(existsSync(`${book.path}-wal`)).toBe(false);
  const desk = await openDesk({ bookPath: book.path });
  expect(await desk.call('ledger.list', {})).toMatchObject({ ok: true, data: { total: SITE_ENTRIES } });
  expect(await desk.call('book.check', {})).toMatchObject({ ok: true, data: { clean: true } });
  await desk.close();
});

test('where the rescued book cannot be saved, it says so, and the next try saves it', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  await note(book, site);
  const folder = dirname(book.path);
  const away = `${folder}-away`;
  // The folder is gone, and nothing can be written where it was.
  renameSync(folder, away);
  writeFileSync(folder, 'a file');
  try {
    const { answer } = await note(book, site);
    expect(answer).toMatchObject({
      ok: false,
      error: { code: 'disk', message: expect.stringMatching(/could not be saved/) },
    });
    rmSync(folder);
    mkdirSync(folder);
    const second = await note(book, site);
    expect(second.answer).toMatchObject({ ok: false, error: { message: expect.stringMatching(/saved in/) } });
    const [rescued] = readdirSync(folder).filter((name) =>
      name.startsWith(`${basename(book.path, '.valvebook')}-rescued`),
    );
    const raw = new Database(join(folder, rescued!), { readonly: true });
    expect(raw.prepare('SELECT count(*) FROM ledgerEntry').pluck().get()).toBe(SITE_ENTRIES + 1);
    raw.close();
  } finally {
    rmSync(away, { recursive: true, force: true });
  }
});
