import fc from 'fast-check';
import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { byCell, cellKey } from '../../renderer/office/calendar/calendar-model.ts';
import { makeBook, makeSite } from './make-book.ts';

// What happened last on a day is what was recorded last. Ids are made by callers from their clocks, which may be wrong or
// set back: an id of 1999 or 2105 changes nothing. Each history here is one of a single day, with ids from any time.

const DAY = '2026-06-15';
const clock = fc.constantFrom('1999-01-01', '2026-06-14', '2026-06-15', '2026-06-16', '2105-12-31');
const work = fc.oneof(
  fc.record({ kind: fc.constant('battery-swap' as const), cells: fc.integer({ min: 1, max: 4 }) }),
  fc.record({
    kind: fc.constant('sensor-check' as const),
    rainTrip: fc.constantFrom('pass' as const, 'fail' as const),
    cellsGood: fc.integer({ min: 0, max: 8 }),
  }),
  fc.record({ kind: fc.constant('backflow-test' as const), passed: fc.boolean() }),
);
const step = fc.record({
  clock,
  work,
  corrects: fc.option(fc.nat(8), { freq: 3 }),
});

test('a day told in any order of ids: lists, sensors and tests follow the order of recording', async () => {
  const book = await makeBook(DAY);
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 2, maxLength: 12 }), async (steps) => {
      const site = await makeSite(book);
      /** What stands, in the order of recording. */
      let standing: { id: string; detail: (typeof steps)[number]['work'] }[] = [];
      for (const one of steps) {
        const id = ulid(Date.parse(one.clock));
        const detail = (said: typeof one.work) =>
          said.kind === 'backflow-test' ? said : { ...said, sensorId: site.sensorId };
        const target = one.corrects === null ? undefined : standing[one.corrects];
        if (target === undefined) {
          await book.call('visit.record', {
            writeId: ulid(),
            propertyId: site.propertyId,
            doneOn: DAY,
            entries: [{ id, detail: detail(one.work) }],
          });
          standing.push({ id, detail: one.work });
        } else {
          // Same kind, and something else said: a correction that changes nothing is refused.
          const said =
            target.detail.kind === 'battery-swap'
              ? { ...target.detail, cells: (target.detail.cells % 4) + 1 }
              : target.detail.kind === 'sensor-check'
                ? { ...target.detail, cellsGood: (target.detail.cellsGood + 1) % 9 }
                : { ...target.detail, passed: !target.detail.passed };
          await book.call('ledger.correct', {
            writeId: ulid(),
            id,
            correctsId: target.id,
            correction: 'replace',
            reason: 'otherwise',
            doneOn: DAY,
            detail: detail(said),
          });
          standing = [...standing.filter((entry) => entry !== target), { id, detail: said }];
        }
      }
      const newestFirst = standing.toReversed();
      const page = await book.call('property.open', { propertyId: site.propertyId, ledgerLimit: 200 });
      expect(page.ledger.map((entry) => entry.id)).toEqual([
        ...newestFirst.map((entry) => entry.id),
        site.programEntryId,
      ]);
      const list = await book.call('ledger.list', { propertyId: site.propertyId, limit: 200 });
      expect(list.entries).toEqual(page.ledger);

      const last = <K extends (typeof steps)[number]['work']['kind']>(kind: K) =>
        newestFirst.find((entry) => entry.detail.kind === kind)?.detail as
          | Extract<(typeof steps)[number]['work'], { kind: K }>
          | undefined;
      const ofSensor = newestFirst.find(({ detail }) => detail.kind !== 'backflow-test')?.detail;
      const check = last('sensor-check');
      expect(page.sensors[0]).toMatchObject({
        cellsGood:
          ofSensor === undefined
            ? null
            : ofSensor.kind === 'battery-swap'
              ? ofSensor.cells
              : (ofSensor as { cellsGood: number }).cellsGood,
        lastCheckPassed: check === undefined ? null : check.rainTrip === 'pass',
        batteryDate: last('battery-swap') === undefined ? '2025-04-01' : DAY,
      });
      const tested = last('backflow-test');
      expect(page.property.backflowTestDue).toBe(tested === undefined ? null : tested.passed ? '2027-06-15' : DAY);
    }),
    { numRuns: 40 },
  );
  expect(await book.call('book.check', {})).toMatchObject({ clean: true });
});

test('visits of a day told with ids from any time: past ones by the work logged last, stops by their place', async () => {
  const book = await makeBook(DAY);
  const site = await makeSite(book);
  const second = ulid();
  await book.call('people.save', { writeId: ulid(), technicians: [{ id: second, name: 'Imre Castell' }] });
  // Two crews at one property; the clocks that made the ids were years apart, forwards and back.
  const visits = ['2026-06-15', '2105-12-31', '1999-01-01', '2026-06-16', '2026-06-14'].map((made, index) => ({
    id: ulid(Date.parse(made)),
    technicianId: index % 2 === 0 ? site.technicianId : second,
  }));
  for (const { id, technicianId } of visits)
    await book.call('visit.book', {
      writeId: ulid(),
      visitId: id,
      propertyId: site.propertyId,
      kind: 'repair',
      date: DAY,
      technicianId,
    });
  const listed = async (how: 'planned' | 'done') =>
    (await book.call('visit.list', { fromDate: DAY, toDate: DAY, states: [how] })).visits.map(({ id }) => id);
  const [a, b, c, d, e] = visits.map(({ id }) => id) as [string, string, string, string, string];
  const ofProperty = async () =>
    (await book.call('property.open', { propertyId: site.propertyId })).visits.map(({ id }) => id);
  // Stops 1 of both crews, then their stops 2, then stop 3.
  expect(await ofProperty()).toEqual([a, b, c, d, e]);
  const byCrew = site.technicianId < second ? [a, c, e, b, d] : [b, d, a, c, e];
  expect(await listed('planned')).toEqual(byCrew);
  expect((await book.call('day.open', { technicianId: second, date: DAY })).stops.map(({ visit }) => visit.id)).toEqual(
    [b, d],
  );

  // One was cancelled; the work of the others came into the book in an order of its own.
  await book.call('visit.cancel', { writeId: ulid(), visitId: b, reason: 'client away' });
  const logged = [e, a, d, c];
  const entry = new Map(logged.map((id, index) => [id, ulid(Date.parse('2105-01-01') - index * 86_400_000)]));
  for (const visitId of logged)
    await book.call('visit.record', {
      writeId: ulid(),
      propertyId: site.propertyId,
      visitId,
      doneOn: DAY,
      entries: [{ id: entry.get(visitId)!, detail: { kind: 'note', text: 'seen' } }],
    });
  expect(await ofProperty()).toEqual([c, d, a, e, b]);
  // The screen's cells keep that order where the places in the day say nothing.
  const rows = (await book.call('visit.list', { fromDate: DAY, toDate: DAY, states: ['done'] })).visits;
  const cells = byCell(rows.map((row) => ({ ...row, orderInDay: 1 })));
  expect(cells.get(cellKey(DAY, site.technicianId))!.map(({ id }) => id)).toEqual([a, c, e]);
  expect(await book.call('book.check', {})).toMatchObject({ clean: true });
});
