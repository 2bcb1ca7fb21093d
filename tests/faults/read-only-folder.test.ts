import { chmodSync, copyFileSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { connectWithoutLocks } from '../../core/store/sqlite.ts';
import { makeBook, makeSite, SITE_ENTRIES } from '../desk/make-book.ts';
import { other } from './in-other-process.ts';

// A book in a folder that may not be written to can be looked at. Root may write anywhere, so another user looks.

const NOBODY = 65534;

async function inReadOnlyFolder(take: (from: string, to: string) => void): Promise<{ folder: string; path: string }> {
  const book = await makeBook();
  await makeSite(book);
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-readonly-'));
  onTestFinished(() => {
    chmodSync(folder, 0o755);
    rmSync(folder, { recursive: true, force: true });
  });
  const path = join(folder, 'book #1 50%.valvebook');
  take(book.path, path);
  await book.desk.close();
  copyFileSync(book.path, path);
  for (const name of readdirSync(folder)) chmodSync(join(folder, name), 0o444);
  chmodSync(folder, 0o555);
  return { folder, path };
}
const asOther = process.getuid?.() === 0 ? { uid: NOBODY } : {};

test('a book that was closed in order is read there, and nothing is changed or added', async () => {
  const { folder, path } = await inReadOnlyFolder(() => undefined);
  const before = readFileSync(path);
  expect(await other('read', path, asOther)).toMatchObject({ ok: { ok: true, data: { total: 1 } } });
  expect(readFileSync(path).equals(before)).toBe(true);
  expect(readdirSync(folder)).toEqual(['book #1 50%.valvebook']);
});

test('one that was not closed in order says what is beside it and what to do', async () => {
  const { path } = await inReadOnlyFolder((from, to) => copyFileSync(`${from}-wal`, `${to}-wal`));
  expect(await other('read', path, asOther)).toMatchObject({
    code: 'disk',
    message: expect.stringMatching(/not closed in order.*-wal.*[Cc]opy both files/),
  });
});

test('changing it is refused with a sentence that names the folder', async () => {
  const { folder, path } = await inReadOnlyFolder(() => undefined);
  const answer = await other('open', path, asOther);
  expect(answer).toMatchObject({ code: 'disk', message: expect.stringMatching(/read-only/) });
  expect(answer.message).toContain(folder);
});

test('a file one may not read is said to be that, and not to be damaged', async () => {
  const { path } = await inReadOnlyFolder(() => undefined);
  chmodSync(path, 0o200);
  expect(await other('read', path, asOther)).toMatchObject({
    code: 'disk',
    message: expect.stringMatching(/may not read/),
  });
});

test('a book read without locks notices that its owner has changed it', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  await book.desk.close();
  const quiet = connectWithoutLocks(book.path);
  expect(quiet.raw.prepare('SELECT count(*) FROM ledgerEntry').pluck().get()).toBe(SITE_ENTRIES);
  expect(quiet.unchanged()).toBe(true);
  expect(await other('record', book.path, { propertyId: site.propertyId })).toMatchObject({ ok: { ok: true } });
  expect(quiet.unchanged()).toBe(false);
  await quiet.close();
});
