import { addDays } from '../../../core/dates.ts';
import { formatDate } from '../../parts/format.ts';
import type { OpenProperty } from './use-property-editor.ts';

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
      ? `Winterized ${formatDate(winterizedOn)}: the water is off from then on`
      : `Winterized ${formatDate(winterizedOn)}: the water is off until the next start-up`;
  }
  if (startedUpOn !== null && sunday < startedUpOn && sunday.slice(0, 4) === String(year))
    return `Started up only on ${formatDate(startedUpOn)}: the water was off before`;
  return null;
}
