import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, describe, expect, it } from 'vitest';
import { openDesk } from '../../core/desk/desk.ts';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';
import { clientSchema } from '../../core/clients/contract.ts';
import { controllerSchema, propertySchema, sensorSchema, zoneSchema } from '../../core/properties/contract.ts';
import { programSettingsSchema } from '../../core/programs/contract.ts';
import { restrictionSchema, settingsSchema, thumbRuleSchema } from '../../core/settings/contract.ts';
import { technicianSchema } from '../../core/people/contract.ts';
import { visitSchema } from '../../core/visits/contract.ts';
import { weatherStationSchema } from '../../core/weather/contract.ts';
import { ledgerDetailSchema } from '../../core/ledger/entry-contract.ts';
import { makeDemoBook, type DemoBookOptions } from '../../core/demo/make-demo-book.ts';
import { openForWriting } from '../../core/book/migrate.ts';
import type { Thing } from '../../core/ledger/effects.ts';
import { project } from '../../core/ledger/projections.ts';
import { toEntity, type BookTables } from '../../core/store/tables.ts';

const folder = mkdtempSync(join(tmpdir(), 'valvebook-demo-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let count = 0;

async function make(options: Partial<DemoBookOptions> = {}): Promise<string> {
  const path = join(folder, `demo-${(count += 1)}.valvebook`);
  await makeDemoBook({ path, properties: 60, seed: 1, today: '2026-07-27', ...options });
  return path;
}

function rows<T = Record<string, any>>(path: string, query: string, ...values: unknown[]): T[] {
  const raw = new Database(path, { readonly: true });
  try {
    return raw.prepare<unknown[], T>(query).all(...values);
  } finally {
    raw.close();
  }
}

const TABLES: (keyof BookTables)[] = [
  'setting',
  'truck',
  'technician',
  'route',
  'restriction',
  'thumbRule',
  'weatherStation',
  'weatherDay',
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
  'writeLog',
  'importMapping',
];
const dump = (path: string) =>
  Object.fromEntries(TABLES.map((table) => [table, rows(path, `SELECT * FROM "${table}" ORDER BY 1, 2`)]));

describe('the same company for the same seed', () => {
  it('has the same rows in every table, and others for another seed or day', async () => {
    const first = dump(await make({ properties: 25, seed: 9 }));
    expect(dump(await make({ properties: 25, seed: 9 }))).toEqual(first);
    expect(dump(await make({ properties: 25, seed: 10 })).client).not.toEqual(first.client);
    expect(dump(await make({ properties: 25, seed: 9, today: '2026-07-28' })).visit).not.toEqual(first.visit);
  });

  it('gives property k the same ground however many there are', async () => {
    const few = dump(await make({ properties: 12 }));
    const many = dump(await make({ properties: 60 }));
    const ids = new Set(few.property!.map((row) => row.id));
    expect(ids.size).toBe(12);
    // Routes belong to the company and carry other ids where there are more technicians.
    const plain = (list: Record<string, any>[]) =>
      list.map(
        ({ routeId: _route, restrictionId: _rule, weatherStationId: _station, backflowTestDue: _due, ...rest }) => rest,
      );
    expect(plain(many.property!.filter((row) => ids.has(row.id)))).toEqual(plain(few.property!));
    expect(many.controller!.filter((row) => ids.has(row.propertyId))).toEqual(few.controller);
  });
});

describe('what is in a demo book', async () => {
  const path = await make();
  const table = <T>(name: keyof BookTables) =>
    rows(path, `SELECT * FROM "${name}"`).map((row) => toEntity<T>(name, row));

  it('obeys the contract in every row', () => {
    const check = (name: keyof BookTables, schema: { parse(value: unknown): unknown }) => {
      const all = table<Record<string, unknown>>(name);
      expect(all.length).toBeGreaterThan(0);
      // Equal after parsing: nothing was left to a default or trimmed.
      for (const one of all) expect(schema.parse(one)).toEqual(one);
    };
    check('client', clientSchema);
    check('property', propertySchema);
    check('controller', controllerSchema);
    check('zone', zoneSchema);
    check('sensor', sensorSchema);
    check('visit', visitSchema);
    check('technician', technicianSchema);
    check('restriction', restrictionSchema);
    check('thumbRule', thumbRuleSchema);
    check('weatherStation', weatherStationSchema);
    for (const { detail } of rows(path, 'SELECT detail FROM ledgerEntry'))
      expect(ledgerDetailSchema.parse(JSON.parse(detail))).toEqual(JSON.parse(detail));
    expect(
      settingsSchema.parse(JSON.parse(rows(path, "SELECT value FROM setting WHERE key = 'company'")[0]!.value))
        .companyName,
    ).toContain('demo');
  });

  it('names nobody: telephones and mail of examples only', () => {
    for (const client of table<{ phone: string; phone2: string; email: string }>('client')) {
      expect(client.phone).toMatch(/^\(\d{3}\) 555-01\d\d$/);
      expect(client.phone2).toMatch(/^(\(\d{3}\) 555-01\d\d)?$/);
      expect(client.email).toMatch(/^([a-z0-9.-]+@example\.com)?$/);
    }
  });

  it('agrees with the ledger: working every projection out again changes nothing', async () => {
    const again = await make();
    const before = dump(again);
    const connection = await openForWriting(again, false);
    const each = (thing: Thing, name: string) => before[name]!.map((row) => ({ thing, id: String(row.id) }));
    await project(connection.db, [
      ...each('sensor', 'sensor'),
      ...each('zone', 'zone'),
      ...each('seasons', 'property'),
      ...each('backflow', 'property'),
      ...each('findings', 'property'),
    ]);
    await connection.close();
    expect(before.season!.length).toBeGreaterThan(100);
    expect(dump(again)).toEqual(before);
  });

  it('has program revisions that say what the ledger says', () => {
    const runs = new Map<string, Map<string, number>>();
    for (const run of rows(path, 'SELECT * FROM programRun'))
      runs.set(run.revisionId, (runs.get(run.revisionId) ?? new Map()).set(run.zoneId, run.runMinutes));
    const entries = new Map(
      rows(path, "SELECT * FROM ledgerEntry WHERE kind = 'run-time-change'").map((entry) => [entry.id, entry]),
    );
    const revisions = rows(path, 'SELECT * FROM programRevision ORDER BY programId, revisionNumber');
    let changes = 0;
    let before: Record<string, any> | null = null;
    for (const revision of revisions) {
      if (before?.programId !== revision.programId) before = null;
      programSettingsSchema.parse({
        days: JSON.parse(revision.days),
        startTimes: JSON.parse(revision.startTimes),
        seasonalPercent: revision.seasonalPercent,
        enabled: true,
        runs: [...runs.get(revision.id)!].map(([zoneId, runMinutes]) => ({ zoneId, runMinutes })),
      });
      if (revision.ledgerEntryId === null) expect(revision.revisionNumber).toBe(1);
      else {
        const entry = entries.get(revision.ledgerEntryId)!;
        const detail = JSON.parse(entry.detail);
        expect([detail.revisionId, detail.programId, entry.doneOn]).toEqual([
          revision.id,
          revision.programId,
          revision.effectiveDate,
        ]);
        expect([detail.oldSeasonalPercent, detail.newSeasonalPercent]).toEqual([
          before!.seasonalPercent,
          revision.seasonalPercent,
        ]);
        for (const [zoneId, minutes] of runs.get(revision.id)!) {
          const change = detail.changes.find((one: any) => one.zoneId === zoneId);
          expect([change?.oldMinutes ?? minutes, change?.newMinutes ?? minutes]).toEqual([
            runs.get(before!.id)!.get(zoneId),
            minutes,
          ]);
        }
        changes += 1;
      }
      if (revision.voidedByEntryId === null) before = revision;
      else
        expect(entries.get(revision.voidedByEntryId)).toMatchObject({
          correction: 'void',
          correctsId: revision.ledgerEntryId,
        });
    }
    expect(changes).toBeGreaterThan(100);
  });

  it('has meters that only grow, once corrected, and visits done only where something stands', () => {
    const standing =
      "e.correction IS NOT 'void' AND NOT EXISTS (SELECT 1 FROM ledgerEntry c WHERE c.correctsId = e.id)";
    let last = { propertyId: '', gallons: 0 };
    for (const { propertyId, gallons } of rows<{ propertyId: string; gallons: number }>(
      path,
      `SELECT propertyId, json_extract(detail, '$.readingGallons') gallons FROM ledgerEntry e WHERE kind = 'meter-read' AND ${standing} ORDER BY propertyId, doneOn, id`,
    )) {
      if (last.propertyId === propertyId) expect(gallons).toBeGreaterThanOrEqual(last.gallons);
      last = { propertyId, gallons };
    }
    expect(
      rows(
        path,
        `SELECT id FROM visit v WHERE state = 'done' AND NOT EXISTS (SELECT 1 FROM ledgerEntry e WHERE e.visitId = v.id AND ${standing})`,
      ),
    ).toEqual([]);
    expect(
      rows(
        path,
        "SELECT e.id FROM ledgerEntry e JOIN visit v ON v.id = e.visitId WHERE v.state <> 'done' OR v.doneOn <> e.doneOn OR v.propertyId <> e.propertyId",
      ),
    ).toEqual([]);
    expect(rows(path, 'SELECT 1 FROM ledgerEntry WHERE correctsId IS NOT NULL').length).toBeGreaterThan(2);
  });

  it('is a whole book: sound, its keys kept, shaped exactly as a new one', async () => {
    expect(rows(path, 'PRAGMA integrity_check')).toEqual([{ integrity_check: 'ok' }]);
    expect(rows(path, 'PRAGMA foreign_key_check')).toEqual([]);
    expect(rows(path, 'PRAGMA journal_mode')).toEqual([{ journal_mode: 'wal' }]);
    const empty = join(folder, 'empty.valvebook');
    await (await openForWriting(empty, true)).close();
    const shape =
      "SELECT type, name, tbl_name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY type, name";
    expect(rows(path, shape)).toEqual(rows(empty, shape));
    expect(rows(path, 'PRAGMA user_version')).toEqual(rows(empty, 'PRAGMA user_version'));
  });
});

describe('what the book itself says of a demo', () => {
  it('is clean in every check, and each catch-can test gives what was stored', async () => {
    const path = await make({ properties: 40, seed: 3, today: '2026-10-14' });
    const desk = await openDesk({ bookPath: path, access: 'read', today: () => '2026-10-14' });
    try {
      const reply = await desk.call('book.check', {});
      if (!reply.ok) throw new Error(reply.error.message);
      const { clean, checks } = reply.data as OutputOf<'book.check'>;
      expect(checks.filter((check) => !check.passed)).toEqual([]);
      expect(clean).toBe(true);
      const audits = rows(
        path,
        "SELECT e.detail, z.prMethod, z.precipitationRateInPerHour rate FROM ledgerEntry e JOIN zone z ON z.id = e.zoneId WHERE e.kind = 'zone-audit'",
      );
      expect(audits.length).toBeGreaterThan(0);
      for (const { detail, prMethod, rate } of audits) {
        const stored = JSON.parse(detail);
        const answer = await desk.call('zone.audit', {
          volumesMl: stored.volumesMl,
          throatAreaIn2: stored.throatAreaIn2,
          runMinutes: stored.runMinutes,
        });
        if (!answer.ok) throw new Error(answer.error.message);
        const audit = answer.data as OutputOf<'zone.audit'>;
        expect(stored.precipitationRateInPerHour).toBeCloseTo(audit.precipitationRateInPerHour, 9);
        expect(stored.distributionUniformity).toBeCloseTo(audit.distributionUniformity, 9);
        expect([prMethod, rate]).toEqual(['catch-can', stored.precipitationRateInPerHour]);
      }
    } finally {
      await desk.close();
    }
  });
});

describe('something true to show on any day of the year', () => {
  it.each([
    '2026-01-11',
    '2026-02-28',
    '2026-04-20',
    '2026-05-23',
    '2026-07-05',
    '2026-08-31',
    '2026-10-14',
    '2026-11-25',
    '2028-02-29',
  ])('on %s', async (today) => {
    const path = await make({ today });
    const desk = await openDesk({ bookPath: path, access: 'read', today: () => today });
    const call = async <N extends RequestName>(name: N, input: InputOf<N>): Promise<OutputOf<N>> => {
      const reply = await desk.call(name, input);
      if (!reply.ok) throw new Error(`${name}: ${reply.error.message}`);
      return reply.data as never;
    };
    try {
      const { technicians } = await call('people.list', {});
      for (const technician of technicians) {
        const { stops } = await call('day.open', { technicianId: technician.id, date: today });
        expect(stops.length, technician.name).toBeGreaterThanOrEqual(6);
        expect(stops.map((stop) => stop.visit.orderInDay)).toEqual(stops.map((_, index) => index + 1));
      }
      const { counts } = await call('due.list', { includeBooked: true });
      expect(counts.battery).toBeGreaterThan(0);
      expect(counts['sensor-check']).toBeGreaterThan(0);
      expect(counts['backflow-test']).toBeGreaterThan(0);
      expect(counts['overdue-visit']).toBeGreaterThan(0);
      const unbooked = await call('due.list', {});
      expect(unbooked.total).toBeGreaterThan(5);
      if (today.slice(5) >= '09-26' && today.slice(5) <= '11-15')
        expect(unbooked.counts.winterization).toBeGreaterThan(0);
      if (today.slice(5) >= '04-02' && today.slice(5) <= '05-31')
        expect(unbooked.counts['start-up']).toBeGreaterThan(0);
      const list = await call('client.list', { limit: 100 });
      expect(list.rows.length).toBeGreaterThanOrEqual(58);
      expect((await call('client.list', { search: 'halvik' })).rows.length).toBeGreaterThanOrEqual(2);
      for (const row of list.rows.slice(0, 12))
        if (row.propertyId)
          expect((await call('property.open', { propertyId: row.propertyId })).programs.length).toBeGreaterThan(0);
    } finally {
      await desk.close();
    }
    expect(rows(path, 'SELECT id FROM ledgerEntry WHERE doneOn >= ? OR recordedAt >= ?', today, today)).toEqual([]);
    expect(rows(path, "SELECT id FROM visit WHERE state = 'done' AND doneOn >= ?", today)).toEqual([]);
  });
});

describe('making a book', () => {
  it('can be large: as many entries a property as asked for', async () => {
    const path = await make({ properties: 8, ledgerEntriesPerProperty: 200 });
    const perProperty = rows<{ n: number }>(path, 'SELECT count(*) n FROM ledgerEntry GROUP BY propertyId');
    expect(perProperty).toHaveLength(8);
    for (const { n } of perProperty) expect(n).toBe(200);
  });

  it('never replaces a file', async () => {
    const path = join(folder, 'mine.txt');
    writeFileSync(path, 'mine');
    await expect(makeDemoBook({ path, properties: 3, seed: 1, today: '2026-07-27' })).rejects.toMatchObject({
      code: 'conflict',
    });
    expect(readFileSync(path, 'utf8')).toBe('mine');
  });

  it('leaves nothing when cancelled, and reports progress', async () => {
    const inside = mkdtempSync(join(folder, 'cancel-'));
    const cancel = new AbortController();
    const seen: number[] = [];
    const making = makeDemoBook({
      path: join(inside, 'a.valvebook'),
      properties: 400,
      seed: 1,
      today: '2026-07-27',
      signal: cancel.signal,
      onProgress: ({ done }) => {
        seen.push(done);
        if (done >= 50) cancel.abort();
      },
    });
    await expect(making).rejects.toMatchObject({ code: 'cancelled' });
    expect(seen.length).toBeGreaterThan(1);
    expect(readdirSync(inside)).toEqual([]);
  });

  it.each([
    [{ properties: 0 }, 'properties'],
    [{ properties: 2.5 }, 'properties'],
    [{ seed: -1 }, 'seed'],
    [{ today: '2026-02-30' }, 'today'],
    [{ ledgerEntriesPerProperty: -1 }, 'ledgerEntriesPerProperty'],
  ])('refuses %o by name', async (bad, field) => {
    const path = join(folder, 'never.valvebook');
    await expect(makeDemoBook({ path, properties: 3, seed: 1, today: '2026-07-27', ...bad })).rejects.toMatchObject({
      code: 'bad-input',
      field,
    });
    expect(existsSync(path)).toBe(false);
  });
});
