import { describe, expect, it } from 'vitest';
import { settingsSchema } from '../../core/settings/contract.ts';
import { dueJudge, seasonOn, type DueFacts } from '../../core/due/due.ts';
import { backflowDue, checkPassed, seasonYear, sensorFacts } from '../../core/ledger/facts.ts';
import { cautionsFor } from '../../core/recording/record.ts';

// The numbers and dates of policy, one by one at the day they turn. All are the company's own or common practice, no source.

const SETTINGS = settingsSchema.parse({
  batteryLifeMonths: 18,
  sensorCheckMonths: 6,
  startUpFrom: '03-15',
  startUpTo: '05-15',
  winterizationFrom: '09-20',
  winterizationTo: '11-10',
});
const sensor = {
  id: 's',
  link: 'wireless' as const,
  batteryCells: 2,
  batteryDate: '2025-01-31',
  lastCheckDate: '2026-02-28',
  lastCheckPassed: true,
  lastSignal: 'strong',
  cellsGood: 2,
};
const facts = (part: Partial<DueFacts> = {}): DueFacts => ({
  propertyId: 'p',
  servicesStartUp: false,
  servicesWinterization: false,
  backflowTestDue: null,
  sensors: [],
  seasons: [],
  planned: [],
  urgent: [],
  ...part,
});
const due = (onDate: string, part: Partial<DueFacts>, horizonDays = 0) =>
  dueJudge(
    onDate,
    horizonDays,
    SETTINGS,
  )(facts(part)).map(({ kind, dueOn, daysLate, why }) => `${kind} ${dueOn} ${daysLate} ${why.key}`);

describe('a battery', () => {
  const only = (part: Partial<typeof sensor>) => ({ sensors: [{ ...sensor, lastCheckDate: '2026-07-01', ...part }] });
  it('is due the months of its life after it was put in, on the last day of a shorter month', () => {
    expect(due('2026-07-30', only({}))).toEqual([]);
    expect(due('2026-07-31', only({}))).toEqual(['battery 2026-07-31 0 due.batterySince']);
    expect(due('2026-08-02', only({}))).toEqual(['battery 2026-07-31 2 due.batterySince']);
    expect(due('2026-07-20', only({}), 11)).toEqual(['battery 2026-07-31 -11 due.batterySince']);
    expect(due('2026-07-20', only({}), 10)).toEqual([]);
  });
  it('is due at once where its date is not known, or one cell was not good; a wire has none', () => {
    expect(due('2026-07-02', only({ batteryDate: null as never }))).toEqual(['battery 2026-07-02 0 due.noBatteryDate']);
    expect(due('2026-07-02', only({ cellsGood: 1 }))).toEqual(['battery 2026-07-02 0 due.cellsGood']);
    expect(due('2026-07-02', only({ link: 'wired' as never, cellsGood: 0 }))).toEqual([]);
  });
});

describe('an open finding that is to be seen to at once', () => {
  const leak = { entryId: 'e', foundOn: '2026-06-10', what: 'a leak', place: 'by the gate', zone: null };
  it('is due from the day it was found, before everything that is later, and booked by a repair', () => {
    expect(due('2026-06-09', { urgent: [leak] })).toEqual([]);
    expect(due('2026-06-10', { urgent: [leak] })).toEqual(['finding 2026-06-10 0 due.findingOpen']);
    expect(due('2026-06-12', { urgent: [leak], backflowTestDue: '2026-01-01' })).toEqual([
      'finding 2026-06-10 2 due.findingOpen',
      'backflow-test 2026-01-01 162 due.backflow',
    ]);
    const [one] = dueJudge(
      '2026-06-12',
      0,
      SETTINGS,
    )(
      facts({
        urgent: [leak],
        planned: [
          { id: 'w', kind: 'walk-through', date: '2026-06-13' },
          { id: 'r', kind: 'repair', date: '2026-06-14' },
        ],
      }),
    );
    expect(one).toMatchObject({ findingId: 'e', bookedVisitId: 'r', bookedDate: '2026-06-14' });
  });
});

