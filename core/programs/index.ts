/** Public surface of the programs area: pure functions, no I/O. Other areas import from here. */
export { MINUTES_PER_DAY, civilOf, dayNumberOf, isoDateOf, mondayOf, weekdayOfDay } from './day-number.ts';
export { dayTest, meanDaysPerWeek, wateringDates, watersOn } from './watering-days.ts';
export {
  SEASONAL_PERCENT_MAX,
  SEASONAL_PERCENT_MIN,
  roundMinutes,
  roundMinutesDown,
  roundMinutesUp,
  scaledMinutes,
} from './seasonal.ts';
export { cycleLengths, startPattern } from './start-pattern.ts';
export type { PatternRun, StartPattern } from './start-pattern.ts';
export { expandPrograms, stationsOf, strayRuns } from './expand.ts';
export type { ProgramOnController, RunBlock, ZoneOnController } from './expand.ts';
export { meanWeeks, weeklyMinutes, yearlyRuns, zoneTotals } from './totals.ts';
export type { MeanWeek, ZoneTotal } from './totals.ts';
export { addressParity, propertyParity } from './address-parity.ts';
export type { Parity } from './address-parity.ts';
export {
  allowedDatesInWeek,
  forbiddenSpells,
  isDayAllowed,
  isDayForbidden,
  isDrip,
  isExempt,
  ruleInForce,
  stageInForce,
} from './restrictions.ts';
export type { RuleInForce, Spell } from './restrictions.ts';
export { checkProgram } from './check-program.ts';
export type { Breach, CheckedZone } from './check-program.ts';
export { chooseDays, spreadOf } from './day-choice.ts';
export type { DaySpread } from './day-choice.ts';
export { adviceDays, ALL_DAYS } from './advice-days.ts';
export type { AdviceDays } from './advice-days.ts';
export { precipitationRate, zoneNeed } from './zone-need.ts';
export type { MonthWater, RateBasis, ZoneNeed } from './zone-need.ts';
export { MAX_RUN_MINUTES, zoneRun } from './zone-run.ts';
export type { ZoneRun } from './zone-run.ts';
export { recommend } from './recommend.ts';
export type { Reason, RecommendInput, Recommendation, ZoneAdvice } from './recommend.ts';
export type { ProposedProgram } from './proposals.ts';
export { seasonalTable } from './seasonal-table.ts';
export type { SeasonalRow } from './seasonal-table.ts';
export { DEFAULT_THUMB_RULES, matchThumb, thumbDistance } from './thumb-rules.ts';
export type { ThumbRuleDraft } from './thumb-rules.ts';
export { bestMeasurement, guessesOf, soloSchedules } from './guesses.ts';
export type { Guess } from './guesses.ts';
export { thumbDiffers } from './reasons.ts';
export { compareZones, distanceFromNeed, gallonsOf } from './compare.ts';
export type { CompareInput } from './compare.ts';
export { buildWaterWeek, holdBands } from './water-week.ts';
export type { HoldSpell, WaterWeek, WaterWeekInput } from './water-week.ts';
