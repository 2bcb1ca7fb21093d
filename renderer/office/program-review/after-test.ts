import type { ReviewRow } from '../../../core/programs/contract.ts';

/** The multiplier behind the zone's present advice: upper limit over lower, or 1 where there is none. */
export const multiplierNow = (row: Pick<ReviewRow, 'advice' | 'precipitationRateInPerHour'>) =>
  row.advice.lowerMinutes > 0 ? row.advice.upperMinutes / row.advice.lowerMinutes : 1;

/** Minutes a run the same need would ask for at a tested rate and unevenness. */
export function minutesAfterTest(
  row: Pick<ReviewRow, 'advice' | 'precipitationRateInPerHour'>,
  test: { precipitationRateInPerHour: number; schedulingMultiplier: number },
): { lower: number; upper: number } {
  const lower = (row.advice.lowerMinutes * row.precipitationRateInPerHour) / test.precipitationRateInPerHour;
  return { lower, upper: lower * test.schedulingMultiplier };
}
