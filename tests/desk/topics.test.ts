import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type Database from 'better-sqlite3';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { screenReads } from '../../core/desk/screen-reads.ts';
import { findRequest, REQUESTS, type RequestName, type Topic } from '../../core/contract/index.ts';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import { handlers } from '../../core/desk/handlers.ts';
import { someIds } from '../../core/book/check-queries.ts';
import { chance } from '../../core/demo/random.ts';
import { connect, type SqliteConnection } from '../../core/store/sqlite.ts';
import type { BookTables } from '../../core/store/tables.ts';
import { makeDemo } from '../../electron/demo.ts';
import { RECIPES } from '../faults/recipes.ts';
import { TODAY } from '../faults/recipes-work.ts';
import { learn, readWorld, type World } from '../faults/world.ts';

// A screen reads again when a write names a topic that its read names. So a read names the topics of every table that SQLite
// opens for it, and a write those of every table in which a row is different after it. Both are looked at here from outside:
// SQLite's own program for each statement (sqlite.org/opcode.html: OpenRead names the root page), and the rows themselves.

/** Which change a row of a table is. A link of the chain comes with an entry or with a revision. */
const TOPICS_OF: Record<keyof BookTables, readonly Topic[]> = {
  client: ['client'],
  property: ['property'],
  controller: ['property'],
  zone: ['property'],
  sensor: ['property'],
  program: ['program'],
  programRevision: ['program'],
  programRun: ['program'],
  visit: ['visit'],
  ledgerEntry: ['ledger'],
  season: ['ledger'],
  finding: ['ledger'],
  chainHead: ['ledger', 'program'],
  ledgerChain: ['ledger', 'program'],
  technician: ['people'],
  truck: ['people'],
  route: ['people'],
  restriction: ['rules'],
  thumbRule: ['rules'],
  weatherStation: ['weather'],
  weatherDay: ['weather'],
  setting: ['settings'],
  // No read shows what was written before, nor how a list was understood the last time: an import asks for it anew.
  writeLog: [],
  importMapping: [],
};

