import {
  allowableAccumulationInches,
  emissionDeviceRow,
  longestCycleMinutes,
  plantFactor,
  plantKindRow,
  prFromEmitters,
  prFromFlowAndArea,
  prFromSpacing,
  soilRow,
  wateringInterval,
} from '../agronomy/index.ts';
import type { EmissionDevice } from '../agronomy/contract.ts';
import type { Zone } from '../properties/contract.ts';
import { BookError } from '../errors.ts';
import { fact, type Fact } from '../text/say.ts';

/** What one zone needs and how it takes water, in plain numbers: all the recommender knows of agronomy. */
export interface ZoneNeed {
  zoneId: string;
  controllerId: string;
  station: number;
  zoneName: string;
  emissionDevice: EmissionDevice;
  flowGpm: number | null;
  /** Mean of the month, rain that counts taken off; 0 to 2 in/day. */
  dailyNeedInches: number;
  /** Above 0. */
  prInchesPerHour: number;
  /** Where the rate comes from. */
  prHow: Fact;
  /** Low-quarter distribution uniformity, share. */
  distributionUniformity: number;
  allowedDepletionInches: number;
  /** Longest cycle before water runs off; null = the soil takes it as fast as it comes. */
  longestCycleMinutes: number | null;
  /** Minutes of soak for each minute of a cycle, so that what stands has soaked in. */
  soakPerCycleMinute: number;
}

/** The water side of a month at a property. */
export interface MonthWater {
  etoInches: number;
  /** Rain that reaches the roots in the month. */
  effectiveRainInches: number;
  daysInMonth: number;
  /** A wet climate takes the humid plant factors of woody plants. */
  climate?: 'dry' | 'wet';
}

/** How far a planting's sun changes what it needs; common practice, no source. A factor set by hand already holds it. */
const SUN_SHARE = { 'full-sun': 1, 'part-shade': 0.85, shade: 0.7 } as const;

/**
 * A zone's need and intake from the book's zone, for one month. Measured or entered figures go before computed ones, and these
 * before the tables; agronomy's bad-input errors (zero area, negative flow) pass through, naming the field.
 */
export function zoneNeed(zone: Zone, month: MonthWater): ZoneNeed {
  const plant = plantKindRow(zone.plantKind);
  const soil = soilRow(zone.soil);
  const factor =
    plantFactor(zone.plantKind, zone.plantFactor, month.climate) *
    (zone.plantFactor === null ? SUN_SHARE[zone.sunExposure] : 1);
  const dailyNeedInches = Math.max(0, month.etoInches * factor - month.effectiveRainInches) / month.daysInMonth;
  const rate = precipitationRate(zone);
  const { allowedDepletionInches } = wateringInterval({
    availableWaterInPerIn: soil.availableWaterInPerIn,
    rootDepthInches: zone.rootDepthInches ?? plant.rootDepthInches,
    allowedDepletion: plant.allowedDepletion,
    dailyNeedInches,
  });
  const longest = longestCycleMinutes({
    prInchesPerHour: rate.inchesPerHour,
    intakeInchesPerHour: soil.intakeInchesPerHour,
    accumulationInches: allowableAccumulationInches(zone.soil, zone.slopePercent),
  });
  return {
    zoneId: zone.id,
    controllerId: zone.controllerId,
    station: zone.station,
    zoneName: zone.name,
    emissionDevice: zone.emissionDevice,
    flowGpm: zone.flowGpm,
    dailyNeedInches,
    prInchesPerHour: rate.inchesPerHour,
    prHow: rate.how,
    distributionUniformity: zone.distributionUniformity ?? emissionDeviceRow(zone.emissionDevice).du,
    allowedDepletionInches,
    longestCycleMinutes: longest === Infinity ? null : longest,
    soakPerCycleMinute: Math.max(0, rate.inchesPerHour - soil.intakeInchesPerHour) / soil.intakeInchesPerHour,
  };
}

/** Which of a zone's figures its precipitation rate rests on. */
export type RateBasis = 'measured' | 'flow-area' | 'spacing' | 'drip' | 'table';

/**
 * A zone's precipitation rate: the one entered or measured, else by its method, else (where the method's inputs are missing) the
 * device's usual rate. Throws bad-input where the inputs make no rate.
 */
export function precipitationRate(
  zone: Pick<Zone, 'precipitationRateInPerHour' | 'prMethod' | 'prInputs' | 'flowGpm' | 'areaFt2' | 'emissionDevice'>,
): { inchesPerHour: number; how: Fact; basis: RateBasis } {
  if (zone.precipitationRateInPerHour !== null) {
    return {
      inchesPerHour: zone.precipitationRateInPerHour,
      how: fact(zone.prMethod === 'catch-can' ? 'rate.catchCans' : 'rate.entered'),
      basis: 'measured',
    };
  }
  const { headGpm, headSpacingFt, rowSpacingFt, emitterGph, emitterSpacingFt } = zone.prInputs;
  if (zone.prMethod === 'flow-area' && zone.flowGpm !== null && zone.areaFt2 !== null) {
    return {
      inchesPerHour: checkRate(prFromFlowAndArea(zone.flowGpm, zone.areaFt2), 'areaFt2'),
      how: fact('rate.flowAndArea'),
      basis: 'flow-area',
    };
  }
  if (
    zone.prMethod === 'spacing' &&
    headGpm !== undefined &&
    headSpacingFt !== undefined &&
    rowSpacingFt !== undefined
  ) {
    return {
      inchesPerHour: checkRate(prFromSpacing(headGpm, headSpacingFt, rowSpacingFt), 'prInputs'),
      how: fact('rate.spacing'),
      basis: 'spacing',
    };
  }
  if (
    zone.prMethod === 'drip' &&
    emitterGph !== undefined &&
    emitterSpacingFt !== undefined &&
    rowSpacingFt !== undefined
  ) {
    return {
      inchesPerHour: checkRate(prFromEmitters(emitterGph, emitterSpacingFt, rowSpacingFt), 'prInputs'),
      how: fact('rate.emitters'),
      basis: 'drip',
    };
  }
  return {
    inchesPerHour: emissionDeviceRow(zone.emissionDevice).prInchesPerHour,
    how: fact('rate.usual'),
    basis: 'table',
  };
}

/** Beyond this no sprinkler zone applies water; a figure in the sum is wrong, and advice built on it would be too. */
const MAX_RATE = 20;

function checkRate(inchesPerHour: number, field: string): number {
  if (inchesPerHour <= MAX_RATE) return inchesPerHour;
  throw new BookError(
    'bad-input',
    fact('agronomy.rateTooHigh', {
      rate: { quantity: 'rate', value: inchesPerHour },
      most: { quantity: 'rate', value: MAX_RATE },
    }),
    field,
  );
}
