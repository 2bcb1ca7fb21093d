import { formatNumber } from '../../parts/format.ts';
import { say } from '../../state/say.ts';

/** "3", "3.5" days a week. */
export const sayDaysPerWeek = (days: number) => formatNumber(days, 1);

/** Minutes a zone gets on a watering day: what is set, percentage and several starts in. */
export function minutesADay(week: { minutesPerWeek: number; daysPerWeek: number }): number {
  return week.daysPerWeek > 0 ? week.minutesPerWeek / week.daysPerWeek : 0;
}

/** "2 × 6 min, soak 30" */
export function sayCycles(advice: {
  cycles: number;
  cycleMinutes: number | null;
  soakMinutes: number | null;
  runMinutes: number;
}): string {
  if (advice.cycles <= 1 || advice.cycleMinutes === null) return advice.runMinutes > 0 ? say('pr.oneGo') : '–';
  return say('pr.cycles', {
    cycles: advice.cycles,
    cycleMinutes: advice.cycleMinutes,
    soakMinutes: advice.soakMinutes,
  });
}

/** "22 %" of 0.224 */
export const sayShare = (share: number) => `${formatNumber(share * 100, 0)} %`;

/** Findings that ask for a decision, as against those that only tell. */
const TELLING = new Set(['no-need', 'alternate-dates', 'more-days-for-night']);
export const isGrave = (code: string) => !TELLING.has(code);
