import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { expect, onTestFinished, test } from 'vitest';
import { openForWriting } from '../../core/store/migrate.ts';
import { fatten, OLD_BOOK, place } from './kill-books.ts';
import { contentOf } from './kill-look.ts';

test('the copy before an upgrade has its name only once it is whole: a kill in between left half a copy that looked like one', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-upgrade-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const path = join(folder, 'shelf', 'book.valvebook');
  place(OLD_BOOK, path);
  fatten(path);
  const before = contentOf(path);
  const whole = statSync(path).size;
  const copies = () => readdirSync(join(folder, 'shelf')).filter((name) => name.startsWith('book.valvebook.before-'));

  const state = { opening: true };
  const opened = openForWriting(path, false).finally(() => (state.opening = false));
  const sizes = new Set<number>();
  const growing = new Set<number>();
  while (state.opening) {
    for (const name of copies()) sizes.add(statSync(join(folder, 'shelf', name)).size);
    for (const name of readdirSync(join(folder, 'shelf')).filter((one) => one.endsWith('.part')))
      growing.add(statSync(join(folder, 'shelf', name)).size);
    await nextTurn();
  }
  await (await opened).close();
  expect([...sizes].filter((size) => size !== whole)).toEqual([]);
  // The look was there while the copy was made, or it would have proved nothing.
  expect(growing.size).toBeGreaterThan(1);
  expect(copies()).toHaveLength(1);
  expect(contentOf(join(folder, 'shelf', copies()[0]!))).toBe(before);
});
