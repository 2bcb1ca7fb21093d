import { dateInWords } from '../dates.ts';
import type { LedgerDetail } from '../contract/ledger-entries.ts';

const plural = (n: number, one: string) => `${n} ${one}${n === 1 ? '' : 's'}`;
const list = (parts: (string | false | null)[]) =>
  parts.filter((part): part is string => typeof part === 'string' && part !== '').join(', ');

/** One sentence of what an entry says, in the book's stored units. */
export function summarize(detail: LedgerDetail): string {
  switch (detail.kind) {
    case 'battery-swap':
      return `Battery swapped: ${list([plural(detail.cells, 'new cell'), detail.batteryType, detail.oldBatteryState === 'unknown' ? null : `old one ${detail.oldBatteryState}`])}`;
    case 'sensor-check': {
      const trips = list([
        detail.rainTrip !== 'not-tested' && `rain trip ${detail.rainTrip}`,
        detail.freezeTrip !== 'not-tested' && `freeze trip ${detail.freezeTrip}`,
        detail.signal !== 'not-tested' && `signal ${detail.signal}`,
        detail.cellsGood !== null && `${plural(detail.cellsGood, 'cell')} good`,
        detail.controllerObeys === null
          ? null
          : detail.controllerObeys
            ? 'controller obeys'
            : 'controller does not obey',
      ]);
      return `Sensor checked: ${trips === '' ? 'looked at, nothing tested' : trips}`;
    }
    case 'run-time-change': {
      const changed = detail.changes.filter((change) => change.oldMinutes !== change.newMinutes);
      return `Program changed: ${
        list([
          changed.length > 0 &&
            `${plural(changed.length, 'zone')} from ${sum(changed.map((c) => c.oldMinutes))} to ${sum(changed.map((c) => c.newMinutes))} min`,
          detail.oldSeasonalPercent !== detail.newSeasonalPercent &&
            `seasonal ${detail.oldSeasonalPercent} % to ${detail.newSeasonalPercent} %`,
          detail.daysChanged && 'watering days',
          detail.startTimesChanged && 'start times',
        ]) || 'nothing'
      }`;
    }
    case 'start-up':
      return `Started up${withList([detail.staticPressurePsi !== null && `static ${detail.staticPressurePsi} psi`, detail.zonesRun !== null && `${plural(detail.zonesRun, 'zone')} run`, detail.backflowOpened && 'backflow assembly opened', detail.sensorsTested && 'sensors tested'])}`;
    case 'winterization':
      return `Winterized by ${detail.method.replace('-', ' ')}${withList([detail.airPressurePsi !== null && `${detail.airPressurePsi} psi`, detail.zonesBlown !== null && plural(detail.zonesBlown, 'zone'), detail.backflowDrained && 'backflow assembly drained', detail.controllerOff && 'controller off'])}`;
    case 'repair':
      return `Repaired: ${detail.what}${detail.minutesSpent === null ? '' : ` (${detail.minutesSpent} min)`}`;
    case 'part-used':
      return `Part used: ${detail.quantity} × ${detail.part}${detail.unitPriceCents === null ? '' : ` at $${(detail.unitPriceCents / 100).toFixed(2)}${detail.quantity === 1 ? '' : ' each'}`}`;
    case 'meter-read':
      return `Meter “${detail.meter}” read: ${detail.readingGallons} gal`;
    case 'backflow-test':
      return `Backflow test ${detail.passed ? 'passed' : 'failed'}${withList([detail.tester !== '' && `by ${detail.tester}`, detail.nextDue !== null && `next due ${dateInWords(detail.nextDue)}`])}`;
    case 'walk-through':
      return `Walk-through${detail.clientPresent ? ' with the client' : ''}${detail.topics === '' ? '' : `: ${detail.topics}`}`;
    case 'zone-audit':
      return `Catch-can test: ${detail.precipitationRateInPerHour.toFixed(2)} in/h, uniformity ${Math.round(detail.distributionUniformity * 100)} % from ${detail.volumesMl.length} cans`;
    case 'photo':
      return `Photo ${detail.fileName}${detail.caption === '' ? '' : `: ${detail.caption}`}`;
    case 'note':
      return detail.text;
  }
}

const withList = (parts: (string | false)[]) => {
  const text = list(parts);
  return text === '' ? '' : `: ${text}`;
};
const sum = (values: number[]) => Math.round(values.reduce((total, value) => total + value, 0) * 10) / 10;
