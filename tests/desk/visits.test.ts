import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { PLAIN_READER, sayFact } from '../../core/text/say.ts';
import { makeBook, makeSite, type Site, type TestBook } from './make-book.ts';

const english = (told: { key: string; given?: unknown }) => sayFact(PLAIN_READER, told);

async function bookThree(book: TestBook, site: Site): Promise<string[]> {
  const ids = [ulid(), ulid(), ulid()];
  for (const visitId of ids)
    await book.call('visit.book', {
      writeId: ulid(),
      visitId,
      propertyId: site.propertyId,
      kind: 'repair',
      date: '2026-06-16',
      technicianId: site.technicianId,
    });
  return ids;
}
const order = async (book: TestBook, date: string) =>
  (await book.call('visit.list', { fromDate: date, toDate: date })).visits.map((visit) => [visit.id, visit.orderInDay]);

test('visits keep a gapless order in the day through booking, moving and cancelling', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const [a, b, c] = (await bookThree(book, site)) as [string, string, string];
  expect(await order(book, '2026-06-16')).toEqual([
    [a, 1],
    [b, 2],
    [c, 3],
  ]);
  await book.call('visit.move', {
    writeId: ulid(),
    visitId: c,
    date: '2026-06-16',
    technicianId: site.technicianId,
    orderInDay: 1,
  });
  expect(await order(book, '2026-06-16')).toEqual([
    [c, 1],
    [a, 2],
    [b, 3],
  ]);
  const moved = await book.call('visit.move', {
    writeId: ulid(),
    visitId: a,
    date: '2026-06-17',
    technicianId: site.technicianId,
  });
  expect(await order(book, '2026-06-16')).toEqual([
    [c, 1],
    [b, 2],
  ]);
  expect(moved.before).toMatchObject({ date: '2026-06-16', orderInDay: 2 });
  await book.call('visit.move', {
    writeId: ulid(),
    visitId: a,
    date: moved.before.date,
    technicianId: moved.before.technicianId,
    orderInDay: moved.before.orderInDay,
  });
  expect(await order(book, '2026-06-16')).toEqual([
    [c, 1],
    [a, 2],
    [b, 3],
  ]);
  await book.call('visit.cancel', { writeId: ulid(), visitId: c, reason: 'client away' });
  expect(await order(book, '2026-06-16')).toEqual([
    [a, 1],
    [b, 2],
  ]);
  await book.call('visit.cancel', { writeId: ulid(), visitId: c, restore: true });
  expect((await order(book, '2026-06-16')).map(([id]) => id)).toEqual([c, a, b]);
});

test('warns of an over-full day, a day off and a missing skill, and says how full each day is', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const bookOn = (date: string, kind: 'repair' | 'backflow-test', expectedMinutes: number) =>
    book.call('visit.book', {
      writeId: ulid(),
      visitId: ulid(),
      propertyId: site.propertyId,
      kind,
      date,
      technicianId: site.technicianId,
      expectedMinutes,
    });
  expect((await bookOn('2026-06-16', 'repair', 500)).warnings).toEqual([]);
  expect((await bookOn('2026-06-16', 'repair', 60)).warnings.map(english).join()).toMatch(
    /over-full: 560 minutes booked of 510/,
  );
  expect((await bookOn('2026-06-20', 'repair', 60)).warnings.map(english).join()).toMatch(
    /does not work on that weekday/,
  );
  expect((await bookOn('2026-06-17', 'backflow-test', 30)).warnings.map(english).join()).toMatch(
    /not listed for this kind of work/,
  );
  const { load } = await book.call('visit.list', { fromDate: '2026-06-16', toDate: '2026-06-16' });
  expect(load).toEqual([
    { date: '2026-06-16', technicianId: site.technicianId, visits: 2, bookedMinutes: 560, availableMinutes: 510 },
  ]);
});

test('a done visit is not moved or cancelled, a locked one stays in its day', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const [a, b] = (await bookThree(book, site)) as [string, string, string];
  await book.call('visit.move', {
    writeId: ulid(),
    visitId: b,
    date: '2026-06-16',
    technicianId: site.technicianId,
    locked: true,
  });
  expect(
    await book.fails('visit.move', {
      writeId: ulid(),
      visitId: b,
      date: '2026-06-18',
      technicianId: site.technicianId,
    }),
  ).toMatchObject({ code: 'conflict', field: 'locked' });
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    visitId: a,
    technicianId: site.technicianId,
    doneOn: '2026-06-15',
    entries: [{ id: ulid(), detail: { kind: 'repair', what: 'Swapped a nozzle' } }],
  });
  expect((await book.fails('visit.cancel', { writeId: ulid(), visitId: a })).code).toBe('conflict');
  expect((await book.fails('visit.move', { writeId: ulid(), visitId: a, date: '2026-06-18' })).code).toBe('conflict');
  expect(
    (
      await book.fails('visit.record', {
        writeId: ulid(),
        propertyId: site.propertyId,
        doneOn: '2026-06-16',
        entries: [{ id: ulid(), detail: { kind: 'note', text: 'tomorrow' } }],
      })
    ).field,
  ).toBe('doneOn');
});

test("the technician's day comes in order with what is needed at the gate", async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const ids = await bookThree(book, site);
  const { property, version } = await book.call('property.open', { propertyId: site.propertyId });
  await book.call('property.save', {
    writeId: ulid(),
    property: { ...property, gateCode: '4471', dogNote: 'friendly, loose' },
    version,
  });
  const day = await book.call('day.open', { technicianId: site.technicianId, date: '2026-06-16' });
  expect(day.stops.map((stop) => stop.visit.id)).toEqual(ids);
  expect(day.stops[0]).toMatchObject({
    gateCode: '4471',
    dogNote: 'friendly, loose',
    zoneCount: 3,
    sensorCount: 1,
    clientName: 'Perrin Household',
  });
});

test("the owner's counts leave voided work out and count corrected work once", async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const keep = ulid();
  const drop = ulid();
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: site.technicianId,
    doneOn: '2026-06-02',
    entries: [
      { id: keep, detail: { kind: 'start-up' } },
      { id: drop, detail: { kind: 'note', text: 'x' } },
    ],
  });
  await book.call('ledger.correct', {
    writeId: ulid(),
    id: ulid(),
    correctsId: drop,
    correction: 'void',
    reason: 'no',
  });
  await book.call('ledger.correct', {
    writeId: ulid(),
    id: ulid(),
    correctsId: keep,
    correction: 'replace',
    reason: 'pressure read',
    detail: { kind: 'start-up', staticPressurePsi: 62 },
  });
  const summary = await book.call('work.summary', { year: 2026 });
  expect(summary.byMonth).toEqual([{ month: 6, kind: 'start-up', count: 1 }]);
  expect(summary.corrections).toBe(2);
  expect(summary.properties.startUp).toMatchObject({ serviced: 1, done: 1, booked: 0, notBooked: 0 });
  expect(summary.byTechnician[0]).toMatchObject({ name: 'Odalys Fenn', entries: 1 });
});