describe('a sensor', () => {
  const only = (part: object) => ({ sensors: [{ ...sensor, batteryDate: '2026-08-01', ...part }] });
  it('is checked every so many months, at once after a check that failed, and once at least', () => {
    expect(due('2026-08-27', only({}))).toEqual([]);
    expect(due('2026-08-28', only({}))).toEqual(['sensor-check 2026-08-28 0 due.lastChecked']);
    expect(due('2026-08-01', only({ lastCheckPassed: false }))).toEqual(['sensor-check 2026-08-01 0 due.checkFailed']);
    expect(due('2026-08-01', only({ lastCheckDate: null, lastCheckPassed: null }))).toEqual([
      'sensor-check 2026-08-01 0 due.neverChecked',
    ]);
  });
  it('passed where nothing failed and something was tried', () => {
    const check = (part: object) =>
      checkPassed({ rainTrip: 'not-tested', freezeTrip: 'not-tested', signal: 'not-tested', ...part } as never);
    expect(check({})).toBeNull();
    expect(check({ rainTrip: 'pass' })).toBe(true);
    expect(check({ freezeTrip: 'pass' })).toBe(true);
    for (const bad of [{ rainTrip: 'fail' }, { freezeTrip: 'fail' }, { signal: 'none' }, { controllerObeys: false }])
      expect(check({ rainTrip: 'pass', freezeTrip: 'pass', ...bad })).toBe(false);
    expect(check({ rainTrip: 'pass', signal: 'weak', controllerObeys: true })).toBe(true);
  });
  it('has the cells of the later of swap and check, on one day the one recorded later', () => {
    const swap = (doneOn: string, place: number) =>
      ({ place, doneOn, detail: { kind: 'battery-swap', cells: 2 } }) as never;
    const check = (doneOn: string, place: number) =>
      ({ place, doneOn, detail: { kind: 'sensor-check', rainTrip: 'pass', signal: 'weak', cellsGood: 1 } }) as never;
    expect(sensorFacts(null, swap('2026-05-01', 1), check('2026-05-02', 2))).toMatchObject({
      cellsGood: 1,
      lastSignal: 'weak',
    });
    expect(sensorFacts(null, swap('2026-05-03', 1), check('2026-05-02', 2)).cellsGood).toBe(2);
    expect(sensorFacts(null, swap('2026-05-02', 3), check('2026-05-02', 2)).cellsGood).toBe(2);
    expect(sensorFacts(null, swap('2026-05-02', 1), check('2026-05-02', 2)).cellsGood).toBe(1);
    expect(sensorFacts('2026-06-01', swap('2026-05-02', 1), null)).toMatchObject({
      batteryDate: '2026-06-01',
      cellsGood: 2,
    });
  });
});

describe('seasons', () => {
  it('a start-up is due from its first day until winterizations begin, unless one is logged', () => {
    const serviced = { servicesStartUp: true };
    expect(due('2026-03-14', serviced)).toEqual([]);
    expect(due('2026-03-15', serviced)).toEqual(['start-up 2026-05-15 -61 due.notStartedUp']);
    expect(due('2026-09-19', serviced)).toEqual(['start-up 2026-05-15 127 due.notStartedUp']);
    expect(due('2026-09-20', serviced)).toEqual([]);
    expect(
      due('2026-05-20', { ...serviced, seasons: [{ year: 2026, startedUpOn: '2026-04-01', winterizedOn: null }] }),
    ).toEqual([]);
    expect(
      due('2026-05-20', { ...serviced, seasons: [{ year: 2026, startedUpOn: null, winterizedOn: '2026-05-01' }] }),
    ).toEqual([]);
  });
  it('a winterization is due from its first day to the end of February', () => {
    const serviced = {
      servicesWinterization: true,
      seasons: [{ year: 2025, startedUpOn: null, winterizedOn: '2025-10-01' }],
    };
    expect(due('2026-09-19', serviced)).toEqual([]);
    expect(due('2026-09-20', serviced)).toEqual(['winterization 2026-11-10 -51 due.notWinterized']);
    const later = {
      ...serviced,
      seasons: [...serviced.seasons, { year: 2027, startedUpOn: null, winterizedOn: '2027-09-30' }],
    };
    expect(due('2027-02-28', later)).toEqual(['winterization 2026-11-10 110 due.notWinterized']);
    expect(due('2027-03-01', later)).toEqual([]);
  });
  it('a system that was winterized and never started up is still drained, and is not winterized again', () => {
    const both = { servicesStartUp: true, servicesWinterization: true };
    const drained = { year: 2025, startedUpOn: '2025-04-01', winterizedOn: '2025-10-01' };
    expect(due('2026-10-01', { ...both, seasons: [drained] })).toEqual([]);
    expect(due('2026-10-01', { ...both, seasons: [{ ...drained, winterizedOn: null }] })).toEqual(
      ['winterization 2025-11-10 325 due.notWinterized', 'winterization 2026-11-10 -40 due.notWinterized'].filter(
        (one) => !one.includes('2025-11-10'),
      ),
    );
    expect(
      due('2026-10-01', { ...both, seasons: [drained, { year: 2026, startedUpOn: '2026-04-01', winterizedOn: null }] }),
    ).toEqual(['winterization 2026-11-10 -40 due.notWinterized']);
  });
  it('a winterization up to June closes the season before', () => {
    expect(seasonYear('winterization', '2026-06-30')).toBe(2025);
    expect(seasonYear('winterization', '2026-07-01')).toBe(2026);
    expect(seasonYear('start-up', '2026-01-02')).toBe(2026);
  });
  it('are said of the year of a day', () => {
    const serviced = { servicesStartUp: true, servicesWinterization: false };
    const season = { year: 2026, startedUpOn: '2026-04-01', winterizedOn: null };
    expect(seasonOn('2026-06-01', { ...serviced, seasons: [season] }).state).toBe('running');
    expect(seasonOn('2026-06-01', { ...serviced, seasons: [{ ...season, winterizedOn: '2026-05-01' }] }).state).toBe(
      'winterized',
    );
    expect(seasonOn('2027-06-01', { ...serviced, seasons: [season] }).state).toBe('not-started');
    expect(seasonOn('2027-06-01', { servicesStartUp: false, servicesWinterization: false, seasons: [] }).state).toBe(
      'not-serviced',
    );
  });
});

