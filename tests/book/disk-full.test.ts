import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { restoreBook } from '../../core/desk/restore.ts';
import { openForWriting } from '../../core/book/migrate.ts';
import { base64, makeBook, unwatched, type TestBook } from './job-context.ts';

// A really full disk: a file system of 1 MB in memory. Where this user may not mount one, the tests say skipped.

const mountPoint = mkdtempSync(join(tmpdir(), 'valvebook-full-'));
let mounted = false;
if (process.platform === 'linux') {
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', mountPoint], { stdio: 'ignore' });
    mounted = true;
  } catch {
    // Not allowed here.
  }
}
afterAll(() => {
  // Lazily: SQLite may hold a file of it open until this process ends.
  if (mounted) execFileSync('umount', ['-l', mountPoint]);
  rmSync(mountPoint, { recursive: true, force: true });
});

describe.skipIf(!mounted)(`a full disk${mounted ? '' : ' (skipped: no small file system can be mounted here)'}`, () => {
  let book: TestBook;
  beforeAll(async () => {
    book = await makeBook();
    const rows = Array.from(
      { length: 4000 },
      (_, row) => `Client ${Math.sin(row)},${row} Oak St,Fairview,${Math.cos(row)} ${Math.tan(row)}`,
    ).join('\n');
    await book.run('import.apply', { bytesBase64: base64(`name,street,city,notes\n${rows}\n`) });
  });
  afterAll(() => book.close());

  it('refuses a backup and an export with a sentence and leaves nothing there', async () => {
    const full = { code: 'disk', message: expect.stringMatching(/disk is full/) };
    await expect(book.run('book.backup', { toPath: join(mountPoint, 'copy.valvebook') })).rejects.toMatchObject(full);
    const half = join(mountPoint, 'half');
    mkdirSync(half);
    execFileSync('dd', ['if=/dev/zero', `of=${join(half, 'filler')}`, 'bs=1k', 'count=900'], { stdio: 'ignore' });
    await expect(book.run('export.book', { toPath: join(mountPoint, 'out.zip') })).rejects.toMatchObject(full);
    rmSync(half, { recursive: true });
    expect(readdirSync(mountPoint)).toEqual([]);
  });

  it('refuses a folder that cannot be written to, with a sentence', async () => {
    execFileSync('mount', ['-o', 'remount,ro', mountPoint]);
    try {
      for (const name of ['book.backup', 'export.book'] as const) {
        await expect(book.run(name, { toPath: join(mountPoint, 'out.file') })).rejects.toMatchObject({
          code: 'disk',
          field: 'toPath',
          message: expect.stringMatching(/cannot be written to/),
        });
      }
    } finally {
      execFileSync('mount', ['-o', 'remount,rw', mountPoint]);
    }
  });

  it('a restore that does not fit leaves the book as it was', async () => {
    // Room for one small book and its journal, not for a second and a third.
    execFileSync('mount', ['-o', 'remount,size=1500k', mountPoint]);
    const path = join(mountPoint, 'small.valvebook');
    const small = await openForWriting(path, true);
    await small.db
      .insertInto('route')
      .values({ id: '01M89G142THQ4T01D3AF4RW5DM', name: 'North', technicianId: null })
      .execute()
      .catch(() => undefined);
    await small.close();
    const backup = await book.run('book.backup', {});
    await expect(restoreBook(unwatched, { bookPath: path, fromPath: backup.path })).rejects.toMatchObject({
      code: 'disk',
    });
    expect(readdirSync(mountPoint).filter((name) => !/-(wal|shm)$/.test(name))).toEqual(['small.valvebook']);
    const again = await openForWriting(path, false);
    expect(again.findings()).toEqual([]);
    await again.close();
  });
});
