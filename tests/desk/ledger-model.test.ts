import fc from 'fast-check';
import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { makeBook, makeSite } from './make-book.ts';

// Any history of recording, correcting and voiding leaves the same truth as a list kept by hand.

interface Fact {
  id: string;
  date: string;
  minutes: number;
  cells: number;
  versions: number;
}

const date = fc
  .integer({ min: 0, max: 400 })
  .map((n) => new Date(Date.UTC(2025, 4, 1) + n * 86_400_000).toISOString().slice(0, 10));
const step = fc.oneof(
  fc.record({
    act: fc.constant('record' as const),
    date,
    cells: fc.integer({ min: 1, max: 4 }),
    minutes: fc.integer({ min: 1, max: 90 }),
  }),
  fc.record({
    act: fc.constant('replace' as const),
    which: fc.nat(20),
    date,
    cells: fc.integer({ min: 1, max: 4 }),
    minutes: fc.integer({ min: 1, max: 90 }),
  }),
  fc.record({ act: fc.constant('void' as const), which: fc.nat(20) }),
);

test('battery swaps: the sensor and the list always say what still stands', { timeout: 120_000 }, async () => {
  const book = await makeBook('2026-06-15');
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 14 }), async (steps) => {
      const site = await makeSite(book);
      const standing: Fact[] = [];
      for (const one of steps) {
        const id = ulid();
        if (one.act === 'record') {
          await book.call('visit.record', {
            writeId: ulid(),
            propertyId: site.propertyId,
            doneOn: one.date,
            entries: [{ id, detail: { kind: 'battery-swap', sensorId: site.sensorId, cells: one.cells } }],
          });
          standing.push({ id, date: one.date, cells: one.cells, minutes: 0, versions: 0 });
          continue;
        }
        const target = standing[one.which];
        if (!target) continue;
        if (one.act === 'void') {
          await book.call('ledger.correct', {
            writeId: ulid(),
            id,
            correctsId: target.id,
            correction: 'void',
            reason: 'did not happen',
          });
          standing.splice(one.which, 1);
        } else {
          await book.call('ledger.correct', {
            writeId: ulid(),
            id,
            correctsId: target.id,
            correction: 'replace',
            reason: 'otherwise',
            doneOn: one.date,
            detail: { kind: 'battery-swap', sensorId: site.sensorId, cells: one.cells },
          });
          standing[one.which] = { id, date: one.date, cells: one.cells, minutes: 0, versions: target.versions + 1 };
        }
      }
      const page = await book.call('property.open', { propertyId: site.propertyId, ledgerLimit: 200 });
      const newestFirst = standing.toSorted((a, b) =>
        a.date === b.date ? (a.id < b.id ? 1 : -1) : a.date < b.date ? 1 : -1,
      );
      const swaps = page.ledger.filter((entry) => entry.id !== site.programEntryId);
      expect(swaps.map((entry) => [entry.id, entry.doneOn, entry.historyLength])).toEqual(
        newestFirst.map((fact) => [fact.id, fact.date, fact.versions]),
      );
      // The property came with a battery of 2025-04-01; every swap here is later.
      expect(page.sensors[0]).toMatchObject({
        batteryDate: newestFirst[0]?.date ?? '2025-04-01',
        cellsGood: newestFirst[0]?.cells ?? null,
      });
    }),
    { numRuns: 25 },
  );
  expect(await book.call('book.check', {})).toMatchObject({ clean: true });
});

test(
  'run times: the program in force is always the one of the last change that still stands',
  { timeout: 120_000 },
  async () => {
    const book = await makeBook('2026-06-15');
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 10 }), async (steps) => {
        const site = await makeSite(book);
        const zoneId = site.zoneIds[0]!;
        const standing: Fact[] = [];
        const change = (minutes: number) => ({
          kind: 'run-time-change' as const,
          programId: site.programId,
          revisionId: ulid(),
          runs: [{ zoneId, runMinutes: minutes }],
        });
        let serial = 0;
        for (const one of steps) {
          const id = ulid();
          // Every change sets minutes nobody set before, so that none is refused as no change.
          serial += 1;
          const minutes = 100 + serial;
          if (one.act === 'record') {
            await book.call('visit.record', {
              writeId: ulid(),
              propertyId: site.propertyId,
              doneOn: one.date,
              entries: [{ id, detail: change(minutes) }],
            });
            standing.push({ id, date: one.date, minutes, cells: serial, versions: 0 });
            continue;
          }
          const target = standing[one.which];
          if (!target) continue;
          if (one.act === 'void') {
            await book.call('ledger.correct', {
              writeId: ulid(),
              id,
              correctsId: target.id,
              correction: 'void',
              reason: 'not saved',
            });
            standing.splice(one.which, 1);
          } else {
            await book.call('ledger.correct', {
              writeId: ulid(),
              id,
              correctsId: target.id,
              correction: 'replace',
              reason: 'misread',
              doneOn: one.date,
              detail: change(minutes),
            });
            standing[one.which] = { id, date: one.date, minutes, cells: serial, versions: 0 };
          }
        }
        const page = await book.call('property.open', { propertyId: site.propertyId });
        // In force: the latest date; on one day, what was written down last.
        const last = standing
          .toSorted((a, b) => (a.date === b.date ? a.cells - b.cells : a.date < b.date ? -1 : 1))
          .at(-1);
        expect(page.programs[0]!.revision.runs[0]!.runMinutes).toBe(last?.minutes ?? 20);
      }),
      { numRuns: 20 },
    );
    expect(await book.call('book.check', {})).toMatchObject({ clean: true });
  },
);
