import { ledgerDetailSchema, type LedgerDetail, type LedgerKind } from '../ledger/entry-contract.ts';
import { targetsOf, type Target } from '../ledger/index.ts';
import { projectWork } from '../ledger/index.ts';
import { entriesToMatch, sensorsToMatch, techniciansToMatch } from './queries.ts';
import { nameKey } from './client-index.ts';
import { loadClientIndex } from './clients.ts';
import { findPlaceOfRow, isTotalsOf } from './places.ts';
import { dateOf, idMaker, type Planning } from './plan.ts';
import { readWork, type WorkReading, type SensorRef } from './work-row.ts';
import { fact } from '../text/say.ts';

interface Draft {
  row: number;
  propertyId: string;
  clientName: string;
  doneOn: string;
  technicianId: string | null;
  /** As written in the list; kept in the note where the book does not know it. */
  technicianName: string;
  readings: WorkReading[];
}

/** Plans a list of past work: a row becomes one ledger entry (and one more for a part or a meter reading it names). */
export async function planWork(planning: Planning): Promise<void> {
  const { reader, source, findings } = planning;
  const index = await loadClientIndex(planning);
  const sensors = await loadSensors(planning);
  const technicians = new Map<string, string>();
  for (const technician of await techniciansToMatch(planning.db)) {
    technicians.set(nameKey(technician.name), technician.id);
  }
  const drafts: Draft[] = [];
  for (const record of source.rows) {
    await planning.tick();
    reader.at(record);
    if (isTotalsOf(planning, record.cells, 'date')) continue;
    const place = findPlaceOfRow(planning, index);
    const doneOn = dateOf(planning, 'date');
    if (doneOn === null) reader.problem('date', fact('import.why.noDate'), '');
    else if (doneOn !== undefined && doneOn > planning.today)
      reader.problem('date', fact('import.why.afterToday', { today: planning.today }));
    const readings = readWork(planning, place ? (sensors.get(place.id) ?? []) : null);
    if (!place || !doneOn || findings.badRows.has(record.row)) continue;
    const name = reader.line('technician');
    const technicianId = name === '' ? null : (technicians.get(nameKey(name)) ?? null);
    if (name !== '' && technicianId === null)
      reader.warn(fact('import.why.technicianUnknown', { name: name.slice(0, 60) }));
    drafts.push({
      row: record.row,
      propertyId: place.id,
      clientName: place.client.name,
      doneOn,
      technicianId,
      technicianName: name,
      readings,
    });
  }
  await fileDrafts(planning, drafts);
}

async function loadSensors(planning: Planning): Promise<Map<string, SensorRef[]>> {
  const byProperty = new Map<string, SensorRef[]>();
  for (const sensor of await sensorsToMatch(planning.db)) {
    const list = byProperty.get(sensor.propertyId);
    if (list) list.push(sensor);
    else byProperty.set(sensor.propertyId, [sensor]);
  }
  return byProperty;
}

/** Leaves out what the ledger holds already and lays out the rest, oldest work first, so that ids follow the days. */
async function fileDrafts(planning: Planning, drafts: readonly Draft[]): Promise<void> {
  const { plan, now } = planning;
  const known = await knownEntries(planning, drafts);
  const makeId = idMaker();
  const rows: Record<string, unknown>[] = [];
  const touched = new Map<string, Target>();
  const outcomes = new Map<number, number>();
  const inOrder = [...drafts].sort((a, b) => (a.doneOn < b.doneOn ? -1 : a.doneOn > b.doneOn ? 1 : a.row - b.row));
  for (const draft of inOrder) {
    let added = 0;
    for (const { detail, note } of draft.readings) {
      const text = JSON.stringify(detail);
      const named =
        draft.technicianName === ''
          ? note
          : [note, `Technician: ${draft.technicianName}`].filter((part) => part !== '').join('\n');
      // Both are looked for: the technician may have been added to the book since the first import.
      if (
        known.has(entryKey(draft.propertyId, draft.doneOn, text, note)) ||
        known.has(entryKey(draft.propertyId, draft.doneOn, text, named))
      )
        continue;
      const kept = draft.technicianId === null ? named : note;
      known.add(entryKey(draft.propertyId, draft.doneOn, text, kept));
      added += 1;
      const sensorId = 'sensorId' in detail ? detail.sensorId : null;
      rows.push({
        id: makeId(),
        propertyId: draft.propertyId,
        visitId: null,
        technicianId: draft.technicianId,
        kind: detail.kind,
        doneOn: draft.doneOn,
        recordedAt: now,
        sensorId,
        zoneId: null,
        note: kept,
        detail: text,
        correctsId: null,
        correction: null,
        correctionReason: '',
      });
      plan.count('ledgerEntries');
      for (const target of targetsOf({ propertyId: draft.propertyId, detail }))
        touched.set(`${target.thing} ${target.id}`, target);
    }
    outcomes.set(draft.row, added);
  }
  for (const draft of drafts) {
    const what = `${draft.clientName}, ${draft.doneOn}, ${draft.readings[0]!.detail.kind}`;
    if (outcomes.get(draft.row)! > 0) plan.outcome(draft.row, 'added', fact('import.did.plain', { what }));
    else plan.outcome(draft.row, 'skipped', fact('import.did.inLedger', { what }));
    plan.show(() => ({
      Client: draft.clientName,
      'Date of the work': draft.doneOn,
      'Kind of work': draft.readings.map((one) => one.detail.kind).join(', '),
      Note: draft.readings[0]!.note.slice(0, 120),
      Technician: draft.technicianName,
    }));
  }
  plan.inserts.push({ table: 'ledgerEntry', rows });
  plan.afterwards.push(async (db, before) => {
    const targets = [...touched.values()];
    for (let at = 0; at < targets.length; at += STEP) {
      await before();
      await projectWork(db, targets.slice(at, at + STEP));
    }
  });
}

/** So many things are brought up to date between two looks at whether somebody cancelled. */
const STEP = 200;

function entryKey(propertyId: string, doneOn: string, detail: string, note: string): string {
  return JSON.stringify([propertyId, doneOn, detail, note]);
}

async function knownEntries(planning: Planning, drafts: readonly Draft[]): Promise<Set<string>> {
  const known = new Set<string>();
  if (drafts.length === 0) return known;
  const properties = [...new Set(drafts.map((draft) => draft.propertyId))];
  const kinds = [
    ...new Set(drafts.flatMap((draft) => draft.readings.map((reading) => reading.detail.kind))),
  ] as LedgerKind[];
  let from = drafts[0]!.doneOn;
  let to = from;
  for (const { doneOn } of drafts) {
    if (doneOn < from) from = doneOn;
    if (doneOn > to) to = doneOn;
  }
  for (const entry of await entriesToMatch(planning.db, properties, from, to, kinds)) {
    known.add(entryKey(entry.propertyId, entry.doneOn, canonical(entry.detail), entry.note));
  }
  return known;
}

/** The detail as this import writes it: keys in the schema's order, defaults filled in. */
function canonical(detail: string): string {
  const parsed = ledgerDetailSchema.safeParse(JSON.parse(detail));
  return parsed.success ? JSON.stringify(parsed.data satisfies LedgerDetail) : detail;
}
