import type { RestrictionStage } from '../settings/contract.ts';
import type { Zone } from '../properties/contract.ts';
import type { BreakingRun } from '../text/advice-facts.ts';
import type { Told } from '../contract/parts.ts';
import { fact, type Fact } from '../text/say.ts';
import { dayNumberOf, isoDateOf, MINUTES_PER_DAY, mondayOf } from './day-number.ts';
import type { RunBlock } from './expand.ts';
import { firstForbiddenMinute, forbiddenSpells, isDayForbidden, isExempt, type RuleInForce } from './restrictions.ts';

/** One way in which one run breaks a watering rule. */
export interface Breach {
  code: 'forbidden-day' | 'date-parity' | 'forbidden-hours' | 'too-many-days' | 'no-watering';
  /** The day on which the rule is broken: the day after the start where a run goes on past midnight into it. */
  date: string;
  zoneId: string;
  /** When the run starts, from midnight of the day it starts on. */
  startMinute: number;
  text: Told;
}

/** A breach that also tells how many of its zone there are in the week; without a count, of itself alone. */
export function withBreachesInWeek(breach: Told, count?: number): Told {
  const { breachesInWeek: _, ...given } = breach.given as BreakingRun;
  return { key: breach.key, given: count === undefined ? given : { ...given, breachesInWeek: count } };
}

export type CheckedZone = Pick<Zone, 'id' | 'station' | 'name' | 'emissionDevice'>;

/**
 * Every breach of a rule by the blocks of a property (all its controllers together: the rule counts the property's days),
 * in order of time, each with the run that causes it. Zones outside the rule (drip, where the stage says so) are left out,
 * and so are blocks of zones that are not given. With no house number known, only what is forbidden to both parities counts.
 * Weeks run from Monday to Sunday; give whole weeks, or days outside the range are not counted.
 */
export function checkProgram(
  blocks: readonly RunBlock[],
  zones: readonly CheckedZone[],
  rule: RuleInForce | null,
): Breach[] {
  if (rule === null) return [];
  const { stage, parity } = rule;
  const zoneById = new Map(zones.map((zone) => [zone.id, zone]));
  const spells = forbiddenSpells(stage);
  const breaches: Breach[] = [];
  const wateredByWeek = new Map<number, Set<number>>();
  const inTimeOrder = [...blocks].sort((a, b) =>
    a.date < b.date ? -1 : a.date > b.date ? 1 : a.startMinute - b.startMinute,
  );
  for (const block of inTimeOrder) {
    const zone = zoneById.get(block.zoneId);
    if (!zone || isExempt(stage, zone.emissionDevice)) continue;
    const startDay = dayNumberOf(block.date);
    const endMinute = block.startMinute + block.runMinutes;
    const run: BreakingRun = {
      station: zone.station,
      zoneName: zone.name,
      date: isoDateOf(startDay),
      startMinute: Math.floor(block.startMinute),
      until: null,
      stage: stage.title,
      restriction: rule.restrictionName,
    };
    const add = (code: Breach['code'], day: number, text: Fact) =>
      breaches.push({ code, date: isoDateOf(day), zoneId: block.zoneId, startMinute: block.startMinute, text });

    if (stage.dayRule.kind === 'no-watering') {
      add('no-watering', startDay, fact('breach.no-watering', run));
      continue;
    }
    for (const day of daysTouched(startDay, endMinute)) {
      const until = day > startDay ? isoDateOf(day) : null;
      if (isDayForbidden(stage, parity, day)) {
        const given = { ...run, until, dayRule: stage.dayRule, parity };
        add(dayCode(stage), day, fact('breach.forbidden-day', given));
      }
      if (stage.maxDaysPerWeek !== null && isOverCap(wateredByWeek, day, stage.maxDaysPerWeek)) {
        add('too-many-days', day, fact('breach.too-many-days', { ...run, until, maxDays: stage.maxDaysPerWeek }));
      }
    }
    const forbidden = firstForbiddenMinute(spells, block.startMinute, endMinute);
    if (forbidden !== null) {
      const day = startDay + Math.floor(forbidden / MINUTES_PER_DAY);
      const minute = forbidden % MINUTES_PER_DAY;
      const spell = spells.find((item) => item.fromMinute <= minute && minute < item.toMinute)!;
      add(
        'forbidden-hours',
        day,
        fact('breach.forbidden-hours', {
          ...run,
          endMinute: Math.ceil(endMinute - 1e-6),
          fromMinute: spell.fromMinute,
          toMinute: spell.toMinute,
        }),
      );
    }
  }
  return breaches;
}

function dayCode(stage: RestrictionStage): 'date-parity' | 'forbidden-day' {
  return stage.dayRule.kind === 'date-parity' ? 'date-parity' : 'forbidden-day';
}

/** The days on which water runs: the start day, and the next ones where it goes on past midnight. */
function daysTouched(startDay: number, endMinute: number): number[] {
  const days = [startDay];
  for (let midnight = MINUTES_PER_DAY; midnight < endMinute - 1e-6; midnight += MINUTES_PER_DAY)
    days.push(startDay + midnight / MINUTES_PER_DAY);
  return days;
}

/** Counts a day into its week; true when it is not among the first `max` watering days of that week. */
function isOverCap(wateredByWeek: Map<number, Set<number>>, day: number, max: number): boolean {
  const monday = mondayOf(day);
  let watered = wateredByWeek.get(monday);
  if (!watered) wateredByWeek.set(monday, (watered = new Set()));
  watered.add(day);
  return [...watered].indexOf(day) >= max;
}
