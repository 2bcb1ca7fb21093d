import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { requireAbove, requireRange } from './check.ts';

/** in/h that 1 gpm makes on 1 ft²: 60 min × 231 in³ / 144 in², exact. The trade rounds it to 96.3. */
export const INCHES_PER_HOUR_PER_GPM_FT2 = 96.25;
/** in/h that 1 gph makes on 1 ft²: 231 / 144, rounded as the trade does. */
export const INCHES_PER_HOUR_PER_GPH_FT2 = 1.604;
/** in/h that 1 mL/min makes on 1 in²: 60 / 16.387, rounded as the Irrigation Association's audit worksheet does. */
const INCHES_PER_HOUR_PER_ML_MIN_IN2 = 3.66;
/** Below this many cans an audit is thin (Irrigation Association, Recommended Audit Guidelines, 2009: at least 24 (from memory)). */
const ENOUGH_CANS = 24;

/**
 * Precipitation rate, in/h, from a zone's flow and area.
 * @param flowGpm above 0, up to 2,000 gpm. @param areaFt2 above 0, up to 10,000,000 ft².
 * @throws BookError bad-input for a flow or area that is not above zero.
 */
export function prFromFlowAndArea(flowGpm: number, areaFt2: number): number {
  requireAbove(flowGpm, 'flowGpm', 0, 2000, 'gpm');
  requireAbove(areaFt2, 'areaFt2', 0, 1e7, 'ft²');
  return (INCHES_PER_HOUR_PER_GPM_FT2 * flowGpm) / areaFt2;
}

/**
 * Precipitation rate, in/h, from the spacing of heads. Triangular layouts give the row spacing (0.866 × head spacing) as `rowSpacingFt`.
 * @param fullCircleGpm flow of a full-circle head, above 0; double a half head's, four times a quarter head's.
 * @throws BookError bad-input for a flow or spacing that is not above zero.
 */
export function prFromSpacing(fullCircleGpm: number, headSpacingFt: number, rowSpacingFt: number): number {
  requireAbove(fullCircleGpm, 'fullCircleGpm', 0, 200, 'gpm');
  requireAbove(headSpacingFt, 'headSpacingFt', 0, 300, 'ft');
  requireAbove(rowSpacingFt, 'rowSpacingFt', 0, 300, 'ft');
  return (INCHES_PER_HOUR_PER_GPM_FT2 * fullCircleGpm) / (headSpacingFt * rowSpacingFt);
}

/**
 * Precipitation rate, in/h, of drip from its emitters.
 * @param emitterGph above 0, up to 60 gph. Spacings in feet, above 0.
 * @throws BookError bad-input for a flow or spacing that is not above zero.
 */
export function prFromEmitters(emitterGph: number, emitterSpacingFt: number, rowSpacingFt: number): number {
  requireAbove(emitterGph, 'emitterGph', 0, 60, 'gph');
  requireAbove(emitterSpacingFt, 'emitterSpacingFt', 0, 100, 'ft');
  requireAbove(rowSpacingFt, 'rowSpacingFt', 0, 100, 'ft');
  return (INCHES_PER_HOUR_PER_GPH_FT2 * emitterGph) / (emitterSpacingFt * rowSpacingFt);
}

/**
 * Precipitation rate, in/h, of drip tape or soaker hose from its label.
 * @param gpmPer100Ft above 0, up to 20 gpm per 100 ft. @param rowSpacingFt feet between lines, above 0.
 * @throws BookError bad-input for a flow or spacing that is not above zero.
 */
export function prFromHose(gpmPer100Ft: number, rowSpacingFt: number): number {
  requireAbove(gpmPer100Ft, 'gpmPer100Ft', 0, 20, 'gpm-per-100-ft');
  requireAbove(rowSpacingFt, 'rowSpacingFt', 0, 100, 'ft');
  return (INCHES_PER_HOUR_PER_GPM_FT2 * gpmPer100Ft) / (100 * rowSpacingFt);
}

/**
 * Precipitation rate, in/h, from what catch cans held: 3.66 × mean mL / (throat in² × min).
 * Source: Irrigation Association, Landscape Irrigation Auditor worksheets ("catch device test").
 * @throws BookError bad-input for a throat or time that is not above zero.
 */
