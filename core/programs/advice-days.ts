import { BookError } from '../errors.ts';
import { dayRuleInWords, forbiddenSpells, isDayAllowed, type RuleInForce, type Spell } from './restrictions.ts';
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
  const law = `${stage.title} of ${rule.restrictionName}`;
  if (stage.dayRule.kind === 'no-watering' || stage.maxDaysPerWeek === 0) {
    throw new BookError(
      'conflict',
      `${law} allows no watering on any day, so there is no program to advise. Choose another stage of the restriction when it is lifted.`,
      'restrictionId',
    );
  }
  if (longestFreeMinutes(forbiddenSpells(stage)) < 1) {
    throw new BookError(
      'conflict',
      `${law} forbids watering at every hour of the day, so there is no program to advise. Check its forbidden hours.`,
      'restrictionId',
    );
  }
  if (stage.dayRule.kind === 'date-parity') {
    if (parity === null) throw needsHouseNumber(law, dayRuleInWords(stage, null));
    if (stage.maxDaysPerWeek !== null && stage.maxDaysPerWeek < MOST_ALTERNATE_DATES_IN_WEEK) {
      throw new BookError(
        'conflict',
        `${law} allows ${dayRuleInWords(stage, parity)} and at most ${stage.maxDaysPerWeek} days a week. A controller set to ${parity} dates waters on up to ${MOST_ALTERNATE_DATES_IN_WEEK} days a week, so no program keeps both by itself.`,
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
    if (someParityMayWater) throw needsHouseNumber(law, dayRuleInWords(stage, null));
    throw new BookError(
      'conflict',
      `${law} allows no day of the week${parity === null ? '' : ` at ${parity} addresses`}, so there is no program to advise. Check the days of that stage.`,
      'restrictionId',
    );
  }
  return { kind: 'weekdays', weekdays, maxDays: Math.min(weekdays.length, stage.maxDaysPerWeek ?? 7) };
}

/** Spells of the day that advice keeps out of. */
export function adviceSpells(rule: RuleInForce | null): Spell[] {
  return rule === null ? [] : forbiddenSpells(rule.stage);
}

function needsHouseNumber(law: string, allows: string): BookError {
  return new BookError(
    'conflict',
    `${law} allows ${allows}, but the house number of this property is not known. Set odd or even by hand on the property.`,
    'addressParity',
  );
}
