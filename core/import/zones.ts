import { controllerSchema, zoneSchema } from '../properties/contract.ts';
import { programSettingsSchema } from '../programs/contract.ts';
import type { WateringDays } from '../contract/parts.ts';
import { controllersToMatch, programsToMatch, raiseStationCount, zonesToMatch } from './queries.ts';
import { fold } from '../store/search-text.ts';
import { newZoneBase, toRow } from '../store/tables.ts';
import { loadClientIndex } from './clients.ts';
import { enumOf } from './client-row.ts';
import { findPlaceOfRow, isTotalsOf } from './places.ts';
import { checked, numberOf, idMaker, type Planning } from './plan.ts';
import { readStartTimes, readWateringDays } from './schedule.ts';
import { DEVICE_WORDS, PLANT_WORDS, SOIL_WORDS, SUN_WORDS } from './synonyms.ts';
import { readYesNo } from './cell-values.ts';
import { STORED } from '../text/stored.ts';
import { fact } from '../text/say.ts';

interface ControllerRef {
  id: string;
  propertyId: string;
  name: string;
  stationCount: number;
  /** Its row while it is still to be inserted. */
  row: Record<string, unknown> | null;
  stations: Map<number, { name: string; row: number | null }>;
  programs: Set<string>;
}

interface ProgramDraft {
  id: string;
  propertyId: string;
  controllerId: string;
  name: string;
  days: WateringDays | null;
  startTimes: string[];
  runs: { zoneId: string; runMinutes: number; cycleMinutes: null; soakMinutes: null }[];
  row: number;
}

/** Plans a list of zones: a row is one station of one controller; run minutes become the first revision of a program. */
export async function planZones(planning: Planning): Promise<void> {
  const { plan, reader, source, findings } = planning;
  const index = await loadClientIndex(planning);
  const byProperty = await loadControllers(planning);
  const makeId = idMaker();
  const controllerRows: Record<string, unknown>[] = [];
  const zoneRows: Record<string, unknown>[] = [];
  const drafts = new Map<string, ProgramDraft>();
  const raised = new Map<string, number>();

  for (const record of source.rows) {
    await planning.tick();
    reader.at(record);
    if (isTotalsOf(planning, record.cells, 'station')) continue;
    const place = findPlaceOfRow(planning, index);
    const station = readStation(planning);
    const fields = readZone(planning);
    const minutes = numberOf(reader, 'runMinutes');
    if (typeof minutes === 'number' && (minutes < 0 || minutes > 720))
      reader.problem('runMinutes', fact('input.own', { says: 'must be 0 to 720 min' }));
    const days = readWateringDays(reader.line('days'), planning.today);
    const starts = readStartTimes(reader.line('startTimes'));
    if (!starts.ok) reader.problem('startTimes', starts.reason);
    if (days === undefined) reader.problem('days', fact('import.why.badDays'));
    if (!place || station === null || findings.badRows.has(record.row)) continue;

    const controllers = byProperty.get(place.id) ?? [];
    const asked = reader.line('controller');
    let controller =
      asked === ''
        ? controllers.length === 1
          ? controllers[0]
          : undefined
        : controllers.find((one) => fold(one.name) === fold(asked));
    if (!controller && asked === '' && controllers.length > 1) {
      reader.problem('controller', fact('import.why.manyControllers', { count: controllers.length }));
      continue;
    }
    const what = `${place.client.name}, ${asked || controller?.name || 'A'} ${station}`;
    const before = controller?.stations.get(station);
    if (before) {
      plan.outcome(
        record.row,
        'skipped',
        before.row === null
          ? fact('import.did.inBook', { what })
          : fact('import.did.sameStation', { what, row: before.row }),
      );
      if (before.row !== null) reader.warn(fact('import.why.stationAbove'));
      continue;
    }
    const name = fields.name || `Zone ${station}`;
    const zone = checked(
      zoneSchema,
      { id: makeId(), propertyId: place.id, controllerId: controller?.id ?? makeId(), station, ...fields, name },
      reader,
      zoneField,
    );
    if (!zone) continue;
    if (!controller) {
      const made = checked(
        controllerSchema,
        {
          id: zone.controllerId,
          propertyId: place.id,
          name: asked || 'Controller',
          stationCount: Math.max(station, 1),
        },
        reader,
        () => 'controller',
      );
      if (!made) continue;
      const row = toRow('controller', made);
      controllerRows.push(row);
      controller = {
        id: made.id,
        propertyId: place.id,
        name: made.name,
        stationCount: made.stationCount,
        row,
        stations: new Map(),
        programs: new Set(),
      };
      controllers.push(controller);
      byProperty.set(place.id, controllers);
      plan.count('controllers');
    }
    if (station > controller.stationCount) {
      controller.stationCount = station;
      if (controller.row) controller.row['stationCount'] = station;
      else raised.set(controller.id, station);
    }
    controller.stations.set(station, { name, row: record.row });
    zoneRows.push({ ...toRow('zone', zone), ...newZoneBase(zone) });
    plan.count('zones');
    plan.outcome(record.row, 'added', fact('import.did.plain', { what: `${what}: ${name}` }));
    plan.show(() => ({
      Property: place.client.name,
      Controller: controller.name,
      Station: String(station),
      'Zone name': name,
      Plants: zone.plantKind,
      'Heads or drip': zone.emissionDevice,
      Soil: zone.soil,
      'Run minutes': minutes === null || minutes === undefined ? '' : String(minutes),
    }));
    if (typeof minutes === 'number')
      addRun(planning, drafts, controller, zone.id, minutes, days ?? null, starts.ok ? starts.times : [], makeId);
  }
  plan.inserts.push({ table: 'controller', rows: controllerRows }, { table: 'zone', rows: zoneRows });
  putPrograms(planning, drafts, makeId);
  if (raised.size > 0) {
    findings.tell(fact('import.why.stationsRaised', { count: raised.size }));
    plan.afterwards.push(async (db, before) => {
      for (const [id, count] of raised) {
        await before();
        await raiseStationCount(db, id, count);
      }
    });
  }
}

