import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RestrictionStage } from '../../core/settings/contract.ts';
import { addressParity, propertyParity } from '../../core/programs/address-parity.ts';
import { checkProgram } from '../../core/programs/check-program.ts';
import { expandPrograms } from '../../core/programs/expand.ts';
import {
  allowedDatesInWeek,
  firstForbiddenMinute,
  forbiddenSpells,
  stageInForce,
  type RuleInForce,
} from '../../core/programs/restrictions.ts';
import { makeProgram, makeStage, makeZone, run, ulid } from './builders.ts';
import { PLAIN_READER, sayFact } from '../../core/text/say.ts';
import type { Told } from '../../core/contract/parts.ts';

const said = (told: Told) => sayFact(PLAIN_READER, told);

const rule = (changes: Partial<RestrictionStage>, parity: RuleInForce['parity'] = 'odd'): RuleInForce => ({
  restrictionName: 'Mill Creek water',
  stage: makeStage(changes),
  parity,
});

describe('odd or even address', () => {
  test.each([
    ['1207 Elm St', 'odd'],
    ['1207B Elm St', 'odd'],
    ['12-14 Oak', 'even'],
    ['12 – 14 Oak', 'even'],
    ['4 1/2 Mill Lane', 'even'],
    ['0 Pier Rd', 'even'],
    ['Oak Street 5', 'odd'],
    ['Unit 4, 121 Main St', 'odd'],
    ['#3 120 Main St', 'even'],
    ['121 Main St Apt 4', 'odd'],
    ['7 5th Avenue', 'odd'],
    ['W156N8480 Ridge Rd', 'even'],
    ['N4 Ridge Rd', 'even'],
    ['S7 Ridge Rd', 'odd'],
    ['N4511 County Road 12', 'odd'],
    ['4512 County Road 11', 'even'],
    ['  18.  Hill Ct', 'even'],
    ['Oak Court', null],
    ['5th Avenue', null],
    ['PO Box 12', null],
    ['Highway 36', null],
    ['11-14 Oak', null],
    ['', null],
    ['Lot 7', null],
  ])('%s → %s', (street, parity) => {
    expect(addressParity(street)).toBe(parity);
  });

  test('what is set by hand goes before what is read', () => {
    expect(propertyParity({ addressParity: 'even', street: '1207 Elm' })).toBe('even');
    expect(propertyParity({ addressParity: 'auto', street: '1207 Elm' })).toBe('odd');
  });
});

