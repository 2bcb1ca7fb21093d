import type { LedgerDetail } from '../../ledger/entry-contract.ts';
import type { PipeMaterial } from '../../properties/contract.ts';
import type { VisitKind } from '../../contract/parts.ts';
import type { Room } from '../room.ts';
import type { Measured, Words, ZoneSaid } from '../words.ts';

// What the ledger says: an entry in one line, why something is due, cautions, and what cannot be recorded.

type Detail<Kind extends LedgerDetail['kind']> = Omit<Extract<LedgerDetail, { kind: Kind }>, 'kind'>;
type Part = string | false | null;

const list = (parts: readonly Part[]) => parts.filter((part) => typeof part === 'string' && part !== '').join(', ');
/** “: a, b”, or nothing where nothing is told. */
const withList = (parts: readonly Part[]) => {
  const text = list(parts);
  return text === '' ? '' : `: ${text}`;
};
const zones = (words: Words, count: number) => words.plural(count, { one: '# zone', other: '# zones' });

const METHODS = {
  'compressed-air': 'compressed air',
  'gravity-drain': 'gravity drain',
  'automatic-drain': 'automatic drain',
  vacuum: 'vacuum',
} as const;
const OLD_CELLS = { working: 'old one working', low: 'old one low', dead: 'old one dead', unknown: null } as const;
const VISITS: Record<VisitKind, string> = {
  'start-up': 'start-up',
  winterization: 'winterization',
  'sensor-check': 'sensor check',
  'battery-swap': 'battery swap',
  'program-adjustment': 'program adjustment',
  repair: 'repair',
  'backflow-test': 'backflow test',
  'walk-through': 'walk-through',
};
const PIPES: Record<PipeMaterial, string> = {
  pvc: 'pvc pipe',
  polyethylene: 'polyethylene pipe',
  copper: 'copper pipe',
  mixed: 'mixed pipe',
  unknown: 'pipe of unknown material',
};

