import type { RestrictionStage } from '../settings/contract.ts';
import { BookError } from '../errors.ts';
import type { Law } from '../text/advice-facts.ts';
import { fact } from '../text/say.ts';
import { forbiddenSpells, isDayAllowed, type RuleInForce, type Spell } from './restrictions.ts';
import { longestFreeMinutes } from './night-window.ts';

/** What a rule leaves for advice. */
export type AdviceDays =
  | { kind: 'weekdays'; weekdays: number[]; maxDays: number }
  /** Every other date: all such a controller can be told is "odd" or "even". */
  | { kind: 'dates'; parity: 'odd' | 'even' };

const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
/** A Monday: rules of weekdays are the same in every week. */
const SOME_MONDAY = 4;
/** The most odd (or even) dates that fall in one week from Monday to Sunday. */
const MOST_ALTERNATE_DATES_IN_WEEK = 4;

/** All days: no rule, or a zone outside it. */
export const ALL_DAYS: AdviceDays = { kind: 'weekdays', weekdays: EVERY_DAY, maxDays: 7 };

/**
 * Days that advice may use under a rule; a zone inside the rule never gets others. Throws conflict, naming restriction and stage
 * and what would help, where the rule forbids every day or hour, where it goes by house number and none is known, or where no
 * setting of a controller can keep it.
 */
export function adviceDays(rule: RuleInForce | null): AdviceDays {
  if (rule === null) return ALL_DAYS;
  const { stage, parity } = rule;
  const law: Law = { stage: stage.title, restriction: rule.restrictionName };
  if (stage.dayRule.kind === 'no-watering' || stage.maxDaysPerWeek === 0) {
    throw new BookError('conflict', fact('advice.noDayAtAll', law), 'restrictionId');
  }
  if (longestFreeMinutes(forbiddenSpells(stage)) < 1) {
    throw new BookError('conflict', fact('advice.noHour', law), 'restrictionId');
  }
  if (stage.dayRule.kind === 'date-parity') {
    if (parity === null) throw needsHouseNumber(law, stage.dayRule);
    if (stage.maxDaysPerWeek !== null && stage.maxDaysPerWeek < MOST_ALTERNATE_DATES_IN_WEEK) {
      throw new BookError(
        'conflict',
        fact('advice.datesAndCap', {
          ...law,
          dayRule: stage.dayRule,
          parity,
          maxDays: stage.maxDaysPerWeek,
          mostDates: MOST_ALTERNATE_DATES_IN_WEEK,
        }),
        'restrictionId',
      );
    }
    return { kind: 'dates', parity };
  }
  const weekdays = EVERY_DAY.filter((weekday) => isDayAllowed(stage, parity, SOME_MONDAY + weekday - 1));
  if (weekdays.length === 0) {
    const someParityMayWater =
      parity === null &&
      EVERY_DAY.some(
        (weekday) =>
          isDayAllowed(stage, 'odd', SOME_MONDAY + weekday - 1) ||
          isDayAllowed(stage, 'even', SOME_MONDAY + weekday - 1),
      );
    if (someParityMayWater) throw needsHouseNumber(law, stage.dayRule);
    throw new BookError('conflict', fact('advice.noWeekday', { ...law, parity }), 'restrictionId');
  }
  return { kind: 'weekdays', weekdays, maxDays: Math.min(weekdays.length, stage.maxDaysPerWeek ?? 7) };
}

/** Spells of the day that advice keeps out of. */
export function adviceSpells(rule: RuleInForce | null): Spell[] {
  return rule === null ? [] : forbiddenSpells(rule.stage);
}

function needsHouseNumber(law: Law, dayRule: RestrictionStage['dayRule']): BookError {
  return new BookError('conflict', fact('advice.noHouseNumber', { ...law, dayRule, parity: null }), 'addressParity');
}