describe('what a stage allows', () => {
  test('dates of a week, by weekday and by date, for either parity', () => {
    const weekdays = makeStage({ dayRule: { kind: 'weekdays', oddAddress: [3, 6], evenAddress: [4, 7] } });
    expect(allowedDatesInWeek(weekdays, 'odd', '2026-06-05')).toEqual(['2026-06-03', '2026-06-06']);
    expect(allowedDatesInWeek(weekdays, 'even', '2026-06-05')).toEqual(['2026-06-04', '2026-06-07']);
    expect(allowedDatesInWeek(weekdays, null, '2026-06-05')).toEqual([]);
    const byDate = makeStage({ dayRule: { kind: 'date-parity' } });
    expect(allowedDatesInWeek(byDate, 'odd', '2026-08-31')).toEqual([
      '2026-08-31',
      '2026-09-01',
      '2026-09-03',
      '2026-09-05',
    ]);
    expect(allowedDatesInWeek(makeStage({ dayRule: { kind: 'no-watering' } }), 'odd', '2026-06-05')).toEqual([]);
    expect(allowedDatesInWeek(null, null, '2026-06-05')).toHaveLength(7);
  });

  test('forbidden hours: over midnight in two pieces, merged, and the whole day where end is start', () => {
    expect(
      forbiddenSpells(
        makeStage({
          forbiddenHours: [
            { from: '10:00', to: '18:00' },
            { from: '17:00', to: '19:00' },
          ],
        }),
      ),
    ).toEqual([{ fromMinute: 600, toMinute: 1140 }]);
    expect(forbiddenSpells(makeStage({ forbiddenHours: [{ from: '22:00', to: '04:00' }] }))).toEqual([
      { fromMinute: 0, toMinute: 240 },
      { fromMinute: 1320, toMinute: 1440 },
    ]);
    expect(forbiddenSpells(makeStage({ forbiddenHours: [{ from: '18:00', to: '00:00' }] }))).toEqual([
      { fromMinute: 1080, toMinute: 1440 },
    ]);
    expect(forbiddenSpells(makeStage({ forbiddenHours: [{ from: '08:00', to: '08:00' }] }))).toEqual([
      { fromMinute: 0, toMinute: 1440 },
    ]);
  });

  test('the first forbidden minute is the one found by looking at every minute', () => {
    const clock = fc
      .integer({ min: 0, max: 47 })
      .map((half) => `${String(Math.floor(half / 2)).padStart(2, '0')}:${half % 2 === 0 ? '00' : '30'}`);
    fc.assert(
      fc.property(
        fc.array(fc.record({ from: clock, to: clock }), { maxLength: 3 }),
        fc.integer({ min: 0, max: 1439 }),
        fc.integer({ min: 1, max: 2000 }),
        (forbiddenHours, from, length) => {
          const inSpell = (minute: number) =>
            forbiddenHours.some((hours) => {
              const [start, end] = [hours.from, hours.to].map(
                (text) => Number(text.slice(0, 2)) * 60 + Number(text.slice(3)),
              );
              const now = minute % 1440;
              return start! < end! ? now >= start! && now < end! : now >= start! || now < end!;
            });
          let expected: number | null = null;
          for (let minute = from; minute < from + length && expected === null; minute += 1)
            if (inSpell(minute)) expected = minute;
          expect(firstForbiddenMinute(forbiddenSpells({ forbiddenHours }), from, from + length)).toBe(expected);
        },
      ),
    );
  });

  test('a stage number beyond the last stage means the last', () => {
    const stages = [makeStage({ title: 'one' }), makeStage({ title: 'two' })];
    expect(stageInForce({ currentStage: 1, stages }).title).toBe('two');
    expect(stageInForce({ currentStage: 7, stages }).title).toBe('two');
  });
});

