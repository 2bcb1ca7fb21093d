import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Program, ProgramSettings } from '../../core/programs/contract.ts';
import type { WateringDays } from '../../core/contract/parts.ts';
import type { Zone } from '../../core/properties/contract.ts';
import { programSettingsSchema } from '../../core/programs/contract.ts';
import { zoneSchema } from '../../core/properties/contract.ts';
import type { ReviewRow } from '../../core/programs/contract.ts';
import { meanWeeks } from '../../core/programs/totals.ts';
import { meanDaysPerWeek } from '../../core/programs/watering-days.ts';
import { planAccept } from '../../core/programs/accept-plan.ts';
import type { AcceptPlan, PlanInput, ProposedProgram } from '../../core/programs/accept-plan.ts';

const id = (number: number) => `01J${String(number).padStart(23, '0')}`;
const CONTROLLER = id(900);
const PROPERTY = id(901);
const zoneOf = (station: number, flowGpm: number | null = 10): Zone =>
  zoneSchema.parse({
    id: id(station),
    propertyId: PROPERTY,
    controllerId: CONTROLLER,
    station,
    name: `Zone ${station}`,
    flowGpm,
  });
const settings = (part: Partial<ProgramSettings> & { minutes: Record<number, number> }): ProgramSettings => {
  const { minutes, ...rest } = part;
  return programSettingsSchema.parse({
    days: { kind: 'weekdays', weekdays: [1, 4] },
    startTimes: ['05:00'],
    ...rest,
    runs: Object.entries(minutes).map(([station, runMinutes]) => ({ zoneId: id(Number(station)), runMinutes })),
  });
};
const program = (number: number, name: string, set: ProgramSettings): Program => ({
  id: id(number),
  propertyId: PROPERTY,
  controllerId: CONTROLLER,
  name,
  revisionCount: 1,
  revision: {
    ...set,
    id: id(number + 500),
    programId: id(number),
    revisionNumber: 1,
    effectiveDate: '2026-04-01',
    recordedAt: '',
    madeBy: '',
    reason: '',
  },
});
const rowOf = (zone: Zone) =>
  ({ zoneId: zone.id, controllerId: CONTROLLER, station: zone.station, zoneName: zone.name }) as ReviewRow;
const propose = (programId: string | null, name: string, set: ProgramSettings): ProposedProgram => ({
  programId,
  controllerId: CONTROLLER,
  name,
  settings: set,
});
const plan = (
  part: Partial<PlanInput> & Pick<PlanInput, 'proposed' | 'programs'>,
  stations: number[],
  chosen: number[],
): AcceptPlan => {
  const zones = stations.map((station) => zoneOf(station));
  return planAccept({
    rows: zones.map(rowOf),
    zones,
    selected: new Set(chosen.map(id)),
    edits: new Map(),
    roundToMinutes: 1,
    ...part,
  });
};
const minutesOf = (set: ProgramSettings | undefined) =>
  Object.fromEntries((set?.runs ?? []).map((run) => [Number(run.zoneId.slice(3)), run.runMinutes]));
const A = id(100);
const B = id(101);

