import { mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { putInPlace } from '../../core/book/put-in-place.ts';

// The system's refusal is made up here; `npm run windows` meets the real one.

function twoFiles(): { from: string; to: string } {
  const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const files = { from: path.join(folder, 'new'), to: path.join(folder, 'old') };
  writeFileSync(files.from, 'new');
  writeFileSync(files.to, 'old');
  return files;
}
const refusing =
  (code: string, times: number): typeof renameSync =>
  (from, to) => {
    if (times-- > 0) throw Object.assign(new Error(code), { code });
    renameSync(from, to);
  };

test('a file held for a moment is put in place when it is let go', () => {
  const { from, to } = twoFiles();
  putInPlace(from, to, 'fromPath', refusing('EBUSY', 3));
  expect(readFileSync(to, 'utf8')).toBe('new');
});

test('a file that stays open elsewhere is said so, and both files are as they were', () => {
  const { from, to } = twoFiles();
  expect(() => putInPlace(from, to, 'fromPath', refusing('EBUSY', Infinity))).toThrow(/Another program has .*old open/);
  expect([readFileSync(from, 'utf8'), readFileSync(to, 'utf8')]).toEqual(['new', 'old']);
});

test('any other refusal is passed on at once', () => {
  const { from, to } = twoFiles();
  expect(() => putInPlace(from, to, 'fromPath', refusing('ENOSPC', 1))).toThrow('ENOSPC');
});