describe('checking a program', () => {
  const zones = [makeZone(1, { name: 'Front lawn' }), makeZone(2, { name: 'Hedge', emissionDevice: 'drip-line' })];
  const week = (settings: Parameters<typeof makeProgram>[0]) =>
    expandPrograms([makeProgram(settings)], zones, '2026-06-01', '2026-06-07', 1);

  test('a forbidden weekday: the run that causes it, in a sentence', () => {
    const blocks = week({
      days: { kind: 'weekdays', weekdays: [2, 3] },
      startTimes: ['05:10'],
      runs: [run(1, 20), run(2, 30)],
    });
    const breaches = checkProgram(
      blocks,
      zones,
      rule({ dayRule: { kind: 'weekdays', oddAddress: [3, 6], evenAddress: [4, 7] } }),
    );
    expect(breaches.map(({ text, ...breach }) => ({ ...breach, said: said(text) }))).toEqual([
      {
        code: 'forbidden-day',
        date: '2026-06-02',
        zoneId: ulid(1),
        startMinute: 310,
        said: 'Station 1 Front lawn starts at 5:10 am on Tuesday, June 2, 2026, but Stage 1 of Mill Creek water allows only Wed, Sat at odd addresses.',
      },
    ]);
    // With drip inside the rule, the hedge is named too.
    expect(
      checkProgram(
        blocks,
        zones,
        rule({ dripExempt: false, dayRule: { kind: 'weekdays', oddAddress: [3, 6], evenAddress: [4, 7] } }),
      ),
    ).toHaveLength(2);
    expect(checkProgram(blocks, zones, null)).toEqual([]);
  });

  test('date parity, and nothing said where the house number is not known', () => {
    const blocks = week({ days: { kind: 'weekdays', weekdays: [2, 3] }, runs: [run(1, 20)] });
    expect(
      checkProgram(blocks, zones, rule({ dayRule: { kind: 'date-parity' } }, 'odd')).map((breach) => [
        breach.code,
        breach.date,
      ]),
    ).toEqual([['date-parity', '2026-06-02']]);
    expect(
      checkProgram(blocks, zones, rule({ dayRule: { kind: 'date-parity' } }, 'even')).map((breach) => breach.date),
    ).toEqual(['2026-06-03']);
    expect(checkProgram(blocks, zones, rule({ dayRule: { kind: 'date-parity' } }, null))).toEqual([]);
    expect(
      checkProgram(blocks, zones, rule({ dayRule: { kind: 'weekdays', oddAddress: [3], evenAddress: [3] } }, null)).map(
        (breach) => breach.date,
      ),
    ).toEqual(['2026-06-02']);
  });

  test('forbidden hours: a run that straddles the edge breaks them, one that ends at the edge does not', () => {
    const hours = rule({ forbiddenHours: [{ from: '10:00', to: '18:00' }] });
    expect(
      checkProgram(
        week({ days: { kind: 'weekdays', weekdays: [2] }, startTimes: ['09:40'], runs: [run(1, 20)] }),
        zones,
        hours,
      ),
    ).toEqual([]);
    const straddling = checkProgram(
      week({ days: { kind: 'weekdays', weekdays: [2] }, startTimes: ['09:41'], runs: [run(1, 20)] }),
      zones,
      hours,
    );
    expect(straddling.map((breach) => breach.code)).toEqual(['forbidden-hours']);
    expect(said(straddling[0]!.text)).toContain(
      'runs to 10:01 am, but Stage 1 of Mill Creek water forbids watering from 10:00 am to 6:00 pm',
    );
    expect(
      checkProgram(
        week({ days: { kind: 'weekdays', weekdays: [2] }, startTimes: ['18:00'], runs: [run(1, 20)] }),
        zones,
        hours,
      ),
    ).toEqual([]);
    const night = rule({ forbiddenHours: [{ from: '22:00', to: '04:00' }] });
    expect(
      checkProgram(
        week({
          days: { kind: 'weekdays', weekdays: [2] },
          startTimes: ['03:59', '21:50', '12:00'],
          runs: [run(1, 20)],
        }),
        zones,
        night,
      ).map((breach) => [breach.date, breach.startMinute]),
    ).toEqual([
      ['2026-06-02', 239],
      ['2026-06-02', 1310],
    ]);
  });

  test('a run over midnight into a forbidden day breaks the rule on that day', () => {
    const blocks = week({ days: { kind: 'weekdays', weekdays: [3] }, startTimes: ['23:50'], runs: [run(1, 20)] });
    const breaches = checkProgram(
      blocks,
      zones,
      rule({ dayRule: { kind: 'weekdays', oddAddress: [3], evenAddress: [] } }),
    );
    expect(breaches).toMatchObject([{ code: 'forbidden-day', date: '2026-06-04', startMinute: 1430 }]);
    expect(said(breaches[0]!.text)).toContain('runs on into Thursday, June 4, 2026');
    // Ending at midnight to the minute is still Wednesday.
    expect(
      checkProgram(
        week({ days: { kind: 'weekdays', weekdays: [3] }, startTimes: ['23:40'], runs: [run(1, 20)] }),
        zones,
        rule({ dayRule: { kind: 'weekdays', oddAddress: [3], evenAddress: [] } }),
      ),
    ).toEqual([]);
  });

  test('too many days: every run after the days allowed, counted anew each week, drip not counted', () => {
    const program = makeProgram({ days: { kind: 'weekdays', weekdays: [1, 3, 5, 7] }, runs: [run(1, 10)] });
    const drip = makeProgram(
      { days: { kind: 'weekdays', weekdays: [2] }, runs: [run(2, 10)], startTimes: ['08:00'] },
      { programId: ulid(701) },
    );
    const blocks = expandPrograms([program, drip], zones, '2026-06-01', '2026-06-14', 1);
    const breaches = checkProgram(blocks, zones, rule({ maxDaysPerWeek: 2 }));
    expect(breaches.map((breach) => [breach.code, breach.date])).toEqual([
      ['too-many-days', '2026-06-05'],
      ['too-many-days', '2026-06-07'],
      ['too-many-days', '2026-06-12'],
      ['too-many-days', '2026-06-14'],
    ]);
  });

  test('no watering: every run inside the rule', () => {
    const blocks = week({ days: { kind: 'weekdays', weekdays: [2, 3] }, runs: [run(1, 20), run(2, 30)] });
    expect(
      checkProgram(blocks, zones, rule({ dayRule: { kind: 'no-watering' } })).map((breach) => breach.code),
    ).toEqual(['no-watering', 'no-watering']);
  });
});
