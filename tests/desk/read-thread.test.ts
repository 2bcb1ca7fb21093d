import { copyFileSync, mkdtempSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { expect, onTestFinished, test, vi } from 'vitest';
import { screenReads } from '../../core/desk/screen-reads.ts';
import { findRequest, REQUESTS } from '../../core/contract/index.ts';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import { ReadThread } from '../../core/desk/read-thread.ts';
import { someIds } from '../../core/book/check-queries.ts';
import { openForReading } from '../../core/book/migrate.ts';
import { makeDemo } from '../../electron/demo.ts';

// Long reads in a thread of their own: the same answers, what was just written in them, and nobody waits for them.

const TODAY = '2026-06-15';
const SLOW = REQUESTS.filter((request) => 'slow' in request && request.slow).map(({ name }) => name as string);

async function open(properties = 8): Promise<{ desk: Desk; path: string; folder: string; log: string[] }> {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-thread-'));
  const path = join(folder, 'shelf', 'book.valvebook');
  await makeDemo({ path, properties, seed: 5, today: TODAY });
  const log: string[] = [];
  const desk = await openDesk({
    bookPath: path,
    today: () => TODAY,
    readsInThread: true,
    log: (text) => log.push(text),
  });
  onTestFinished(async () => {
    await desk.close();
    rmSync(folder, { recursive: true, force: true });
  });
  await expect.poll(() => inThread(desk, 'work.summary', { year: 2026 }), { timeout: 60_000 }).toBe(true);
  return { desk, path, folder, log };
}

/** Whether others had a turn while it was read: SQLite in this thread gives nobody one. */
async function inThread(desk: Desk, name: string, input: object): Promise<boolean> {
  let turns = 0;
  const turn = () => {
    turns += 1;
    next = setImmediate(turn);
  };
  let next = setImmediate(turn);
  const reply = await desk.call(name, input);
  clearImmediate(next);
  expect(reply).toMatchObject({ ok: true });
  return turns > 0;
}
const total = async (desk: Desk) => {
  const reply = await desk.call('ledger.list', { limit: 1 });
  return (reply as { ok: true; data: { total: number } }).data.total;
};
const note = async (desk: Desk) => {
  const list = (await desk.call('client.list', {})) as any;
  const propertyId = list.data.rows.find((row: any) => row.propertyId !== null).propertyId;
  const entries = [{ id: ulid(), detail: { kind: 'note', text: 'seen' } }];
  expect(await desk.call('visit.record', { writeId: ulid(), propertyId, doneOn: TODAY, entries })).toMatchObject({
    ok: true,
  });
};

test('every slow read answers as it does without the thread, and gives others their turn', async () => {
  const { desk, path } = await open();
  const plain = await openDesk({ bookPath: path, access: 'read', today: () => TODAY });
  const looking = await openForReading(path);
  const reads = screenReads(await someIds(looking.db), TODAY) as Record<string, object[]>;
  await looking.close();
  expect(SLOW.length).toBeGreaterThan(3);
  for (const name of SLOW) {
    expect(findRequest(name)!.kind).toBe('read');
    for (const input of reads[name]!) {
      const asked = vi.spyOn(ReadThread.prototype, 'read');
      expect(await desk.call(name, input), name).toEqual(await plain.call(name, input));
      expect(asked, name).toHaveBeenCalledTimes(1);
      asked.mockRestore();
    }
  }
  expect(await desk.call('zone.trace', { zoneId: ulid(), fromDate: TODAY, toDate: TODAY })).toEqual(
    await plain.call('zone.trace', { zoneId: ulid(), fromDate: TODAY, toDate: TODAY }),
  );
  await plain.close();
});

test('what was acknowledged is in the next answer, also when many are asked at once', async () => {
  const { desk } = await open();
  const before = await total(desk);
  for (let written = 1; written <= 10; written += 1) {
    await note(desk);
    expect(await Promise.all([total(desk), total(desk), total(desk)])).toEqual([
      before + written,
      before + written,
      before + written,
    ]);
  }
});

test('a restore exchanges the book for the thread as well', async () => {
  const { desk } = await open();
  const before = await total(desk);
  const backup = (await desk.call('book.backup', {})) as any;
  await note(desk);
  expect(await total(desk)).toBe(before + 1);
  const [restored, ...meanwhile] = await Promise.all([
    desk.call('book.restore', { fromPath: backup.data.path }),
    total(desk),
    total(desk),
  ]);
  expect(restored).toMatchObject({ ok: true });
  for (const count of meanwhile) expect([before, before + 1]).toContain(count);
  expect(await total(desk)).toBe(before);
  await expect.poll(() => inThread(desk, 'work.summary', { year: 2026 }), { timeout: 60_000 }).toBe(true);
  expect(await total(desk)).toBe(before);
});

test('after the book is closed nothing of it is open: no journal lies beside it', async () => {
  const { desk, path, folder } = await open();
  await note(desk);
  await desk.close();
  expect(readdirSync(join(folder, 'shelf')).filter((name) => /-(wal|shm)$/.test(name))).toEqual([]);
  copyFileSync(path, join(folder, 'copy.valvebook'));
  expect(await desk.call('work.summary', { year: 2026 })).toMatchObject({ ok: false, error: { code: 'conflict' } });
});

test('a book that was renamed while open is read on, not whatever takes its name', async () => {
  const { desk, path } = await open();
  const before = await total(desk);
  renameSync(path, `${path}.moved`);
  await makeDemo({ path, properties: 2, seed: 6, today: TODAY });
  expect(await total(desk)).toBe(before);
});
