import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { beforeEach, describe, expect, it, onTestFinished } from 'vitest';
import { makeBook, makeSite, TODAY, type Site, type TestBook } from '../desk/make-book.ts';

// Plain SQL against a book's file, by a program that knows SQLite and nothing of Valvebook: its own connection, the
// library's own settings. Every statement that would change the past is refused by the file itself.

let book: TestBook;
let site: Site;
/** In the order of recording: a note, a battery swap, a run-time change with its revision, and the void of the change. */
let ids: { note: string; swap: string; change: string; revision: string; void: string };
let outsider: Database.Database;

beforeEach(async () => {
  book = await makeBook();
  site = await makeSite(book);
  ids = { note: ulid(), swap: ulid(), change: ulid(), revision: ulid(), void: ulid() };
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: site.technicianId,
    doneOn: TODAY,
    entries: [
      { id: ids.note, detail: { kind: 'note', text: 'Gate sticks' } },
      {
        id: ids.swap,
        detail: {
          kind: 'battery-swap',
          sensorId: site.sensorId,
          batteryType: 'CR2032',
          cells: 2,
          oldBatteryState: 'low',
        },
      },
      {
        id: ids.change,
        detail: {
          kind: 'run-time-change',
          programId: site.programId,
          revisionId: ids.revision,
          runs: [{ zoneId: site.zoneIds[0]!, runMinutes: 9 }],
          reason: 'heat',
        },
      },
    ],
  });
  await book.call('ledger.correct', {
    writeId: ulid(),
    id: ids.void,
    correctsId: ids.change,
    correction: 'void',
    reason: 'another program',
  });
  outsider = new Database(book.path);
  onTestFinished(() => void outsider.close());
});

const ENTRY =
  'id, propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, detail, correctsId, correction, correctionReason';
const CHAIN = 'bookPlace, place, previousHash, hash';
const REVISION =
  'id, programId, revisionNumber, effectiveDate, recordedAt, madeBy, reason, days, startTimes, seasonalPercent, enabled, ledgerEntryId, voidedByEntryId, propertyId, runCount';
const DETAIL = `'{"kind":"note","text":"Gate fine"}'`;

