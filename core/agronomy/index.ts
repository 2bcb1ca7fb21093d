/** Public surface of the agronomy area: pure functions, no I/O. Import from here, not from the files beside it. */
export { computeEto } from './eto.ts';
export type { EtoDataUsed, EtoResult, EtoStep } from './eto.ts';
export type { EtoInput, EtoMethod, EtoMethodChoice } from './eto-input.ts';
export { etoSeries } from './eto-series.ts';
export type { EtoColumns, EtoSite } from './eto-series.ts';
export { PLANT_KINDS, landscapeCoefficient, plantFactor, plantKindRow, plantNeed } from './plant-need.ts';
export type { PlantKindRow } from './plant-need.ts';
export { EMISSION_DEVICES, emissionDeviceRow } from './emission-devices.ts';
export type { EmissionDeviceRow } from './emission-devices.ts';
export {
  INCHES_PER_HOUR_PER_GPH_FT2,
  INCHES_PER_HOUR_PER_GPM_FT2,
  auditCatchCans,
  prFromCatch,
  prFromEmitters,
  prFromFlowAndArea,
  prFromHose,
  prFromSpacing,
  schedulingMultiplier,
} from './precipitation-rate.ts';
export type { CatchCanAudit } from './precipitation-rate.ts';
export {
  SLOPE_CLASSES,
  SOILS,
  allowableAccumulationInches,
  slopeClass,
  soilRow,
  totalAvailableInches,
} from './soil.ts';
export type { SlopeClass, SoilRow } from './soil.ts';
export { longestCycleMinutes, runBounds, soakMinutes, splitCycles, wateringInterval } from './run-time.ts';
export type { CycleSplit, Intake, RunBounds, WateringInterval } from './run-time.ts';
export { soilBalance, stressFactor } from './soil-balance.ts';
export type { SoilBalanceInput, SoilBalanceResult, SoilBalanceTotals } from './soil-balance.ts';
export { advanceZones, checkZoneColumns, makeZoneColumns } from './zone-columns.ts';
export type { ZoneColumns, ZoneDay } from './zone-columns.ts';
export { daylight } from './daylight.ts';
export type { Daylight } from './daylight.ts';
export * from './effective-rain.ts';
