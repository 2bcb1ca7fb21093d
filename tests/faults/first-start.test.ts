import { execFileSync, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { assert, expect, onTestFinished, test } from 'vitest';
import { openDesk } from '../../core/desk/desk.ts';
import { makeBookUntil } from './stopped-at-step.ts';

// A first start that is broken off leaves no book or a whole one, and the next start opens or makes it.

const KILLS = Number(process.env['VALVEBOOK_KILLS'] ?? (process.env['CI'] ? 12 : 24));

function folder(): string {
  const path = mkdtempSync(join(tmpdir(), 'valvebook-first-'));
  onTestFinished(() => rmSync(path, { recursive: true, force: true }));
  return path;
}

async function expectGoodBook(path: string, full = true): Promise<void> {
  const desk = await openDesk({ bookPath: path, create: true });
  try {
    expect(await desk.call('client.list', {})).toMatchObject({ ok: true, data: { total: 0 } });
    if (full) expect(await desk.call('book.check', {})).toMatchObject({ ok: true, data: { clean: true } });
  } finally {
    await desk.close();
  }
}

function layoutOf(path: string): unknown[] {
  const raw = new Database(path, { readonly: true });
  try {
    expect(raw.pragma('integrity_check', { simple: true })).toBe('ok');
    return [
      raw.pragma('user_version', { simple: true }),
      ...raw.prepare('SELECT type, name, sql FROM sqlite_schema').all(),
    ];
  } finally {
    raw.close();
  }
}

test(
  `killed at ${KILLS} steps of making a new book: the next start has a whole book and no leftovers`,
  { timeout: 1_200_000 },
  async () => {
    const model = join(folder(), 'model.valvebook');
    const steps = await makeBookUntil(model, 'end');
    assert(steps !== null && steps > KILLS);
    const layout = layoutOf(model);
    expect(layout.length).toBeGreaterThan(30);
    const states = { absent: 0, made: 0, leftovers: 0 };
    for (let kill = 0; kill < KILLS; kill++) {
      const place = folder();
      const path = join(place, 'book.valvebook');
      // From the first step to the last, evenly.
      const step = 1 + Math.round((kill * (steps - 1)) / (KILLS - 1));
      expect(await makeBookUntil(path, step)).toBeNull();
      const left = readdirSync(place);
      if (left.some((name) => name.includes('.new'))) states.leftovers += 1;
      if (existsSync(path) && statSync(path).size > 0) states.made += 1;
      else states.absent += 1;
      // It comes by its name in one step, so a kill leaves no second one.
      for (const name of left) expect(statSync(join(place, name)).nlink, name).toBe(1);
      // The whole check loads its code anew each time; what a half-made book would lack is its layout.
      await expectGoodBook(path, kill % 8 === 0);
      expect(readdirSync(place).sort()).toEqual(['book.valvebook', 'book.valvebook-lock']);
      expect(layoutOf(path)).toEqual(layout);
    }
    // Kills that all came too early or too late would prove nothing.
    expect(states.leftovers).toBeGreaterThan(0);
    expect(states.absent).toBeGreaterThan(0);
    expect(states.made).toBeGreaterThan(0);
  },
);

test.each([
  ['an empty file', (path: string) => writeFileSync(path, '')],
  [
    'an empty file and a journal that would empty it again',
    (path: string) => {
      writeFileSync(path, '');
      writeFileSync(`${path}-wal`, '');
    },
  ],
  [
    'half a book under the name it is made with',
    (path: string) => {
      const aside = join(
        dirname(path),
        `.${createHash('sha256').update('book.valvebook').digest('hex').slice(0, 6)}.new`,
      );
      writeFileSync(aside, 'half');
      writeFileSync(`${aside}-wal`, 'half');
      writeFileSync(`${aside}-shm`, 'half');
    },
  ],
])('a first start goes on from %s', async (_, leave) => {
  const place = folder();
  const path = join(place, 'book.valvebook');
  leave(path);
  await expectGoodBook(path);
  expect(readdirSync(place).sort()).toEqual(['book.valvebook', 'book.valvebook-lock']);
});

test('an empty file is no book to one who does not make one, and stays as it is', async () => {
  const path = join(folder(), 'book.valvebook');
  writeFileSync(path, '');
  for (const access of ['read', 'write'] as const)
    await expect(openDesk({ bookPath: path, access })).rejects.toMatchObject({
      code: 'not-found',
      message: expect.stringMatching(/empty file/),
    });
  expect(statSync(path).size).toBe(0);
});

test('a file of somebody else is never written over, and a journal without its book is not taken for a new one', async () => {
  const place = folder();
  const letter = join(place, 'letter.valvebook');
  writeFileSync(letter, 'Dear client,');
  await expect(openDesk({ bookPath: letter, create: true })).rejects.toMatchObject({ code: 'book-unreadable' });
  expect(readFileSync(letter, 'utf8')).toBe('Dear client,');

  const orphan = join(place, 'orphan.valvebook');
  writeFileSync(`${orphan}-wal`, 'changes');
  await expect(openDesk({ bookPath: orphan, create: true })).rejects.toMatchObject({
    code: 'book-unreadable',
    message: expect.stringMatching(/journal/),
  });
  expect(existsSync(orphan)).toBe(false);

  const nowhere = join(place, 'nowhere.valvebook');
  symlinkSync(join(place, 'gone.valvebook'), nowhere);
  await expect(openDesk({ bookPath: nowhere, create: true })).rejects.toMatchObject({
    code: 'not-found',
    message: expect.stringMatching(/link/),
  });
});

test('a disk too small for a new book: a sentence, nothing left behind, and it is made once there is room', async ({
  skip,
}) => {
  const small = folder();
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', small], { stdio: 'ignore' });
  } catch {
    skip('skipped: cannot make a small disk here (needs root)');
  }
  onTestFinished(() => void spawnSync('umount', ['-l', small]));
  const path = join(small, 'book.valvebook');
  await expect(openDesk({ bookPath: path, create: true })).rejects.toMatchObject({
    code: 'disk',
    message: expect.stringMatching(/full/),
  });
  expect(readdirSync(small).filter((name) => !name.endsWith('-lock'))).toEqual([]);
  execFileSync('mount', ['-o', 'remount,size=8m', small], { stdio: 'ignore' });
  await expectGoodBook(path);
});