/** Statements that rewrite the past; `$name` stands for an id. */
const REWRITES: [what: string, sql: string][] = [
  ['an entry’s text', `UPDATE ledgerEntry SET detail = ${DETAIL} WHERE id = '$note'`],
  ['an entry’s day', `UPDATE ledgerEntry SET doneOn = '2020-01-01' WHERE id = '$note'`],
  ['an entry’s hash', `UPDATE ledgerEntry SET hash = hash || '' WHERE id = '$note'`],
  ['an entry’s row number', `UPDATE ledgerEntry SET rowid = rowid + 100`],
  ['an entry onto another’s row number', `UPDATE OR REPLACE ledgerEntry SET rowid = 1 WHERE id = '$void'`],
  ['an entry taken out', `DELETE FROM ledgerEntry WHERE id = '$void'`],
  ['all entries taken out', `DELETE FROM ledgerEntry`],
  [
    'REPLACE by id',
    `INSERT OR REPLACE INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT id, propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, ${DETAIL}, correctsId, correction, correctionReason, ${CHAIN} FROM ledgerEntry WHERE id = '$note'`,
  ],
  [
    'REPLACE by id, at the next place',
    `REPLACE INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT id, propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, ${DETAIL}, correctsId, correction, correctionReason, (SELECT links + 1 FROM ledgerChain), (SELECT place + 1 FROM chainHead), (SELECT hash FROM chainHead), hash FROM ledgerEntry WHERE id = '$note'`,
  ],
  [
    'REPLACE by row number, at the next place',
    `INSERT OR REPLACE INTO ledgerEntry (rowid, ${ENTRY}, ${CHAIN}) SELECT rowid, '$new', propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, ${DETAIL}, correctsId, correction, correctionReason, (SELECT links + 1 FROM ledgerChain), (SELECT place + 1 FROM chainHead), (SELECT hash FROM chainHead), hash FROM ledgerEntry WHERE id = '$note'`,
  ],
  [
    'REPLACE of the last entry by row number',
    `INSERT OR REPLACE INTO ledgerEntry (rowid, ${ENTRY}, ${CHAIN}) SELECT rowid, '$new', propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, 'x', detail, NULL, NULL, '', (SELECT links + 1 FROM ledgerChain), (SELECT place + 1 FROM chainHead), (SELECT hash FROM chainHead), hash FROM ledgerEntry WHERE id = '$void'`,
  ],
  [
    'REPLACE by the entry it corrects, at the next place',
    `INSERT OR REPLACE INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT '$new', propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, detail, correctsId, correction, 'another reason', (SELECT links + 1 FROM ledgerChain), (SELECT place + 1 FROM chainHead), (SELECT hash FROM chainHead), hash FROM ledgerEntry WHERE id = '$void'`,
  ],
  [
    'REPLACE by its number in the book',
    `INSERT OR REPLACE INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT '$new', propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, ${DETAIL}, correctsId, correction, correctionReason, ${CHAIN} FROM ledgerEntry WHERE id = '$note'`,
  ],
  [
    'UPSERT by id',
    `INSERT INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT ${ENTRY}, ${CHAIN} FROM ledgerEntry WHERE id = '$note' ON CONFLICT (id) DO UPDATE SET note = 'x'`,
  ],
  [
    'UPSERT by its number in the book',
    `INSERT INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT '$new', propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, detail, correctsId, correction, correctionReason, ${CHAIN} FROM ledgerEntry WHERE id = '$note' ON CONFLICT (bookPlace) DO UPDATE SET note = 'x'`,
  ],
  [
    'an entry slipped in without a place',
    `INSERT INTO ledgerEntry (${ENTRY}) SELECT '$new', propertyId, NULL, NULL, 'note', '2021-01-01', '2021-01-01T10:00:00.000Z', NULL, NULL, '', ${DETAIL}, NULL, NULL, '' FROM ledgerEntry WHERE id = '$note'`,
  ],
  [
    'an entry slipped in at an old place',
    `INSERT INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT '$new', propertyId, NULL, NULL, 'note', '2021-01-01', '2021-01-01T10:00:00.000Z', NULL, NULL, '', ${DETAIL}, NULL, NULL, '', ${CHAIN} FROM ledgerEntry WHERE id = '$note'`,
  ],
  [
    'an entry slipped in with numbers of its own',
    `INSERT INTO ledgerEntry (${ENTRY}, ${CHAIN}) SELECT '$new', propertyId, NULL, NULL, 'note', '2021-01-01', '2021-01-01T10:00:00.000Z', NULL, NULL, '', ${DETAIL}, NULL, NULL, '', 0, 0, '', hash FROM ledgerEntry WHERE id = '$note'`,
  ],
  ['a revision’s percentage', `UPDATE programRevision SET seasonalPercent = 10`],
  ['a revision’s hash', `UPDATE programRevision SET hash = lower(hash)`],
  ['a revision’s row number', `UPDATE programRevision SET rowid = rowid + 100`],
  ['a revision onto another’s row number', `UPDATE OR REPLACE programRevision SET rowid = 1 WHERE id = '$revision'`],
  ['a void mark taken off', `UPDATE programRevision SET voidedByEntryId = NULL WHERE id = '$revision'`],
  ['a void mark moved', `UPDATE programRevision SET voidedByEntryId = '$note' WHERE id = '$revision'`],
  ['a void mark put on', `UPDATE programRevision SET voidedByEntryId = '$void' WHERE id <> '$revision'`],
  ['a revision taken out', `DELETE FROM programRevision WHERE id = '$revision'`],
  [
    'REPLACE of a revision by id',
    `INSERT OR REPLACE INTO programRevision (${REVISION}, ${CHAIN}) SELECT id, programId, revisionNumber, effectiveDate, recordedAt, 'me', reason, days, startTimes, 10, enabled, ledgerEntryId, NULL, propertyId, runCount, (SELECT links + 1 FROM ledgerChain), (SELECT place + 1 FROM chainHead), (SELECT hash FROM chainHead), hash FROM programRevision WHERE id = '$revision'`,
  ],
  [
    'REPLACE of a revision by its number',
    `INSERT OR REPLACE INTO programRevision (${REVISION}, ${CHAIN}) SELECT '$new', programId, revisionNumber, effectiveDate, recordedAt, 'me', reason, days, startTimes, 10, enabled, ledgerEntryId, NULL, propertyId, runCount, (SELECT links + 1 FROM ledgerChain), (SELECT place + 1 FROM chainHead), (SELECT hash FROM chainHead), hash FROM programRevision WHERE id = '$revision'`,
  ],
  [
    'REPLACE of a revision by row number',
    `INSERT OR REPLACE INTO programRevision (rowid, ${REVISION}, ${CHAIN}) SELECT rowid, '$new', programId, 9, effectiveDate, recordedAt, 'me', reason, days, startTimes, 10, enabled, ledgerEntryId, NULL, propertyId, runCount, (SELECT links + 1 FROM ledgerChain), (SELECT place + 1 FROM chainHead), (SELECT hash FROM chainHead), hash FROM programRevision WHERE id = '$revision'`,
  ],
  [
    'a revision slipped in without a place',
    `INSERT INTO programRevision (${REVISION}) SELECT '$new', programId, 9, effectiveDate, recordedAt, 'me', reason, days, startTimes, 10, enabled, NULL, NULL, propertyId, 0 FROM programRevision WHERE id = '$revision'`,
  ],
  ['run minutes', `UPDATE programRun SET runMinutes = 99`],
  ['a run taken out', `DELETE FROM programRun WHERE zoneId = '$zone'`],
  ['REPLACE of a run', `INSERT OR REPLACE INTO programRun SELECT revisionId, zoneId, 99, NULL, NULL FROM programRun`],
  [
    'UPSERT of a run',
    `INSERT INTO programRun SELECT revisionId, zoneId, 99, NULL, NULL FROM programRun WHERE true ON CONFLICT DO UPDATE SET runMinutes = 99`,
  ],
  ['a run put in', `INSERT INTO programRun SELECT '$revision', '$newZone', 99, NULL, NULL`],
  ['the end of a chain', `UPDATE chainHead SET hash = lower(hash)`],
  ['the end of a chain moved on', `UPDATE chainHead SET place = place + 1`],
  ['the end of a chain taken out', `DELETE FROM chainHead`],
  ['REPLACE of the end of a chain', `INSERT OR REPLACE INTO chainHead SELECT propertyId, 1, hash FROM chainHead`],
  ['the count', `UPDATE ledgerChain SET links = links + 1`],
  ['REPLACE of the count', `INSERT OR REPLACE INTO ledgerChain VALUES (1, 0, 0, NULL)`],
  [
    'since when the chain proves',
    `UPDATE ledgerChain SET chainedLinks = links, chainedAt = '2026-01-01T00:00:00.000Z'`,
  ],
  ['the count taken out', `DELETE FROM ledgerChain`],
];

