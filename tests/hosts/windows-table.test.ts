import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { bundleEntries } from '../windows/bundle.ts';
import { countsOf, rowsOf } from '../windows/run.ts';
import { findWine } from '../windows/wine.ts';

// What `npm run windows` says where it cannot run, and how it counts what its checks noted.

test.skipIf(process.platform === 'win32')('where there is no Wine it says skipped and why, and does not fail', () => {
  const { status, stdout } = spawnSync(process.execPath, [path.resolve('tests/windows/run.ts')], {
    env: { ...process.env, VALVEBOOK_WINE: '/no/such/wine' },
    encoding: 'utf8',
  });
  expect(stdout).toMatch(/^skipped: there is no Wine on this machine/);
  expect(status).toBe(0);
});

test('Wine is looked for in the path, then where systems put it', () => {
  expect(findWine({ PATH: '/no/such/folder' }, [])).toBeUndefined();
  expect(findWine({ VALVEBOOK_WINE: process.execPath })).toBe(process.execPath);
});

const noted = (...lines: object[]) => lines.map((line) => `${JSON.stringify(line)}\n`).join('');

test('a check that never ended has failed, and so has a group that could not be loaded', () => {
  const begun = noted(
    { names: ['one', 'two', 'three'] },
    { name: 'one', state: 'passed' },
    { name: 'two', state: 'skipped' },
  );
  const rows = rowsOf('books', begun, 'stopped');
  expect(rows.map(({ name, state }) => [name, state])).toEqual([
    ['one', 'passed'],
    ['two', 'skipped'],
    ['three', 'failed'],
  ]);
  expect(countsOf(rows)).toBe('1 passed, 1 failed, 1 skipped');
  expect(rowsOf('books', begun, 3)[2]).toMatchObject({ state: 'failed', word: 'the program ended before it (3)' });
  expect(rowsOf('books', '', 1)).toMatchObject([{ name: 'books', state: 'failed' }]);
});

test('every file it bundles is there, so that a move elsewhere cannot break it unseen', () => {
  const entries = Object.values(bundleEntries(path.resolve('.')));
  expect(entries.length).toBeGreaterThan(8);
  expect(entries.filter((file) => !existsSync(file))).toEqual([]);
});
