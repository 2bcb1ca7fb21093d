import { ulid } from 'ulid';
import { serveBook, type ServedBook } from './serve-book.ts';

/** A Tuesday. */
export const TODAY = '2026-10-06';
export const WEDNESDAY = '2026-10-07';
export const THURSDAY = '2026-10-08';

/** An empty book served on this machine. */
export const serveEmptyBook = (): Promise<ServedBook> => serveBook(TODAY);

export interface CalendarBook extends ServedBook {
  odalys: string;
  bram: string;
  /** Street by place in Odalys's Wednesday; the last is locked. */
  wednesday: string[];
  thursday: string[];
}

/** Two technicians, three stops on Wednesday, two on Thursday, and a property with nothing booked. */
export async function makeCalendarBook(): Promise<CalendarBook> {
  const book = await serveEmptyBook();
  const [odalys, bram, route] = [ulid(), ulid(), ulid()];
  await book.call('people.save', {
    writeId: ulid(),
    technicians: [
      { id: odalys, name: 'Odalys Fenn', skills: ['winterization', 'repair'], dayStart: '08:00', dayEnd: '10:00' },
      { id: bram, name: 'Bram Achterberg', skills: ['winterization'] },
    ],
    routes: [{ id: route, name: 'North bench' }],
  });
  const property = async (street: string, routeId: string | null = null) => {
    const [clientId, propertyId] = [ulid(), ulid()];
    await book.call('client.save', { writeId: ulid(), client: { id: clientId, name: `Owner of ${street}` } });
    await book.call('property.save', {
      writeId: ulid(),
      property: { id: propertyId, clientId, street, city: 'Tamsett', routeId },
    });
    return propertyId;
  };
  const wednesday = ['18 Quarry Lane', '2200 Cobbleway', '5 Mill Race'];
  const thursday = ['70 Heron Way', '12 Alder Lane'];
  for (const [index, street] of wednesday.entries()) {
    const visitId = ulid();
    await book.call('visit.book', {
      writeId: ulid(),
      visitId,
      propertyId: await property(street, index === 0 ? route : null),
      kind: index === 1 ? 'repair' : 'winterization',
      date: WEDNESDAY,
      technicianId: odalys,
      expectedMinutes: 30,
    });
    if (index === 2)
      await book.call('visit.move', { writeId: ulid(), visitId, date: WEDNESDAY, technicianId: odalys, locked: true });
  }
  for (const street of thursday)
    await book.call('visit.book', {
      writeId: ulid(),
      visitId: ulid(),
      propertyId: await property(street),
      kind: 'winterization',
      date: THURSDAY,
      technicianId: odalys,
      expectedMinutes: 60,
    });
  await property('9 Juniper Street');
  return { ...book, odalys, bram, wednesday, thursday };
}
