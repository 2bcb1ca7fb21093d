import { addDays } from '../../../core/dates.ts';
import type { OpenProperty } from './use-property-editor.ts';
import { say } from '../../state/say.ts';

/**
 * Why no water runs in the week from this Monday, whatever the controller is set to; null while it may run.
 * Only what is logged counts: a book begun in July knows nothing of a spring, so no start-up on record does not mean no water.
 */
export function whyWaterIsOff(
  { year, startedUpOn, winterizedOn }: OpenProperty['season'],
  monday: string,
): string | null {
  const sunday = addDays(monday, 6);
  if (winterizedOn !== null && winterizedOn <= sunday && (startedUpOn === null || startedUpOn <= winterizedOn)) {
    return winterizedOn > monday
      ? say('property.waterOffFrom', { date: winterizedOn })
      : say('property.waterOffUntil', { date: winterizedOn });
  }
  if (startedUpOn !== null && sunday < startedUpOn && sunday.slice(0, 4) === String(year))
    return say('property.waterOffBefore', { date: startedUpOn });
  return null;
}
