import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { diskError } from '../../core/book/files.ts';
import { BookError, toFailure } from '../../core/errors.ts';

// Codes of errno(3) and of sqlite.org/rescode.html. A sentence may say no more than its code does.

const failed = (code: string) => Object.assign(new Error('refused'), { code });
const PLACE = '/disk/folder/copy.valvebook';
const sentence = (code: string): string => {
  const error = diskError(failed(code), PLACE, 'toPath');
  if (!(error instanceof BookError)) throw new Error(`${code} has no sentence`);
  expect(error).toMatchObject({ code: 'disk', field: 'toPath' });
  return error.message;
};

describe('what a disk refuses while a copy is written', () => {
  it.each([
    ['ENOSPC', /^The disk is full/],
    ['SQLITE_FULL', /^The disk is full/],
    ['EDQUOT', /^Your share of the disk is used up/],
    ['EFBIG', /larger than its disk allows a file to be/],
    ['EROFS', /^The disk of \/disk\/folder is read-only/],
    ['EACCES', /^The folder \/disk\/folder cannot be written to/],
    ['EPERM', /^The folder \/disk\/folder cannot be written to/],
    ['SQLITE_READONLY_DIRECTORY', /^The folder \/disk\/folder cannot be written to/],
    // The folder of this test is not there: SQLite does not say so, the system is asked.
    ['SQLITE_CANTOPEN', /^The folder \/disk\/folder is not there any more/],
    ['ENOENT', /^The folder \/disk\/folder is not there any more/],
    ['ENOTDIR', /^\/disk\/folder is not a folder/],
    ['SQLITE_IOERR_WRITE', /^The disk would not take/],
  ])('%s', (code, words) => {
    expect(sentence(code)).toMatch(words);
    if (!/ENOSPC|FULL/.test(code)) expect(sentence(code)).not.toMatch(/disk is full/);
  });

  it('SQLITE_CANTOPEN in a folder that may be written to blames no folder', () => {
    const error = diskError(failed('SQLITE_CANTOPEN'), join(tmpdir(), 'copy.valvebook'), 'toPath');
    expect((error as BookError).message).toMatch(/copy\.valvebook cannot be made or opened/);
  });

  it('leaves what is no disk’s doing as it is', () => {
    const error = failed('SQLITE_CORRUPT');
    expect(diskError(error, PLACE, 'toPath')).toBe(error);
  });
});

describe('what a disk refuses while the book is used', () => {
  it.each([
    ['SQLITE_FULL', /would not take the change \(it may be full\)/],
    ['SQLITE_IOERR_WRITE', /would not take the change/],
    ['SQLITE_IOERR_READ', /did not give back what is in the book/],
    ['SQLITE_IOERR_SHORT_READ', /did not give back what is in the book/],
    ['SQLITE_READONLY', /read-only, so nothing was changed/],
    ['EROFS', /read-only, so nothing was changed/],
    ['EACCES', /read-only, or closed to you, so it could not be opened/],
    ['SQLITE_CANTOPEN', /read-only, or closed to you, so it could not be opened/],
  ])('%s', (code, words) => {
    expect(toFailure(failed(code))).toMatchObject({ code: 'disk', message: expect.stringMatching(words) });
  });
});
