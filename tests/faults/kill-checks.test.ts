import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { chance } from '../../core/demo/random.ts';
import { makeBook, makeSite } from '../desk/make-book.ts';
import { shortfalls } from './fuzz.ts';
import { leftOver } from './kill-look.ts';
import { checkWrites, nextWrite, type Sent } from './kill-writes.ts';
import { spoil } from './spoil.ts';
import { faultOf } from './verdict.ts';
import { REQUESTS } from '../../core/contract/index.ts';

// What looks for harm must find it: each kind is done to a book by hand here.

test('what a kill must not do is found when it is done: lost, half, answered otherwise', async () => {
  const book = await makeBook();
  const { zoneIds, ...site } = await makeSite(book);
  const call = (name: string, input: unknown) => book.desk.call(name, input);
  const dice = chance('kill-checks');
  const sent: Sent[] = [];
  for (let n = 1; n <= 12; n += 1) {
    const write = nextWrite({ ...site, zoneId: zoneIds[0]! }, dice, n);
    const reply = await call(write.name, write.input);
    if (!reply.ok) throw new Error(reply.error.message);
    sent.push({ write, answer: reply.data });
  }
  expect(await checkWrites(book.path, sent, call)).toEqual([]);

  // A first write with parts that SQL may take away: a new client.
  const first = sent[0]!;
  const raw = new Database(book.path);
  raw.prepare('DELETE FROM client WHERE id = ?').run((first.write.input as any).client.id);
  expect((await checkWrites(book.path, sent.slice(0, 1), call))[0]).toMatchObject({ harm: 'half' });
  raw.prepare('DELETE FROM writeLog WHERE writeId = ?').run(first.write.input.writeId);
  expect((await checkWrites(book.path, sent.slice(0, 1), call))[0]).toMatchObject({ harm: 'lost' });
  // The look sent it again, so it is back; without an answer it may also have been absent.
  raw.prepare('DELETE FROM client WHERE id = ?').run((first.write.input as any).client.id);
  raw.prepare('DELETE FROM writeLog WHERE writeId = ?').run(first.write.input.writeId);
  raw.close();
  expect(await checkWrites(book.path, [{ write: first.write }], call)).toEqual([]);
  expect(await checkWrites(book.path, [{ ...sent[1]!, answer: { other: true } }], call)).toMatchObject([
    { harm: 'doubled' },
  ]);
});

test('files left under a passing name are found, the book and its own are not', async () => {
  const book = await makeBook();
  expect(leftOver(dirname(book.path))).toEqual([]);
  for (const name of ['.book.valvebook.12-ab.restoring', 'x.part']) writeFileSync(join(dirname(book.path), name), '');
  expect(leftOver(dirname(book.path)).map((finding) => finding.harm)).toEqual(['left over', 'left over']);
});

test('an answer out of shape, of no known code, or that tells of the inside is a fault', () => {
  const audit = REQUESTS.find((request) => request.name === 'people.save')!;
  expect(faultOf(audit, 200, { ok: true, data: { saved: 1 } })).toBeNull();
  // What JSON makes of a figure that is none.
  expect(faultOf(audit, 200, { ok: true, data: { saved: null } })).toMatch(/another shape/);
  expect(faultOf(audit, 500, { ok: true, data: { saved: 1 } })).toMatch(/status 500/);
  expect(faultOf(audit, 200, { ok: false, error: { code: 'internal', message: 'A fault of its own.' } })).toMatch(
    /internal/,
  );
  expect(faultOf(audit, 200, { ok: false, error: { code: 'disk', message: 'SQLITE_IOERR came back.' } })).toMatch(
    /inside/,
  );
  expect(faultOf(audit, 200, { ok: false, error: { code: 'disk', message: 'The disk is full.' } })).toBeNull();
  expect(shortfalls(new Map([['client.list', new Map([['ok', 19]])]]), 20)).toContain('client.list: 19 of 20');
});

test('spoiling changes nearly every input, makes fields named like parts of a prototype, and touches no prototype', () => {
  const dice = chance('spoil');
  const input = {
    writeId: '01ARZ3NDEKTSV4RRFFQ69G5FAV',
    limit: 20,
    onDate: '2026-06-15',
    names: ['a', 'b'],
    deep: { on: true },
  };
  const spoiled = Array.from({ length: 2000 }, () =>
    JSON.stringify(spoil(input, dice, ['01ARZ3NDEKTSV4RRFFQ69G5FAW'])),
  );
  const whole = JSON.stringify(input);
  expect(spoiled.filter((text) => text === whole).length).toBeLessThan(60);
  expect(JSON.stringify(input)).toBe(whole);
  for (const piece of ['"__proto__"', '2026-02-30', '"limit":null', '5e-324', '01ARZ3NDEKTSV4RRFFQ69G5FAW'])
    expect(spoiled.some((text) => text.includes(piece))).toBe(true);
  expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
});
