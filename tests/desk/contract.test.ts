import { z } from 'zod';
import { expect, test } from 'vitest';
import { findRequest, REQUESTS } from '../../core/contract/index.ts';
import { handlers, jobHandlers } from '../../core/desk/handlers.ts';
import { makeBook } from './make-book.ts';

// Names that the project's issues fixed: other programs may rely on them from here on.
const STABLE = [
  'client.list',
  'client.save',
  'property.open',
  'property.save',
  'program.revise',
  'program.week',
  'visit.book',
  'visit.move',
  'visit.cancel',
  'visit.record',
  'ledger.list',
  'ledger.correct',
  'due.list',
  'import.preview',
  'import.apply',
  'export.book',
  'book.check',
  'book.backup',
  'book.restore',
  'agronomy.eto',
  'zone.audit',
  'program.recommend',
  'program.review',
  'program.reviewAll',
  'program.accept',
];

test('every request has exactly one handler, of its kind, and the stable names are there', () => {
  const names = REQUESTS.map((request) => request.name);
  expect(new Set(names).size).toBe(names.length);
  for (const request of REQUESTS) {
    // Restoring swaps the file under the open connections, so the desk itself does it.
    if (request.name === 'book.restore') continue;
    expect([request.name, request.name in (request.kind === 'job' ? jobHandlers : handlers)]).toEqual([
      request.name,
      true,
    ]);
  }
  expect(Object.keys(handlers).length + Object.keys(jobHandlers).length).toBe(names.length - 1);
  for (const name of STABLE) expect(findRequest(name)?.name).toBe(name);
});

test('every request prints a JSON schema, and every write carries the id that makes a repeat the same write', () => {
  for (const request of REQUESTS) {
    const schema = z.toJSONSchema(request.input, { io: 'input' }) as { type?: string; required?: string[] };
    expect(schema.type).toBe('object');
    if (request.kind === 'write') expect(schema.required).toContain('writeId');
  }
});

test('an unknown request and a closed book are answered with a sentence', async () => {
  const book = await makeBook();
  expect(await book.fails('client.list', { search: 5 })).toMatchObject({
    code: 'bad-input',
    field: 'search',
    message: '“search” must be text.',
  });
  expect(await book.desk.call('no.such', {})).toMatchObject({ ok: false, error: { code: 'unknown-request' } });
  await book.desk.close();
  expect(await book.desk.call('client.list', {})).toMatchObject({ ok: false, error: { code: 'conflict' } });
});

test('writes started together run one after another, and all of them land', async () => {
  const book = await makeBook();
  const { ulid } = await import('ulid');
  const replies = await Promise.all(
    Array.from({ length: 40 }, (_, n) =>
      book.desk.call('client.save', { writeId: ulid(), client: { id: ulid(), name: `Client ${n}` } }),
    ),
  );
  expect(replies.every((reply) => reply.ok)).toBe(true);
  expect((await book.call('client.list', {})).total).toBe(40);
});

test('changes are announced by topic, a repeated write is not announced again', async () => {
  const book = await makeBook();
  const { ulid } = await import('ulid');
  const heard: string[][] = [];
  book.desk.onChange((topics) => heard.push(topics));
  const input = { writeId: ulid(), client: { id: ulid(), name: 'Once' } };
  await book.call('client.save', input);
  await book.call('client.save', input);
  expect(heard).toEqual([['client']]);
});
