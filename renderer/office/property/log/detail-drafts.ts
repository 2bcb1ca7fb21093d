import type { LedgerDetail, LedgerDetailInput, LedgerKind } from '../../../../core/ledger/entry-contract.ts';
import { newId } from '../../../state/write.ts';
import type { OpenProperty } from '../use-property-editor.ts';

/** What the office can log from its desk. (Catch cans have a sheet of their own.) */
export const LOGGABLE = [
  'battery-swap',
  'sensor-check',
  'run-time-change',
  'start-up',
  'winterization',
  'repair',
  'part-used',
  'meter-read',
  'backflow-test',
  'walk-through',
  'finding',
  'decision',
  'manual-run',
  'not-done',
  'photo',
  'note',
] as const satisfies readonly LedgerKind[];

/** Is there something on this property the entry can be about? */
export function canLog(kind: LedgerKind, data: OpenProperty): boolean {
  if (kind === 'battery-swap') return data.sensors.some((sensor) => !sensor.retired && sensor.link === 'wireless');
  if (kind === 'sensor-check') return data.sensors.some((sensor) => !sensor.retired);
  if (kind === 'manual-run') return data.zones.some((zone) => !zone.retired);
  if (kind === 'run-time-change') return data.programs.length > 0;
  return true;
}

/** A first draft of an entry with what the book already knows. */
export function firstDetail(kind: LedgerKind, data: OpenProperty): LedgerDetailInput {
  const sensors = data.sensors.filter((sensor) => !sensor.retired);
  const sensor = (kind === 'battery-swap' ? sensors.find((item) => item.link === 'wireless') : undefined) ?? sensors[0];
  const zones = data.zones.filter((zone) => !zone.retired);
  switch (kind) {
    case 'battery-swap':
      return {
        kind,
        sensorId: sensor?.id ?? '',
        batteryType: sensor?.batteryType ?? '',
        cells: Math.max(1, sensor?.batteryCells ?? 1),
        oldBatteryState: 'unknown',
      };
    case 'sensor-check':
      return {
        kind,
        sensorId: sensor?.id ?? '',
        rainTrip: sensor?.senses === 'freeze' ? 'not-tested' : 'pass',
        freezeTrip: 'not-tested',
        signal: sensor?.link === 'wired' ? 'not-tested' : 'strong',
        cellsGood: null,
        controllerObeys: null,
        rainSetPointInches: sensor?.rainSetPointInches ?? null,
        freezeSetPointF: sensor?.freezeSetPointF ?? null,
      };
    case 'run-time-change': {
      const program = data.programs[0];
      return { kind, programId: program?.id ?? '', revisionId: newId(), runs: [], reason: '' };
    }
    case 'start-up':
      return {
        kind,
        staticPressurePsi: data.property.staticPressurePsi,
        zonesRun: zones.length,
        backflowOpened: true,
        sensorsTested: sensors.length > 0,
      };
    case 'winterization':
      return {
        kind,
        method: 'compressed-air',
        airPressurePsi: null,
        zonesBlown: zones.length,
        backflowDrained: true,
        controllerOff: true,
      };
    case 'repair':
      return { kind, zoneId: null, what: '', minutesSpent: null, closesFindingId: null };
    case 'finding':
      return { kind, zoneId: null, place: '', what: '', urgency: 'soon' };
    case 'decision':
      return { kind, what: '', decidedBy: 'client', closesFindingId: null };
    case 'manual-run':
      return { kind, zoneId: zones[0]?.id ?? '', runMinutes: 10, why: '' };
    case 'not-done':
      return { kind, why: 'no-access' };
    case 'part-used':
      return { kind, part: '', quantity: 1, unitPriceCents: null };
    case 'meter-read':
      return { kind, meter: 'main', readingGallons: 0 };
    case 'backflow-test':
      return { kind, passed: true, tester: '', licenceNumber: '', nextDue: null };
    case 'walk-through':
      return { kind, clientPresent: true, topics: '' };
    case 'photo':
      return { kind, fileName: '', caption: '' };
    case 'zone-audit':
      return {
        kind,
        zoneId: zones[0]?.id ?? '',
        volumesMl: [],
        throatAreaIn2: 16.5,
        runMinutes: 15,
        precipitationRateInPerHour: 0,
        distributionUniformity: 0,
        before: null,
      };
    default:
      return { kind: 'note', text: '' };
  }
}

/** A logged fact as the draft of its correction. */
export function detailForCorrection(detail: LedgerDetail): LedgerDetailInput {
  if (detail.kind !== 'run-time-change') return detail;
  return {
    kind: 'run-time-change',
    programId: detail.programId,
    revisionId: newId(),
    reason: detail.reason,
    runs: detail.changes.map((change) => ({ zoneId: change.zoneId, runMinutes: change.newMinutes })),
    ...(detail.newSeasonalPercent === detail.oldSeasonalPercent ? {} : { seasonalPercent: detail.newSeasonalPercent }),
  };
}
