import { expect, test } from 'vitest';
import { copyBook } from '../../core/store/copy-book.ts';
import { connect } from '../../core/store/sqlite.ts';
import { makeBook } from '../desk/make-book.ts';

test('a copy ends although another connection writes after every step, and holds one moment of the book', async () => {
  const book = await makeBook();
  await book.desk.close();
  const [writing, copying] = [connect(book.path, 'write'), connect(book.path, 'write')];
  try {
    writing.raw.exec('CREATE TABLE ballast (text TEXT)');
    const write = writing.raw.prepare('INSERT INTO ballast VALUES (?)');
    // Several steps long, so that writes fall between them.
    writing.raw.transaction(() => {
      for (let n = 0; n < 600; n += 1) write.run('x'.repeat(8000));
    })();

    let steps = 0;
    await copyBook(copying.raw, `${book.path}.copy`, () => {
      steps += 1;
      if (steps > 100) throw new Error('The copy begins anew at every write.');
      write.run('later');
    });
    expect(steps).toBeGreaterThan(4);
    const copy = connect(`${book.path}.copy`, 'read');
    try {
      expect(copy.raw.prepare('SELECT count(*) FROM ballast').pluck().get()).toBe(600);
      expect(copy.raw.pragma('integrity_check', { simple: true })).toBe('ok');
    } finally {
      await copy.close();
    }
    expect(writing.raw.prepare('SELECT count(*) FROM ballast').pluck().get()).toBe(600 + steps);
    expect(copying.raw.inTransaction).toBe(false);
  } finally {
    await writing.close();
    await copying.close();
  }
});
