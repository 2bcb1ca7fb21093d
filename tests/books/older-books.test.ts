import { copyFileSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { findRequest, REQUESTS, type RequestName } from '../../core/contract/index.ts';
import { openDesk } from '../../core/desk/desk.ts';
import { SCHEMA_VERSION } from '../../core/book/migrate.ts';

// Books of earlier layouts, made by the code of their time: each is brought up to date, checked and read.

const HERE = import.meta.dirname;
const BOOKS = readdirSync(HERE).filter((name) => name.endsWith('.valvebook'));
const TODAY = '2026-06-15';

/** Tables whose rows no migration may lose or change. */
const KEPT = [
  'client',
  'property',
  'controller',
  'zone',
  'sensor',
  'program',
  'programRevision',
  'programRun',
  'visit',
  'ledgerEntry',
  'season',
  'technician',
  'writeLog',
  'weatherStation',
];

/**
 * What an upgrade puts right: by the row's id, the columns that layout 2 had written wrong and what they are now. Zone 3
 * had lost its audit of June when the one of May was declared void, zone 4 had been overwritten by an older one logged
 * late, and so had a sensor’s set point.
 */
const MENDED: Record<string, (table: string, row: Record<string, unknown>) => Record<string, unknown>> = {
  'layout-2.valvebook': (table, row) => {
    if (table === 'zone' && row['name'] === 'Zone 3') return MEASURED_44;
    if (table === 'zone' && row['name'] === 'Zone 4') return MEASURED_42;
    if (table === 'sensor' && row['location'] === 'Post 3') return { rainSetPointInches: 0.5 };
    return {};
  },
};
const cans = (mean: number) => Array.from({ length: 16 }, (_, can) => Math.round(mean * (0.8 + 0.025 * can)));
/** What sixteen cans of that mean say, 16.5 in² and 6 minutes: 3.66 × mL ÷ (in² × min), and the low quarter over the mean. */
function measured(volumesMl: readonly number[]): Record<string, unknown> {
  const mean = (list: readonly number[]) => list.reduce((sum, one) => sum + one, 0) / list.length;
  const low = volumesMl.toSorted((a, b) => a - b).slice(0, 4);
  return {
    prMethod: 'catch-can',
    precipitationRateInPerHour: expect.closeTo((3.66 * mean(volumesMl)) / (16.5 * 6), 10),
    distributionUniformity: expect.closeTo(mean(low) / mean(volumesMl), 10),
  };
}
const MEASURED_44 = measured(cans(44));
const MEASURED_42 = measured(cans(42));

interface Rows {
  [table: string]: Record<string, unknown>[];
}

function rowsOf(path: string): Rows {
  const raw = new Database(path, { readonly: true });
  try {
    return Object.fromEntries(KEPT.map((table) => [table, raw.prepare(`SELECT * FROM ${table}`).all() as never]));
  } finally {
    raw.close();
  }
}

/** Every read of the contract, with what a screen would ask of this book. */
function readsOf(rows: Rows): Record<string, object[]> {
  const ids = (table: string) => rows[table]!.map((row) => String(row['id']));
  const each = (table: string, input: (id: string) => object) => ids(table).map(input);
  return {
    'client.list': [{ limit: 200 }, { search: 'a' }, { archived: true }],
    'client.open': each('client', (clientId) => ({ clientId })),
    'property.open': each('property', (propertyId) => ({ propertyId, ledgerLimit: 200 })),
    'due.list': [{ horizonDays: 366, includeBooked: true }],
    'visit.list': [{ fromDate: '2020-01-01', toDate: '2030-01-01', states: ['planned', 'done', 'cancelled'] }],
    'day.open': each('technician', (technicianId) => ({ technicianId, date: TODAY })),
    'ledger.list': [
      { includeVoid: true, limit: 500 },
      ...each('ledgerEntry', (historyOfId) => ({ historyOfId })),
      ...each('sensor', (sensorId) => ({ sensorId })),
    ],
    'people.list': [{}],
    'work.summary': [2023, 2024, 2025, 2026].map((year) => ({ year })),
    'program.history': each('program', (programId) => ({ programId })),
    'program.week': each('property', (propertyId) => ({ propertyId })),
    'program.recommend': each('property', (propertyId) => ({ propertyId, month: 7 })),
    'program.review': each('property', (propertyId) => ({ propertyId, month: 7 })),
    'zone.trace': each('zone', (zoneId) => ({ zoneId, fromDate: '2026-06-01', toDate: TODAY })).slice(0, 12),
    'agronomy.eto': [{ latitudeDeg: 40, elevationM: 1500, date: '2026-07-01', tmaxC: 32, tminC: 14 }],
    'zone.audit': [{ volumesMl: [20, 22, 24, 26], throatAreaIn2: 12, runMinutes: 10 }],
    'settings.get': [{}],
    'rules.list': [{}],
    'station.list': [{}],
    'weather.freezeDates': each('weatherStation', (stationId) => ({ stationId, thresholdF: 32 })),
    'book.info': [{}],
    'book.today': [{}],
    'book.backupState': [{}],
    'book.backups': [{}],
    'book.seal': [{}],
    'place.list': [{ want: 'file', extensions: ['valvebook'] }],
  };
}

describe.each(BOOKS)('%s', (name) => {
  it('comes up to date with every row as it was, is checked clean, and answers every read', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'valvebook-older-'));
    const path = join(folder, name);
    copyFileSync(join(HERE, name), path);
    const before = rowsOf(path);
    const desk = await openDesk({ bookPath: path, today: () => TODAY });
    onTestFinished(async () => {
      await desk.close();
      rmSync(folder, { recursive: true, force: true });
    });
    const call = async (request: RequestName, input: object) => {
      const reply = await desk.call(request, input);
      if (!reply.ok) throw new Error(`${request} ${JSON.stringify(input)}: ${JSON.stringify(reply.error)}`);
      findRequest(request)!.output.parse(reply.data);
      return reply.data as any;
    };
    expect((await call('book.info', {})).schemaVersion).toBe(SCHEMA_VERSION);
    const after = rowsOf(path);
    for (const table of KEPT) {
      expect(before[table]!.length, table).toBeGreaterThan(0);
      expect(after[table], table).toEqual(
        before[table]!.map((row) => expect.objectContaining({ ...row, ...MENDED[name]?.(table, row) })),
      );
    }
    const checked = await call('book.check', {});
    expect(checked.checks.flatMap((check: { findings: string[] }) => check.findings)).toEqual([]);
    expect(checked.clean).toBe(true);

    const reads = readsOf(before);
    const missing = REQUESTS.filter((request) => request.kind === 'read' && !(request.name in reads));
    expect(missing.map((request) => request.name)).toEqual([]);
    for (const [request, inputs] of Object.entries(reads)) {
      expect(inputs.length, request).toBeGreaterThan(0);
      for (const input of inputs) await call(request as RequestName, input);
    }
    expect((await call('ledger.list', { includeVoid: true, limit: 1 })).total).toBeGreaterThan(100);
    expect((await call('program.reviewAll', { month: 7 })).rows.length).toBeGreaterThan(0);
  });
});