describe('the rest', () => {
  it('a visit that is past is overdue; one of today is not', () => {
    const planned = (date: string) => ({ planned: [{ id: 'v', kind: 'repair' as const, date }] });
    expect(due('2026-06-10', planned('2026-06-10'))).toEqual([]);
    expect(due('2026-06-10', planned('2026-06-09'))).toEqual(['overdue-visit 2026-06-09 1 due.overdue']);
  });
  it('is seen to by a visit of today or later, of a kind that sees to it', () => {
    const booked = (kind: string, date: string) =>
      dueJudge(
        '2026-08-28',
        0,
        SETTINGS,
      )(
        facts({
          sensors: [{ ...sensor, batteryDate: '2026-08-01' }],
          planned: [{ id: 'v', kind: kind as never, date }],
        }),
      ).find((one) => one.kind === 'sensor-check')!.bookedVisitId;
    expect(booked('sensor-check', '2026-08-28')).toBe('v');
    expect(booked('start-up', '2026-09-28')).toBe('v');
    expect(booked('sensor-check', '2026-08-27')).toBeNull();
    expect(booked('battery-swap', '2026-08-28')).toBeNull();
  });
  it('a backflow test sets the next one: a year on, the day it names, or at once where it failed', () => {
    const test = (detail: object) =>
      ({ place: 1, doneOn: '2026-05-01', detail: { kind: 'backflow-test', nextDue: null, ...detail } }) as never;
    expect(backflowDue('2026-03-01', null)).toBe('2026-03-01');
    expect(backflowDue('2026-03-01', test({ passed: true }))).toBe('2027-05-01');
    expect(backflowDue(null, test({ passed: true, nextDue: '2026-11-01' }))).toBe('2026-11-01');
    expect(backflowDue('2028-01-01', test({ passed: true }))).toBe('2028-01-01');
    expect(backflowDue('2028-01-01', test({ passed: false }))).toBe('2026-05-01');
    expect(due('2026-05-01', { backflowTestDue: '2026-05-01' })).toEqual(['backflow-test 2026-05-01 0 due.backflow']);
    expect(due('2026-04-30', { backflowTestDue: '2026-05-01' })).toEqual([]);
  });
  it('air above what a pipe is usually blown out with is cautioned: 50 psi for polyethylene and what is not known, else 80', () => {
    const blown = (airPressurePsi: number | null, pipe: string, method = 'compressed-air') =>
      cautionsFor({ kind: 'winterization', method, airPressurePsi } as never, pipe as never).length;
    for (const pipe of ['polyethylene', 'mixed', 'unknown'])
      expect([50, 50.1].map((psi) => blown(psi, pipe))).toEqual([0, 1]);
    expect([80, 80.1].map((psi) => blown(psi, 'pvc'))).toEqual([0, 1]);
    expect(blown(null, 'pvc')).toBe(0);
    expect(blown(100, 'pvc', 'vacuum')).toBe(0);
    expect(cautionsFor({ kind: 'note', text: 'x' } as never, 'pvc')).toEqual([]);
  });
});
