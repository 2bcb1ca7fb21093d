import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { makeBook, makeSite, TODAY } from './make-book.ts';
import { PLAIN_READER, sayFact } from '../../core/text/say.ts';

test("a battery swap moves the sensor's battery date, and voiding it moves it back", async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const entryId = ulid();
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: site.technicianId,
    doneOn: TODAY,
    entries: [
      {
        id: entryId,
        detail: {
          kind: 'battery-swap',
          sensorId: site.sensorId,
          cells: 2,
          batteryType: 'CR2032',
          oldBatteryState: 'low',
        },
      },
    ],
  });
  let page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.sensors[0]).toMatchObject({ batteryDate: TODAY, cellsGood: 2 });
  expect(page.ledger[0]).toMatchObject({
    id: entryId,
    technicianName: 'Odalys Fenn',
    summary: { key: 'ledger.battery-swap' },
  });
  expect(sayFact(PLAIN_READER, page.ledger[0]!.summary)).toBe('Battery swapped: 2 new cells, CR2032, old one low');
  expect(page.due.some((due) => due.kind === 'battery')).toBe(false);

  await book.call('ledger.correct', {
    writeId: ulid(),
    id: ulid(),
    correctsId: entryId,
    correction: 'void',
    reason: 'wrong property',
  });
  page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.sensors[0]!.batteryDate).toBe('2025-04-01');
  expect(page.ledger.map((entry) => entry.id)).toEqual([site.programEntryId]);
  expect(page.due.some((due) => due.kind === 'battery')).toBe(true);
  const history = await book.call('ledger.list', { historyOfId: entryId });
  expect(history.entries.map((entry) => entry.correction)).toEqual([null, 'void']);
});

test('a correction replaces the facts, and the list shows the corrected truth with its history', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const first = ulid();
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-06-10',
    entries: [{ id: first, detail: { kind: 'battery-swap', sensorId: site.sensorId, cells: 1 } }],
  });
  const second = ulid();
  await book.call('ledger.correct', {
    writeId: ulid(),
    id: second,
    correctsId: first,
    correction: 'replace',
    reason: 'done the day before',
    detail: { kind: 'battery-swap', sensorId: site.sensorId, cells: 2 },
    doneOn: '2026-06-09',
  });
  const page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.sensors[0]).toMatchObject({ batteryDate: '2026-06-09', cellsGood: 2 });
  expect(page.ledger.map((entry) => [entry.id, entry.historyLength])).toEqual([
    [second, 1],
    [site.programEntryId, 0],
  ]);
  const again = await book.fails('ledger.correct', {
    writeId: ulid(),
    id: ulid(),
    correctsId: first,
    correction: 'void',
    reason: 'twice',
  });
  expect(again).toMatchObject({ code: 'conflict', field: 'correctsId' });
});

test('changing run times makes a new revision with old and new minutes in the ledger; a void puts the old program back in force', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const entryId = ulid();
  const revisionId = ulid();
  const recorded = await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: site.technicianId,
    doneOn: TODAY,
    entries: [
      {
        id: entryId,
        detail: {
          kind: 'run-time-change',
          programId: site.programId,
          revisionId,
          runs: [{ zoneId: site.zoneIds[0]!, runMinutes: 8 }],
          seasonalPercent: 120,
        },
      },
    ],
  });
  expect(recorded.revisionIds).toEqual([revisionId]);
  expect(recorded.entries[0]!.detail).toMatchObject({
    changes: [{ zoneId: site.zoneIds[0], oldMinutes: 20, newMinutes: 8 }],
    oldSeasonalPercent: 100,
    newSeasonalPercent: 120,
  });
  let page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.programs[0]!.revision).toMatchObject({
    id: revisionId,
    seasonalPercent: 120,
    madeBy: 'Odalys Fenn',
    revisionNumber: 2,
  });
  expect(page.programs[0]!.revision.runs.map((run) => run.runMinutes)).toEqual([8, 20, 20]);

  await book.call('ledger.correct', {
    writeId: ulid(),
    id: ulid(),
    correctsId: entryId,
    correction: 'void',
    reason: 'not saved in the controller',
  });
  page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.programs[0]!.revision).toMatchObject({ revisionNumber: 1, seasonalPercent: 100 });
  expect((await book.call('program.history', { programId: site.programId })).revisions).toHaveLength(2);
});

test('a change of start times that names one twice is refused, as the program editor refuses it, and nothing is written', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const reply = await book.desk.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: site.technicianId,
    doneOn: TODAY,
    entries: [
      {
        id: ulid(),
        detail: {
          kind: 'run-time-change',
          programId: site.programId,
          revisionId: ulid(),
          startTimes: ['05:00', '05:00'],
        },
      },
    ],
  });
  expect(reply).toMatchObject({
    ok: false,
    error: { code: 'bad-input', message: expect.stringContaining('a start time twice') },
  });
  expect((await book.call('program.history', { programId: site.programId })).revisions).toHaveLength(1);
});