it('a book in which the greater id told what happened last on a day is clean once the order of recording does', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-older-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const path = join(folder, 'book.valvebook');
  copyFileSync(join(HERE, 'layout-1.valvebook'), path);
  const raw = new Database(path);
  const entry = (kind: string) =>
    raw.prepare('SELECT * FROM ledgerEntry WHERE kind = ? LIMIT 1').get(kind) as Record<string, any>;
  const add = (row: Record<string, unknown>) =>
    raw
      .prepare(
        `INSERT INTO ledgerEntry (${Object.keys(row).join()}) VALUES (${Object.keys(row)
          .map((column) => `@${column}`)
          .join()})`,
      )
      .run(row);
  const [check, backflow] = [entry('sensor-check'), entry('backflow-test')];
  // The greater id was recorded first: two clocks, or one that was set back.
  const twice = (row: Record<string, any>, detail: (last: boolean) => object) => {
    for (const last of [false, true])
      add({
        ...row,
        id: last ? `01AAAAAAAAAAAAAAAAAAAAAAA${row.kind === 'sensor-check' ? 'A' : 'B'}` : ulidOf2105(row.kind),
        visitId: null,
        doneOn: '2026-06-14',
        recordedAt: `2026-06-14T1${last ? 1 : 0}:00:00.000Z`,
        detail: JSON.stringify({ ...JSON.parse(row.detail), ...detail(last) }),
        correctsId: null,
        correction: null,
      });
  };
  twice(check, (last) => ({ rainTrip: last ? 'fail' : 'pass', cellsGood: last ? 0 : 2, signal: 'strong' }));
  twice(backflow, (last) => ({ passed: !last }));
  raw
    .prepare(
      "UPDATE sensor SET lastCheckDate = '2026-06-14', lastCheckPassed = 1, cellsGood = 2, lastSignal = 'strong' WHERE id = ?",
    )
    .run(check.sensorId);
  raw.prepare("UPDATE property SET backflowTestDue = '2027-06-14' WHERE id = ?").run(backflow.propertyId);
  raw.close();

  const desk = await openDesk({ bookPath: path, today: () => TODAY });
  onTestFinished(() => desk.close());
  const checked = (await desk.call('book.check', {})) as any;
  expect(checked.data.checks.flatMap((one: { findings: string[] }) => one.findings)).toEqual([]);
  const page = (await desk.call('property.open', { propertyId: check.propertyId })) as any;
  expect(page.data.sensors.find(({ id }: { id: string }) => id === check.sensorId)).toMatchObject({
    lastCheckPassed: false,
    cellsGood: 0,
  });
  const tested = (await desk.call('property.open', { propertyId: backflow.propertyId })) as any;
  expect(tested.data.property.backflowTestDue).toBe('2026-06-14');
});
const ulidOf2105 = (kind: string) => `03ZZZZZZZZZZZZZZZZZZZZZZZ${kind === 'sensor-check' ? 'A' : 'B'}`;

