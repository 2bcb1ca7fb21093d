import fc from 'fast-check';
import { ulid } from 'ulid';
import { expect, test } from 'vitest';
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
      expect(page.ledger.map((entry) => entry.id)).toEqual(newestFirst.map((entry) => entry.id));
      const list = await book.call('ledger.list', { propertyId: site.propertyId, limit: 200 });
      expect(list.entries.map((entry) => entry.id)).toEqual(newestFirst.map((entry) => entry.id));

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
