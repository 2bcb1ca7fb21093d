import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { expect, onTestFinished, test } from 'vitest';
import type { Progress } from '../../core/contract/index.ts';
import { openForWriting } from '../../core/book/migrate.ts';
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

const oldBook = (): { folder: string; path: string } => {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-upgrade-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const path = join(folder, 'shelf', 'book.valvebook');
  place(OLD_BOOK, path);
  return { folder, path };
};

test('an upgrade says how far it is and gives others their turn', async () => {
  const { path } = oldBook();
  const told: Progress[] = [];
  let turns = 0;
  const ticking = setInterval(() => (turns += 1), 0);
  const connection = await openForWriting(path, false, { progress: (progress) => void told.push(progress) });
  clearInterval(ticking);
  await connection.close();
  const labels = [...new Set(told.map(({ label }) => label))];
  expect(labels).toEqual([
    'Copying the book before it is brought up to date',
    'Looking at the copy',
    'Bringing the book up to date',
  ]);
  for (const label of labels) {
    const steps = told.filter((one) => one.label === label);
    expect(steps.map(({ done }) => done)).toEqual(steps.map(({ done }) => done).toSorted((a, b) => a - b));
    expect(steps.every(({ done, total }) => done <= total)).toBe(true);
  }
  expect(told.at(-1)).toMatchObject({ label: 'Bringing the book up to date', done: told.at(-1)!.total });
  expect(turns).toBeGreaterThan(0);
});

test.each(['Copying', 'Looking', 'Bringing'])(
  'one that is stopped while %s … leaves every row, and goes on at the next opening',
  async (when) => {
    const { folder, path } = oldBook();
    const before = contentOf(path);
    const stopping = new AbortController();
    const progress = ({ label }: Progress) => {
      if (label.startsWith(when)) stopping.abort();
    };
    await expect(openForWriting(path, false, { progress, signal: stopping.signal })).rejects.toMatchObject({
      code: 'cancelled',
    });
    // Before somebody looks into it, which makes files of its own.
    const beside = readdirSync(join(folder, 'shelf'));
    expect(contentOf(path)).toBe(before);
    expect(beside.filter((name) => /\.part|-wal$|-shm$/.test(name))).toEqual([]);
    const connection = await openForWriting(path, false);
    expect(connection.findings()).toEqual([]);
    await connection.close();
  },
);
