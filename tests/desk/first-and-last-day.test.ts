import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { expect, onTestFinished, test } from 'vitest';
import { findRequest, type InputOf, type OutputOf, type RequestName } from '../../core/contract/index.ts';
import { openDesk } from '../../core/desk/desk.ts';
import { makeDemoBook } from '../../core/demo/make-demo-book.ts';
import { makeBook, makeSite } from './make-book.ts';

// Dates are taken from 1900-01-01 to 2199-12-31. What is worked out from the first and the last of them lies a little outside,
// and is answered all the same.

test.each(['1900-01-01', '2199-12-31'])('what is asked of %s is answered as the contract says', async (day) => {
  const book = await makeBook();
  const { propertyId, sensorId, zoneIds } = await makeSite(book);
  for (const doneOn of ['1900-01-01', '2026-06-15'])
    await book.call('visit.record', {
      writeId: ulid(),
      propertyId,
      doneOn,
      entries: [{ id: ulid(), detail: { kind: 'battery-swap', sensorId, cells: 1 } }],
    });
  const asked = async <N extends RequestName>(name: N, input: InputOf<N>) => {
    const data = await book.call(name, input);
    findRequest(name)!.output.parse(data);
    return data;
  };
  await asked('due.list', { onDate: day, horizonDays: 365 });
  await asked('property.open', { propertyId, onDate: day });
  await asked('client.list', { onDate: day });
  await asked('visit.list', { fromDate: day, toDate: day });
  await asked('work.summary', { year: 2026, onDate: day });
  const week = await asked('program.week', { propertyId, date: day });
  expect(week.days.map(({ date }) => date)).toContain(day);
  expect(week.days).toHaveLength(7);
  for (const name of ['program.review', 'program.recommend'] as const) {
    const input = name === 'program.review' ? { propertyId, month: 7, onDate: day } : { propertyId, month: 7 };
    const reply = await book.desk.call(name, input);
    // This book has no weather station, and says so.
    if (!reply.ok) expect(reply.error.code).toBe('conflict');
    else findRequest(name)!.output.parse(reply.data);
  }
  const trace = await book.desk.call('zone.trace', { zoneId: zoneIds[0]!, fromDate: day, toDate: day });
  if (!trace.ok) expect(trace.error.code).toBe('conflict');
});

test('programs are reviewed, run and traced on the first and the last day, in a book with weather', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-days-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const bookPath = join(folder, 'book.valvebook');
  await makeDemoBook({ path: bookPath, properties: 6, seed: 5, today: '2026-06-15' });
  for (const day of ['1900-01-01', '2199-12-31']) {
    const desk = await openDesk({ bookPath, today: () => day });
    try {
      const asked = async <N extends RequestName>(name: N, input: InputOf<N>): Promise<OutputOf<N>> => {
        const reply = await desk.call(name, input);
        const wrong = reply.ok ? (findRequest(name)!.output.safeParse(reply.data).error?.issues ?? []) : reply.error;
        expect({ name, input, wrong }).toEqual({ name, input, wrong: [] });
        return (reply as { data: OutputOf<N> }).data;
      };
      let reviews = 0;
      const list = await asked('client.list', { limit: 40, onDate: day });
      for (const { propertyId } of list.rows) {
        if (propertyId === null) continue;
        const site = await asked('property.open', { propertyId, onDate: day });
        for (const month of [1, 7, 12]) {
          const review = await asked('program.review', { propertyId, month, onDate: day });
          expect(review.weekNow.days).toHaveLength(7);
          reviews += 1;
          await asked('program.recommend', { propertyId, month });
        }
        const week = await asked('program.week', { propertyId, date: day });
        expect(week.days.map(({ date }) => date)).toContain(day);
        for (const { id: zoneId } of site.zones)
          for (const programs of ['in-force', 'advice'] as const)
            await asked('zone.trace', { zoneId, fromDate: day, toDate: day, programs });
      }
      await asked('due.list', { onDate: day, horizonDays: 365 });
      await asked('due.list', {});
      await asked('work.summary', { year: Number(day.slice(0, 4)) < 1990 ? 1990 : 2199, onDate: day });
      await asked('work.summary', { year: 2026 });
      await asked('ledger.list', { fromDate: day, toDate: day });
      await asked('visit.list', { fromDate: day, toDate: day });
      await asked('program.reviewAll', { month: 7 });
      expect(reviews).toBe(18);
    } finally {
      await desk.close();
    }
  }
});

test('work done on the last day leaves a book that can be read and is clean', async () => {
  const book = await makeBook('2199-12-31');
  const { propertyId, sensorId } = await makeSite(book);
  for (const detail of [
    { kind: 'backflow-test' as const, passed: true },
    { kind: 'battery-swap' as const, sensorId, cells: 1 },
    { kind: 'winterization' as const },
    { kind: 'start-up' as const },
  ])
    await book.call('visit.record', {
      writeId: ulid(),
      propertyId,
      doneOn: '2199-12-31',
      entries: [{ id: ulid(), detail }],
    });
  for (const [name, input] of [
    ['property.open', { propertyId }],
    ['due.list', { horizonDays: 365 }],
    ['client.list', {}],
  ] as const)
    expect(findRequest(name)!.output.safeParse(await book.call(name, input)).error?.issues ?? []).toEqual([]);
  expect((await book.call('book.check', {})).checks.filter((check) => !check.passed)).toEqual([]);
});