describe('accepting rows of a review', () => {
  const now = [program(100, 'A', settings({ minutes: { 1: 20, 2: 30, 3: 10 }, seasonalPercent: 50 }))];
  const proposed = [
    propose(
      A,
      'A',
      settings({ minutes: { 1: 12, 2: 18 }, days: { kind: 'weekdays', weekdays: [2, 5, 7] }, startTimes: ['03:30'] }),
    ),
    propose(
      null,
      'B',
      settings({ minutes: { 3: 25 }, days: { kind: 'interval', everyDays: 7, startDate: '2026-07-01' } }),
    ),
  ];

  it('all rows make exactly what was proposed', () => {
    const all = plan({ programs: now, proposed }, [1, 2, 3], [1, 2, 3]);
    expect(all.isWhole).toBe(true);
    expect(all.carried).toEqual([]);
    expect(all.programs.map(({ programId, name, settings: set }) => ({ programId, name, set }))).toEqual(
      proposed.map((one) => ({ programId: one.programId, name: one.name, set: one.settings })),
    );
  });

  it('a zone left out keeps the minutes it runs, not those set at another percentage, and its new days are told', () => {
    const some = plan({ programs: now, proposed }, [1, 2, 3], [1]);
    expect(some.programs).toHaveLength(1);
    expect(some.programs[0]?.settings).toMatchObject({
      seasonalPercent: 100,
      days: { weekdays: [2, 5, 7] },
      startTimes: ['03:30'],
    });
    expect(minutesOf(some.programs[0]?.settings)).toEqual({ 1: 12, 2: 15, 3: 5 });
    expect(
      some.carried.map(({ zoneId, minutesPerWeekNow, minutesPerWeekThen }) => [
        zoneId,
        minutesPerWeekNow,
        minutesPerWeekThen,
      ]),
    ).toEqual([
      [id(2), 30, 45],
      [id(3), 10, 15],
    ]);
    expect(some.isWhole).toBe(false);
  });

  it('a zone that moves to a new program leaves the old one, which stays as it is otherwise', () => {
    const some = plan({ programs: now, proposed }, [1, 2, 3], [3]);
    expect(some.programs.map((one) => one.name)).toEqual(['A', 'B']);
    expect(some.programs[0]?.settings).toMatchObject({
      seasonalPercent: 50,
      days: { weekdays: [1, 4] },
      enabled: true,
    });
    expect(minutesOf(some.programs[0]?.settings)).toEqual({ 1: 20, 2: 30, 3: 0 });
    expect(minutesOf(some.programs[1]?.settings)).toEqual({ 3: 25 });
    expect(some.carried).toEqual([]);
  });

  it('a program that loses every zone is switched off with its minutes kept; nothing chosen changes nothing', () => {
    const two = [...now, program(101, 'B', settings({ minutes: { 3: 10 } }))];
    const advice = [
      propose(A, 'A', settings({ minutes: { 1: 12, 2: 18, 3: 9 } })),
      propose(B, 'B', { ...settings({ minutes: { 3: 10 } }), enabled: false }),
    ];
    const moved = plan({ programs: two, proposed: advice }, [1, 2, 3], [1, 2, 3]);
    expect(moved.programs.find((one) => one.programId === B)?.settings).toEqual({
      ...settings({ minutes: { 3: 10 } }),
      enabled: false,
    });
    expect(plan({ programs: two, proposed: advice }, [1, 2, 3], [2]).programs.some((one) => one.programId === B)).toBe(
      false,
    );
    expect(plan({ programs: two, proposed: advice }, [1, 2, 3], []).programs).toEqual([]);
  });

  it('typed minutes go in; a zone no longer needing water is set to 0', () => {
    const typed = plan({ programs: now, proposed, edits: new Map([[id(1), 17]]) }, [1, 2, 3], [1, 2, 3]);
    expect(minutesOf(typed.programs[0]?.settings)).toEqual({ 1: 17, 2: 18 });
    expect(typed.isWhole).toBe(false);
    const off = plan(
      { programs: now, proposed: [propose(A, 'A', settings({ minutes: { 1: 12, 2: 0, 3: 4 } }))] },
      [1, 2, 3],
      [2],
    );
    expect(minutesOf(off.programs[0]?.settings)).toEqual({ 1: 20, 2: 0, 3: 10 });
  });

  it('several starts become cycles of one start, so that a watering day gives as much as before', () => {
    const twice = [program(100, 'A', settings({ minutes: { 1: 20, 2: 6 }, startTimes: ['04:00', '21:00'] }))];
    const some = plan(
      { programs: twice, proposed: [propose(A, 'A', settings({ minutes: { 1: 12, 2: 18 } }))] },
      [1, 2],
      [1],
    );
    expect(some.programs[0]?.settings.runs.find((run) => run.zoneId === id(2))).toEqual({
      zoneId: id(2),
      runMinutes: 12,
      cycleMinutes: 6,
      soakMinutes: 30,
    });
    expect(some.carried).toMatchObject([{ minutesADay: 12, startsMerged: true }]);
    // A minute twice a day becomes two cycles of one, the shortest a controller can be told.
    const short = [program(100, 'A', settings({ minutes: { 1: 20, 2: 1 }, startTimes: ['04:00', '21:00'] }))];
    const merged = plan(
      { programs: short, proposed: [propose(A, 'A', settings({ minutes: { 1: 12, 2: 18 } }))] },
      [1, 2],
      [1],
    );
    expect(merged.programs[0]?.settings.runs.find((run) => run.zoneId === id(2))).toMatchObject({
      runMinutes: 2,
      cycleMinutes: 1,
    });
  });

  it('several starts that stay several are not merged, nor is a zone at no minutes', () => {
    const two = ['04:00', '21:00'];
    const twice = [program(100, 'A', settings({ minutes: { 1: 20, 2: 6, 3: 0 }, startTimes: two }))];
    const kept = (startTimes: string[]) => {
      const advised = [propose(A, 'A', settings({ minutes: { 1: 12 }, startTimes }))];
      const { programs } = plan({ programs: twice, proposed: advised }, [1, 2, 3], [1]);
      return programs[0]!.settings.runs.map(({ runMinutes, cycleMinutes }) => [runMinutes, cycleMinutes]);
    };
    expect(kept(two)).toEqual([
      [12, null],
      [6, null],
      [0, null],
    ]);
    expect(kept(['05:00'])).toEqual([
      [12, null],
      [12, 6],
      [0, null],
    ]);
  });
});

