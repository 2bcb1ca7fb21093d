import { execFileSync, spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { createHash } from 'node:crypto';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { expect, onTestFinished, test } from 'vitest';
import { openDesk } from '../../core/desk/desk.ts';
import { SCHEMA_VERSION } from '../../core/book/migrate.ts';
import { makeBook, makeSite, SITE_ENTRIES, type TestBook } from '../desk/make-book.ts';

// What can be wrong with a book or its place: one clear sentence each, and nothing changed.

const CLI = new URL('../../electron/cli.ts', import.meta.url).pathname;

function folder(): string {
  const path = mkdtempSync(join(tmpdir(), 'valvebook-faults-'));
  onTestFinished(() => rmSync(path, { recursive: true, force: true }));
  return path;
}
const hash = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');

async function refusal(path: string): Promise<{ code: string; message: string }> {
  try {
    const desk = await openDesk({ bookPath: path });
    await desk.close();
  } catch (error) {
    return error as { code: string; message: string };
  }
  throw new Error(`${path} was opened`);
}

async function closedBook(): Promise<TestBook> {
  const book = await makeBook();
  await makeSite(book);
  await book.desk.close();
  return book;
}

test('a file that is no SQLite file is refused and left as it is', async () => {
  const path = join(folder(), 'letter.valvebook');
  writeFileSync(path, 'Dear client,\n'.repeat(500));
  const before = hash(path);
  expect(await refusal(path)).toMatchObject({
    code: 'book-unreadable',
    message: expect.stringMatching(/not a Valvebook book/),
  });
  expect(hash(path)).toBe(before);
});

test('an SQLite file that is no book is refused and left as it is', async () => {
  const path = join(folder(), 'other.valvebook');
  const other = new Database(path);
  other.exec('CREATE TABLE recipe (name TEXT)');
  other.close();
  const before = hash(path);
  expect(await refusal(path)).toMatchObject({
    code: 'book-unreadable',
    message: expect.stringMatching(/not a Valvebook book/),
  });
  expect(hash(path)).toBe(before);
});

test.each([50, 5000, -8192])('a book cut short (%d bytes) is refused and left as it is', async (bytes) => {
  const book = await closedBook();
  truncateSync(book.path, bytes < 0 ? statSync(book.path).size + bytes : bytes);
  const before = hash(book.path);
  expect(await refusal(book.path)).toMatchObject({
    code: 'book-unreadable',
    message: expect.stringMatching(/cut short|not a Valvebook book/),
  });
  expect(hash(book.path)).toBe(before);
});

test('a book with its middle overwritten is found by the check', async () => {
  const book = await closedBook();
  const bytes = readFileSync(book.path);
  bytes.fill(0xa5, Math.floor(bytes.length / 2), Math.floor(bytes.length / 2) + 20_000);
  writeFileSync(book.path, bytes);
  try {
    const desk = await openDesk({ bookPath: book.path, log: () => undefined });
    const reply = await desk.call('book.check', {});
    await desk.close();
    if (reply.ok) expect(reply.data).toMatchObject({ clean: false });
    else expect(reply.error.code).toBe('book-unreadable');
  } catch (error) {
    expect(error).toMatchObject({ code: 'book-unreadable' });
  }
});

test('a book from a newer version is refused and left as it is', async () => {
  const book = await closedBook();
  const raw = new Database(book.path);
  raw.pragma(`user_version = ${SCHEMA_VERSION + 1}`);
  raw.pragma('journal_mode = DELETE');
  raw.close();
  const before = hash(book.path);
  expect(await refusal(book.path)).toMatchObject({
    code: 'book-unreadable',
    message: expect.stringMatching(/newer Valvebook/),
  });
  expect(hash(book.path)).toBe(before);
});

test('two starts on one book: the second says so, the first goes on', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  expect(await refusal(book.path)).toMatchObject({ code: 'book-busy', message: expect.stringMatching(/already open/) });
  const write = spawnSync(
    process.execPath,
    [
      CLI,
      'call',
      'client.save',
      JSON.stringify({ writeId: ulid(), client: { id: ulid(), name: 'From elsewhere' } }),
      '--book',
      book.path,
    ],
    { encoding: 'utf8' },
  );
  expect(write.status).toBe(1);
  expect(JSON.parse(write.stderr)).toMatchObject({ code: 'book-busy' });
  // Looking is allowed while the app has the book open.
  const read = spawnSync(process.execPath, [CLI, 'call', 'client.list', '{}', '--book', book.path], {
    encoding: 'utf8',
  });
  expect(read.status).toBe(0);
  expect(JSON.parse(read.stdout)).toMatchObject({ total: 1 });
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-06-15',
    entries: [{ id: ulid(), detail: { kind: 'note', text: 'still here' } }],
  });
});