async function loadControllers(planning: Planning): Promise<Map<string, ControllerRef[]>> {
  const byProperty = new Map<string, ControllerRef[]>();
  const byId = new Map<string, ControllerRef>();
  for (const controller of await controllersToMatch(planning.db)) {
    const ref: ControllerRef = { ...controller, row: null, stations: new Map(), programs: new Set() };
    byId.set(ref.id, ref);
    const list = byProperty.get(ref.propertyId);
    if (list) list.push(ref);
    else byProperty.set(ref.propertyId, [ref]);
  }
  for (const zone of await zonesToMatch(planning.db))
    byId.get(zone.controllerId)?.stations.set(zone.station, { name: zone.name, row: null });
  for (const program of await programsToMatch(planning.db))
    byId.get(program.controllerId)?.programs.add(fold(program.name));
  return byProperty;
}

/** The station's number, from its own column or from a name such as "Zone 3 - front lawn". */
function readStation(planning: Planning): number | null {
  const { reader } = planning;
  const written = reader.line('station');
  const text = written.replace(/^(?:zone|station|valve|sta|stn|z|v|#)[\s.:#-]*(?=\d)/i, '');
  if (text === '') {
    const named = /^(?:zone|station|valve|z|#)\s*[#.:-]?\s*(\d{1,2})\b/i.exec(reader.line('name'));
    if (named) return Number(named[1]);
    reader.problem('station', fact('import.why.noStation'), '');
    return null;
  }
  const number = /^\d{1,3}(\.0)?$/.test(text) ? Number(text) : NaN;
  if (Number.isInteger(number) && number >= 1 && number <= 99) return number;
  reader.problem('station', fact('import.why.stationRange'));
  return null;
}

function readZone(planning: Planning) {
  const { reader } = planning;
  const flow = numberOf(reader, 'flowGpm') ?? null;
  const area = numberOf(reader, 'areaFt2') ?? null;
  const rate = numberOf(reader, 'precipitationRateInPerHour') ?? null;
  const uniformity = numberOf(reader, 'distributionUniformity') ?? null;
  const between = readYesNo(reader.text('betweenHouses'));
  if (between === undefined) reader.warn(fact('import.why.betweenHouses'));
  const soil = enumOf(planning, 'soil', SOIL_WORDS, null);
  return {
    name: reader.line('name'),
    plantKind: enumOf(planning, 'plants', PLANT_WORDS, 'cool-turf'),
    emissionDevice: enumOf(planning, 'device', DEVICE_WORDS, 'pop-up-spray'),
    // A figure of a list is somebody's figure: better than none, but nobody says that it was measured.
    flowGpm: flow,
    flowKnown: 'guess' as const,
    areaFt2: area,
    areaKnown: 'guess' as const,
    prMethod:
      rate !== null ? ('table' as const) : flow !== null && area !== null ? ('flow-area' as const) : ('table' as const),
    precipitationRateInPerHour: rate,
    distributionUniformity: uniformity !== null && uniformity > 1 ? Math.round(uniformity * 10) / 1000 : uniformity,
    soil: soil ?? ('loam' as const),
    soilKnown: 'guess' as const,
    slopePercent: numberOf(reader, 'slopePercent') ?? 0,
    sunExposure: enumOf(planning, 'sunExposure', SUN_WORDS, 'full-sun'),
    rootDepthInches: numberOf(reader, 'rootDepthInches') ?? null,
    betweenHouses: between ?? false,
  };
}

const ZONE_FIELD_OF: Record<string, string> = { plantKind: 'plants', emissionDevice: 'device' };
const zoneField = (key: string): string => ZONE_FIELD_OF[key] ?? key;

function addRun(
  planning: Planning,
  drafts: Map<string, ProgramDraft>,
  controller: ControllerRef,
  zoneId: string,
  minutes: number,
  days: WateringDays | null,
  startTimes: string[],
  makeId: () => string,
): void {
  const { reader } = planning;
  const name = (reader.line('program').replace(/^(program|prog)\.?\s+/i, '') || 'A').slice(0, 40);
  if (controller.programs.has(fold(name))) {
    reader.warn(fact('import.why.hasProgram', { program: name }));
    return;
  }
  const key = `${controller.id} ${fold(name)}`;
  const draft = drafts.get(key) ?? {
    id: makeId(),
    propertyId: controller.propertyId,
    controllerId: controller.id,
    name,
    days: null,
    startTimes: [],
    runs: [],
    row: reader.row,
  };
  drafts.set(key, draft);
  draft.days ??= days;
  if (draft.startTimes.length === 0) draft.startTimes = startTimes;
  draft.runs.push({ zoneId, runMinutes: minutes, cycleMinutes: null, soakMinutes: null });
}

function putPrograms(planning: Planning, drafts: ReadonlyMap<string, ProgramDraft>, makeId: () => string): void {
  const { plan, findings, today, now, fileName } = planning;
  const programs: Record<string, unknown>[] = [];
  const revisions: Record<string, unknown>[] = [];
  const runs: Record<string, unknown>[] = [];
  for (const draft of drafts.values()) {
    const settings = programSettingsSchema.parse({
      days: draft.days ?? { kind: 'weekdays', weekdays: [] },
      startTimes: draft.startTimes,
      runs: draft.runs,
    });
    if (draft.startTimes.length === 0 || draft.days === null) findings.warn(draft.row, fact('import.why.minutesOnly'));
    const revisionId = makeId();
    programs.push({ id: draft.id, propertyId: draft.propertyId, controllerId: draft.controllerId, name: draft.name });
    revisions.push({
      id: revisionId,
      programId: draft.id,
      propertyId: draft.propertyId,
      revisionNumber: 1,
      effectiveDate: today,
      recordedAt: now,
      madeBy: STORED.import,
      reason: `imported from ${fileName}`.slice(0, 300),
      days: JSON.stringify(settings.days),
      startTimes: JSON.stringify(settings.startTimes),
      seasonalPercent: settings.seasonalPercent,
      enabled: 1,
      ledgerEntryId: null,
      voidedByEntryId: null,
    });
    for (const run of settings.runs) runs.push({ revisionId, ...run });
    plan.count('programs');
  }
  plan.inserts.push(
    { table: 'program', rows: programs },
    { table: 'programRevision', rows: revisions },
    { table: 'programRun', rows: runs },
  );
}