let folder: string;
let bookPath: string;
let desk: Desk;
let reading: SqliteConnection;
const statements = new Set<string>();

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'valvebook-topics-'));
  bookPath = join(folder, 'book.valvebook');
  await makeDemo({ path: bookPath, properties: 12, seed: 4, today: TODAY });
  desk = await openDesk({ bookPath, today: () => TODAY });
  reading = connect(bookPath, 'read');
});
afterAll(async () => {
  await reading.close();
  await desk.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Notes the text of every statement that any connection of this process runs meanwhile. */
async function noting<T>(work: () => Promise<T>): Promise<T> {
  const statement = Object.getPrototypeOf(reading.raw.prepare('select 1')) as Record<string, unknown>;
  const kept = new Map<string, unknown>();
  for (const way of ['all', 'get', 'iterate', 'run']) {
    const real = statement[way] as (...given: unknown[]) => unknown;
    kept.set(way, real);
    statement[way] = function noted(this: Database.Statement, ...given: unknown[]) {
      statements.add(this.source);
      return real.apply(this, given);
    };
  }
  try {
    return await work();
  } finally {
    for (const [way, real] of kept) statement[way] = real;
  }
}

/** The tables that SQLite opens to run a statement, its triggers included. */
function tablesOf(text: string): string[] {
  const byRoot = new Map(
    (reading.raw.prepare('select rootpage, tbl_name as name from sqlite_schema where rootpage > 0').all() as any[]).map(
      (row) => [row.rootpage as number, row.name as string],
    ),
  );
  const steps = reading.raw.prepare(`explain ${text}`);
  const slots = (text.match(/\?/g) ?? []).length;
  return (steps.all(...Array.from({ length: slots }, () => null)) as any[]).flatMap((step) =>
    /^Open(Read|Write)$/.test(step.opcode) && step.p3 === 0 && byRoot.has(step.p2) ? [byRoot.get(step.p2)!] : [],
  );
}

const topicsOf = (table: string) => TOPICS_OF[table as keyof BookTables];

test('every table says what it is a change of', () => {
  const tables = reading.raw
    .prepare("select name from sqlite_schema where type = 'table' and name not like 'sqlite%' order by name")
    .pluck()
    .all();
  expect(tables).toEqual(Object.keys(TOPICS_OF).sort());
});

test('the looker sees a table in a statement that is joined, counted by an index, or asked for in a condition', () => {
  expect(tablesOf('select count(*) from ledgerEntry')).toEqual(['ledgerEntry']);
  const text =
    'select 1 from zone where exists (select 1 from season where season.propertyId = ?) and id in (select id from truck)';
  expect(new Set(tablesOf(text))).toEqual(new Set(['zone', 'season', 'truck']));
});

const reads = REQUESTS.filter((request) => request.kind === 'read');
test.each(reads.map(({ name }) => name))('%s names the topics of what it shows, and no other', async (name) => {
  const inputs = (screenReads(await someIds(reading.db), TODAY) as Record<string, object[]>)[name]!;
  const shown = new Map<Topic, string>();
  for (const input of inputs) {
    statements.clear();
    const context = {
      db: reading.db,
      now: `${TODAY}T15:00:00Z`,
      bookPath,
      // The company's day hangs on its time zone, which is a setting.
      get today() {
        shown.set('settings', 'the day');
        return TODAY;
      },
    };
    await noting(() => (handlers as any)[name](context, findRequest(name)!.input.parse(input)));
    for (const text of statements)
      if (/^\s*(select|with)\b/i.test(text))
        for (const table of tablesOf(text)) for (const topic of topicsOf(table)) shown.set(topic, table);
  }
  const { topics } = findRequest(name)!;
  // Backups and the book's files are not rows.
  const superfluous = topics.filter((topic) => topic !== 'book' && !shown.has(topic));
  const missing = [...shown].filter(([topic]) => !topics.includes(topic));
  expect({ missing, superfluous }).toEqual({ missing: [], superfluous: [] });
});

/** What each table holds, as one short text. */
function contents(): Map<string, string> {
  return new Map(
    Object.keys(TOPICS_OF).map((table) => [
      table,
      createHash('sha256')
        .update(JSON.stringify(reading.raw.prepare(`select * from "${table}"`).all()))
        .digest('hex'),
    ]),
  );
}

const DRAWS = 10;
const WORKS_IN_TABLES = (request: (typeof REQUESTS)[number]) =>
  request.kind === 'write' || request.name === 'import.apply';
test.each(REQUESTS.filter(WORKS_IN_TABLES).map(({ name }) => name))(
  '%s names the topic of every table it changes',
  async (name) => {
    const dice = chance(7 + name.length);
    const world: World = await readWorld(desk as never, folder, []);
    const recipe = RECIPES[name] as (world: World, dice: unknown) => unknown;
    const { topics } = findRequest(name)!;
    let done = 0;
    for (let draw = 0; draw < DRAWS; draw += 1) {
      const input = recipe(world, dice);
      if (input === null) continue;
      const before = contents();
      const told: Topic[] = [];
      const stop = desk.onChange((changed) => told.push(...changed));
      const reply = await desk.call(name, input);
      stop();
      if (!reply.ok) continue;
      learn(world, name, input, reply.data);
      done += 1;
      const after = contents();
      const changed = [...after].flatMap(([table, held]) => (held === before.get(table) ? [] : [table]));
      expect(
        changed.filter((table) => topicsOf(table).length > 0 && !topicsOf(table).some((one) => topics.includes(one))),
      ).toEqual([]);
      expect(told).toEqual([...topics]);
    }
    expect(done).toBeGreaterThan(0);
  },
);

test('a request that changes the book is one of those, or replaces all of it', () => {
  const changing = REQUESTS.filter((request) => 'changesBook' in request && request.changesBook).map(
    ({ name }) => name,
  );
  const elsewhere: RequestName[] = changing.filter((name) => name !== 'import.apply');
  // The first changes what others may do with the files, no row.
  expect(elsewhere).toEqual(['book.makePrivate', 'book.restore']);
});