export function prFromCatch(meanMl: number, throatAreaIn2: number, minutes: number): number {
  requireRange(meanMl, 'meanMl', 0, 1e5, 'mL');
  requireAbove(throatAreaIn2, 'throatAreaIn2', 0, 1000, 'in²');
  requireAbove(minutes, 'minutes', 0, 1440, 'minutes');
  return (INCHES_PER_HOUR_PER_ML_MIN_IN2 * meanMl) / (throatAreaIn2 * minutes);
}

/**
 * Scheduling multiplier: how much longer than the lower bound a zone may run so that its drier parts get enough.
 * Source: Irrigation Association, Landscape Irrigation Scheduling and Water Management: 1 / (0.4 + 0.6 DU).
 * @param du low-quarter distribution uniformity, above 0, up to 1. @returns 1…2.5.
 * @throws BookError bad-input outside that range.
 */
export function schedulingMultiplier(du: number): number {
  requireAbove(du, 'du', 0, 1, 'share-not-percent');
  return 1 / (0.4 + 0.6 * du);
}

/** What a catch-can test says about a zone. */
export interface CatchCanAudit {
  prInchesPerHour: number;
  /** Low-quarter distribution uniformity, share. */
  du: number;
  meanMl: number;
  lowQuarterMeanMl: number;
  /** How many cans make the lowest quarter. */
  lowQuarterCount: number;
  multiplier: number;
  canCount: number;
  /** Fewer cans than the audit guidelines ask for: the result is a hint rather than a measurement. */
  thin: boolean;
}

/** The places of the cans that make the lowest quarter (the nearest whole number of cans to a quarter), driest first. */
export function lowQuarter(volumesMl: readonly number[]): number[] {
  return driestFirst(volumesMl).slice(0, quarterOf(volumesMl.length));
}

const quarterOf = (cans: number): number => Math.max(1, Math.round(cans / 4));

function driestFirst(volumesMl: readonly number[]): number[] {
  return volumesMl
    .map((volume, index) => ({ volume, index }))
    .sort((a, b) => a.volume - b.volume || a.index - b.index)
    .map((can) => can.index);
}

/**
 * Evaluates a catch-can test.
 * @param audit volumes in mL (4 to 1,000 cans, each 0…10,000, not all empty), throat area in in², minutes run.
 *   The lowest quarter is the nearest whole number of cans to a quarter of them.
 * @throws BookError bad-input naming the can or field; a zone whose lowest quarter stayed dry is refused, because no
 *   run time would water it: the heads have to be mended first.
 */
export function auditCatchCans(audit: {
  volumesMl: readonly number[];
  throatAreaIn2: number;
  minutes: number;
}): CatchCanAudit {
  const { volumesMl } = audit;
  if (!Array.isArray(volumesMl) || volumesMl.length < 4 || volumesMl.length > 1000) {
    throw new BookError(
      'bad-input',
      fact('agronomy.cans', { min: 4, max: 1000, cans: Array.isArray(volumesMl) ? volumesMl.length : 0 }),
      'volumesMl',
    );
  }
  volumesMl.forEach((volume, index) => requireRange(volume, `volumesMl.${index}`, 0, 10000, 'mL'));
  // Summed in one order, whatever order the cans were typed in: the figures are the same to the last digit.
  const sorted = driestFirst(volumesMl).map((at) => volumesMl[at]!);
  const lowQuarterCount = quarterOf(sorted.length);
  const meanMl = sum(sorted) / sorted.length;
  const lowQuarterMeanMl = sum(sorted.slice(0, lowQuarterCount)) / lowQuarterCount;
  const prInchesPerHour = prFromCatch(meanMl, audit.throatAreaIn2, audit.minutes);
  if (!(lowQuarterMeanMl > 0)) {
    throw new BookError('bad-input', fact('agronomy.dryCans', { cans: lowQuarterCount }), 'volumesMl');
  }
  const du = Math.min(1, lowQuarterMeanMl / meanMl);
  return {
    prInchesPerHour,
    du,
    meanMl,
    lowQuarterMeanMl,
    lowQuarterCount,
    multiplier: schedulingMultiplier(du),
    canCount: volumesMl.length,
    thin: volumesMl.length < ENOUGH_CANS,
  };
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
