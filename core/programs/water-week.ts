import type { Zone } from '../properties/contract.ts';
import type { WaterWeek } from './contract.ts';
import { checkProgram } from './check-program.ts';
import { dayNumberOf, isoDateOf, MINUTES_PER_DAY, mondayOf, weekdayOfDay } from './day-number.ts';
import { expandPrograms, type ProgramOnController } from './expand.ts';
import { forbiddenSpells, isDayForbidden, isExempt, type RuleInForce, type Spell } from './restrictions.ts';
import { zoneTotals } from './totals.ts';

export type { WaterWeek } from './contract.ts';

export interface WaterWeekInput {
  /** Programs in force (or proposed) in the week, of all controllers of the property. */
  programs: readonly ProgramOnController[];
  zones: readonly Zone[];
  rule: RuleInForce | null;
  /** Any day of the week wanted. */
  date: string;
  stepMinutes: number;
  /** Sunrise of a date, local minutes from midnight, where the place is known. */
  sunriseOf?: (date: string) => number | null;
}

/**
 * One week of a property from Monday, as plain data to draw: blocks, what the rule forbids, totals by zone, breaches. A block that
 * runs past midnight is drawn on the day it starts (it then ends after 1440). Hatching shows what is forbidden to zones inside the
 * rule; a property with none has none. Throws bad-input for a date that is not of the calendar.
 */
export function buildWaterWeek(input: WaterWeekInput): WaterWeek {
  const { rule } = input;
  const monday = mondayOf(dayNumberOf(input.date));
  // The day before is looked at too: a run over Sunday's midnight may break a rule on Monday.
  const blocks = expandPrograms(
    input.programs,
    input.zones,
    isoDateOf(monday - 1),
    isoDateOf(monday + 6),
    input.stepMinutes,
  );
  const weekStart = isoDateOf(monday);
  const ofWeek = blocks.filter((block) => block.date >= weekStart);
  const zoneById = new Map(input.zones.map((zone) => [zone.id, zone]));
  const programNames = new Map(input.programs.map((program) => [program.programId, program.name]));
  const isUnderRule =
    rule !== null && input.zones.some((zone) => !zone.retired && !isExempt(rule.stage, zone.emissionDevice));
  const spells = isUnderRule ? forbiddenSpells(rule.stage) : [];
  const active = input.zones
    .filter((zone) => !zone.retired)
    .sort((a, b) =>
      a.controllerId < b.controllerId ? -1 : a.controllerId > b.controllerId ? 1 : a.station - b.station,
    );
  return {
    weekStart,
    days: [0, 1, 2, 3, 4, 5, 6].map((offset) => {
      const day = monday + offset;
      const date = isoDateOf(day);
      return {
        date,
        weekday: weekdayOfDay(day),
        blocks: ofWeek
          .filter((block) => block.date === date)
          .map((block) => ({
            zoneId: block.zoneId,
            station: block.station,
            zoneName: zoneById.get(block.zoneId)?.name ?? '',
            programName: programNames.get(block.programId) ?? '',
            startMinute: block.startMinute,
            runMinutes: block.runMinutes,
            cycle: block.cycle,
            soakAfterMinutes: block.soakAfterMinutes,
          })),
        forbidden: spells.map((spell) => ({ ...spell })),
        forbiddenAllDay: isUnderRule && isDayForbidden(rule.stage, rule.parity, day),
        sunriseMinute: input.sunriseOf?.(date) ?? null,
      };
    }),
    totals: zoneTotals(ofWeek, active).map((total, index) => ({
      zoneId: total.zoneId,
      station: active[index]!.station,
      zoneName: active[index]!.name,
      minutesPerWeek: total.minutes,
      runsPerWeek: total.runs,
      gallonsPerWeek: total.gallons,
    })),
    breaches: checkProgram(blocks, input.zones, rule).filter(
      (breach) => breach.date >= weekStart && breach.date <= isoDateOf(monday + 6),
    ),
  };
}

/** A spell in which a property should not water, on its local clock; `to` null = it has not ended. */
export interface HoldSpell {
  from: { date: string; minute: number };
  to: { date: string; minute: number } | null;
  label: string;
}

/** The bands that holds make on each of the seven days from a Monday, minutes from local midnight, for the drawing. */
export function holdBands(holds: readonly HoldSpell[], weekStart: string): (Spell & { label: string })[][] {
  const monday = dayNumberOf(weekStart, 'weekStart');
  const minuteOf = (moment: { date: string; minute: number }) =>
    (dayNumberOf(moment.date) - monday) * MINUTES_PER_DAY + moment.minute;
  return [0, 1, 2, 3, 4, 5, 6].map((offset) => {
    const midnight = offset * MINUTES_PER_DAY;
    return holds.flatMap((hold) => {
      const fromMinute = Math.max(0, minuteOf(hold.from) - midnight);
      const toMinute = Math.min(MINUTES_PER_DAY, (hold.to === null ? Infinity : minuteOf(hold.to)) - midnight);
      return fromMinute < toMinute ? [{ fromMinute, toMinute, label: hold.label }] : [];
    });
  });
}
