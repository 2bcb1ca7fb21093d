import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { setImmediate as breathe } from 'node:timers/promises';
import { MAX_VISITS_A_DAY } from '../visits/contract.ts';
import type { Progress } from '../contract/define-request.ts';
import { plainDateSchema } from '../contract/parts.ts';
import { fact } from '../text/say.ts';
import { BookError } from '../errors.ts';
import { placeOf } from '../paths.ts';
import { OWNER_ONLY_FOLDER } from '../owner-only.ts';
import { syncFile } from '../store/book-file.ts';
import { migrate } from '../book/index.ts';
import { clientSearchText, propertySearchText, sortName } from '../store/search-text.ts';
import { assertMayBeMade } from '../store/new-book.ts';
import { engine } from '../store/book-engine.ts';
import { bookAhead, type OpenProperty } from './bookings.ts';
import { groundOf } from './ground.ts';
import { historyOf } from './history.ts';
import type { VisitRow } from './journal.ts';
import { ownerOf, type Owner } from './owners.ts';
import { weatherDaysOf } from './weather-days.ts';
import { makeWorld, thumbRulesOf, type World } from './world.ts';
import { DemoWriter } from './writer.ts';

export interface DemoBookOptions {
  /** Where the new book goes; there must be no file yet. */
  path: string;
  properties: number;
  seed: number;
  /** The last day of the story, YYYY-MM-DD: history before it, bookings from it on. */
  today: string;
  /** Every property has exactly so many ledger entries (or more, where its work made more). Left out: as the work makes them. */
  ledgerEntriesPerProperty?: number;
  onProgress?: (progress: Progress) => void;
  signal?: AbortSignal;
}

const CHUNK = 25;

/**
 * Makes a new book of an invented company with three years of history: the same rows for the same seed, number of
 * properties and date. A property's own story does not depend on how many there are (who comes and when it is booked next does).
 * It is written aside and renamed, so a cancelled or killed making leaves no half book.
 * @throws BookError 'conflict' where the file exists, 'bad-input' for impossible options, 'cancelled'.
 */
export async function makeDemoBook(
  options: DemoBookOptions,
): Promise<{ path: string; counts: Record<string, number> }> {
  check(options);
  const path = placeOf(options.path, 'book');
  mkdirSync(dirname(path), { recursive: true, mode: OWNER_ONLY_FOLDER });
  const aside = join(dirname(path), `.${basename(path)}.demo-${process.pid}`);
  sweep(aside);
  try {
    const counts = await write(aside, options);
    if (existsSync(path)) throw alreadyThere(path);
    renameSync(aside, path);
    return { path, counts };
  } finally {
    sweep(aside);
  }
}

function check({ path, properties, seed, today, ledgerEntriesPerProperty }: DemoBookOptions): void {
  if (!Number.isInteger(properties) || properties < 1 || properties > 50_000)
    throw new BookError(
      'bad-input',
      fact('terminal.demoNumber', { option: 'properties', value: properties, least: 1, most: 50_000 }),
      'properties',
    );
  if (!Number.isInteger(seed) || seed < 0 || seed > 2 ** 31 - 1)
    throw new BookError(
      'bad-input',
      fact('terminal.demoNumber', { option: 'seed', value: seed, least: 0, most: 2 ** 31 - 1 }),
      'seed',
    );
  if (!plainDateSchema.safeParse(today).success)
    throw new BookError('bad-input', fact('terminal.demoToday', { value: today }), 'today');
  if (
    ledgerEntriesPerProperty !== undefined &&
    (!Number.isInteger(ledgerEntriesPerProperty) || ledgerEntriesPerProperty < 0 || ledgerEntriesPerProperty > 5000)
  ) {
    throw new BookError(
      'bad-input',
      fact('terminal.demoNumber', {
        option: 'ledgerEntriesPerProperty',
        value: ledgerEntriesPerProperty,
        least: 0,
        most: 5000,
      }),
      'ledgerEntriesPerProperty',
    );
  }
  if (existsSync(path)) throw alreadyThere(path);
  assertMayBeMade(placeOf(path, 'book'), 'book');
}

function alreadyThere(path: string): BookError {
  return new BookError('conflict', fact('terminal.demoInTheWay', { path }), 'book');
}