test('recording a winterization closes the visit planned for it and the season', async () => {
  const book = await makeBook('2026-10-20');
  const site = await makeSite(book);
  const visitId = ulid();
  await book.call('visit.book', {
    writeId: ulid(),
    visitId,
    propertyId: site.propertyId,
    kind: 'winterization',
    date: '2026-10-22',
    technicianId: site.technicianId,
  });
  expect((await book.call('due.list', { kinds: ['winterization'], includeBooked: true })).items[0]).toMatchObject({
    bookedVisitId: visitId,
  });
  const recorded = await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: site.technicianId,
    doneOn: '2026-10-20',
    entries: [
      {
        id: ulid(),
        detail: { kind: 'winterization', method: 'compressed-air', airPressurePsi: 70, backflowDrained: true },
      },
    ],
  });
  expect(recorded.visit).toMatchObject({ id: visitId, state: 'done', doneOn: '2026-10-20' });
  // Common practice, no source: about 50 psi for polyethylene.
  expect(recorded.cautions).toHaveLength(1);
  const page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.season).toMatchObject({ year: 2026, state: 'winterized', winterizedOn: '2026-10-20' });
  expect((await book.call('due.list', { kinds: ['winterization'], includeBooked: true })).total).toBe(0);
});

test('all or nothing: one bad entry keeps everything else out of the book', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const failure = await book.fails('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: TODAY,
    entries: [
      { id: ulid(), detail: { kind: 'battery-swap', sensorId: site.sensorId, cells: 1 } },
      { id: ulid(), detail: { kind: 'battery-swap', sensorId: ulid(), cells: 1 } },
    ],
  });
  expect(failure).toMatchObject({ code: 'not-found', field: 'entries.1.detail.sensorId' });
  const page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.ledgerTotal).toBe(1);
  expect(page.sensors[0]!.batteryDate).toBe('2025-04-01');
});

test('a repeated write is the same write; the same id for another change is refused', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const input = {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: TODAY,
    entries: [{ id: ulid(), detail: { kind: 'note' as const, text: 'gate left open' } }],
  };
  const once = await book.call('visit.record', input);
  const twice = await book.call('visit.record', input);
  expect(twice).toEqual(once);
  expect((await book.call('ledger.list', { propertyId: site.propertyId })).total).toBe(2);
  expect(await book.fails('visit.record', { ...input, doneOn: '2026-06-14' })).toMatchObject({
    code: 'conflict',
    field: 'writeId',
  });
});

test('the database itself refuses to change the ledger, whoever opens the file', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const id = ulid();
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: TODAY,
    entries: [{ id, detail: { kind: 'note', text: 'as it was' } }],
  });
  const raw = new Database(book.path);
  try {
    expect(() => raw.prepare('UPDATE ledgerEntry SET note = ? WHERE id = ?').run('changed', id)).toThrow(/append-only/);
    expect(() => raw.prepare('DELETE FROM ledgerEntry WHERE id = ?').run(id)).toThrow(/append-only/);
    expect(() =>
      raw.prepare('INSERT OR REPLACE INTO ledgerEntry SELECT * FROM ledgerEntry WHERE id = ?').run(id),
    ).toThrow(/append-only/);
    expect(() => raw.prepare('UPDATE programRevision SET seasonalPercent = 10').run()).toThrow(/history/);
    expect(() => raw.prepare('DELETE FROM programRun').run()).toThrow(/history/);
    expect(raw.prepare('SELECT count(*) AS n FROM ledgerEntry').get()).toEqual({ n: 2 });
  } finally {
    raw.close();
  }
});

test('work nobody had booked makes a visit of its own; voiding it cancels that visit', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const visitId = ulid();
  const entryId = ulid();
  const recorded = await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    visitId,
    unplannedKind: 'repair',
    technicianId: site.technicianId,
    doneOn: TODAY,
    entries: [{ id: entryId, detail: { kind: 'repair', zoneId: site.zoneIds[1]!, what: 'Replaced a cracked riser' } }],
  });
  expect(recorded.visit).toMatchObject({ state: 'done', kind: 'repair' });
  await book.call('ledger.correct', {
    writeId: ulid(),
    id: ulid(),
    correctsId: entryId,
    correction: 'void',
    reason: 'next door',
  });
  expect(
    (await book.call('visit.list', { fromDate: TODAY, toDate: TODAY, states: ['cancelled'] })).visits,
  ).toHaveLength(1);
});
