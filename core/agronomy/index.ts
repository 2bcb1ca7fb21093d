/** Public surface of the agronomy area: pure functions, no I/O. Import from here, not from the files beside it. */
export { computeEto } from './eto.ts';
export type { EtoResult } from './eto.ts';
export type { EtoInput } from './eto-input.ts';
export { etoSeries } from './eto-series.ts';
export type { EtoColumns } from './eto-series.ts';
export { PLANT_KINDS, landscapeCoefficient, plantFactor, plantKindRow, plantNeed } from './plant-need.ts';
export { EMISSION_DEVICES, emissionDeviceRow } from './emission-devices.ts';
export {
  auditCatchCans,
  prFromCatch,
  prFromEmitters,
  prFromFlowAndArea,
  prFromHose,
  prFromSpacing,
  schedulingMultiplier,
} from './precipitation-rate.ts';
export {
  SLOPE_CLASSES,
  SOILS,
  allowableAccumulationInches,
  slopeClass,
  soilRow,
  totalAvailableInches,
} from './soil.ts';
export { longestCycleMinutes, runBounds, soakMinutes, splitCycles, wateringInterval } from './run-time.ts';
export { soilBalance, stressFactor } from './soil-balance.ts';
export type { SoilBalanceInput } from './soil-balance.ts';
export { advanceZones, checkZoneColumns, makeZoneColumns } from './zone-columns.ts';
export { daylight } from './daylight.ts';
export * from './effective-rain.ts';
export { dayOfYear } from './day-of-year.ts';
