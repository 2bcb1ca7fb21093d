import { addDays, addMonths, dateOfMonthDay, daysBetween } from '../dates.ts';
import type { DueKind } from './contract.ts';
import type { Told } from '../contract/parts.ts';
import { fact } from '../text/say.ts';
import type { ZoneSaid } from '../text/words.ts';
import type { SeasonState } from './contract.ts';
import type { Settings } from '../settings/contract.ts';
import type { VisitKind } from '../contract/parts.ts';

// What is due at a property on a day: pure rules over the few facts the store keeps up to date.

export interface DueFacts {
  propertyId: string;
  servicesStartUp: boolean;
  servicesWinterization: boolean;
  backflowTestDue: string | null;
  sensors: {
    id: string;
    link: 'wireless' | 'wired';
    batteryCells: number;
    batteryDate: string | null;
    lastCheckDate: string | null;
    lastCheckPassed: boolean | null;
    lastSignal: string | null;
    cellsGood: number | null;
  }[];
  seasons: { year: number; startedUpOn: string | null; winterizedOn: string | null }[];
  planned: { id: string; kind: VisitKind; date: string }[];
  /** Open findings that are to be seen to at once. */
  urgent: { entryId: string; foundOn: string; what: string; place: string; zone: ZoneSaid | null }[];
}

export interface Due {
  kind: DueKind;
  dueOn: string;
  daysLate: number;
  sensorId: string | null;
  visitId: string | null;
  findingId: string | null;
  bookedVisitId: string | null;
  bookedDate: string | null;
  why: Told;
}

/** Which booked visits would see to what is due. */
const SEEN_TO_BY: Record<DueKind, readonly VisitKind[]> = {
  finding: ['repair'],
  battery: ['battery-swap', 'sensor-check'],
  'sensor-check': ['sensor-check', 'start-up'],
  'backflow-test': ['backflow-test'],
  'start-up': ['start-up'],
  winterization: ['winterization'],
  'overdue-visit': [],
};