describe('whatever is chosen', () => {
  const days: fc.Arbitrary<WateringDays> = fc.oneof(
    fc.record({
      kind: fc.constant('weekdays' as const),
      weekdays: fc.uniqueArray(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 7 }),
    }),
    fc.constant<WateringDays>({ kind: 'even' }),
    fc.record({ kind: fc.constant('odd' as const), monthEnd: fc.constantFrom('water' as const, 'skip' as const) }),
    fc.record({
      kind: fc.constant('interval' as const),
      everyDays: fc.integer({ min: 1, max: 14 }),
      startDate: fc.constant('2026-07-01'),
    }),
  );
  const stations = [1, 2, 3, 4, 5];
  const set: fc.Arbitrary<ProgramSettings> = fc.record({
    days,
    startTimes: fc.constantFrom<string[]>(['05:00'], ['04:00', '21:00']),
    seasonalPercent: fc.integer({ min: 1, max: 200 }),
    enabled: fc.boolean(),
    runs: fc.tuple(
      ...stations.map((station) =>
        fc
          .integer({ min: 0, max: 60 })
          .map((runMinutes) => ({ zoneId: id(station), runMinutes, cycleMinutes: null, soakMinutes: null })),
      ),
    ),
  });
  const advised = fc.record({
    days,
    minutes: fc.tuple(...stations.map(() => fc.integer({ min: 0, max: 60 }))),
    inB: fc.tuple(...stations.map(() => fc.boolean())),
  });

  it('chosen zones get just the advice, others their present minutes a watering day, by the same arithmetic as the core', () => {
    fc.assert(
      fc.property(set, set, advised, fc.subarray(stations), (a, b, advice, chosen) => {
        const programs = [program(100, 'A', a), program(101, 'B', b)];
        const half = (inB: boolean) =>
          settings({
            days: advice.days,
            minutes: Object.fromEntries(
              stations
                .filter((_, index) => advice.inB[index] === inB)
                .map((station) => [station, advice.minutes[station - 1] ?? 0]),
            ),
          });
        const proposed = [propose(A, 'A', half(false)), propose(B, 'B', half(true))];
        const made = plan({ programs, proposed }, stations, chosen);
        const after = programs.map((one) => ({
          programId: one.id,
          controllerId: CONTROLLER,
          name: one.name,
          settings:
            made.programs.find((planned) => planned.programId === one.id)?.settings ??
            (one.revision as ProgramSettings),
        }));
        for (const one of after) expect(programSettingsSchema.safeParse(one.settings).success).toBe(true);
        const weeks = meanWeeks(
          after,
          stations.map((station) => zoneOf(station)),
          1,
        );
        for (const station of stations) {
          const week = weeks.get(id(station));
          expect(made.zones.get(id(station))?.minutesPerWeek).toBeCloseTo(week?.minutesPerWeek ?? 0, 6);
          if (chosen.includes(station))
            expect(week?.minutesPerWeek).toBeCloseTo(
              (advice.minutes[station - 1] ?? 0) * meanDaysPerWeek(advice.days),
              6,
            );
        }
        // A day's minutes of a zone left out, summed over the programs that water it, are as before.
        const before: typeof after = programs.map((one) => ({
          programId: one.id,
          controllerId: CONTROLLER,
          name: one.name,
          settings: one.revision,
        }));
        for (const station of stations.filter((one) => !chosen.includes(one))) {
          const aDay = (from: typeof before) =>
            from.reduce(
              (sum, one) =>
                sum +
                (meanWeeks([one], [zoneOf(station)], 1).get(id(station))?.minutesPerWeek ?? 0) /
                  Math.max(1e-9, meanDaysPerWeek(one.settings.days)),
              0,
            );
          expect(aDay(after)).toBeCloseTo(aDay(before), 6);
        }
      }),
      { numRuns: 200 },
    );
  });
});
