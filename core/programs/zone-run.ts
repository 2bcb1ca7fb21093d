import { runBounds } from '../agronomy/index.ts';
import type { ProgramRun } from './contract.ts';
import { roundMinutes, roundMinutesDown, roundMinutesUp } from './seasonal.ts';
import type { ZoneNeed } from './zone-need.ts';

/** A controller takes no run above this (contract: runMinutes 0 to 720). */
export const MAX_RUN_MINUTES = 720;
/** A controller takes no cycle below this (contract: cycleMinutes 1 to 720). */
const MIN_CYCLE_MINUTES = 1;

/** How one zone is to run at each watering. */
export interface ZoneRun {
  run: ProgramRun;
  /** 60 × depth / rate: would do if water fell evenly. */
  lowerMinutes: number;
  /** × scheduling multiplier: what the advice rounds. */
  upperMinutes: number;
  cycles: number;
  /** Even its shortest cycle lets water run off. */
  runsOffAnyway: boolean;
  /** The need asks for more than a controller can be told. */
  isCapped: boolean;
}

/**
 * How a zone runs when a week's need is brought in `wateringsPerWeek` equal waterings (above 0): the upper bound (need over
 * rate × scheduling multiplier), rounded half up to the controller's step and never 0, and times `share` (0 to 1) where a night is too short
 * for all of it. Split into the fewest cycles that never run off, made as equal as the step allows: equal cycles end soonest.
 */
export function zoneRun(need: ZoneNeed, wateringsPerWeek: number, stepMinutes: number, share = 1): ZoneRun {
  const depthInches = (need.dailyNeedInches * 7) / wateringsPerWeek;
  const { lowerMinutes, upperMinutes } = runBounds(depthInches, need.prInchesPerHour, need.distributionUniformity);
  const isCapped = upperMinutes > MAX_RUN_MINUTES;
  const wanted = Math.min(MAX_RUN_MINUTES, upperMinutes) * share;
  // Cut shares round down: a cut run must fit the room there is.
  const rounded =
    share < 1
      ? roundMinutesDown(wanted, stepMinutes)
      : Math.min(roundMinutes(wanted, stepMinutes), roundMinutesDown(MAX_RUN_MINUTES, stepMinutes));
  const runMinutes = need.dailyNeedInches > 0 ? Math.max(stepMinutes, rounded) : 0;
  const longest = need.longestCycleMinutes;
  if (longest === null || runMinutes <= longest) {
    return {
      run: { zoneId: need.zoneId, runMinutes, cycleMinutes: null, soakMinutes: null },
      lowerMinutes,
      upperMinutes,
      cycles: runMinutes > 0 ? 1 : 0,
      runsOffAnyway: false,
      isCapped,
    };
  }
  const shortest = roundMinutesUp(Math.max(MIN_CYCLE_MINUTES, stepMinutes), stepMinutes);
  const longestSet = Math.max(shortest, roundMinutesDown(longest, stepMinutes));
  const wantedCycles = Math.ceil(runMinutes / longestSet - 1e-9);
  const cycleMinutes = Math.max(shortest, roundMinutesUp(runMinutes / wantedCycles, stepMinutes));
  const cycles = Math.ceil(runMinutes / cycleMinutes - 1e-9);
  const runsOffAnyway = Math.min(runMinutes, cycleMinutes) > longest + 1e-9;
  if (cycles === 1)
    return {
      run: { zoneId: need.zoneId, runMinutes, cycleMinutes: null, soakMinutes: null },
      lowerMinutes,
      upperMinutes,
      cycles,
      runsOffAnyway,
      isCapped,
    };
  const soakMinutes = Math.min(MAX_RUN_MINUTES, Math.ceil(cycleMinutes * need.soakPerCycleMinute - 1e-9));
  return {
    run: { zoneId: need.zoneId, runMinutes, cycleMinutes, soakMinutes },
    lowerMinutes,
    upperMinutes,
    cycles,
    runsOffAnyway,
    isCapped,
  };
}
