import type { BACKFLOW_KINDS } from '../../core/properties/contract.ts';
import { daysBetween } from '../../core/dates.ts';
import { formatLongDay } from '../parts/format.ts';
import { say, texts, words } from '../state/say.ts';

/** The day as people say it, with today, tomorrow and yesterday by name. */
export function dayName(date: string, today: string): string {
  const days = daysBetween(today, date);
  if (days === 0) return say('field.todayIs', { date });
  if (days === 1) return say('field.tomorrowIs', { date });
  if (days === -1) return say('field.yesterdayWas', { date });
  return date.slice(0, 4) === today.slice(0, 4) ? formatLongDay(date) : words().fullDay(date);
}

export const BACKFLOW_WORDS: Record<(typeof BACKFLOW_KINDS)[number], string> = texts({
  none: 'field.backflow.none',
  'pressure-vacuum-breaker': 'field.backflow.pressure-vacuum-breaker',
  'reduced-pressure': 'field.backflow.reduced-pressure',
  'double-check': 'field.backflow.double-check',
  'atmospheric-vacuum-breaker': 'field.backflow.atmospheric-vacuum-breaker',
  unknown: 'field.backflow.unknown',
});
