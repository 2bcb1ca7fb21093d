import type { OutputOf } from '../contract/index.ts';
import { addDays } from '../dates.ts';
import { fact, type Fact } from '../text/say.ts';

/**
 * Why no water runs in the week from this Monday, whatever the controller is set to; null while it may run.
 * Only what is logged counts: a book begun in July knows nothing of a spring, so no start-up on record does not mean no water.
 */
export function whyWaterIsOff(
  { year, startedUpOn, winterizedOn }: OutputOf<'property.open'>['season'],
  monday: string,
): Fact | null {
  const sunday = addDays(monday, 6);
  if (winterizedOn !== null && winterizedOn <= sunday && (startedUpOn === null || startedUpOn <= winterizedOn))
    return fact(winterizedOn > monday ? 'property.waterOffFrom' : 'property.waterOffUntil', { date: winterizedOn });
  if (startedUpOn !== null && sunday < startedUpOn && sunday.slice(0, 4) === String(year))
    return fact('property.waterOffBefore', { date: startedUpOn });
  return null;
}
