import type { ProgramSettings } from '../programs/contract.ts';
import type { WateringDays } from '../contract/parts.ts';
import { dateOf } from './days.ts';
import type { Ground } from './ground.ts';
import type { Chance } from './random.ts';
import type { ZonePlan } from './zones.ts';

/** A program as the demo follows it through the years. */
export interface ProgramPlan {
  id: string;
  controllerId: string;
  name: string;
  group: ZonePlan['group'];
  zones: ZonePlan[];
  settings: ProgramSettings;
  revisions: number;
  /** The company has set it once: minutes near need, few days, one start. */
  adjusted: boolean;
}

const GROUPS: readonly [ZonePlan['group'], string][] = [
  ['turf', 'A'],
  ['beds', 'B'],
  ['trees', 'C'],
];

/** The programs as the company found them: mostly too long, too often, sometimes with a second start. */
export function foundPrograms(rng: Chance, ground: Ground, born: number): ProgramPlan[] {
  const wellRun = rng.yes(0.14);
  const plans: ProgramPlan[] = [];
  for (const controller of ground.controllers) {
    for (const [group, name] of GROUPS) {
      const zones = ground.zones.filter((plan) => plan.zone.controllerId === controller.id && plan.group === group);
      if (zones.length === 0) continue;
      const plan: ProgramPlan = {
        id: rng.ulid(born),
        controllerId: controller.id,
        name,
        group,
        zones,
        revisions: 1,
        adjusted: wellRun,
        settings: {
          days: foundDays(rng, group, ground.since),
          startTimes: foundStarts(rng, group),
          seasonalPercent: 100,
          runs: zones.map((one) => ({
            zoneId: one.zone.id,
            runMinutes: one.foundMinutes,
            cycleMinutes: null,
            soakMinutes: null,
          })),
          enabled: true,
        },
      };
      if (wellRun) plan.settings = adjustedSettings(plan, ground);
      plans.push(plan);
    }
  }
  return plans;
}

function foundDays(rng: Chance, group: ZonePlan['group'], since: number): WateringDays {
  if (group === 'trees')
    return rng.yes(0.5)
      ? { kind: 'interval', everyDays: rng.pick([3, 5, 7]), startDate: dateOf(since) }
      : { kind: 'weekdays', weekdays: [1, 5] };
  return rng.weighted<WateringDays>([
    [{ kind: 'weekdays', weekdays: [1, 2, 3, 4, 5, 6, 7] }, 22],
    [{ kind: 'weekdays', weekdays: [1, 2, 3, 4, 5] }, 8],
    [{ kind: 'weekdays', weekdays: [1, 3, 5, 7] }, 20],
    [{ kind: 'weekdays', weekdays: [1, 3, 5] }, 16],
    [{ kind: 'interval', everyDays: 2, startDate: dateOf(since) }, 16],
    [{ kind: 'odd', monthEnd: 'skip' }, 8],
    [{ kind: 'even' }, 6],
    [{ kind: 'weekdays', weekdays: [2, 6] }, 4],
  ]);
}

function foundStarts(rng: Chance, group: ZonePlan['group']): string[] {
  if (group === 'beds') return [rng.pick(['02:00', '06:30', '11:00', '20:00'])];
  if (group === 'trees') return [rng.pick(['03:00', '22:00'])];
  return rng.weighted([
    [['04:00'], 30],
    [['05:00'], 20],
    [['22:30'], 12],
    [['05:00', '21:00'], 16],
    [['03:00', '06:30'], 14],
    [['06:00', '11:30'], 8],
  ]);
}

/** What a technician of the company sets: minutes near need, two days at opposite ends of the week, one start. */
export function adjustedSettings(plan: ProgramPlan, ground: Ground): ProgramSettings {
  const twoDays = ground.restricted ? (ground.odd ? [2, 6] : [3, 7]) : ground.odd ? [1, 5] : [2, 5];
  const days: WateringDays =
    plan.group === 'trees' ? { kind: 'weekdays', weekdays: [twoDays[1]!] } : { kind: 'weekdays', weekdays: twoDays };
  const startTimes = plan.group === 'turf' ? ['03:00'] : plan.group === 'beds' ? ['01:00'] : ['00:15'];
  return {
    days,
    startTimes,
    seasonalPercent: plan.settings.seasonalPercent,
    enabled: true,
    runs: plan.zones.map((one) => ({
      zoneId: one.zone.id,
      runMinutes: one.adjustedMinutes,
      cycleMinutes: one.cycleMinutes,
      soakMinutes: one.cycleMinutes === null ? null : 30,
    })),
  };
}
