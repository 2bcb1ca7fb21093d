import { describe, expect, test } from 'vitest';
import { ledgerDetailSchema, type LedgerDetail } from '../../core/ledger/entry-contract.ts';
import { summarize } from '../../core/ledger/summarize.ts';

// What an entry says, as the fact that is told of it. The words are the catalogue's (tests/text).

const ZONE = { station: 2, name: 'Side yard' };
const id = (number: number) => String(number).padStart(26, '0');
const detail = (given: object): LedgerDetail => ledgerDetailSchema.parse(given);
const told = (given: object, zone: typeof ZONE | null = ZONE) => summarize(detail(given), zone);

describe('a change of run times', () => {
  const change = {
    kind: 'run-time-change',
    programId: id(1),
    revisionId: id(2),
    changes: [],
    oldSeasonalPercent: 100,
    newSeasonalPercent: 100,
  };

  test('tells how many zones run otherwise, and their minutes before and after; zones that run as before are not told', () => {
    const changes = [
      { zoneId: id(3), oldMinutes: 10, newMinutes: 12.5 },
      { zoneId: id(4), oldMinutes: 8.2, newMinutes: 6.1 },
      { zoneId: id(5), oldMinutes: 7, newMinutes: 7 },
    ];
    expect(told({ ...change, changes })).toMatchObject({
      key: 'ledger.run-time-change',
      given: { zones: 2, minutesFrom: 18.2, minutesTo: 18.6 },
    });
    // Dust of binary fractions is not told: 0.1 and 0.2 are 0.3.
    const dust = [
      { zoneId: id(3), oldMinutes: 0.1, newMinutes: 1.1 },
      { zoneId: id(4), oldMinutes: 0.2, newMinutes: 2.2 },
    ];
    expect(told({ ...change, changes: dust })).toMatchObject({ given: { minutesFrom: 0.3, minutesTo: 3.3 } });
  });

  test('tells what else was changed, and only that', () => {
    const nothing = {
      madeProgram: false,
      zones: 0,
      minutesFrom: 0,
      minutesTo: 0,
      percentFrom: 100,
      percentTo: 100,
      daysChanged: false,
      startTimesChanged: false,
      cyclesChanged: false,
      switched: null,
    };
    expect(told(change)).toEqual({ key: 'ledger.run-time-change', given: nothing });
    for (const one of [
      { daysChanged: true },
      { startTimesChanged: true },
      { cyclesChanged: true },
      { madeProgram: true },
      { switched: 'off' },
      { switched: 'on' },
    ])
      expect(told({ ...change, ...one })).toEqual({ key: 'ledger.run-time-change', given: { ...nothing, ...one } });
    expect(told({ ...change, newSeasonalPercent: 150 })).toMatchObject({ given: { percentFrom: 100, percentTo: 150 } });
  });

  test('of earlier versions, which say nothing of cycles and switches, tells neither', () => {
    const {
      cyclesChanged: _,
      switched: __,
      madeProgram: ___,
      ...old
    } = detail(change) as never as Record<string, unknown>;
    expect(summarize(old as never, null)).toMatchObject({
      given: { cyclesChanged: false, switched: null, madeProgram: false },
    });
  });
});

test('figures are told as measures, and what was not measured is not told as 0', () => {
  expect(told({ kind: 'start-up', staticPressurePsi: 62 })).toMatchObject({
    given: { staticPressure: { quantity: 'pressure', value: 62 } },
  });
  expect(told({ kind: 'start-up' })).toMatchObject({ given: { staticPressure: null } });
  expect(told({ kind: 'start-up', staticPressurePsi: 0 })).toMatchObject({
    given: { staticPressure: { quantity: 'pressure', value: 0 } },
  });
  expect(told({ kind: 'winterization', airPressurePsi: 50 })).toMatchObject({
    given: { airPressure: { quantity: 'pressure', value: 50 } },
  });
  expect(told({ kind: 'winterization' })).toMatchObject({ given: { airPressure: null } });
  expect(told({ kind: 'meter-read', readingGallons: 1234.5 })).toMatchObject({
    given: { meter: 'main', reading: { quantity: 'volume', value: 1234.5 } },
  });
});

test('a catch-can test tells rate, uniformity in whole percent and the number of cans', () => {
  const audit = {
    kind: 'zone-audit',
    zoneId: id(3),
    throatAreaIn2: 16,
    runMinutes: 10,
    volumesMl: [20, 22, 24, 26, 28],
  };
  expect(told({ ...audit, precipitationRateInPerHour: 1.62, distributionUniformity: 0.846 })).toEqual({
    key: 'ledger.zone-audit',
    given: { rate: { quantity: 'rate', value: 1.62 }, uniformityPercent: 85, cans: 5, zone: ZONE },
  });
});

test('what is about a zone names it as it is called now', () => {
  const about = [
    { kind: 'repair', zoneId: id(3), what: 'nozzle' },
    { kind: 'manual-run', zoneId: id(3), runMinutes: 5 },
    { kind: 'finding', zoneId: id(3), what: 'leak' },
  ];
  for (const one of about) {
    expect(told(one)).toMatchObject({ given: { zone: ZONE } });
    expect(told(one, null)).toMatchObject({ given: { zone: null } });
  }
});
