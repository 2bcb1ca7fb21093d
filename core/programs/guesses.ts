import { emissionDeviceRow, plantKindRow, runBounds, SOILS } from '../agronomy/index.ts';
import type { Zone } from '../properties/contract.ts';
import type { GuessedField, Measurement } from '../text/advice-facts.ts';
import type { Told } from '../contract/parts.ts';
import { fact } from '../text/say.ts';
import type { Quantity } from '../units.ts';
import { ALL_DAYS, type AdviceDays } from './advice-days.ts';
import { isDrip } from './restrictions.ts';
import { fewestThatKeep, schedulesOf, type Schedule } from './schedules.ts';
import { precipitationRate, zoneNeed, type MonthWater } from './zone-need.ts';

/** One figure behind the advice that nobody measured. */
export interface Guess {
  field: GuessedField;
  /** The figure used, with its unit. */
  used: Told;
  /** Between what it may plausibly lie. */
  range: Told;
  /** Share by which the run minutes move at the worse end of the range; 0 where they do not depend on it. */
  effectShare: number;
  /** What would settle it. */
  measurement: Measurement;
}

interface Variant extends Omit<Guess, 'effectShare'> {
  zones: Zone[];
}

// How far off a figure nobody measured may plausibly be, as shares of it. Common practice, no source.
const RATE_SPREAD = 0.3;
const FLOW_SPREAD = 0.3;
const AREA_SPREAD = 0.25;
const UNIFORMITY_SPREAD = 0.15;
const ROOT_SPREAD = 1 / 3;
/** A measurement that moves the minutes by less is not worth a visit. */
const WORTH_MEASURING = 0.01;

/**
 * The guessed figures behind a zone's advice, the one that moves its run minutes most first. The effect is computed, not assumed:
 * the zone is advised again, alone, with the figure at either end of its plausible range. `schedules` are those the zone may have
 * (`soloSchedules`), handed in because a review asks for hundreds of zones.
 */
export function guessesOf(
  zone: Zone,
  month: MonthWater,
  schedules: readonly Schedule[] = soloSchedules(ALL_DAYS),
): Guess[] {
  const base = soloMinutes(zone, month, schedules);
  return variantsOf(zone)
    .map(({ zones, ...guess }): Guess => ({
      ...guess,
      effectShare:
        base === 0
          ? 0
          : zones.reduce(
              (worst, variant) => Math.max(worst, Math.abs(soloMinutes(variant, month, schedules) - base) / base),
              0,
            ),
    }))
    .sort((a, b) => b.effectShare - a.effectShare);
}

/** The ways to water a zone by itself on the days there are. */
export function soloSchedules(allowed: AdviceDays): Schedule[] {
  return schedulesOf(allowed, { prefer: [], fromDate: '2000-01-01' });
}

/** The measurement that would narrow the advice most: what its guesses move, added up; null where no guess matters. */
export function bestMeasurement(guesses: readonly Guess[]): Measurement | null {
  const effects = new Map<Measurement, number>();
  for (const guess of guesses)
    effects.set(guess.measurement, (effects.get(guess.measurement) ?? 0) + guess.effectShare);
  let best: Measurement | null = null;
  let most = WORTH_MEASURING;
  for (const [measurement, effect] of effects) {
    if (effect > most) {
      most = effect;
      best = measurement;
    }
  }
  return best;
}

/** Unrounded minutes a run of the zone advised by itself: rounding would hide small effects and blow up others. */
function soloMinutes(zone: Zone, month: MonthWater, schedules: readonly Schedule[]): number {
  const need = zoneNeed(zone, month);
  if (need.dailyNeedInches === 0) return 0;
  const schedule = fewestThatKeep(schedules, [need]);
  return runBounds(
    (need.dailyNeedInches * 7) / schedule.wateringsPerWeek,
    need.prInchesPerHour,
    need.distributionUniformity,
  ).upperMinutes;
}

function variantsOf(zone: Zone): Variant[] {
  const variants: Variant[] = [];
  const device = emissionDeviceRow(zone.emissionDevice);
  const rateTest = isDrip(zone.emissionDevice) ? 'flow-reading' : 'catch-can-test';
  const { basis, inchesPerHour } = precipitationRate(zone);
  if (basis === 'table') {
    variants.push(spread(zone, 'precipitationRateInPerHour', inchesPerHour, RATE_SPREAD, 20, rateTest));
  }
  if (zone.flowGpm === null) {
    const notKnown = fact('guess.notKnown');
    variants.push({ field: 'flowGpm', used: notKnown, range: notKnown, measurement: 'flow-reading', zones: [] });
  } else if (zone.flowKnown === 'guess') {
    variants.push(spread(zone, 'flowGpm', zone.flowGpm, FLOW_SPREAD, 500, 'flow-reading'));
  }
  if (zone.areaFt2 !== null && zone.areaKnown === 'guess') {
    variants.push(spread(zone, 'areaFt2', zone.areaFt2, AREA_SPREAD, 5_000_000, 'area-measure'));
  }
  if (zone.distributionUniformity === null) {
    const low = Math.max(0.1, device.du - UNIFORMITY_SPREAD);
    const high = Math.min(1, device.du + UNIFORMITY_SPREAD);
    variants.push({
      field: 'distributionUniformity',
      used: fact('guess.percent', { percent: percent(device.du) }),
      range: fact('guess.percentSpan', { from: percent(low), to: percent(high) }),
      measurement: rateTest,
      zones: [low, high].map((distributionUniformity) => ({ ...zone, distributionUniformity })),
    });
  }
  if (zone.soilKnown === 'guess') {
    const index = SOILS.findIndex((soil) => soil.id === zone.soil);
    const neighbours = [SOILS[index - 1], SOILS[index + 1]].filter((soil) => soil !== undefined);
    const [from, to] = [neighbours[0]!.id, neighbours.at(-1)!.id];
    variants.push({
      field: 'soil',
      used: fact('guess.soil', { soil: zone.soil }),
      range: from === to ? fact('guess.soil', { soil: from }) : fact('guess.soilSpan', { from, to }),
      measurement: 'soil-check',
      zones: neighbours.map((soil) => ({ ...zone, soil: soil.id })),
    });
  }
  if (zone.rootDepthInches === null) {
    const depth = plantKindRow(zone.plantKind).rootDepthInches;
    variants.push(spread(zone, 'rootDepthInches', depth, ROOT_SPREAD, 120, 'soil-check'));
  }
  return variants;
}

/** What the figures that may lie either side are figures of; roots are known to the inch (or the centimeter) at best. */
const SPREAD_OF = {
  precipitationRateInPerHour: { quantity: 'rate' },
  flowGpm: { quantity: 'flow' },
  areaFt2: { quantity: 'area' },
  rootDepthInches: { quantity: 'depth', digits: 0 },
} as const satisfies Partial<Record<GuessedField, { quantity: Quantity; digits?: number }>>;

function spread(
  zone: Zone,
  field: keyof typeof SPREAD_OF,
  used: number,
  share: number,
  max: number,
  measurement: Measurement,
): Variant {
  const { quantity, ...digits } = SPREAD_OF[field];
  const [from, to] = [used * (1 - share), Math.min(max, used * (1 + share))];
  return {
    field,
    used: fact('guess.figure', { figure: { quantity, value: used }, ...digits }),
    range: fact('guess.span', { from: { quantity, value: from }, to: { quantity, value: to }, ...digits }),
    measurement,
    zones: [from, to].map((value) => ({ ...zone, [field]: value })),
  };
}

function percent(share: number): number {
  return Math.round(share * 100);
}
