import { thumbRuleSchema, type RestrictionStage } from '../../core/settings/contract.ts';
import { zoneSchema, type Zone } from '../../core/properties/contract.ts';
import type { ProgramSettings } from '../../core/programs/contract.ts';
import type { ProgramOnController } from '../../core/programs/expand.ts';

/** A ULID made from a number, so that tests read as numbers. */
export function ulid(number: number): string {
  return String(number).padStart(26, '0');
}

export const CONTROLLER = ulid(900);
export const PROPERTY = ulid(800);

/** Zone number n on station n of the one controller, with what a test wants different. */
export function makeZone(number: number, changes: Partial<Zone> = {}): Zone {
  return zoneSchema.parse({
    id: ulid(number),
    propertyId: PROPERTY,
    controllerId: CONTROLLER,
    station: number,
    name: `Zone ${number}`,
    flowGpm: 10,
    areaFt2: 1000,
    rootDepthInches: null,
    plantFactor: null,
    precipitationRateInPerHour: null,
    distributionUniformity: null,
    ...changes,
  });
}

export function makeProgram(
  settings: Partial<ProgramSettings>,
  changes: Partial<ProgramOnController> = {},
): ProgramOnController {
  return {
    programId: ulid(700),
    controllerId: CONTROLLER,
    name: 'A',
    settings: {
      days: { kind: 'weekdays', weekdays: [1, 4] },
      startTimes: ['05:00'],
      seasonalPercent: 100,
      runs: [],
      enabled: true,
      ...settings,
    },
    ...changes,
  };
}

export function run(
  zone: number,
  runMinutes: number,
  cycleMinutes: number | null = null,
  soakMinutes: number | null = null,
) {
  return { zoneId: ulid(zone), runMinutes, cycleMinutes, soakMinutes };
}

export function makeStage(changes: Partial<RestrictionStage> = {}): RestrictionStage {
  return {
    title: 'Stage 1',
    dayRule: { kind: 'any-day' },
    maxDaysPerWeek: null,
    forbiddenHours: [],
    dripExempt: true,
    ...changes,
  };
}

export function makeThumb(changes: Record<string, unknown>) {
  return thumbRuleSchema.parse({ id: ulid(600), minutesFrom: 5, minutesTo: 5, ...changes });
}
