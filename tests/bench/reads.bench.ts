import Database from 'better-sqlite3';
import { addDays } from '../../core/dates.ts';
import { chance } from '../../core/demo/random.ts';
import { bareClientList, bareDueList, type BareSettings } from './bare-list.ts';
import { bareProperty } from './bare-property.ts';
import { BENCH_TODAY } from './book.ts';
import { mustAgree, openBench } from './call.ts';
import { duel } from './stats.ts';
import type { Measured } from './table.ts';

const WARM = 20;

/** What is typed into the search field: beginnings and middles of names, streets, house numbers, telephones, two words, nothing found. */
function searchTerms(raw: Database.Database, count: number): string[] {
  const rng = chance('search terms');
  const sites = raw
    .prepare('SELECT c.name, c.phone, p.street FROM client c JOIN property p ON p.clientId = c.id ORDER BY c.id, p.id')
    .all() as { name: string; phone: string; street: string }[];
  return Array.from({ length: count }, () => {
    const { name, phone, street } = rng.pick(sites);
    const plain = name
      .normalize('NFKD')
      .replace(/[^\x20-\x7e]/g, '')
      .toLowerCase();
    const family = plain.split(' ').at(-1)!;
    const [number, ...way] = street.toLowerCase().split(' ');
    return rng.weighted([
      [family.slice(0, 2), 3],
      [family.slice(0, 3), 4],
      [family.slice(0, 5), 3],
      [family.slice(1, 5), 1],
      [plain.split(' ')[0]!, 2],
      [way[0]!.slice(0, 4), 3],
      [`${number} ${way[0]!.slice(0, 3)}`, 3],
      [phone.slice(-4), 2],
      [`${family.slice(0, 3)} ${way[0]!.slice(0, 3)}`, 2],
      [`zzq${rng.int(10, 99)}`, 1],
    ]);
  });
}

function settingsOf(raw: Database.Database): BareSettings {
  return JSON.parse(
    raw.prepare("SELECT value FROM setting WHERE key = 'company'").pluck().get() as string,
  ) as BareSettings;
}

export async function listRow(book: string, rounds: number): Promise<Measured> {
  const { desk, call } = await openBench(book, 'read');
  const raw = new Database(book, { readonly: true });
  try {
    const bare = bareClientList(raw, BENCH_TODAY, settingsOf(raw));
    const terms = searchTerms(raw, rounds + WARM);
    for (const search of terms.slice(0, WARM)) {
      const ours = await call('client.list', { search });
      const mine = bare(search);
      mustAgree(
        `client.list “${search}”`,
        [ours.total, ours.rows.map((row) => [row.propertyId, row.seasonState, [...row.due].sort()])],
        [
          mine.total,
          mine.rows.map((row: any) => [
            row.propertyId,
            row.propertyId === null ? null : row.seasonState,
            [...row.due].sort(),
          ]),
        ],
      );
    }
    const times = await duel(terms, WARM, (search) => call('client.list', { search }), bare);
    return {
      name: 'client.list search',
      unit: 'ms',
      ...times,
      aim: { of: 'p95', atMost: 30, ratioAtMost: 3 },
      note: `${new Set(terms).size} different terms, 100 rows a page; bare: prepared LIKE search, sensors, seasons and visits of the page, dates compared as text`,
    };
  } finally {
    raw.close();
    await desk.close();
  }
}

export async function openRow(book: string, rounds: number): Promise<Measured> {
  const { desk, call } = await openBench(book, 'read');
  const raw = new Database(book, { readonly: true });
  try {
    const ids = raw.prepare('SELECT id FROM property ORDER BY id').pluck().all() as string[];
    const rng = chance('open');
    const chosen = Array.from({ length: rounds + WARM }, () => rng.pick(ids));
    const bare = bareProperty(raw, BENCH_TODAY, settingsOf(raw));
    for (const propertyId of chosen.slice(0, WARM)) {
      const ours = await call('property.open', { propertyId });
      const mine = bare(propertyId);
      const shape = (page: any) => [
        page.property.street,
        page.client.name,
        page.zones.map((zone: any) => [zone.id, zone.prInputs]),
        page.sensors.map((sensor: any) => sensor.batteryDate),
        page.programs.map((program: any) => [program.id, program.revision.id, program.revision.runs]),
        page.restriction?.stages ?? null,
        page.route?.name ?? null,
        page.due.map((due: any) => due.kind).sort(),
        page.visits.map((visit: any) => visit.id),
        page.ledger.map((entry: any) => [entry.id, entry.summary, entry.historyLength]),
        page.ledgerTotal,
        page.siblings,
      ];
      mustAgree(`property.open ${propertyId}`, shape(ours), shape(mine));
    }
    const times = await duel(chosen, WARM, (propertyId) => call('property.open', { propertyId }), bare);
    return {
      name: 'property.open',
      unit: 'ms',
      ...times,
      aim: { of: 'p95', atMost: 15, ratioAtMost: 3 },
      note: 'a property at random each time; bare: one prepared statement a table, JSON parsed, the same sentences',
    };
  } finally {
    raw.close();
    await desk.close();
  }
}

export async function dueRow(book: string, rounds: number): Promise<Measured> {
  const { desk, call } = await openBench(book, 'read');
  const raw = new Database(book, { readonly: true });
  try {
    const bare = bareDueList(raw, BENCH_TODAY, addDays(BENCH_TODAY, 30), settingsOf(raw));
    const ours = await call('due.list', {});
    const mine = bare();
    const counts = (all: Record<string, number>) =>
      Object.entries(all)
        .filter(([, n]) => n > 0)
        .sort();
    mustAgree('due.list', [ours.total, counts(ours.counts)], [mine.total, counts(mine.counts)]);
    const times = await duel(Array.from({ length: rounds + 3 }), 3, () => call('due.list', {}), bare);
    return {
      name: 'due.list, whole company',
      unit: 'ms',
      ...times,
      aim: { of: 'p95', atMost: 150, ratioAtMost: 3 },
      note: `${ours.total} things due; bare: four prepared statements over the company, dates compared as text, one sort`,
    };
  } finally {
    raw.close();
    await desk.close();
  }
}
