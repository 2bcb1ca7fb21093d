import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import type { Reply } from '../../core/contract/index.ts';
import { makeBook, makeSite } from './make-book.ts';

// While a book's file is exchanged or put away, whoever asks waits or hears one true sentence: "internal" is for faults.

test('reads and jobs that come while a backup takes the place of the book wait for it, and answer', async () => {
  const faults: string[] = [];
  const book = await makeBook('2026-06-15', (text) => faults.push(text));
  const site = await makeSite(book);
  const { path } = await book.call('book.backup', {});
  const state = { restoring: true };
  const restored = book.call('book.restore', { fromPath: path }).finally(() => (state.restoring = false));
  const replies: Promise<Reply>[] = [];
  while (state.restoring) {
    replies.push(book.desk.call('property.open', { propertyId: site.propertyId }), book.desk.call('client.list', {}));
    await new Promise((resolve) => setTimeout(resolve, 1));
  }
  await restored;
  const refused = (await Promise.all(replies)).filter((reply) => !reply.ok);
  expect(replies.length).toBeGreaterThan(20);
  expect(refused).toEqual([]);
  expect(faults).toEqual([]);
});

test('closing lets running reads end, and a job that it breaks off says so', async () => {
  const faults: string[] = [];
  const book = await makeBook('2026-06-15', (text) => faults.push(text));
  const site = await makeSite(book);
  const reads = Array.from({ length: 50 }, () => book.desk.call('property.open', { propertyId: site.propertyId }));
  const job = book.desk.call('book.check', {});
  const write = book.desk.call('client.save', { writeId: ulid(), client: { id: ulid(), name: 'Before the close' } });
  await write;
  await book.desk.close();
  for (const reply of await Promise.all(reads)) expect(reply).toMatchObject({ ok: true });
  const checked = await job;
  if (!checked.ok) expect(checked.error).toMatchObject({ code: 'cancelled', message: expect.stringMatching(/closed/) });
  expect(await book.desk.call('client.list', {})).toMatchObject({ ok: false, error: { code: 'conflict' } });
  expect(faults).toEqual([]);
});