function sweep(aside: string): void {
  for (const end of ['', '-wal', '-shm', '-journal']) rmSync(`${aside}${end}`, { force: true });
}

async function write(aside: string, options: DemoBookOptions): Promise<Record<string, number>> {
  const { properties, signal, onProgress } = options;
  const pause = async (done: number, label: string) => {
    onProgress?.({ done, total: properties, label });
    await breathe();
    if (signal?.aborted) throw new BookError('cancelled', 'Cancelled. No demo company was made.');
  };
  const connection = engine.create(aside);
  try {
    await migrate(connection);
    const world = makeWorld({
      seed: options.seed,
      today: options.today,
      properties,
      entriesPerProperty: options.ledgerEntriesPerProperty ?? null,
    });
    const writer = new DemoWriter(connection.bulkLoad());
    writeCompany(writer, world);
    const open: OpenProperty[] = [];
    const order = new DayOrder();
    const addresses = new Set<string>();
    let clients = 0;
    for (let index = 0; index < properties; clients += 1) {
      const owner = ownerOf(world, clients);
      writer.add('client', [
        {
          ...owner.client,
          version: 1,
          searchText: clientSearchText(owner.client),
          sortName: sortName(owner.client.name),
        },
      ]);
      for (let ordinal = 0; ordinal < owner.properties && index < properties; ordinal += 1, index += 1) {
        open.push(writeProperty(writer, world, owner, index, ordinal, addresses, order));
        if (index % CHUNK === 0) await pause(index, 'Properties and their history');
      }
    }
    await pause(properties, 'Bookings');
    bookAhead(world, open);
    for (const { journal } of open) writer.addRows('visit', order.number(journal.visits));
    await writer.finish((built, of) => pause(properties, `Indexes, ${built} of ${of}`));
    return writer.counts;
  } finally {
    await connection.close();
    if (existsSync(aside)) syncFile(aside);
  }
}

function writeCompany(writer: DemoWriter, world: World): void {
  writer.add('setting', [{ key: 'company', value: JSON.stringify(world.settings) }]);
  writer.add('truck', world.trucks);
  writer.add('technician', world.technicians);
  writer.add('route', world.routes);
  writer.add('restriction', [world.restriction]);
  writer.add('thumbRule', thumbRulesOf(world));
  writer.add('weatherStation', world.stations);
  for (const index of world.stations.keys()) writer.add('weatherDay', weatherDaysOf(world, index));
}

function writeProperty(
  writer: DemoWriter,
  world: World,
  owner: Owner,
  index: number,
  ordinal: number,
  addresses: Set<string>,
  order: DayOrder,
): OpenProperty {
  const ground = groundOf(world, owner, index, ordinal, addresses);
  const { journal, programs, seasons, wants } = historyOf(world, ground);
  const { property } = ground;
  writer.add('property', [
    {
      ...property,
      version: 1,
      searchText: propertySearchText(property),
      baseBackflowTestDue: ground.baseBackflowTestDue,
    },
  ]);
  writer.add('controller', ground.controllers);
  writer.add(
    'zone',
    ground.zones.map((plan) => ({ ...plan.zone, ...plan.base })),
  );
  writer.add('sensor', ground.sensors);
  writer.add(
    'program',
    programs.map(({ id, controllerId, name }) => ({ id, propertyId: property.id, controllerId, name })),
  );
  writer.addRows('visit', order.number(journal.visits));
  writer.addHistory(journal);
  writer.addRows('season', seasons);
  // What is written may be forgotten; bookings are added to the emptied list.
  for (const list of [journal.visits, journal.entries, journal.revisions, journal.runs]) list.length = 0;
  return { journal, technician: ground.technician, wants };
}

/** Numbers the stops of each technician's day in the order they come; a cancelled one takes no place. */
class DayOrder {
  private readonly last = new Map<string, number>();

  number(visits: VisitRow[]): VisitRow[] {
    for (const visit of visits) {
      const day = `${visit.date}/${visit.technicianId}`;
      const place = (this.last.get(day) ?? 0) + 1;
      if (visit.state !== 'cancelled') this.last.set(day, place);
      visit.orderInDay = Math.min(MAX_VISITS_A_DAY, place);
    }
    return visits;
  }
}
