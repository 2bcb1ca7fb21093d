import type { Settings, ThumbRule } from '../settings/contract.ts';
import type { Zone } from '../properties/contract.ts';
import type { ReviewRow } from './contract.ts';
import { adviceDays, ALL_DAYS, type AdviceDays } from './advice-days.ts';
import type { Breach } from './check-program.ts';
import { stationsOf, type ProgramOnController } from './expand.ts';
import { bestMeasurement, guessesOf, soloSchedules } from './guesses.ts';
import { reasonsFor, thumbDiffers } from './reasons.ts';
import type { Recommendation } from './recommend.ts';
import { isExempt, type RuleInForce } from './restrictions.ts';
import { cycleLengths } from './start-pattern.ts';
import { scaledMinutes } from './seasonal.ts';
import { matchThumb } from './thumb-rules.ts';
import { meanWeeks } from './totals.ts';
import type { MonthWater, ZoneNeed } from './zone-need.ts';

export interface CompareInput {
  zones: readonly Zone[];
  /** One per zone, as the recommendation was made from. */
  needs: readonly ZoneNeed[];
  programs: readonly ProgramOnController[];
  recommendation: Recommendation;
  rule: RuleInForce | null;
  month: MonthWater;
  thumbRules: readonly ThumbRule[];
  settings: Pick<Settings, 'roundToMinutes' | 'thumbDiffersShare'>;
  /** Breaches of the programs set now, from `checkProgram`. */
  breaches: readonly Breach[];
}

/**
 * One row a zone: what is set, what physics advises, what the rule of thumb says, why they differ, and what is guessed. "Now" is
 * the mean week of the programs that are on (see `meanWeeks`): `runMinutes` as set at 100 %, `minutesPerWeek` as really run.
 * Zones without a need (retired ones) give no row; rows stand by controller and station.
 */
export function compareZones(input: CompareInput): ReviewRow[] {
  const step = input.settings.roundToMinutes;
  const weeks = meanWeeks(input.programs, input.zones, step);
  const longestCycles = longestCyclesNow(input.programs, input.zones, step);
  const inside = soloSchedules(daysInsideRule(input.rule));
  const outside = soloSchedules(ALL_DAYS);
  const needById = new Map(input.needs.map((need) => [need.zoneId, need]));
  const adviceById = new Map(input.recommendation.zones.map((advice) => [advice.zoneId, advice]));
  const rows: ReviewRow[] = [];
  for (const zone of [...input.zones].sort((a, b) =>
    a.controllerId < b.controllerId ? -1 : a.controllerId > b.controllerId ? 1 : a.station - b.station,
  )) {
    const need = needById.get(zone.id);
    const advice = adviceById.get(zone.id);
    if (!need || !advice) continue;
    const now = weeks.get(zone.id)!;
    const isOutsideRule = input.rule !== null && isExempt(input.rule.stage, zone.emissionDevice);
    const guesses = guessesOf(zone, input.month, isOutsideRule ? outside : inside);
    const thumb = matchThumb(zone, input.thumbRules);
    const reasons = reasonsFor({
      zone,
      need,
      now,
      advice,
      thumb,
      thumbDiffersShare: input.settings.thumbDiffersShare,
      longestCycleNow: longestCycles.get(zone.id) ?? 0,
      breaches: input.breaches.filter((breach) => breach.zoneId === zone.id),
      guesses,
    });
    rows.push({
      zoneId: zone.id,
      controllerId: zone.controllerId,
      station: zone.station,
      zoneName: zone.name,
      plantKind: zone.plantKind,
      emissionDevice: zone.emissionDevice,
      soil: zone.soil,
      betweenHouses: zone.betweenHouses,
      now: {
        programNames: now.programNames,
        runMinutes: now.setMinutes,
        daysPerWeek: now.daysPerWeek,
        minutesPerWeek: now.minutesPerWeek,
        inchesPerWeek: (need.prInchesPerHour * now.minutesPerWeek) / 60,
        gallonsPerWeek: zone.flowGpm === null ? null : zone.flowGpm * now.minutesPerWeek,
      },
      advice: {
        runMinutes: advice.runMinutes,
        lowerMinutes: advice.lowerMinutes,
        upperMinutes: advice.upperMinutes,
        daysPerWeek: advice.daysPerWeek,
        minutesPerWeek: advice.minutesPerWeek,
        inchesPerWeek: advice.inchesPerWeek,
        gallonsPerWeek: advice.gallonsPerWeek,
        cycles: advice.cycles,
        cycleMinutes: advice.cycleMinutes,
        soakMinutes: advice.soakMinutes,
      },
      thumb: thumb && {
        minutesFrom: thumb.minutesFrom,
        minutesTo: thumb.minutesTo,
        note: thumb.note,
        differs: thumbDiffers(advice.runMinutes, thumb, input.settings.thumbDiffersShare),
      },
      needInchesPerWeek: need.dailyNeedInches * 7,
      precipitationRateInPerHour: need.prInchesPerHour,
      prHow: need.prHow,
      distributionUniformity: need.distributionUniformity,
      reasons,
      guesses,
      bestMeasurement: bestMeasurement(guesses),
    });
  }
  return rows;
}

