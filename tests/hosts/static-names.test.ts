import { expect, test } from 'vitest';
import { resolveInside } from '../../electron/static-files.ts';

test.each([
  '/NUL',
  '/assets/con',
  '/assets/nul.js',
  '/COM1.css',
  '/index.html.',
  '/index.html%20',
  '/.. /x',
  '/a./b.js',
])('the served folder has no file %s: Windows would take it for a device or for another file', (pathname) => {
  expect(resolveInside('/srv/site', pathname)).toBeUndefined();
});

test('names that only begin like a device are files', () => {
  expect(resolveInside('/srv/site', '/assets/console-AbCd1234.js')).toMatch(/console-AbCd1234\.js$/);
});
