import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { makeBook, makeSite } from './make-book.ts';

// While a backup takes the place of the book, everything else waits: nothing is answered with a fault of ours.

test(
  'reads, writes and jobs sent before, during and after restores are all answered',
  { timeout: 600_000 },
  async () => {
    const faults: string[] = [];
    const book = await makeBook(undefined, (text) => faults.push(text));
    const site = await makeSite(book);
    const { path: backup } = await book.call('book.backup', {});
    const replies: Promise<{ name: string; ok: boolean; code: string }>[] = [];
    const send = (name: string, input: unknown) =>
      replies.push(
        book.desk.call(name, input).then((reply) => ({
          name,
          ok: reply.ok,
          code: reply.ok ? '' : `${reply.error.code}: ${reply.error.message}`,
        })),
      );
    for (let round = 0; round < 3; round++) {
      send('book.check', {});
      for (let n = 0; n < 5; n++) send('client.list', {});
      send('book.restore', { fromPath: backup });
      for (let n = 0; n < 5; n++) send('ledger.list', { propertyId: site.propertyId });
      if (round === 0) send('export.book', {});
      send('visit.record', {
        writeId: ulid(),
        propertyId: site.propertyId,
        doneOn: '2026-06-15',
        entries: [{ id: ulid(), detail: { kind: 'note', text: `round ${round}` } }],
      });
      // Some come while the restore before them runs.
      await new Promise((resolve) => setTimeout(resolve, round * 3));
      for (let n = 0; n < 5; n++) send('due.list', { horizonDays: 14 });
    }
    const answers = await Promise.all(replies);
    expect(answers.filter((answer) => !answer.ok)).toEqual([]);
    expect(answers.filter((answer) => answer.name === 'book.restore')).toHaveLength(3);
    expect(faults).toEqual([]);
    expect((await book.call('book.check', {})).clean).toBe(true);
  },
);

test('a restore that is refused leaves the book open for all who waited', async () => {
  const book = await makeBook();
  await makeSite(book);
  const restoring = book.desk.call('book.restore', { fromPath: `${book.path}-none` });
  const reading = book.desk.call('client.list', {});
  expect(await restoring).toMatchObject({ ok: false, error: { code: 'not-found' } });
  expect(await reading).toMatchObject({ ok: true, data: { total: 1 } });
});
