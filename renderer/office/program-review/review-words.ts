import { fromStored, unitLabel } from '../../../core/units.ts';
import type { Quantity, UnitSystem } from '../../../core/units.ts';
import { formatNumber } from '../../parts/format.ts';

const QUANTITY_OF: Record<string, Quantity> = {
  'in/h': 'rate',
  gpm: 'flow',
  'ft²': 'area',
  gal: 'volume',
  in: 'depth',
};
const FIGURES = /(\d[\d,]*(?:\.\d+)?)( to | and )?(\d[\d,]*(?:\.\d+)?)? (in\/h|gpm|ft²|gal|in)(?=$|[ ,.;:)])/g;

/** A sentence of the book with its figures in the reader's units. Figures in plain "in" are depths only when nothing follows, since "in" is a word. */
export function inReadersUnits(sentence: string, units: UnitSystem): string {
  if (units === 'us') return sentence;
  return sentence.replace(
    FIGURES,
    (whole, first: string, joint: string | undefined, second: string | undefined, unit: string, offset: number) => {
      const quantity = QUANTITY_OF[unit];
      if (quantity === undefined || (joint === undefined) !== (second === undefined)) return whole;
      if (unit === 'in' && offset + whole.length < sentence.length) return whole;
      const say = (figure: string) =>
        formatNumber(
          fromStored(quantity, Number(figure.replaceAll(',', '')), units),
          quantity === 'rate' || quantity === 'flow' ? 1 : 0,
        );
      return `${say(first)}${joint === undefined ? '' : `${joint}${say(second ?? '')}`} ${unitLabel(quantity, units)}`;
    },
  );
}

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
  if (advice.cycles <= 1 || advice.cycleMinutes === null) return advice.runMinutes > 0 ? 'one go' : '–';
  return `${advice.cycles} × ${formatNumber(advice.cycleMinutes, 1)}${advice.soakMinutes === null ? '' : `, soak ${formatNumber(advice.soakMinutes, 0)}`}`;
}

/** "22 %" of 0.224 */
export const sayShare = (share: number) => `${formatNumber(share * 100, 0)} %`;

/** Findings that ask for a decision, as against those that only tell. */
const TELLING = new Set(['no-need', 'alternate-dates', 'more-days-for-night']);
export const isGrave = (code: string) => !TELLING.has(code);
