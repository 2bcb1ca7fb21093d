import type { EmissionDevice } from '../agronomy/contract.ts';
import type { Restriction, RestrictionStage } from '../settings/contract.ts';
import { minutesOfClock } from '../dates.ts';
import type { Parity } from './address-parity.ts';
import { civilOf, dayNumberOf, isoDateOf, MINUTES_PER_DAY, mondayOf, weekdayOfDay } from './day-number.ts';
import { tidy } from './start-pattern.ts';

/** A spell of one day, minutes from local midnight; `toMinute` up to 1440. */
export interface Spell {
  fromMinute: number;
  toMinute: number;
}

/** The rule a property stands under now. */
export interface RuleInForce {
  restrictionName: string;
  stage: RestrictionStage;
  /** null = the house number is not known: a day then counts as allowed for watching, never for advice, unless both parities may water. */
  parity: Parity | null;
}

const DRIP: ReadonlySet<EmissionDevice> = new Set<EmissionDevice>(['drip-line', 'drip-emitter', 'soaker-hose']);

/** Drip line, drip emitters or soaker hose: what most rules leave alone. */
export function isDrip(device: EmissionDevice): boolean {
  return DRIP.has(device);
}

/** Is a zone outside the rule of this stage? */
export function isExempt(stage: RestrictionStage, device: EmissionDevice): boolean {
  return stage.dripExempt && isDrip(device);
}

/**
 * The stage that holds now. A stage number beyond the last one written down counts as the last: the provider has gone on to a
 * stricter stage that nobody has entered yet, and the strictest known rule is the nearest to it.
 */
export function stageInForce(restriction: Pick<Restriction, 'currentStage' | 'stages'>): RestrictionStage {
  return restriction.stages[Math.min(restriction.currentStage, restriction.stages.length - 1)]!;
}

/** The rule of a restriction for a property, or null where there is no restriction. */
export function ruleInForce(restriction: Restriction | null, parity: Parity | null): RuleInForce | null {
  return restriction === null ? null : { restrictionName: restriction.name, stage: stageInForce(restriction), parity };
}

/** May a property of this parity water on a day, by the stage's rule of days? With no parity: only if both may. */
export function isDayAllowed(stage: RestrictionStage, parity: Parity | null, dayNumber: number): boolean {
  if (parity === null) return isDayAllowed(stage, 'odd', dayNumber) && isDayAllowed(stage, 'even', dayNumber);
  switch (stage.dayRule.kind) {
    case 'any-day':
      return true;
    case 'no-watering':
      return false;
    case 'weekdays':
      return (parity === 'odd' ? stage.dayRule.oddAddress : stage.dayRule.evenAddress).includes(
        weekdayOfDay(dayNumber),
      );
    case 'date-parity':
      return civilOf(dayNumber).day % 2 === (parity === 'odd' ? 1 : 0);
  }
}

/** Is a day surely forbidden? With no parity known: only if neither may water, so that nobody is accused on a guess. */
export function isDayForbidden(stage: RestrictionStage, parity: Parity | null, dayNumber: number): boolean {
  if (parity !== null) return !isDayAllowed(stage, parity, dayNumber);
  return !isDayAllowed(stage, 'odd', dayNumber) && !isDayAllowed(stage, 'even', dayNumber);
}

/** Dates of the week (Monday first) holding `date` on which the rule of days lets a property water. The most days a week may be fewer. */
export function allowedDatesInWeek(stage: RestrictionStage | null, parity: Parity | null, date: string): string[] {
  const monday = mondayOf(dayNumberOf(date));
  return [0, 1, 2, 3, 4, 5, 6]
    .map((offset) => monday + offset)
    .filter((day) => stage === null || isDayAllowed(stage, parity, day))
    .map(isoDateOf);
}

/**
 * Spells of any one day in which spray may not run, merged and in order; a spell over midnight gives a piece at either end.
 * A spell whose end is its start is the whole day: it runs until that hour comes round again.
 */
export function forbiddenSpells(stage: Pick<RestrictionStage, 'forbiddenHours'>): Spell[] {
  const pieces: Spell[] = [];
  for (const hours of stage.forbiddenHours) {
    const from = minutesOfClock(hours.from);
    const to = minutesOfClock(hours.to);
    if (from < to) {
      pieces.push({ fromMinute: from, toMinute: to });
    } else {
      pieces.push({ fromMinute: from, toMinute: MINUTES_PER_DAY });
      if (to > 0) pieces.push({ fromMinute: 0, toMinute: to });
    }
  }
  pieces.sort((a, b) => a.fromMinute - b.fromMinute);
  const merged: Spell[] = [];
  for (const piece of pieces) {
    const last = merged.at(-1);
    if (last && piece.fromMinute <= last.toMinute) last.toMinute = Math.max(last.toMinute, piece.toMinute);
    else merged.push({ ...piece });
  }
  return merged;
}

/** The first minute of [from, to) that lies in a spell (spells repeat every day; `to` may pass 1440), or null. */
export function firstForbiddenMinute(spells: readonly Spell[], from: number, to: number): number | null {
  for (let midnight = 0; midnight < to; midnight += MINUTES_PER_DAY) {
    for (const spell of spells) {
      const start = Math.max(from, spell.fromMinute + midnight);
      // A shared edge is not an overlap: water may end at the very minute the spell begins.
      if (start < Math.min(to, spell.toMinute + midnight) - 1e-6) return tidy(start);
    }
  }
  return null;
}
