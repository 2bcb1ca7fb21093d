import type { Settings } from '../../core/contract/entities.ts';
import type { LedgerDetailInput } from '../../core/contract/ledger-entries.ts';
import type { PropertyPage } from './forms/form-spec.ts';
import { sensorName } from './forms/sensor-pick.tsx';
import { formatDate } from '../parts/format.ts';
import { listed } from './day-words.ts';
import { measureOf } from './measures.ts';

export const WORK_WORDS: Record<LedgerDetailInput['kind'], string> = {
  'battery-swap': 'Battery swap',
  'sensor-check': 'Sensor check',
  'run-time-change': 'Run times',
  'start-up': 'Start-up',
  winterization: 'Winterization',
  repair: 'Repair',
  'part-used': 'Part used',
  'meter-read': 'Meter reading',
  'backflow-test': 'Backflow test',
  'walk-through': 'Walk-through',
  'zone-audit': 'Catch-can audit',
  photo: 'Photo',
  note: 'Note',
};

const OLD_BATTERY = {
  working: 'old one still working',
  low: 'old one low',
  dead: 'old one dead',
  unknown: 'old one not tried',
} as const;
const METHODS = {
  'compressed-air': 'blown out with air',
  'gravity-drain': 'drained by hand',
  'automatic-drain': 'drains itself',
  vacuum: 'vacuum',
} as const;

/** What an entry says, in a line, before the book has it. */
export function draftWords(detail: LedgerDetailInput, page: PropertyPage | null, settings: Settings): string {
  const sensor = (id: string) => {
    const found = page?.sensors.find((one) => one.id === id);
    return found === undefined ? 'sensor' : sensorName(found);
  };
  const zone = (id: string | null) => {
    const found = page?.zones.find((one) => one.id === id);
    return found === undefined ? '' : `zone ${found.station} ${found.name}`;
  };
  switch (detail.kind) {
    case 'battery-swap':
      return `${sensor(detail.sensorId)}: ${detail.cells} × ${detail.batteryType === '' ? 'battery' : detail.batteryType}, ${OLD_BATTERY[detail.oldBatteryState]}`;
    case 'sensor-check':
      return `${sensor(detail.sensorId)}: ${listed(sensorWords(detail))}`;
    case 'run-time-change':
      return runTimeWords(detail, page);
    case 'start-up':
      return (
        listed(
          kept([
            detail.zonesRun !== null && `${detail.zonesRun} zones run`,
            detail.staticPressurePsi !== null && measureOf('pressure', settings.units).words(detail.staticPressurePsi),
            detail.backflowOpened && 'backflow opened',
            detail.sensorsTested && 'sensors tried',
          ]),
        ) || 'started up'
      );
    case 'winterization':
      return listed(
        kept([
          `${METHODS[detail.method]}${detail.airPressurePsi === null ? '' : ` at ${measureOf('pressure', settings.units).words(detail.airPressurePsi)}`}`,
          detail.zonesBlown !== null && `${detail.zonesBlown} zones`,
          detail.backflowDrained ? 'backflow drained' : 'backflow NOT drained',
          detail.controllerOff ? 'controller off' : 'controller left on',
        ]),
      );
    case 'repair':
      return `${detail.what}${zone(detail.zoneId) === '' ? '' : `, ${zone(detail.zoneId)}`}${detail.minutesSpent === null ? '' : `, ${detail.minutesSpent} min`}`;
    case 'part-used':
      return `${detail.quantity} × ${detail.part}${detail.unitPriceCents === null ? '' : ` at $${(detail.unitPriceCents / 100).toFixed(2)}`}`;
    case 'meter-read':
      return `${detail.meter}: ${measureOf('volume', settings.units).words(detail.readingGallons)}`;
    case 'backflow-test':
      return `${detail.passed ? 'passed' : 'FAILED'}, tester ${detail.tester}${detail.nextDue === null ? '' : `, next due ${formatDate(detail.nextDue)}`}`;
    case 'walk-through':
      return `${detail.clientPresent ? 'with the client' : 'alone'}${detail.topics === '' ? '' : `: ${detail.topics}`}`;
    case 'zone-audit':
      return zone(detail.zoneId);
    case 'photo':
      return `${detail.fileName}${detail.caption === '' ? '' : `, ${detail.caption}`}`;
    case 'note':
      return detail.text;
  }
}

function kept(words: readonly (string | false)[]): string[] {
  return words.filter((word): word is string => word !== false);
}

function sensorWords(detail: Extract<LedgerDetailInput, { kind: 'sensor-check' }>): string[] {
  const trip = (name: string, result: string) =>
    result !== 'not-tested' && `${name} ${result === 'pass' ? 'trips' : 'DOES NOT TRIP'}`;
  return kept([
    trip('rain', detail.rainTrip),
    trip('freeze', detail.freezeTrip),
    detail.signal !== 'not-tested' && (detail.signal === 'none' ? 'no signal' : `signal ${detail.signal}`),
    detail.cellsGood !== null && `${detail.cellsGood} good ${detail.cellsGood === 1 ? 'cell' : 'cells'}`,
    detail.controllerObeys !== null && (detail.controllerObeys ? 'controller obeys' : 'controller DOES NOT OBEY'),
  ]);
}

function runTimeWords(
  detail: Extract<LedgerDetailInput, { kind: 'run-time-change' }>,
  page: PropertyPage | null,
): string {
  const program = page?.programs.find((one) => one.id === detail.programId);
  const before = (zoneId: string) => program?.revision.runs.find((run) => run.zoneId === zoneId)?.runMinutes ?? 0;
  const zones = detail.runs.map((run) => {
    const zone = page?.zones.find((one) => one.id === run.zoneId);
    return `zone ${zone?.station ?? '?'} ${before(run.zoneId)} → ${run.runMinutes} min`;
  });
  const percent =
    detail.seasonalPercent === undefined
      ? []
      : [`seasonal ${program?.revision.seasonalPercent ?? '?'} → ${detail.seasonalPercent} %`];
  return `Program ${program?.name ?? '?'}: ${listed([...zones, ...percent])}`;
}
