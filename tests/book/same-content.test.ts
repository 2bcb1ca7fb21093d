import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { isSameContent } from '../../core/store/book-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'valvebook-same-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (name: string, content: Buffer) => {
  writeFileSync(join(folder, name), content);
  return join(folder, name);
};

it.each([0, 1, 1024 * 1024, 1024 * 1024 + 1, 3 * 1024 * 1024 - 1])(
  'tells files of %i bytes apart by their last byte, and by their length',
  (bytes) => {
    const content = Buffer.alloc(bytes, 7);
    const one = file('one', content);
    expect(isSameContent(one, file('same', content))).toBe(true);
    expect(isSameContent(one, file('longer', Buffer.concat([content, Buffer.from([7])])))).toBe(false);
    if (bytes === 0) return;
    const other = Buffer.from(content);
    other[bytes - 1] = 8;
    expect(isSameContent(one, file('other', other))).toBe(false);
  },
);
