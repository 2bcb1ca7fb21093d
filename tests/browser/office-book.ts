import { ulid } from 'ulid';
import { makeDemo } from '../../electron/demo.ts';
import { serveBook, type ServedBook } from './serve-book.ts';

export const OFFICE_TODAY = '2026-07-14';

export interface OfficeBook extends ServedBook {
  clientId: string;
  /** The client's first property: two zones, a program, a sensor, one logged battery swap. */
  propertyId: string;
  zoneIds: [string, string];
  programId: string;
  sensorId: string;
}

/** A demo company with one client of our own in it, whose figures the tests know; or an empty book. */
export async function makeOfficeBook(options: { empty?: boolean } = {}): Promise<OfficeBook> {
  const book = await serveBook(
    OFFICE_TODAY,
    options.empty === true ? undefined : (path) => makeDemo({ path, properties: 40, seed: 11, today: OFFICE_TODAY }),
  );
  const { call } = book;
  const [clientId, propertyId, controllerId, programId, sensorId] = [ulid(), ulid(), ulid(), ulid(), ulid()];
  const zoneIds: [string, string] = [ulid(), ulid()];
  if (options.empty !== true) {
    await call('client.save', {
      writeId: ulid(),
      client: { id: clientId, name: 'Zephyrine Quillbank', phone: '(970) 555-0142', notes: 'Calls before seven.' },
    });
    await call('property.save', {
      writeId: ulid(),
      property: {
        id: propertyId,
        clientId,
        street: '7 Ferrule Close',
        city: 'Corvane',
        gateCode: '8802*',
        shutoffLocation: 'Cellar, left of the stairs',
        waterSupply: 'drinking',
      },
      controllers: [{ id: controllerId, propertyId, name: 'Shed box', stationCount: 6 }],
      zones: [
        {
          id: zoneIds[0],
          propertyId,
          controllerId,
          station: 1,
          name: 'Apple lawn',
          flowGpm: 8,
          flowKnown: 'measured',
          areaFt2: 700,
          areaKnown: 'guess',
        },
        {
          id: zoneIds[1],
          propertyId,
          controllerId,
          station: 2,
          name: 'Rose bed',
          plantKind: 'shrubs',
          emissionDevice: 'drip-line',
          flowGpm: 2.5,
          areaFt2: 240,
        },
      ],
      sensors: [
        {
          id: sensorId,
          propertyId,
          controllerId,
          batteryType: 'CR2032',
          batteryDate: '2026-05-02',
          location: 'shed roof',
        },
      ],
    });
    for (const [index, label] of ['North court', 'South court', 'Mill side', 'Orchard'].entries()) {
      await call('property.save', {
        writeId: ulid(),
        property: { id: ulid(), clientId, street: `${20 + index} Ferrule Close`, label },
      });
    }
    await call('program.revise', {
      writeId: ulid(),
      programId,
      revisionId: ulid(),
      controllerId,
      name: 'A',
      effectiveDate: '2026-05-02',
      settings: {
        days: { kind: 'weekdays', weekdays: [2, 5] },
        startTimes: ['04:00'],
        seasonalPercent: 100,
        runs: [
          { zoneId: zoneIds[0], runMinutes: 18 },
          { zoneId: zoneIds[1], runMinutes: 40 },
        ],
      },
    });
    await call('visit.record', {
      writeId: ulid(),
      propertyId,
      visitId: ulid(),
      unplannedKind: 'battery-swap',
      doneOn: '2026-06-03',
      entries: [
        {
          id: ulid(),
          detail: { kind: 'battery-swap', sensorId, batteryType: 'CR2032', cells: 1, oldBatteryState: 'low' },
        },
      ],
    });
  }
  return { ...book, clientId, propertyId, zoneIds, programId, sensorId };
}