test('a missing book is not made by looking for it', async () => {
  const path = join(folder(), 'none.valvebook');
  expect(await refusal(path)).toMatchObject({ code: 'not-found' });
  expect(existsSync(path)).toBe(false);
  expect(existsSync(`${path}-lock`)).toBe(false);
});

test('a read-only folder: one sentence, nothing changed', async ({ skip }) => {
  const book = await closedBook();
  const readOnly = folder();
  const path = join(readOnly, 'book.valvebook');
  copyFileSync(book.path, path);
  chmodSync(path, 0o444);
  chmodSync(readOnly, 0o555);
  const before = hash(path);
  // Root may write anywhere, so the refusal is looked for as another user.
  const asOther = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};
  const run = spawnSync(
    process.execPath,
    [
      CLI,
      'call',
      'client.save',
      JSON.stringify({ writeId: ulid(), client: { id: ulid(), name: 'X' } }),
      '--book',
      path,
    ],
    { encoding: 'utf8', ...asOther },
  );
  if (run.error) skip(`skipped: cannot run as another user here (${run.error.message})`);
  expect(run.status).toBe(1);
  expect(JSON.parse(run.stderr)).toMatchObject({ code: 'disk', message: expect.stringMatching(/read-only/) });
  chmodSync(readOnly, 0o755);
  expect(hash(path)).toBe(before);
});

test('a full disk: the write is refused whole, what was there stays, and it goes on when there is room', async ({
  skip,
}) => {
  const small = folder();
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=3m', 'tmpfs', small], { stdio: 'ignore' });
  } catch {
    skip('skipped: cannot make a small disk here (needs root)');
  }
  onTestFinished(() => void spawnSync('umount', ['-l', small]));
  const path = join(small, 'book.valvebook');
  const seed = await closedBook();
  copyFileSync(seed.path, path);
  const desk = await openDesk({ bookPath: path, today: () => '2026-06-15', log: () => undefined });
  try {
    const list = (await desk.call('client.list', {})) as { ok: true; data: { rows: { propertyId: string }[] } };
    const propertyId = list.data.rows[0]!.propertyId;
    const write = (note: string) =>
      desk.call('visit.record', {
        writeId: ulid(),
        propertyId,
        doneOn: '2026-06-15',
        entries: [1, 2, 3].map(() => ({ id: ulid(), note, detail: { kind: 'note', text: 'x'.repeat(7900) } })),
      });
    let acknowledged = 0;
    let refused = await write('first');
    while (refused.ok) {
      acknowledged++;
      refused = await write(`n${acknowledged}`);
      if (acknowledged > 2000) throw new Error('the small disk never filled');
    }
    expect(refused.error).toMatchObject({ code: 'disk', message: expect.stringMatching(/full/) });
    const count = async () =>
      ((await desk.call('ledger.list', { propertyId, limit: 1 })) as { ok: true; data: { total: number } }).data.total;
    expect(await count()).toBe(SITE_ENTRIES + acknowledged * 3);
    execFileSync('mount', ['-o', 'remount,size=12m', small], { stdio: 'ignore' });
    expect((await write('after')).ok).toBe(true);
    expect(await count()).toBe(SITE_ENTRIES + (acknowledged + 1) * 3);
    expect(await desk.call('book.check', {})).toMatchObject({ ok: true, data: { clean: true } });
  } finally {
    await desk.close();
  }
});

test('a backup put back is the book as it was; the one it replaced is kept', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const { path: backup } = await book.call('book.backup', {});
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-06-15',
    entries: [{ id: ulid(), detail: { kind: 'note', text: 'after the backup' } }],
  });
  const restored = await book.call('book.restore', { fromPath: backup });
  expect((await book.call('ledger.list', {})).total).toBe(SITE_ENTRIES);
  expect(existsSync(restored.previousSavedAs)).toBe(true);
  const kept = new Database(restored.previousSavedAs, { readonly: true });
  expect(kept.prepare('SELECT count(*) AS n FROM ledgerEntry').get()).toEqual({ n: SITE_ENTRIES + 1 });
  kept.close();
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-06-15',
    entries: [{ id: ulid(), detail: { kind: 'note', text: 'goes on' } }],
  });
  expect(await book.fails('book.restore', { fromPath: join(folder(), 'none') })).toMatchObject({ code: 'not-found' });
  expect((await book.call('ledger.list', {})).total).toBe(SITE_ENTRIES + 1);
});
