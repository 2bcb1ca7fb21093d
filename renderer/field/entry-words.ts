import type { LedgerDetailInput } from '../../core/ledger/entry-contract.ts';
import type { PropertyPage } from './forms/form-spec.ts';
import { sensorName } from './forms/sensor-pick.tsx';
import { measureOf } from './measures.ts';
import { say, texts, words, currentReader } from '../state/say.ts';

export const WORK_WORDS: Readonly<Record<LedgerDetailInput['kind'], string>> = texts({
  'battery-swap': 'word.battery-swap',
  'sensor-check': 'word.sensor-check',
  'run-time-change': 'field.work.run-time-change',
  'start-up': 'word.start-up',
  winterization: 'word.winterization',
  repair: 'word.repair',
  'part-used': 'word.part-used',
  'meter-read': 'field.work.meter-read',
  'backflow-test': 'word.backflow-test',
  'walk-through': 'word.walk-through',
  'zone-audit': 'field.work.zone-audit',
  'manual-run': 'word.manual-run',
  finding: 'word.finding',
  decision: 'word.decision',
  'not-done': 'word.not-done',
  photo: 'word.photo',
  note: 'word.note',
});

/** What an entry says, in a line, before the book has it. */
export function draftWords(detail: LedgerDetailInput, page: PropertyPage | null): string {
  const measured = (name: Parameters<typeof measureOf>[0], value: number) =>
    measureOf(name, currentReader().units).words(value);
  const listed = (parts: readonly string[]) => words().list(parts);
  const sensor = (id: string) => {
    const found = page?.sensors.find((one) => one.id === id);
    return found === undefined ? say('field.said.sensor') : sensorName(found);
  };
  const zone = (id: string | null) => {
    const found = page?.zones.find((one) => one.id === id);
    return found === undefined ? '' : say('field.said.zone', { station: found.station, zone: found.name });
  };
  switch (detail.kind) {
    case 'battery-swap':
      return say('field.said.battery', {
        sensor: sensor(detail.sensorId),
        cells: detail.cells,
        battery: detail.batteryType,
        old: detail.oldBatteryState,
      });
    case 'sensor-check':
      return `${sensor(detail.sensorId)}: ${listed(sensorWords(detail))}`;
    case 'run-time-change':
      return runTimeWords(detail, page);
    case 'start-up':
      return (
        listed(
          kept([
            detail.zonesRun !== null && say('field.said.zonesRun', { count: detail.zonesRun }),
            detail.staticPressurePsi !== null && measured('pressure', detail.staticPressurePsi),
            detail.backflowOpened && say('field.said.backflowOpened'),
            detail.sensorsTested && say('field.said.sensorsTried'),
          ]),
        ) || say('field.said.startedUp')
      );
    case 'winterization':
      return listed(
        kept([
          say('field.said.method', {
            method: detail.method,
            pressure: detail.airPressurePsi === null ? null : measured('pressure', detail.airPressurePsi),
          }),
          detail.zonesBlown !== null && say('field.said.zones', { count: detail.zonesBlown }),
          detail.backflowDrained ? say('field.said.backflowDrained') : say('field.said.backflowNotDrained'),
          detail.controllerOff ? say('field.said.controllerOff') : say('field.said.controllerOn'),
        ]),
      );
    case 'repair':
      return kept([
        detail.what,
        zone(detail.zoneId),
        detail.minutesSpent !== null && say('field.said.minutes', { minutes: detail.minutesSpent }),
      ])
        .filter((part) => part !== '')
        .join(', ');
    case 'part-used':
      return say('field.said.part', {
        quantity: detail.quantity,
        part: detail.part,
        priceCents: detail.unitPriceCents,
      });
    case 'meter-read':
      return `${detail.meter}: ${measured('volume', detail.readingGallons)}`;
    case 'backflow-test':
      return say('field.said.backflow', { passed: detail.passed, tester: detail.tester, nextDue: detail.nextDue });
    case 'walk-through':
      return `${detail.clientPresent ? say('field.said.withClient') : say('field.said.alone')}${detail.topics === '' ? '' : `: ${detail.topics}`}`;
    case 'zone-audit':
      return zone(detail.zoneId);
    case 'manual-run':
      return `${zone(detail.zoneId)}, ${words().minutes(detail.runMinutes)}${detail.why === '' ? '' : `, ${detail.why}`}`;
    case 'finding':
      return [detail.what, zone(detail.zoneId), detail.place, say(`log.urgency.${detail.urgency}`)]
        .filter((part) => part !== '')
        .join(', ');
    case 'decision':
      return `${say(`log.by.${detail.decidedBy}`)}: ${detail.what}`;
    case 'not-done':
      return say(`log.why.${detail.why}`);
    case 'photo':
      return `${detail.fileName}${detail.caption === '' ? '' : `, ${detail.caption}`}`;
    case 'note':
      return detail.text;
  }
}

function kept(parts: readonly (string | false)[]): string[] {
  return parts.filter((part): part is string => part !== false);
}

const SIGNALS = texts({
  strong: 'field.said.signal.strong',
  weak: 'field.said.signal.weak',
  none: 'field.said.signal.none',
});

function sensorWords(detail: Extract<LedgerDetailInput, { kind: 'sensor-check' }>): string[] {
  return kept([
    detail.rainTrip !== 'not-tested' &&
      say(detail.rainTrip === 'pass' ? 'field.said.rainTrips' : 'field.said.rainFails'),
    detail.freezeTrip !== 'not-tested' &&
      say(detail.freezeTrip === 'pass' ? 'field.said.freezeTrips' : 'field.said.freezeFails'),
    detail.signal !== 'not-tested' && SIGNALS[detail.signal],
    detail.cellsGood !== null && say('field.said.goodCells', { count: detail.cellsGood }),
    detail.controllerObeys !== null && (detail.controllerObeys ? say('field.said.obeys') : say('field.said.obeysNot')),
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
    return say('field.said.zoneMinutes', {
      station: zone?.station ?? null,
      before: before(run.zoneId),
      after: run.runMinutes,
    });
  });
  const percent =
    detail.seasonalPercent === undefined
      ? []
      : [
          say('field.said.seasonal', {
            before: program?.revision.seasonalPercent ?? null,
            after: detail.seasonalPercent,
          }),
        ];
  return `${say('field.program', { name: program?.name ?? '?' })}: ${words().list([...zones, ...percent])}`;
}
