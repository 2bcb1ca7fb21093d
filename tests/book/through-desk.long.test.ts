import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Progress } from '../../core/contract/define-request.ts';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import { base64 } from './job-context.ts';

// The same jobs where they really run: in a worker of an open desk, with progress and cancel.

let folder: string;
let desk: Desk;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'valvebook-desk-'));
  desk = await openDesk({ bookPath: join(folder, 'company.valvebook'), create: true, today: () => '2026-03-02' });
});
afterEach(async () => {
  await desk.close();
  rmSync(folder, { recursive: true, force: true });
});

const list = (rows: number) =>
  base64(
    ['name,street,city', ...Array.from({ length: rows }, (_, row) => `Client ${row},${row} Oak St,Fairview`)].join(
      '\n',
    ),
  );
const call = async (
  name: string,
  input: object,
  options?: { signal?: AbortSignal; onProgress?: (progress: Progress) => void },
) => {
  const reply = await desk.call(name, input, options);
  if (!reply.ok) throw Object.assign(new Error(reply.error.message), reply.error);
  return reply.data as any;
};
const clientCount = async (): Promise<number> => (await call('book.info', {})).counts.client;

it('imports, backs up and restores', async () => {
  const progress: Progress[] = [];
  expect(
    (await call('import.apply', { bytesBase64: list(1200) }, { onProgress: (one) => progress.push(one) })).added,
  ).toEqual({ clients: 1200, properties: 1200 });
  expect(progress.length).toBeGreaterThan(0);
  const backup = await call('book.backup', {});
  await call('import.apply', { bytesBase64: base64('name,street\nLate Comer,1 Ash Ct\n') });
  expect(await clientCount()).toBe(1201);
  const restored = await call('book.restore', { fromPath: backup.path });
  expect(await clientCount()).toBe(1200);
  await call('book.restore', { fromPath: restored.previousSavedAs });
  expect(await clientCount()).toBe(1201);
  expect((await call('book.check', {})).clean).toBe(true);
  expect((await call('export.book', {})).tables.find((table: any) => table.name === 'client').rows).toBe(1201);
});

it('cancelled while writing, an import leaves nothing', async () => {
  for (const label of ['Checking rows', 'Writing']) {
    const abort = new AbortController();
    const reply = await desk.call(
      'import.apply',
      { bytesBase64: list(8000) },
      { signal: abort.signal, onProgress: (progress) => void (progress.label === label && abort.abort()) },
    );
    expect(reply).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(await clientCount()).toBe(0);
  }
  expect((await call('import.apply', { bytesBase64: list(10) })).added).toEqual({ clients: 10, properties: 10 });
});

it('a cancelled export or backup leaves no file', async () => {
  await call('import.apply', { bytesBase64: list(8000) });
  for (const name of ['export.book', 'book.backup']) {
    const abort = new AbortController();
    const reply = await desk.call(name, {}, { signal: abort.signal, onProgress: () => abort.abort() });
    expect(reply).toMatchObject({ ok: false, error: { code: 'cancelled' } });
  }
  const files = readdirSync(folder, { recursive: true })
    .map(String)
    .filter((file) => /\.(zip|part)$|backups.*valvebook/.test(file));
  expect(files).toEqual([]);
});

it('a failed restore leaves the book open as it was', async () => {
  await call('import.apply', { bytesBase64: list(3) });
  await expect(call('book.restore', { fromPath: join(folder, 'missing.valvebook') })).rejects.toMatchObject({
    code: 'not-found',
  });
  await expect(call('book.restore', { fromPath: join(folder, 'company.valvebook') })).rejects.toMatchObject({
    code: 'conflict',
  });
  expect(await clientCount()).toBe(3);
});