/** Gallons a week of all rows, now and as advised; null where any zone's flow is not known. */
export function gallonsOf(rows: readonly ReviewRow[]): { now: number | null; advised: number | null } {
  const sum = (pick: (row: ReviewRow) => number | null) =>
    rows.reduce<number | null>((total, row) => {
      const gallons = pick(row);
      return total === null || gallons === null ? null : total + gallons;
    }, 0);
  return { now: sum((row) => row.now.gallonsPerWeek), advised: sum((row) => row.advice.gallonsPerWeek) };
}

/** Stands in for an area nobody knows when zones are weighed, ft². */
const USUAL_AREA_FT2 = 1000;

/**
 * How far a property is from its need: Σ |now − advice| inches × area over Σ need × area. 0 = as advised, 1 = off by all the
 * need. In a month without need it is the mean of inches a week that run for nothing.
 */
export function distanceFromNeed(rows: readonly ReviewRow[], zones: readonly Pick<Zone, 'id' | 'areaFt2'>[]): number {
  const areas = new Map(zones.map((zone) => [zone.id, zone.areaFt2 ?? USUAL_AREA_FT2]));
  let off = 0;
  let need = 0;
  let area = 0;
  for (const row of rows) {
    const weight = areas.get(row.zoneId) ?? USUAL_AREA_FT2;
    off += Math.abs((row.now.inchesPerWeek ?? 0) - (row.advice.inchesPerWeek ?? 0)) * weight;
    need += row.needInchesPerWeek * weight;
    area += weight;
  }
  if (off === 0) return 0;
  return off / (need > 0 ? need : area);
}

function daysInsideRule(rule: RuleInForce | null): AdviceDays {
  try {
    return adviceDays(rule);
  } catch {
    // A rule that leaves no days has been reported by the recommender; what a guess is worth can still be shown.
    return ALL_DAYS;
  }
}

function longestCyclesNow(
  programs: readonly ProgramOnController[],
  zones: readonly Zone[],
  stepMinutes: number,
): Map<string, number> {
  const longest = new Map<string, number>();
  for (const program of programs) {
    if (!program.settings.enabled) continue;
    const stations = stationsOf(zones, program.controllerId);
    for (const run of program.settings.runs) {
      if (!stations.has(run.zoneId)) continue;
      const minutes = scaledMinutes(run.runMinutes, program.settings.seasonalPercent, stepMinutes);
      // Cycles without a soak are one long cycle to the soil.
      const cycle = (run.soakMinutes ?? 0) > 0 ? cycleLengths(minutes, run.cycleMinutes)[0]! : minutes;
      longest.set(run.zoneId, Math.max(longest.get(run.zoneId) ?? 0, cycle));
    }
  }
  return longest;
}
