import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { scaledMinutes, SEASONAL_PERCENT_MAX, SEASONAL_PERCENT_MIN } from './seasonal.ts';

/** One month of the yearly table. */
export interface SeasonalRow {
  /** 1 January … 12 December. */
  month: number;
  /** Whole percent to set, clamped to 10–200 %. */
  percent: number;
  /** Need of the month over need of the basis month, unrounded and unclamped: 0 says the system can stay off. */
  unclampedPercent: number;
  /** What each zone then runs, rounded as its controller rounds. */
  zoneMinutes: { zoneId: string; runMinutes: number }[];
}

/**
 * Seasonal percentage by month, with what each zone then runs. `monthlyNeed` holds twelve needs (any one unit, 0 or more), January
 * first; `basisMonth` 1 to 12 is the month for which the programs' 100 % are made, so that it shows 100 %. `zones` are their minutes at 100 %.
 * A basis month that needs no water has no percentages: the table is then empty, and the recommender's finding says why.
 * Throws bad-input for anything but twelve needs of 0 or more, or a month outside 1 to 12.
 */
export function seasonalTable(
  monthlyNeed: readonly number[],
  basisMonth: number,
  zones: readonly { zoneId: string; runMinutes: number }[],
  stepMinutes: number,
): SeasonalRow[] {
  if (monthlyNeed.length !== 12 || monthlyNeed.some((need) => !(need >= 0 && Number.isFinite(need)))) {
    throw new BookError('bad-input', fact('agronomy.twelveNeeds'), 'monthlyNeed');
  }
  const basis = monthlyNeed[basisMonth - 1];
  if (basis === undefined) throw new BookError('bad-input', fact('agronomy.month', { month: basisMonth }), 'month');
  if (basis === 0) return [];
  return monthlyNeed.map((need, index) => {
    const unclampedPercent = (100 * need) / basis;
    const percent = Math.min(SEASONAL_PERCENT_MAX, Math.max(SEASONAL_PERCENT_MIN, Math.round(unclampedPercent)));
    return {
      month: index + 1,
      percent,
      unclampedPercent,
      zoneMinutes: zones.map((zone) => ({
        zoneId: zone.zoneId,
        runMinutes: scaledMinutes(zone.runMinutes, percent, stepMinutes),
      })),
    };
  });
}
