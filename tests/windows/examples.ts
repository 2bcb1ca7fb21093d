import { existsSync } from 'node:fs';
import path from 'node:path';
import { ulid } from 'ulid';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';
import type { Desk } from '../../core/desk/desk.ts';
import { programSettingsSchema } from '../../core/programs/contract.ts';
import { call, TODAY } from './check.ts';

// One input for every request that a demo book answers with data. They run one after the other on one book.

/** What of the demo company the inputs speak of. */
export interface Company {
  folder: string;
  property: OutputOf<'property.open'>;
  technician: OutputOf<'people.list'>['technicians'][number];
  settings: OutputOf<'settings.get'>;
  rules: OutputOf<'rules.list'>;
  station: OutputOf<'station.list'>['stations'][number];
  /** A visit booked for this. */
  visitId: string;
}

export async function companyOf(desk: Desk, folder: string): Promise<Company> {
  const { rows } = await call(desk, 'client.list', { limit: 500 });
  for (const row of rows) {
    if (row.propertyId === null) continue;
    const property = await call(desk, 'property.open', { propertyId: row.propertyId });
    if (property.programs.length === 0 || property.sensors.length === 0 || property.zones.length === 0) continue;
    return {
      folder,
      property,
      technician: (await call(desk, 'people.list', {})).technicians[0]!,
      settings: await call(desk, 'settings.get', {}),
      rules: await call(desk, 'rules.list', {}),
      station: (await call(desk, 'station.list', {})).stations[0]!,
      visitId: ulid(),
    };
  }
  throw new Error('The demo company has no property with a program, a zone and a sensor.');
}

const list = {
  fileName: 'list.csv',
  bytesBase64: Buffer.from('Name,Address,City\r\nÖz,1 Rain St,Tamsett\r\n').toString('base64'),
};
const id = () => ({ writeId: ulid() });
const year = { fromDate: '2025-01-01', toDate: '2026-12-31' };

export const EXAMPLES: { [N in RequestName]: (company: Company) => InputOf<N> | Promise<InputOf<N>> } = {
  'client.list': () => ({}),
  'client.open': ({ property }) => ({ clientId: property.client.id }),
  'client.save': () => ({ ...id(), client: { id: ulid(), name: 'Grüße & Söhne' } }),
  'property.open': ({ property }) => ({ propertyId: property.property.id }),
  'property.save': ({ property }) => ({
    ...id(),
    property: { id: ulid(), clientId: property.client.id, street: '9 Umweg', city: 'Tamsett' },
  }),
  'due.list': () => ({}),
  'visit.book': ({ property, visitId }) => ({
    ...id(),
    visitId,
    propertyId: property.property.id,
    kind: 'walk-through',
    date: '2026-06-16',
  }),
  'visit.move': ({ visitId }) => ({ ...id(), visitId, date: '2026-06-17' }),
  'visit.cancel': ({ visitId }) => ({ ...id(), visitId, reason: 'Rain' }),
  'visit.record': ({ property }) => ({
    ...id(),
    propertyId: property.property.id,
    visitId: ulid(),
    unplannedKind: 'battery-swap',
    doneOn: TODAY,
    entries: [
      { id: ulid(), detail: { kind: 'battery-swap', sensorId: property.sensors[0]!.id } },
      { id: ulid(), detail: { kind: 'finding', place: 'Gehweg', what: 'Pfütze', urgency: 'at-once' } },
      { id: ulid(), detail: { kind: 'decision', what: 'bleibt bis Mai', decidedBy: 'client' } },
      { id: ulid(), detail: { kind: 'manual-run', zoneId: property.zones[0]!.id, runMinutes: 5 } },
      { id: ulid(), detail: { kind: 'not-done', why: 'weather' } },
    ],
  }),
  'visit.list': () => year,
  'day.open': ({ technician }) => ({ technicianId: technician.id, date: TODAY }),
  'ledger.list': () => ({}),
  'ledger.correct': ({ property }) => ({
    ...id(),
    id: ulid(),
    correctsId: property.ledger.find((entry) => entry.kind === 'note' || entry.kind === 'sensor-check')!.id,
    correction: 'void',
    reason: 'Wrong house',
  }),
  'people.list': () => ({}),
  'people.save': () => ({ ...id(), technicians: [{ id: ulid(), name: 'Änne Öz' }] }),
  'work.summary': () => ({ year: 2026 }),
  'program.revise': ({ property }) => ({
    ...id(),
    programId: property.programs[0]!.id,
    revisionId: ulid(),
    effectiveDate: '2026-06-15',
    settings: programSettingsSchema.parse(property.programs[0]!.revision),
  }),
  'program.history': ({ property }) => ({ programId: property.programs[0]!.id }),
  'program.week': ({ property }) => ({ propertyId: property.property.id, date: TODAY }),
  'program.recommend': ({ property }) => ({ propertyId: property.property.id, month: 7 }),
  'program.review': ({ property }) => ({ propertyId: property.property.id, month: 7 }),
  'program.reviewAll': () => ({ month: 7 }),
  'program.accept': ({ property }) => ({
    ...id(),
    propertyId: property.property.id,
    doneOn: TODAY,
    programs: [
      {
        programId: property.programs[0]!.id,
        revisionId: ulid(),
        entryId: ulid(),
        settings: { ...programSettingsSchema.parse(property.programs[0]!.revision), seasonalPercent: 90 },
      },
    ],
  }),
  'agronomy.eto': () => ({ latitudeDeg: 40, elevationM: 1500, date: TODAY, tmaxC: 30, tminC: 14 }),
  'zone.audit': () => ({ volumesMl: [20, 22, 19, 25], throatAreaIn2: 16.6, runMinutes: 10 }),
  'zone.trace': ({ property }) => ({ zoneId: property.zones[0]!.id, fromDate: '2026-05-01', toDate: '2026-06-01' }),
  'settings.get': () => ({}),
  'settings.save': ({ settings }) => ({ ...id(), settings: { ...settings, companyName: 'Grüße & Söhne' } }),
  'rules.list': () => ({}),
  'rules.save': ({ rules }) => ({ ...id(), thumbRules: rules.thumbRules }),
  'station.list': () => ({}),
  'weather.freezeDates': () => ({ records: [{ date: '2024-10-01', tminF: 30 }], thresholdF: 32 }),
  'station.save': ({ station: { dailyRecords: _d, firstDate: _f, lastDate: _l, ...station } }) => ({
    ...id(),
    station,
  }),
  'book.info': () => ({}),
  'book.today': () => ({}),
  'book.check': () => ({}),
  'book.seal': () => ({}),
  'book.backups': () => ({}),
  'book.backupState': () => ({}),
  'book.makePrivate': () => ({}),
  'book.backup': ({ folder }) => ({ toPath: path.join(folder, 'Sicherung.valvebook') }),
  'export.book': ({ folder }) => ({ toPath: path.join(folder, 'Ausfuhr.zip') }),
  'place.list': ({ folder }) => ({ path: folder }),
  'import.preview': () => list,
  'import.apply': () => list,
  'book.restore': ({ folder }) => {
    const fromPath = path.join(folder, 'Sicherung.valvebook');
    if (!existsSync(fromPath)) throw new Error('The backup before this failed.');
    return { fromPath };
  },
};
