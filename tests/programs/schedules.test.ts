import { describe, expect, test } from 'vitest';
import { ALL_DAYS } from '../../core/programs/advice-days.ts';
import { fewestThatKeep, freeGroup, groupZones, keepsDepletion, schedulesOf } from '../../core/programs/schedules.ts';
import type { ZoneNeed } from '../../core/programs/zone-need.ts';
import { CONTROLLER, ulid } from './builders.ts';

const WISHES = { prefer: [], fromDate: '2026-06-03' };
function need(station: number, changes: Partial<ZoneNeed> = {}): ZoneNeed {
  return {
    zoneId: ulid(station),
    controllerId: CONTROLLER,
    station,
    zoneName: `Zone ${station}`,
    emissionDevice: 'pop-up-spray',
    flowGpm: 10,
    dailyNeedInches: 0.2,
    prInchesPerHour: 1.5,
    prHow: { key: 'rate.entered' },
    distributionUniformity: 1,
    allowedDepletionInches: 0.5,
    longestCycleMinutes: null,
    soakPerCycleMinute: 0,
    ...changes,
  };
}
/** A zone whose soil holds so many days of its need. */
const holding = (station: number, days: number) => need(station, { allowedDepletionInches: 0.2 * days });
const weekly = (zone: ZoneNeed) => fewestThatKeep(schedulesOf(ALL_DAYS, WISHES), [zone]).wateringsPerWeek;

describe('how often a zone is watered', () => {
  test('as rarely as its soil allows: every four, three or two weeks, or on one to seven days of a week', () => {
    const rising = [0.5, 1, 2, 3, 4, 7, 14, 21, 28].map((days) => [days, weekly(holding(1, days))]);
    // Two days at opposite ends of a week leave gaps of three and four days; three days, two of two and one of three.
    expect(rising).toEqual([
      [0.5, 7],
      [1, 7],
      [2, 6],
      [3, 3],
      [4, 2],
      [7, 1],
      [14, 1 / 2],
      [21, 1 / 3],
      [28, 1 / 4],
    ]);
    // A soil that holds just under two weeks does not keep for two.
    expect(weekly(holding(1, 13.99))).toBe(1);
    expect(keepsDepletion({ days: { kind: 'even' }, wateringsPerWeek: 3.5, peakDays: 2 }, holding(1, 2))).toBe(true);
    expect(keepsDepletion({ days: { kind: 'even' }, wateringsPerWeek: 3.5, peakDays: 2 }, holding(1, 1.99))).toBe(
      false,
    );
  });

  // Controllers take runs of at most twelve hours (common practice, no source).
  test('as often as makes each run one that a controller can be told', () => {
    // 0.7 in a week at 0.06 in/h are 700 min; at 0.058 in/h 724 min, so twice a week.
    const slow = (prInchesPerHour: number) =>
      need(1, { dailyNeedInches: 0.1, allowedDepletionInches: 0.7, prInchesPerHour });
    expect(weekly(slow(0.06))).toBe(1);
    expect(weekly(slow(0.058))).toBe(2);
  });

  test('so many steps more often where the night is short, to every day at most', () => {
    const zone = holding(1, 7);
    const steps = [0, 1, 2, 6, 7, 99].map(
      (denser) => fewestThatKeep(schedulesOf(ALL_DAYS, WISHES), [zone], denser).wateringsPerWeek,
    );
    expect(steps).toEqual([1, 2, 3, 7, 7, 7]);
    expect(freeGroup([zone], WISHES, 1)).toMatchObject([{ zones: [zone], schedule: { wateringsPerWeek: 2 } }]);
    expect(freeGroup([], WISHES)).toEqual([]);
  });
});

describe('which zones share a program', () => {
  const brief = (zones: ZoneNeed[], most = 3) =>
    groupZones(zones, ALL_DAYS, most, WISHES).map((group) => [
      group.schedule.wateringsPerWeek,
      group.zones.map((zone) => zone.station),
    ]);

  test('the busiest first, whatever their stations; a slower one apart where it would be watered 1.5 times as often', () => {
    // Weekly, twice a week, three times a week.
    const zones = [holding(1, 7), holding(2, 4), holding(3, 3), holding(4, 3)];
    // Three times a week is 1.5 times twice a week: a program of its own; so is twice for once.
    expect(brief(zones)).toEqual([
      [3, [3, 4]],
      [2, [2]],
      [1, [1]],
    ]);
    expect(brief(zones.toReversed())).toEqual(brief(zones));
    // With fewer programs the slower ones go along with the last.
    expect(brief(zones, 2)).toEqual([
      [3, [3, 4]],
      [2, [2, 1]],
    ]);
    expect(brief(zones, 1)).toEqual([[3, [3, 4, 2, 1]]]);
    expect(brief([])).toEqual([]);
  });

  test('those that ask for it as often stand by station, and less than 1.5 times as often is not worth a program', () => {
    expect(brief([holding(5, 3), holding(2, 3), holding(9, 3)])).toEqual([[3, [2, 5, 9]]]);
    // Six days a week and seven.
    expect(brief([holding(1, 2), holding(2, 1)])).toEqual([[7, [2, 1]]]);
  });

  test('under a rule of odd or even dates all are watered on them, however much their needs differ', () => {
    for (const parity of ['odd', 'even'] as const) {
      const groups = groupZones([holding(1, 28), holding(2, 1)], { kind: 'dates', parity }, 3, WISHES);
      expect(groups.map((group) => [group.schedule.days.kind, group.zones.map((zone) => zone.station)])).toEqual([
        [parity, [1, 2]],
      ]);
    }
  });
});
