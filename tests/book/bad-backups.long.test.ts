import { createHash } from 'node:crypto';
import {
  copyFileSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findRequest, REQUESTS, type Progress } from '../../core/contract/index.ts';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import { firstUnansweredRead, screenReads } from '../../core/desk/screen-reads.ts';
import { openForReading, SCHEMA_VERSION } from '../../core/book/migrate.ts';
import { makeDemoBook } from '../../core/demo/make-demo-book.ts';

// Backups made by somebody who means harm, or by a bad disk: none takes the place of the open book, each is told why.

const TODAY = '2026-06-15';
let folder: string;
let bookPath: string;
let good: string;
let desk: Desk;
let before: string;
const hash = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');
const filesOf = () => readdirSync(folder, { recursive: true }).map(String).sort();

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'valvebook-bad-'));
  bookPath = join(folder, 'company.valvebook');
  good = join(folder, 'good.valvebook');
  await makeDemoBook({ path: bookPath, properties: 6, seed: 3, today: TODAY });
  const first = await openDesk({ bookPath, today: () => TODAY });
  expect(await first.call('book.backup', { toPath: good })).toMatchObject({ ok: true });
  await first.close();
  before = hash(bookPath);
  desk = await openDesk({ bookPath, today: () => TODAY });
}, 60_000);
afterAll(async () => {
  await desk.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Statements run on a copy of the good backup, past triggers, keys and SQLite's own safety. */
const sql = (statements: string) => (path: string) => {
  copyFileSync(good, path);
  const raw = new Database(path);
  raw.unsafeMode(true);
  raw.pragma('foreign_keys = OFF');
  raw.pragma('ignore_check_constraints = ON');
  raw.exec(statements);
  raw.close();
};
/** Changes history past its guard and puts the guard back word for word. */
const past = (guard: string, statements: string) => (path: string) => {
  const raw = new Database(good, { readonly: true });
  const text = String(raw.prepare('SELECT sql FROM sqlite_schema WHERE name = ?').pluck().get(guard));
  raw.close();
  sql(`DROP TRIGGER ${guard}; ${statements}; ${text}`)(path);
};
const bytes = (change: (content: Buffer) => Buffer) => (path: string) =>
  writeFileSync(path, change(Buffer.from(readFileSync(good))));
const SCHEMA = (statement: string) => `PRAGMA writable_schema = ON; ${statement}; PRAGMA writable_schema = OFF`;

/** The good backup's tables and rows in a file whose texts are kept another way. */
function inUtf16(path: string): void {
  const from = new Database(good, { readonly: true });
  const to = new Database(path);
  to.pragma("encoding = 'UTF-16le'");
  for (const name of ['application_id', 'user_version'])
    to.pragma(`${name} = ${String(from.pragma(name, { simple: true }))}`);
  const parts = from
    .prepare<[], { type: string; name: string; sql: string }>(
      "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY rowid",
    )
    .all();
  for (const { type, sql: text } of parts) if (type === 'table') to.exec(text);
  for (const { type, name } of parts) {
    if (type !== 'table') continue;
    const rows = from.prepare<[], Record<string, unknown>>(`SELECT * FROM "${name}"`).all();
    for (const row of rows)
      to.prepare(`INSERT INTO "${name}" VALUES (${Object.keys(row).fill('?').join()})`).run(...Object.values(row));
  }
  for (const { type, sql: text } of parts) if (type !== 'table') to.exec(text);
  from.close();
  to.close();
}

const BAD: [string, (path: string) => void, RegExp][] = [
  ['an empty file', (path) => writeFileSync(path, ''), /empty|not a Valvebook book/],
  ['texts kept as UTF-16', inUtf16, /keeps its texts as UTF-16le/],
  [
    "a table of its own under a name of SQLite's statistics",
    sql(
      `DROP TABLE IF EXISTS sqlite_stat1; CREATE TABLE hidden(a, b);
       ${SCHEMA("UPDATE sqlite_schema SET name = 'sqlite_stat1', tbl_name = 'sqlite_stat1', sql = 'CREATE TABLE sqlite_stat1(a, b)' WHERE name = 'hidden'")}`,
    ),
    /table sqlite_stat1 that Valvebook did not make|malformed/,
  ],
  ['a letter', (path) => writeFileSync(path, 'Dear client,\n'.repeat(500)), /not a Valvebook book/],
  ['a folder', (path) => mkdirSync(path), /not a file/],
  ['a link that leads nowhere', (path) => symlinkSync(join(folder, 'nowhere'), path), /no book at/],
  ['a link to the open book', (path) => symlinkSync(bookPath, path), /open book itself/],
  ['the open book by a second name', (path) => linkSync(bookPath, path), /open book itself/],
  ['only a header', bytes((content) => content.subarray(0, 100)), /cut short/],
  ['half of it', bytes((content) => content.subarray(0, content.length / 2)), /cut short/],
  [
    'another program’s database',
    (path) => {
      const raw = new Database(path);
      raw.exec('CREATE TABLE recipe (name TEXT)');
      raw.close();
    },
    /not a Valvebook book/,
  ],
  ['torn pages', bytes((content) => content.fill(0xa5, 3 * 8192, 12 * 8192)), /damaged/],
  ['a torn first table', bytes((content) => content.fill(0xff, 100, 160)), /damaged/],
  ['pages in another order', bytes((content) => swapPages(content, 5, 9)), /damaged/],
  ['layout −1', sql('PRAGMA user_version = -1'), /layout -1, which there never was/],
  ['layout −2147483648', sql('PRAGMA user_version = -2147483648'), /which there never was/],
  ['layout 0', sql('PRAGMA user_version = 0'), /holds no book yet/],
  ['a layout to come', sql(`PRAGMA user_version = ${SCHEMA_VERSION + 1}`), /newer Valvebook/],
  ['layout 2147483647', sql('PRAGMA user_version = 2147483647'), /newer Valvebook/],
  ['a guard gone', sql('DROP TRIGGER ledgerEntryNoUpdate'), /trigger ledgerEntryNoUpdate is missing/],
  ['every guard gone', sql(SCHEMA("DELETE FROM sqlite_schema WHERE type = 'trigger'")), /trigger \w+ is missing/],
  [
    'a guard that does nothing',
    sql(
      'DROP TRIGGER ledgerEntryNoDelete; CREATE TRIGGER ledgerEntryNoDelete BEFORE DELETE ON ledgerEntry BEGIN SELECT 1; END',
    ),
    /ledgerEntryNoDelete is not as/,
  ],
  [
    'a guard written anew in the schema',
    sql(SCHEMA("UPDATE sqlite_schema SET sql = replace(sql, 'ABORT', 'FAIL') WHERE name = 'programRunNoUpdate'")),
    /programRunNoUpdate is not as/,
  ],
  [
    'a trigger that eats what is written',
    sql('CREATE TRIGGER eats AFTER INSERT ON ledgerEntry BEGIN DELETE FROM season; END'),
    /trigger eats .*did not make/,
  ],
  [
    'a trigger whose name has line breaks',
    sql('CREATE TRIGGER "a\nb\u0007" AFTER INSERT ON client BEGIN SELECT 1; END'),
    /trigger a b .*did not make/,
  ],
  ['an index gone', sql('DROP INDEX ledgerCorrects'), /index ledgerCorrects is missing/],
  ['an index more', sql('CREATE INDEX more ON client (name)'), /index more/],
  ['a table gone', sql('DROP TABLE importMapping'), /importMapping/],
  ['a table more', sql('CREATE TABLE more (id)'), /table more/],
  [
    'a view in place of a table',
    sql('ALTER TABLE weatherDay RENAME TO hidden; CREATE VIEW weatherDay AS SELECT * FROM hidden'),
    /table weatherDay/,
  ],
  ['a virtual table', sql('CREATE VIRTUAL TABLE more USING fts5(text)'), /table more/],
  ['a column more', sql('ALTER TABLE client ADD COLUMN more'), /table client is not as/],
  [
    'a column whose kind was changed',
    sql(
      SCHEMA(
        "UPDATE sqlite_schema SET sql = replace(sql, '\"doneOn\" text not null', '\"doneOn\" text') WHERE name = 'ledgerEntry'",
      ),
    ),
    /table ledgerEntry is not as/,
  ],
  ['settings that are no JSON', sql("REPLACE INTO setting VALUES ('company', '{')"), /settings cannot be read/],
  [
    'settings out of range',
    sql(`REPLACE INTO setting VALUES ('company', '{"batteryLifeMonths":-3}')`),
    /settings cannot be read/,
  ],
  [
    'a time zone there is not',
    sql(`REPLACE INTO setting VALUES ('company', '{"timeZone":"Mars/Base"}')`),
    /settings cannot be read/,
  ],
  ['another setting that is no JSON', sql("INSERT INTO setting VALUES ('other', 'yes')"), /setting other/],
  ['clients gone', sql('DELETE FROM client'), /does not exist/],
  [
    'a visit on 31 November',
    sql("UPDATE visit SET date = '2026-11-31' WHERE id = (SELECT min(id) FROM visit)"),
    /visit .* date/,
  ],
  [
    'work done on 30 February',
    past(
      'ledgerEntryNoUpdate',
      "UPDATE ledgerEntry SET doneOn = '2025-02-30' WHERE id = (SELECT min(id) FROM ledgerEntry)",
    ),
    /2025-02-30/,
  ],
  [
    'work recorded “soon”',
    past(
      'ledgerEntryNoUpdate',
      "UPDATE ledgerEntry SET recordedAt = 'soon' WHERE id = (SELECT min(id) FROM ledgerEntry)",
    ),
    /“soon”|Ledger entry/,
  ],
  [
    'an entry that says nothing',
    past('ledgerEntryNoUpdate', "UPDATE ledgerEntry SET detail = 'x' WHERE id = (SELECT min(id) FROM ledgerEntry)"),
    /cannot be read|Ledger entry/,
  ],
  ['rain as text', sql("UPDATE zone SET slopePercent = 'steep' WHERE id = (SELECT min(id) FROM zone)"), /slopePercent/],
  [
    'a projection that lies',
    sql("UPDATE sensor SET batteryDate = '2031-01-01' WHERE batteryDate IS NOT NULL"),
    /the ledger says/,
  ],
  [
    'a weather day of no calendar',
    sql("UPDATE weatherDay SET date = '2026-13-01' WHERE date = (SELECT min(date) FROM weatherDay)"),
    /weatherDay .*2026-13-01/,
  ],
];

function swapPages(content: Buffer, one: number, other: number): Buffer {
  const page = Buffer.from(content.subarray(one * 8192, (one + 1) * 8192));
  content.copy(content, one * 8192, other * 8192, (other + 1) * 8192);
  page.copy(content, other * 8192);
  return content;
}

describe('bad backups', () => {
  it.each(BAD)('%s', async (_what, craft, sentence) => {
    const bad = join(folder, 'bad.valvebook');
    rmSync(bad, { recursive: true, force: true });
    craft(bad);
    const files = filesOf().filter((name) => !/-(wal|shm)$/.test(name));
    const watcher = new Database(bookPath, { readonly: true });
    const version = watcher.pragma('data_version', { simple: true });
    try {
      const reply = await desk.call('book.restore', { fromPath: bad });
      expect(reply).toMatchObject({ ok: false, error: { message: expect.stringMatching(sentence) } });
      if (reply.ok) return;
      expect(['book-unreadable', 'conflict', 'not-found']).toContain(reply.error.code);
      expect(reply.error.message).toMatch(/^[^\n\u0007]{10,800}[.!)]$/);
      expect(filesOf().filter((name) => !/-(wal|shm)$/.test(name))).toEqual(files);
      expect(watcher.pragma('data_version', { simple: true })).toBe(version);
      expect(await desk.call('book.info', {})).toMatchObject({ ok: true });
    } finally {
      watcher.close();
      rmSync(bad, { recursive: true, force: true });
    }
  });

  it('after all of them the book is, byte for byte, what it was', async () => {
    expect(BAD.length).toBeGreaterThanOrEqual(40);
    await desk.close();
    expect(hash(bookPath)).toBe(before);
    desk = await openDesk({ bookPath, today: () => TODAY });
  });

  it('a good backup beside them is taken, with progress; cancelled, it is not, and nothing is left', async () => {
    const abort = new AbortController();
    const files = filesOf();
    const cancelled = await desk.call(
      'book.restore',
      { fromPath: good },
      { signal: abort.signal, onProgress: ({ label }) => void (label === 'Looking at the backup' && abort.abort()) },
    );
    expect(cancelled).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(filesOf()).toEqual(files);
    const seen: Progress[] = [];
    const reply = await desk.call('book.restore', { fromPath: good }, { onProgress: (one) => void seen.push(one) });
    expect(reply).toMatchObject({ ok: true });
    expect(new Set(seen.map(({ label }) => label)).size).toBeGreaterThan(2);
    expect(await desk.call('book.check', {})).toMatchObject({ ok: true, data: { clean: true } });
  });
});

describe('what a backup is asked before it is taken', () => {
  it('is every read of the contract, and a good book answers all of it', async () => {
    const none = { client: [], property: [], technician: [], program: [], zone: [], weatherStation: [] };
    const reads = REQUESTS.filter((request) => request.kind === 'read').map((request) => request.name);
    expect(Object.keys(screenReads(none, TODAY)).sort()).toEqual([...reads].sort());
    const some = Object.fromEntries(Object.keys(none).map((table) => [table, ['01M89G142THQ4T01D3AF4RW5DM']]));
    for (const [name, inputs] of Object.entries(screenReads(some as unknown as typeof none, TODAY))) {
      expect(inputs.length, name).toBeGreaterThan(0);
      for (const input of inputs) expect(findRequest(name)!.input.safeParse(input).success, name).toBe(true);
    }
  });

  it('finds the request that would not be answered', async () => {
    const broken = join(folder, 'unanswered.valvebook');
    const context = async () => {
      const connection = await openForReading(broken);
      return {
        connection,
        context: { db: connection.db, today: TODAY, now: `${TODAY}T12:00:00Z`, bookPath: broken },
      };
    };
    copyFileSync(good, broken);
    const sound = await context();
    expect(await firstUnansweredRead(sound.context, () => undefined)).toBeNull();
    await sound.connection.close();
    sql("UPDATE technician SET skills = '['")(broken);
    const { connection, context: bare } = await context();
    expect(await firstUnansweredRead(bare, () => undefined)).toMatchObject({ request: 'visit.list' });
    await connection.close();
  });
});
