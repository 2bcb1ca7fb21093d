import { expect, test } from 'vitest';
import { isOpenHere, identityOf } from '../../core/store/open-files.ts';
import { makeBook, makeSite } from './make-book.ts';

// SQLite's own check of the file runs in a thread of its own and hears nothing until it has ended.

test('a check that is cancelled while the file is looked at answers, and what comes next finds the book let go', async () => {
  const book = await makeBook();
  await makeSite(book);
  const { path: backup } = await book.call('book.backup', {});
  for (let round = 0; round < 5; round++) {
    const stop = new AbortController();
    const labels: string[] = [];
    const checking = book.desk.call(
      'book.check',
      {},
      {
        signal: stop.signal,
        onProgress: ({ label }) => {
          labels.push(label);
          if (label === 'Checking the file') stop.abort();
        },
      },
    );
    const restoring = book.desk.call('book.restore', { fromPath: backup });
    expect(await checking).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(labels).toContain('Checking the file');
    expect(await restoring).toMatchObject({ ok: true });
  }
  expect(await book.call('book.check', {})).toMatchObject({ clean: true });
  await book.desk.close();
  expect(isOpenHere(identityOf(book.path))).toBe(false);
});

test('closing in the middle of a check lets go of the book', async () => {
  const book = await makeBook();
  await makeSite(book);
  const begun = Promise.withResolvers<void>();
  const checking = book.desk.call(
    'book.check',
    {},
    { onProgress: ({ label }) => label === 'Checking the file' && begun.resolve() },
  );
  await begun.promise;
  await book.desk.close();
  expect((await checking).ok).toBe(false);
  expect(isOpenHere(identityOf(book.path))).toBe(false);
});
