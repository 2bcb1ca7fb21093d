import type { BACKFLOW_KINDS } from '../../core/contract/entities.ts';
import { daysBetween } from '../../core/dates.ts';
import { formatLongDay } from '../parts/format.ts';

/** The day as people say it, with today, tomorrow and yesterday by name. */
export function dayName(date: string, today: string): string {
  const name = formatLongDay(date);
  const days = daysBetween(today, date);
  if (days === 0) return `Today, ${name}`;
  if (days === 1) return `Tomorrow, ${name}`;
  if (days === -1) return `Yesterday, ${name}`;
  return date.slice(0, 4) === today.slice(0, 4) ? name : `${name}, ${date.slice(0, 4)}`;
}

/** a, b and c. */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
}

export const BACKFLOW_WORDS: Record<(typeof BACKFLOW_KINDS)[number], string> = {
  none: 'None here',
  'pressure-vacuum-breaker': 'Pressure vacuum breaker',
  'reduced-pressure': 'Reduced pressure assembly',
  'double-check': 'Double check assembly',
  'atmospheric-vacuum-breaker': 'Atmospheric vacuum breaker',
  unknown: 'Not known',
};
