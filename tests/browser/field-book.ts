import { ulid } from 'ulid';
import { addDays } from '../../core/dates.ts';
import type { InputOf } from '../../core/contract/index.ts';
import { serveBook, type ServedBook } from './serve-book.ts';

export const TODAY = '2026-10-12';

export interface FieldBook extends ServedBook {
  technicianId: string;
  /** The stop all the work is logged at. */
  first: { visitId: string; propertyId: string; sensorId: string; programId: string; zoneIds: string[] };
  secondVisitId: string;
  freePropertyId: string;
}

/** A small book with a technician's day in it, served on this machine. */
export async function makeFieldBook(): Promise<FieldBook> {
  const book = await serveBook(TODAY);
  const { call } = book;
  const technicianId = ulid();
  await call('people.save', {
    writeId: ulid(),
    technicians: [
      { id: technicianId, name: 'Odalys Fenn', skills: ['start-up', 'winterization', 'repair'] },
      { id: ulid(), name: 'Bram Achterberg', skills: ['winterization'] },
    ],
  });
  const first = await site(
    call,
    {
      client: 'Perrin Household',
      street: '18 Quarry Lane',
      gateCode: '4471#',
      dogNote: 'Two terriers, ring first.',
      shutoffLocation: 'Basement, north wall, blue handle',
      accessNotes: 'Gate on the left of the garage; latch sticks.',
      waterSupply: 'drinking',
      backflowKind: 'pressure-vacuum-breaker',
      backflowLocation: 'West wall',
      pipeMaterial: 'polyethylene',
    },
    5,
  );
  await call('visit.record', {
    writeId: ulid(),
    propertyId: first.propertyId,
    technicianId,
    visitId: ulid(),
    unplannedKind: 'start-up',
    doneOn: '2026-04-14',
    entries: [
      {
        id: ulid(),
        detail: { kind: 'start-up', staticPressurePsi: 62, zonesRun: 5, backflowOpened: true, sensorsTested: true },
      },
      { id: ulid(), detail: { kind: 'repair', what: 'Head replaced', zoneId: first.zoneIds[1] ?? null } },
      { id: ulid(), detail: { kind: 'note', text: 'Head at the drive gets run over every winter.' } },
    ],
  });
  const second = await site(
    call,
    {
      client: 'Cobbleway Commons',
      street: '2200 Cobbleway',
      gateCode: '',
      waterSupply: 'reclaimed',
      backflowKind: 'reduced-pressure',
      pipeMaterial: 'pvc',
    },
    9,
  );
  const free = await site(
    call,
    { client: 'Tarn Bakery', street: '5 Mill Race', waterSupply: 'well', backflowKind: 'none' },
    3,
  );
  const visitId = ulid();
  const secondVisitId = ulid();
  await call('visit.book', {
    writeId: ulid(),
    visitId,
    propertyId: first.propertyId,
    kind: 'battery-swap',
    date: TODAY,
    windowFrom: '08:00',
    windowTo: '10:00',
    technicianId,
    note: 'Client says the front lawn looks dry.',
  });
  await call('visit.book', {
    writeId: ulid(),
    visitId: secondVisitId,
    propertyId: second.propertyId,
    kind: 'winterization',
    date: TODAY,
    technicianId,
  });
  await call('visit.book', {
    writeId: ulid(),
    visitId: ulid(),
    propertyId: free.propertyId,
    kind: 'repair',
    date: addDays(TODAY, -1),
    technicianId,
  });
  return { ...book, technicianId, first: { visitId, ...first }, secondVisitId, freePropertyId: free.propertyId };
}

async function site(
  call: FieldBook['call'],
  { client, ...property }: { client: string } & Partial<InputOf<'property.save'>['property']> & { street: string },
  zones: number,
) {
  const [clientId, propertyId, controllerId, sensorId, programId] = [ulid(), ulid(), ulid(), ulid(), ulid()];
  const zoneIds = Array.from({ length: zones }, () => ulid());
  await call('client.save', { writeId: ulid(), client: { id: clientId, name: client, phone: '(970) 555-0114' } });
  await call('property.save', {
    writeId: ulid(),
    property: { id: propertyId, clientId, city: 'Tamsett', ...property },
    controllers: [{ id: controllerId, propertyId, name: 'Garage', stationCount: 12 }],
    zones: zoneIds.map((id, index) => ({
      id,
      propertyId,
      controllerId,
      station: index + 1,
      name: ['Front lawn', 'Drive strip', 'Back lawn', 'Roses', 'Hedge'][index % 5] ?? '',
      flowGpm: 8,
      areaFt2: 600,
    })),
    sensors: [
      {
        id: sensorId,
        propertyId,
        batteryType: 'CR2032',
        batteryCells: 2,
        batteryDate: '2025-04-01',
        location: 'south eave',
        rainSetPointInches: 0.25,
        freezeSetPointF: 37,
      },
    ],
  });
  await call('program.revise', {
    writeId: ulid(),
    programId,
    revisionId: ulid(),
    controllerId,
    name: 'A',
    effectiveDate: '2026-04-14',
    settings: {
      days: { kind: 'weekdays', weekdays: [2, 5] },
      startTimes: ['05:00'],
      seasonalPercent: 80,
      runs: zoneIds.slice(0, 4).map((zoneId, index) => ({ zoneId, runMinutes: 10 + index * 2 })),
    },
  });
  return { propertyId, sensorId, programId, zoneIds };
}
