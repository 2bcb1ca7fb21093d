import type { Context } from '../context.ts';
import { findRequest, type InputOf, type RequestName } from '../contract/index.ts';
import { BookError } from '../errors.ts';
import { handlers } from './handlers.ts';
import { someIds, type SomeIds } from '../book/index.ts';
import { addDays } from '../dates.ts';

// What the screens ask for when they open. A book that is about to take another's place is asked all of it first.

type ReadName = Exclude<keyof typeof handlers, WriteName>;
type WriteName = Extract<
  keyof typeof handlers,
  `${string}.${'save' | 'revise' | 'accept' | 'book' | 'move' | 'cancel' | 'record' | 'correct'}`
>;
type Reads = { [N in ReadName]: InputOf<N>[] };

/** Every read of the contract with what a screen would ask: of some clients, properties and so on, the first and the last. */
export function screenReads(ids: SomeIds, today: string): Reads {
  const month = Number(today.slice(5, 7));
  const [fromDate, toDate] = [addDays(today, -366), addDays(today, 366)];
  return {
    'client.list': [{}, { archived: true, limit: 500 }, { search: 'a' }],
    'client.open': ids.client.map((clientId) => ({ clientId })),
    'property.open': ids.property.map((propertyId) => ({ propertyId })),
    'due.list': [{ horizonDays: 90 }, { horizonDays: 14, includeBooked: true, limit: 1 }],
    'visit.list': [{ fromDate, toDate }],
    'day.open': ids.technician.map((technicianId) => ({ technicianId, date: today })),
    'ledger.list': [{ limit: 500 }, { includeVoid: true }, ...ids.property.map((propertyId) => ({ propertyId }))],
    'people.list': [{}],
    'work.summary': [0, 1, 2].map((ago) => ({ year: Number(today.slice(0, 4)) - ago })),
    'program.history': ids.program.map((programId) => ({ programId })),
    'program.week': ids.property.map((propertyId) => ({ propertyId })),
    'program.recommend': ids.property.map((propertyId) => ({ propertyId, month })),
    'program.review': ids.property.map((propertyId) => ({ propertyId, month })),
    'zone.trace': ids.zone.map((zoneId) => ({ zoneId, fromDate: addDays(today, -60), toDate: today })),
    'agronomy.eto': [{ latitudeDeg: 40, elevationM: 1500, date: today, tmaxC: 25, tminC: 10 }],
    'zone.audit': [{ volumesMl: [20, 22, 24, 26], throatAreaIn2: 12, runMinutes: 10 }],
    'settings.get': [{}],
    'rules.list': [{}],
    'station.list': [{}],
    'weather.freezeDates': ids.weatherStation.map((stationId) => ({ stationId, thresholdF: 32 })),
    'book.info': [{}],
    'book.today': [{}],
    'book.backupState': [{}],
    'book.backups': [{}],
    'book.seal': [{}],
    'place.list': [{}],
  };
}

/**
 * Asks a book everything a screen asks when it opens.
 * @returns the request that got no answer fit to be shown, and why; null where all were answered.
 */
export async function firstUnansweredRead(
  context: Context,
  asked: (done: number, total: number) => void,
): Promise<{ request: string; cause: unknown } | null> {
  const reads = Object.entries(screenReads(await someIds(context.db), context.today)).flatMap(([name, inputs]) =>
    inputs.map((input) => [name as RequestName, input] as const),
  );
  for (const [index, [name, input]] of reads.entries()) {
    asked(index, reads.length);
    const { input: schema, output } = findRequest(name)!;
    try {
      output.parse(await (handlers as any)[name](context, schema.parse(input)));
    } catch (cause) {
      // "No weather station yet" is an answer that a screen shows.
      if (cause instanceof BookError && (cause.code === 'conflict' || cause.code === 'bad-input')) continue;
      return { request: name, cause };
    }
  }
  return null;
}