it('there is a book of every layout before this one', () => {
  const layouts = Array.from({ length: SCHEMA_VERSION }, (_, index) => `layout-${index + 1}.valvebook`);
  expect(layouts.slice(0, Math.max(1, SCHEMA_VERSION - 1)).filter((name) => !BOOKS.includes(name))).toEqual([]);
});

describe('restoring a book of an earlier layout', () => {
  it('says how far the copy is brought up to date, and can be stopped there', async () => {
    // The one whose upgrade is long: every entry gets its place in the chain.
    const name = 'layout-1.valvebook';
    const folder = mkdtempSync(join(tmpdir(), 'valvebook-older-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const backup = join(folder, name);
    copyFileSync(join(HERE, name), backup);
    const desk = await openDesk({ bookPath: join(folder, 'present.valvebook'), create: true, today: () => TODAY });
    try {
      const seal = await desk.call('book.seal', {});
      const stop = new AbortController();
      const restore = (signal?: AbortSignal) => {
        const upToDate: number[] = [];
        const answer = desk.call(
          'book.restore',
          { fromPath: backup },
          {
            ...(signal && { signal }),
            onProgress({ text, done }) {
              if ((text as { key: string }).key !== 'book.copyUpToDate' || done === 0) return;
              upToDate.push(done);
              stop.abort();
            },
          },
        );
        return answer.then((reply) => ({ reply, upToDate }));
      };
      expect((await restore(stop.signal)).reply).toMatchObject({ ok: false, error: { code: 'cancelled' } });
      expect(await desk.call('book.seal', {})).toEqual(seal);
      const { reply, upToDate } = await restore();
      expect(reply).toMatchObject({ ok: true });
      expect(upToDate.length).toBeGreaterThan(0);
      expect((await desk.call('client.list', {})) as object).toMatchObject({ ok: true });
      expect(await desk.call('book.seal', {})).not.toEqual(seal);
    } finally {
      await desk.close();
    }
  });
});
