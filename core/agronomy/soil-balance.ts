import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { requireAbove, requireRange } from './check.ts';

/**
 * Stress coefficient Ks, 0…1 (FAO-56 eq. 84): 1 while depletion is within what is readily available, then falling
 * straight to 0 at the wilting point. All three depths in one unit; `readily` = allowed share × total.
 */
export function stressFactor(depletion: number, total: number, readily: number): number {
  if (depletion <= readily) return 1;
  return depletion >= total ? 0 : (total - depletion) / (total - readily);
}

/** A root zone and its weather and water, day by day. Depths in inches. */
export interface SoilBalanceInput {
  /** Total available water of the root zone, above 0, up to 60. */
  totalAvailableInches: number;
  /** Allowed depletion, share above 0 and below 1: readily available water = share × total. */
  allowedDepletion: number;
  /** Depletion before the first day, 0…total. */
  startDepletionInches: number;
  /** Water the planting would use if it had enough: ETo × factor. */
  needInches: ArrayLike<number>;
  rainInches: ArrayLike<number>;
  irrigationInches: ArrayLike<number>;
  /** Most rain of one day the ground takes; the rest runs off. Unlimited where not given. */
  rainIntakeInches?: number;
  /** Whether dry plants use less (eq. 84); true where not given. */
  stress?: boolean;
}

export interface SoilBalanceTotals {
  rainInches: number;
  irrigationInches: number;
  actualEtInches: number;
  drainageInches: number;
  runoffInches: number;
  effectiveRainInches: number;
  /** Water gained by the root zone: depletion before − depletion after. */
  storeChangeInches: number;
  /** In − out − change in store; 0 but for rounding. */
  residualInches: number;
}

/** Day by day and in all; `depletionInches` is at the end of each day. */
export interface SoilBalanceResult {
  depletionInches: Float64Array;
  actualEtInches: Float64Array;
  drainageInches: Float64Array;
  runoffInches: Float64Array;
  /** Rain that stayed in the root zone: not run off, not drained. */
  effectiveRainInches: Float64Array;
  stress: Float64Array;
  readilyAvailableInches: number;
  totals: SoilBalanceTotals;
}

/**
 * Daily soil-water balance, FAO-56 chapter 8: depletion = depletion before − (rain − runoff) − irrigation + ET + drainage
 * (eq. 85), drainage the surplus over field capacity after that day's ET (eq. 88), ET reduced by Ks (eq. 84).
 * Rain and irrigation come early in the day, before the plants draw; so Ks sees the depletion they leave.
 * What drains is counted as rain first, because irrigation is timed to the store and rain is not.
 * @throws BookError bad-input naming the field, or the day, that is impossible.
 */
export function soilBalance(input: SoilBalanceInput): SoilBalanceResult {
  const { totalAvailableInches: total, needInches, rainInches, irrigationInches } = input;
  requireAbove(total, 'totalAvailableInches', 0, 60, 'inches');
  requireAbove(input.allowedDepletion, 'allowedDepletion', 0, 0.99, 'share');
  requireRange(input.startDepletionInches, 'startDepletionInches', 0, total, 'inches');
  const rainIntake = input.rainIntakeInches ?? Infinity;
  if (rainIntake !== Infinity) requireRange(rainIntake, 'rainIntakeInches', 0, 100, 'inches');
  const days = needInches.length;
  checkDays(needInches, 'needInches', days);
  checkDays(rainInches, 'rainInches', days);
  checkDays(irrigationInches, 'irrigationInches', days);

  const readily = input.allowedDepletion * total;
  const stressed = input.stress !== false;
  const result: SoilBalanceResult = {
    depletionInches: new Float64Array(days),
    actualEtInches: new Float64Array(days),
    drainageInches: new Float64Array(days),
    runoffInches: new Float64Array(days),
    effectiveRainInches: new Float64Array(days),
    stress: new Float64Array(days),
    readilyAvailableInches: readily,
    totals: {
      rainInches: 0,
      irrigationInches: 0,
      actualEtInches: 0,
      drainageInches: 0,
      runoffInches: 0,
      effectiveRainInches: 0,
      storeChangeInches: 0,
      residualInches: 0,
    },
  };
  const { totals } = result;
  let depletion = input.startDepletionInches;
  for (let day = 0; day < days; day++) {
    const rain = rainInches[day]!;
    const irrigation = irrigationInches[day]!;
    const taken = Math.min(rain, rainIntake);
    const wetted = depletion - taken - irrigation;
    const ks = stressed ? stressFactor(wetted, total, readily) : 1;
    const actual = Math.min(ks * needInches[day]!, total - wetted);
    const after = wetted + actual;
    const drained = after < 0 ? -after : 0;
    depletion = after < 0 ? 0 : after;
    result.stress[day] = ks;
    result.actualEtInches[day] = actual;
    result.drainageInches[day] = drained;
    result.runoffInches[day] = rain - taken;
    result.effectiveRainInches[day] = Math.max(0, taken - drained);
    result.depletionInches[day] = depletion;
    totals.rainInches += rain;
    totals.irrigationInches += irrigation;
    totals.actualEtInches += actual;
    totals.drainageInches += drained;
    totals.runoffInches += rain - taken;
    totals.effectiveRainInches += result.effectiveRainInches[day]!;
  }
  totals.storeChangeInches = input.startDepletionInches - depletion;
  totals.residualInches =
    totals.rainInches +
    totals.irrigationInches -
    totals.actualEtInches -
    totals.drainageInches -
    totals.runoffInches -
    totals.storeChangeInches;
  return result;
}

function checkDays(values: ArrayLike<number>, field: string, days: number): void {
  if (values.length !== days) {
    throw new BookError(
      'bad-input',
      fact('agronomy.unequalDays', { field, days: values.length, other: 'needInches', needed: days }),
      field,
    );
  }
  for (let day = 0; day < days; day++) {
    const value = values[day]!;
    // One comparison that NaN, Infinity and negatives all fail; the sentence is made only then.
    if (!(value >= 0 && value <= 1000)) requireRange(value, `${field}.${day}`, 0, 1000, 'inches');
  }
}
