import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { onTestFinished } from 'vitest';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';

export const TODAY = '2026-06-15';

export interface TestBook {
  desk: Desk;
  path: string;
  /** Calls and returns the data; a failure is thrown with its code and message. */
  call<N extends RequestName>(name: N, input: InputOf<N>): Promise<OutputOf<N>>;
  /** Calls and returns the failure; a success is thrown. */
  fails<N extends RequestName>(name: N, input: unknown): Promise<{ code: string; message: string; field?: string }>;
}

/** A new book in a folder of its own, gone after the test. */
export async function makeBook(today = TODAY, log?: (text: string) => void): Promise<TestBook> {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-'));
  const path = join(folder, 'book.valvebook');
  const desk = await openDesk({ bookPath: path, create: true, today: () => today, ...(log ? { log } : {}) });
  onTestFinished(async () => {
    await desk.close();
    rmSync(folder, { recursive: true, force: true });
  });
  return {
    desk,
    path,
    async call(name, input) {
      const reply = await desk.call(name, input);
      if (!reply.ok)
        throw new Error(`${name} failed: ${reply.error.code}: ${reply.error.message} (${reply.error.field})`);
      return reply.data as never;
    },
    async fails(name, input) {
      const reply = await desk.call(name, input);
      if (reply.ok)
        throw new Error(`${name} was expected to fail and answered ${JSON.stringify(reply.data).slice(0, 200)}`);
      return reply.error;
    },
  };
}

export interface Site {
  clientId: string;
  propertyId: string;
  controllerId: string;
  zoneIds: string[];
  sensorId: string;
  programId: string;
  /** The ledger's entry of that program, of 2025-05-01: the property's first. */
  programEntryId: string;
  technicianId: string;
}

/** So many ledger entries come with a site: the one of its program. */
export const SITE_ENTRIES = 1;

/** One client with one property: a controller, three zones, a wireless sensor, a program; and a technician. */
export async function makeSite(book: TestBook): Promise<Site> {
  const site: Site = {
    clientId: ulid(),
    propertyId: ulid(),
    controllerId: ulid(),
    zoneIds: [ulid(), ulid(), ulid()],
    sensorId: ulid(),
    programId: ulid(),
    programEntryId: ulid(),
    technicianId: ulid(),
  };
  await book.call('people.save', {
    writeId: ulid(),
    technicians: [{ id: site.technicianId, name: 'Odalys Fenn', skills: ['start-up', 'winterization', 'repair'] }],
  });
  await book.call('client.save', {
    writeId: ulid(),
    client: { id: site.clientId, name: 'Perrin Household', phone: '(970) 555-0114' },
  });
  await book.call('property.save', {
    writeId: ulid(),
    property: {
      id: site.propertyId,
      clientId: site.clientId,
      street: '18 Quarry Lane',
      city: 'Tamsett',
      pipeMaterial: 'polyethylene',
    },
    controllers: [{ id: site.controllerId, propertyId: site.propertyId, name: 'Garage' }],
    zones: site.zoneIds.map((id, index) => ({
      id,
      propertyId: site.propertyId,
      controllerId: site.controllerId,
      station: index + 1,
      name: `Zone ${index + 1}`,
      flowGpm: 8,
      areaFt2: 600,
    })),
    sensors: [
      {
        id: site.sensorId,
        propertyId: site.propertyId,
        batteryType: 'CR2032',
        batteryCells: 2,
        batteryDate: '2025-04-01',
      },
    ],
  });
  await book.call('program.revise', {
    writeId: ulid(),
    programId: site.programId,
    revisionId: ulid(),
    entryId: site.programEntryId,
    controllerId: site.controllerId,
    name: 'A',
    effectiveDate: '2025-05-01',
    settings: {
      days: { kind: 'weekdays', weekdays: [2, 5] },
      startTimes: ['05:00'],
      seasonalPercent: 100,
      runs: site.zoneIds.map((zoneId) => ({ zoneId, runMinutes: 20 })),
    },
  });
  return site;
}