export const ledger = {
  'ledger.battery-swap': (words, given: Omit<Detail<'battery-swap'>, 'sensorId'>) =>
    `Battery swapped: ${list([words.plural(given.cells, { one: '# new cell', other: '# new cells' }), given.batteryType, OLD_CELLS[given.oldBatteryState]])}`,
  'ledger.sensor-check': (words, given: Detail<'sensor-check'>) => {
    const trips = list([
      given.rainTrip !== 'not-tested' && `rain trip ${given.rainTrip}`,
      given.freezeTrip !== 'not-tested' && `freeze trip ${given.freezeTrip}`,
      given.signal !== 'not-tested' && `signal ${given.signal}`,
      given.cellsGood !== null && words.plural(given.cellsGood, { one: '# cell good', other: '# cells good' }),
      given.controllerObeys !== null && (given.controllerObeys ? 'controller obeys' : 'controller does not obey'),
    ]);
    return `Sensor checked: ${trips === '' ? 'looked at, nothing tested' : trips}`;
  },
  'ledger.run-time-change': (
    words,
    given: {
      madeProgram: boolean;
      zones: number;
      minutesFrom: number;
      minutesTo: number;
      percentFrom: number;
      percentTo: number;
      daysChanged: boolean;
      startTimesChanged: boolean;
      cyclesChanged: boolean;
      switched: string | null;
    },
  ) => {
    const changed = list([
      given.zones > 0 &&
        `${zones(words, given.zones)} from ${words.number(given.minutesFrom)} to ${words.number(given.minutesTo)} min`,
      given.percentFrom !== given.percentTo &&
        `seasonal ${words.count(given.percentFrom)} % to ${words.count(given.percentTo)} %`,
      given.daysChanged && 'watering days',
      given.startTimesChanged && 'start times',
      given.cyclesChanged && 'cycles and soaks',
      given.switched !== null && `switched ${given.switched}`,
    ]);
    return `Program ${given.madeProgram ? 'set up' : 'changed'}: ${changed === '' ? 'nothing' : changed}`;
  },
  'ledger.start-up': (words, given: Detail<'start-up'> & { staticPressure: Measured | null }) =>
    `Started up${withList([given.staticPressure !== null && `static ${words.measure(given.staticPressure)}`, given.zonesRun !== null && words.plural(given.zonesRun, { one: '# zone run', other: '# zones run' }), given.backflowOpened && 'backflow assembly opened', given.sensorsTested && 'sensors tested'])}`,
  'ledger.winterization': (words, given: Detail<'winterization'> & { airPressure: Measured | null }) =>
    `Winterized by ${METHODS[given.method]}${withList([given.airPressure !== null && words.measure(given.airPressure), given.zonesBlown !== null && zones(words, given.zonesBlown), given.backflowDrained && 'backflow assembly drained', given.controllerOff && 'controller off'])}`,
  'ledger.repair': (words, given: Detail<'repair'> & { zone: ZoneSaid | null }) =>
    `Repaired: ${list([given.what, words.zone(given.zone)])}${given.minutesSpent === null ? '' : ` (${words.count(given.minutesSpent)} min)`}`,
  'ledger.part-used': (words, given: Detail<'part-used'>) =>
    `Part used: ${words.number(given.quantity, 2)} × ${given.part}${given.unitPriceCents === null ? '' : ` at ${words.cents(given.unitPriceCents)}${given.quantity === 1 ? '' : ' each'}`}`,
  'ledger.meter-read': (words, given: { meter: string; reading: Measured }) =>
    `Meter “${given.meter}” read: ${words.measure(given.reading, 2)}`,
  'ledger.backflow-test': (words, given: Detail<'backflow-test'>) =>
    `Backflow test ${given.passed ? 'passed' : 'failed'}${withList([given.tester !== '' && `by ${given.tester}`, given.nextDue !== null && `next due ${words.date(given.nextDue)}`])}`,
  'ledger.walk-through': (_words, given: Detail<'walk-through'>) =>
    `Walk-through${given.clientPresent ? ' with the client' : ''}${given.topics === '' ? '' : `: ${given.topics}`}`,
  'ledger.zone-audit': (
    words,
    given: { rate: Measured; uniformityPercent: number; cans: number; zone: ZoneSaid | null },
  ) =>
    `Catch-can test: ${words.measure(given.rate)}, uniformity ${words.count(given.uniformityPercent)} % from ${words.plural(given.cans, { one: '# can', other: '# cans' })}${given.zone === null ? '' : `, ${words.zone(given.zone)}`}`,
  'ledger.photo': (_words, given: Detail<'photo'>) =>
    `Photo ${given.fileName}${given.caption === '' ? '' : `: ${given.caption}`}`,
  'ledger.note': (_words, given: Detail<'note'>) => given.text,

  'due.noBatteryDate': 'No battery date is known.',
  'due.cellsGood': (words, given: { good: number; cells: number }) =>
    `${given.good === 0 ? words.plural(given.cells, { one: 'Its cell', other: 'None of its # cells' }) : `Only ${words.count(given.good)} of ${words.plural(given.cells, { one: '# cell', other: '# cells' })}`} ${given.good > 1 ? 'were' : given.good === 0 && given.cells === 1 ? 'was not' : 'was'} good at the last check.`,
  'due.findingOpen': (words, given: { date: string; what: string; place: string; zone: ZoneSaid | null }) =>
    `Found on ${words.date(given.date)}, to be seen to at once: ${list([given.what, words.zone(given.zone), given.place])}.`,
  'due.batterySince': (words, given: { date: string; months: number }) =>
    `Battery in since ${words.date(given.date)}; swapped every ${words.plural(given.months, { one: 'month', other: '# months' })}.`,
  'due.checkFailed': (words, given: { date: string }) => `The check on ${words.date(given.date)} failed.`,
  'due.neverChecked': 'It has never been checked.',
  'due.lastChecked': (words, given: { date: string }) => `Last checked ${words.date(given.date)}.`,
  'due.backflow': 'The backflow assembly must be tested by a licensed tester.',
  'due.notStartedUp': (_words, given: { year: number }) => `Not started up in ${given.year}.`,
  'due.notWinterized': (_words, given: { year: number }) => `Not winterized in autumn ${given.year}.`,
  'due.overdue': (words, given: { kind: VisitKind; date: string }) =>
    `A ${VISITS[given.kind]} was planned for ${words.date(given.date)} and is not logged as done.`,

  'ledger.airPressure': (words, given: { pressure: Measured; usual: Measured; pipe: PipeMaterial }) =>
    `${words.measure(given.pressure)} is above the usual ${words.measure(given.usual)} for ${PIPES[given.pipe]}. The pipe maker's and local limits rule: look for cracked fittings at start-up.`,

  'ledger.notYet': (_words, given: { doneOn: string; today: string }) =>
    `Work cannot be logged for ${given.doneOn}: that day has not come yet (today is ${given.today}).`,
  'ledger.otherVisit': 'This visit is at another property.',
  'ledger.cancelledVisit': 'This visit was cancelled. Bring it back first, or log the work without it.',
  'ledger.noSensorHere': 'This sensor is not at this property.',
  'ledger.noZoneHere': 'This zone is not at this property.',
  'ledger.noChange': (_words, given: { name: string }) =>
    `These are the settings program ${given.name} has already, so there is no change to log.`,
  'ledger.correctedAlready': 'This entry was corrected already. Correct the newest version of it.',
  'ledger.voidAlready': 'This entry already says that the work did not happen.',
  'ledger.otherKind': (_words, given: { kind: LedgerDetail['kind'] }) =>
    `A correction must be of the same kind as what it corrects (${given.kind}).`,
} satisfies Room;
