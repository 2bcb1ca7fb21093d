import { requireAbove, requireRange } from './check.ts';
import { schedulingMultiplier } from './precipitation-rate.ts';

/** The run that would do if water fell evenly, and the longest that unevenness justifies. */
export interface RunBounds {
  lowerMinutes: number;
  upperMinutes: number;
  multiplier: number;
}

/**
 * Minutes to apply a depth: lower bound 60 D / PR, upper bound × the scheduling multiplier.
 * Source: Irrigation Association, Landscape Irrigation Scheduling and Water Management.
 * @param depthInches 0…20. @param prInchesPerHour above 0, up to 100. @param du above 0, up to 1.
 * @throws BookError bad-input naming the field.
 */
export function runBounds(depthInches: number, prInchesPerHour: number, du: number): RunBounds {
  requireRange(depthInches, 'depthInches', 0, 20, 'inches');
  requireAbove(prInchesPerHour, 'prInchesPerHour', 0, 100, 'in/h');
  const multiplier = schedulingMultiplier(du);
  const lowerMinutes = (60 * depthInches) / prInchesPerHour;
  return { lowerMinutes, upperMinutes: lowerMinutes * multiplier, multiplier };
}

/** How long a root zone lasts. */
export interface WateringInterval {
  totalAvailableInches: number;
  allowedDepletionInches: number;
  /** Allowed depletion over need; Infinity where nothing is needed. */
  exactDays: number;
  /** Whole days, rounded down so that depletion stays within what is allowed; at least 1, since runs are by the day. */
  wholeDays: number;
}

/**
 * Longest interval between waterings: available water × root depth × allowed share, over the daily need.
 * @param zone available water in/in above 0 up to 0.5, root depth inches, allowed share above 0 up to 1, need in/day 0…2.
 * @throws BookError bad-input naming the field.
 */
export function wateringInterval(zone: {
  availableWaterInPerIn: number;
  rootDepthInches: number;
  allowedDepletion: number;
  dailyNeedInches: number;
}): WateringInterval {
  requireAbove(zone.availableWaterInPerIn, 'availableWaterInPerIn', 0, 0.5, 'in/in');
  requireRange(zone.rootDepthInches, 'rootDepthInches', 0.5, 120, 'inches');
  requireAbove(zone.allowedDepletion, 'allowedDepletion', 0, 1, 'share');
  requireRange(zone.dailyNeedInches, 'dailyNeedInches', 0, 2, 'inches-a-day');
  const totalAvailableInches = zone.availableWaterInPerIn * zone.rootDepthInches;
  const allowedDepletionInches = totalAvailableInches * zone.allowedDepletion;
  const exactDays = zone.dailyNeedInches > 0 ? allowedDepletionInches / zone.dailyNeedInches : Infinity;
  // A shortfall of one part in 10⁹ is rounding, not a day less.
  const wholeDays = exactDays === Infinity ? Infinity : Math.max(1, Math.floor(exactDays * (1 + 1e-9)));
  return { totalAvailableInches, allowedDepletionInches, exactDays, wholeDays };
}

/** How a soil takes water at its place. */
export interface Intake {
  prInchesPerHour: number;
  intakeInchesPerHour: number;
  /** Depth that may stand before it runs off, inches. */
  accumulationInches: number;
}

function checkIntake(intake: Intake): void {
  requireAbove(intake.prInchesPerHour, 'prInchesPerHour', 0, 100, 'in/h');
  requireAbove(intake.intakeInchesPerHour, 'intakeInchesPerHour', 0, 50, 'in/h');
  requireAbove(intake.accumulationInches, 'accumulationInches', 0, 5, 'inches');
}

/**
 * Longest minutes a zone can run before water runs off: 60 × allowable accumulation / (PR − intake);
 * Infinity where the soil takes the water as fast as it comes.
 * @throws BookError bad-input for a rate or depth that is not above zero.
 */
export function longestCycleMinutes(intake: Intake): number {
  checkIntake(intake);
  const excess = intake.prInchesPerHour - intake.intakeInchesPerHour;
  return excess > 0 ? (60 * intake.accumulationInches) / excess : Infinity;
}

/**
 * Least pause after a cycle: until what stands, (PR − intake) × cycle, has soaked in at the intake rate; 0 where nothing stands.
 * @param cycleMinutes 0…1440. @throws BookError bad-input naming the field.
 */
export function soakMinutes(cycleMinutes: number, intake: Intake): number {
  checkIntake(intake);
  requireRange(cycleMinutes, 'cycleMinutes', 0, 1440, 'minutes');
  const excess = intake.prInchesPerHour - intake.intakeInchesPerHour;
  return excess > 0 ? (cycleMinutes * excess) / intake.intakeInchesPerHour : 0;
}

/** A run split so that nothing runs off. Minutes are exact; controllers round, and the program says how. */
export interface CycleSplit {
  cycles: number;
  cycleMinutes: number;
  /** Least pause between two cycles; 0 with a single one. */
  soakMinutes: number;
  /** From first water to last, pauses between included. */
  windowMinutes: number;
}

/**
 * Splits a run into the fewest equal cycles that never let more stand than the slope allows.
 * @param runMinutes 0…1440. @throws BookError bad-input naming the field.
 */
export function splitCycles(runMinutes: number, intake: Intake): CycleSplit {
  requireRange(runMinutes, 'runMinutes', 0, 1440, 'minutes');
  const longest = longestCycleMinutes(intake);
  if (runMinutes === 0) return { cycles: 0, cycleMinutes: 0, soakMinutes: 0, windowMinutes: 0 };
  // A run longer than the limit by rounding alone is not worth a second cycle.
  const cycles = longest === Infinity ? 1 : Math.max(1, Math.ceil((runMinutes / longest) * (1 - 1e-9)));
  const cycleMinutes = runMinutes / cycles;
  const pause = cycles > 1 ? soakMinutes(cycleMinutes, intake) : 0;
  return { cycles, cycleMinutes, soakMinutes: pause, windowMinutes: runMinutes + pause * (cycles - 1) };
}