/** Makes the judge for one day; it remembers date arithmetic, because thousands of properties share few dates. */
export function dueJudge(onDate: string, horizonDays: number, settings: Settings): (facts: DueFacts) => Due[] {
  const until = addDays(onDate, horizonDays);
  const year = Number(onDate.slice(0, 4));
  const monthsOn = remember((key: string) => {
    const [date, months] = key.split('+') as [string, string];
    return addMonths(date, Number(months));
  });
  const late = remember((dueOn: string) => daysBetween(dueOn, onDate));
  const seasonYears = [year - 1, year, Number(until.slice(0, 4))].filter(
    (value, index, all) => all.indexOf(value) === index,
  );

  return (facts) => {
    const found: Due[] = [];
    const add = (
      kind: DueKind,
      dueOn: string,
      why: Told,
      ids: { sensorId?: string; visitId?: string; findingId?: string } = {},
      opensOn = dueOn,
    ) => {
      if (opensOn > until) return;
      const booked = facts.planned.find((visit) => visit.date >= onDate && SEEN_TO_BY[kind].includes(visit.kind));
      found.push({
        kind,
        dueOn,
        daysLate: late(dueOn),
        sensorId: ids.sensorId ?? null,
        visitId: ids.visitId ?? null,
        findingId: ids.findingId ?? null,
        bookedVisitId: booked?.id ?? null,
        bookedDate: booked?.date ?? null,
        why,
      });
    };

    for (const { entryId, foundOn, what, place, zone } of facts.urgent)
      add('finding', foundOn, fact('due.findingOpen', { date: foundOn, what, place, zone }), { findingId: entryId });
    for (const sensor of facts.sensors) {
      if (sensor.link === 'wireless') {
        if (sensor.batteryDate === null) add('battery', onDate, fact('due.noBatteryDate'), { sensorId: sensor.id });
        else if (sensor.cellsGood !== null && sensor.cellsGood < sensor.batteryCells) {
          add('battery', onDate, fact('due.cellsGood', { good: sensor.cellsGood, cells: sensor.batteryCells }), {
            sensorId: sensor.id,
          });
        } else
          add(
            'battery',
            monthsOn(`${sensor.batteryDate}+${settings.batteryLifeMonths}`),
            fact('due.batterySince', { date: sensor.batteryDate, months: settings.batteryLifeMonths }),
            { sensorId: sensor.id },
          );
      }
      if (sensor.lastCheckPassed === false)
        add('sensor-check', onDate, fact('due.checkFailed', { date: sensor.lastCheckDate! }), {
          sensorId: sensor.id,
        });
      else if (sensor.lastCheckDate === null)
        add('sensor-check', onDate, fact('due.neverChecked'), { sensorId: sensor.id });
      else
        add(
          'sensor-check',
          monthsOn(`${sensor.lastCheckDate}+${settings.sensorCheckMonths}`),
          fact('due.lastChecked', { date: sensor.lastCheckDate }),
          { sensorId: sensor.id },
        );
    }
    if (facts.backflowTestDue !== null) add('backflow-test', facts.backflowTestDue, fact('due.backflow'));

    for (const seasonYear of seasonYears) {
      const season = facts.seasons.find((one) => one.year === seasonYear);
      const before = facts.seasons.find((one) => one.year === seasonYear - 1);
      const started = season?.startedUpOn ?? null;
      const winterized = season?.winterizedOn ?? null;
      if (
        facts.servicesStartUp &&
        started === null &&
        winterized === null &&
        onDate < dateOfMonthDay(seasonYear, settings.winterizationFrom) &&
        seasonYear >= year
      ) {
        add(
          'start-up',
          dateOfMonthDay(seasonYear, settings.startUpTo),
          fact('due.notStartedUp', { year: seasonYear }),
          {},
          dateOfMonthDay(seasonYear, settings.startUpFrom),
        );
      }
      // A system that was winterized last year and never started up is still drained.
      const stillDrained = facts.servicesStartUp && started === null && (before?.winterizedOn ?? null) !== null;
      if (facts.servicesWinterization && winterized === null && !stillDrained && onDate < `${seasonYear + 1}-03-01`) {
        add(
          'winterization',
          dateOfMonthDay(seasonYear, settings.winterizationTo),
          fact('due.notWinterized', { year: seasonYear }),
          {},
          dateOfMonthDay(seasonYear, settings.winterizationFrom),
        );
      }
    }
    for (const visit of facts.planned) {
      if (visit.date < onDate)
        add('overdue-visit', visit.date, fact('due.overdue', { kind: visit.kind, date: visit.date }), {
          visitId: visit.id,
        });
    }
    // Looking ahead over the horizon, late() of a later dueOn is negative: not late yet.
    return found.sort((a, b) => byUrgency(a, b) || a.kind.localeCompare(b.kind));
  };
}

/** What may hurt somebody or loses water comes first, then what is latest. */
export function byUrgency(a: Pick<Due, 'kind' | 'daysLate'>, b: Pick<Due, 'kind' | 'daysLate'>): number {
  return Number(b.kind === 'finding') - Number(a.kind === 'finding') || b.daysLate - a.daysLate;
}

/** The season a day belongs to, and how far it is at a property: by calendar year. */
export function seasonOn(
  onDate: string,
  facts: Pick<DueFacts, 'servicesStartUp' | 'servicesWinterization' | 'seasons'>,
): { year: number; state: SeasonState; startedUpOn: string | null; winterizedOn: string | null } {
  const year = Number(onDate.slice(0, 4));
  const season = facts.seasons.find((one) => one.year === year);
  const startedUpOn = season?.startedUpOn ?? null;
  const winterizedOn = season?.winterizedOn ?? null;
  const state: SeasonState =
    winterizedOn !== null
      ? 'winterized'
      : startedUpOn !== null
        ? 'running'
        : !facts.servicesStartUp && !facts.servicesWinterization
          ? 'not-serviced'
          : 'not-started';
  return { year, state, startedUpOn, winterizedOn };
}

function remember<T>(compute: (key: string) => T): (key: string) => T {
  const known = new Map<string, T>();
  return (key) => {
    let value = known.get(key);
    if (value === undefined) {
      value = compute(key);
      known.set(key, value);
    }
    return value;
  };
}