const filled = (sql: string): string =>
  sql.replaceAll(/\$(\w+)/g, (_all, name: string) =>
    name === 'new'
      ? ulid()
      : name === 'zone'
        ? site.zoneIds[1]!
        : name === 'newZone'
          ? ulid()
          : ids[name as keyof typeof ids],
  );
const past = () =>
  ['ledgerEntry', 'programRevision', 'programRun', 'chainHead', 'ledgerChain'].map((table) =>
    outsider.prepare(`SELECT * FROM ${table}`).all(),
  );

describe.each([
  ['with the library’s own settings', []],
  ['with foreign keys off and recursive triggers on', ['foreign_keys = OFF', 'recursive_triggers = ON']],
  ['with checks off', ['foreign_keys = OFF', 'ignore_check_constraints = ON', 'recursive_triggers = OFF']],
])('plain SQL %s', (_how, pragmas) => {
  it('changes nothing of the past: every statement is refused', async () => {
    for (const pragma of pragmas) outsider.pragma(pragma);
    const before = past();
    expect(before.map((rows) => rows.length)).toEqual([5, 2, 6, 1, 1]);
    const got: string[] = [];
    for (const [what, sql] of REWRITES) {
      try {
        const { changes } = outsider.prepare(filled(sql)).run();
        got.push(`${what}: ${changes} rows`);
      } catch (error) {
        expect(String(error), what).toMatch(/append-only|is history|the chain follows/);
      }
      expect(past(), what).toEqual(before);
    }
    expect(got).toEqual([]);
    expect(await book.call('book.check', {})).toMatchObject({ clean: true });
  });
});

it('writing goes on afterwards, and a void mark can be set by the entry that voids', async () => {
  expect(outsider.prepare('SELECT voidedByEntryId FROM programRevision WHERE id = ?').pluck().get(ids.revision)).toBe(
    ids.void,
  );
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: null,
    doneOn: TODAY,
    entries: [{ id: ulid(), detail: { kind: 'note', text: 'Lone \ud800 half, “quotes” and ümlaut' } }],
  });
  expect(await book.call('book.check', {})).toMatchObject({ clean: true, chain: { count: 8 } });
});
