import { daylight, effectiveRainOfMonth } from '../agronomy/index.ts';
import type { Program } from './contract.ts';
import type { Property, Zone } from '../properties/contract.ts';
import type { Restriction, Settings, ThumbRule } from '../settings/contract.ts';
import type { OutputOf } from '../contract/index.ts';
import type { ReviewRow } from './contract.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { Temporal } from 'temporal-polyfill';
import { propertyParity } from './address-parity.ts';
import { withBreachesInWeek } from './check-program.ts';
import { compareZones, distanceFromNeed, gallonsOf } from './compare.ts';
import type { ProgramOnController } from './expand.ts';
import { recommend, type Recommendation } from './recommend.ts';
import { ruleInForce, type RuleInForce } from './restrictions.ts';
import { seasonalTable } from './seasonal-table.ts';
import { buildWaterWeek, type WaterWeek } from './water-week.ts';
import { zoneNeed, type MonthWater, type ZoneNeed } from './zone-need.ts';

/** The months of a station, January first, and where they come from. */
export interface SiteClimate {
  stationName: string;
  months: readonly { daysInMonth: number; etoInches: number; rainInches: number; method: string }[];
  isGuess: boolean;
}

/** All that advice for one property rests on, already read. */
export interface AdviceSite {
  property: Property;
  zones: readonly Zone[];
  programs: readonly Program[];
  restriction: Restriction | null;
  climate: SiteClimate;
  thumbRules: readonly ThumbRule[];
  settings: Settings;
  /** Programs shown at another month's seasonal percentage than today's. */
  setAside: readonly { programName: string; percentToday: number; percentThen: number; since: string }[];
}

/** The share of ETo and the storage that rain is judged by; one figure for the property, so that one line can say it. Middle of S623's turf and shrub factors. */
const RAIN_NEED_SHARE = 0.7;
const RAIN_STORAGE_INCHES = 1;

/** The water side of one month at a site. @param month 1…12. */
export function monthWater(climate: SiteClimate, month: number): MonthWater {
  const { daysInMonth, etoInches, rainInches } = climate.months[month - 1]!;
  return {
    etoInches,
    daysInMonth,
    effectiveRainInches: effectiveRainOfMonth(rainInches, etoInches * RAIN_NEED_SHARE, RAIN_STORAGE_INCHES),
  };
}

export function onControllers(programs: readonly Program[]): ProgramOnController[] {
  return programs.map(({ id, controllerId, name, revision: { days, startTimes, seasonalPercent, runs, enabled } }) => ({
    programId: id,
    controllerId,
    name,
    settings: { days, startTimes, seasonalPercent, runs, enabled },
  }));
}

export function ruleOf(site: Pick<AdviceSite, 'property' | 'restriction'>): RuleInForce | null {
  return ruleInForce(site.restriction, propertyParity(site.property));
}

/** Sunrise on the property's own clock, where its place is known. */
export function sunriseAt(property: Property): ((date: string) => number | null) | undefined {
  const { latitudeDeg, longitudeDeg, timeZone } = property;
  if (latitudeDeg === null || longitudeDeg === null) return undefined;
  return (date) => {
    const offset =
      Temporal.PlainDate.from(date).toZonedDateTime({ timeZone, plainTime: '12:00' }).offsetNanoseconds / 60e9;
    const sun = daylight(latitudeDeg, longitudeDeg, date, offset);
    return sun.sunriseMinutes === null ? null : Math.round(sun.sunriseMinutes);
  };
}

interface Worked {
  water: MonthWater;
  needs: ZoneNeed[];
  rule: RuleInForce | null;
  current: ProgramOnController[];
  recommendation: Recommendation;
}

/** Needs and advice of one month. @throws BookError where the property has no zones, or the rule leaves nothing to advise. */
function work(site: AdviceSite, month: number, fromDate: string): Worked {
  if (site.zones.length === 0) throw new BookError('conflict', fact('advice.noZones'), 'propertyId');
  const water = monthWater(site.climate, month);
  const needs = site.zones.map((zone) => zoneNeed(zone, water));
  const rule = ruleOf(site);
  const current = onControllers(site.programs);
  return {
    water,
    needs,
    rule,
    current,
    recommendation: recommend({ zones: needs, programs: current, rule, settings: site.settings, fromDate }),
  };
}

const proposedOnControllers = (recommendation: Recommendation): ProgramOnController[] =>
  recommendation.programs.map((program, index) => ({ ...program, programId: program.programId ?? `new-${index}` }));

function week(site: AdviceSite, programs: readonly ProgramOnController[], date: string): WaterWeek {
  const sunriseOf = sunriseAt(site.property);
  return buildWaterWeek({
    programs,
    zones: site.zones,
    rule: ruleOf(site),
    date,
    stepMinutes: site.settings.roundToMinutes,
    ...(sunriseOf ? { sunriseOf } : {}),
  });
}

function weatherLine(site: AdviceSite, month: number, water: MonthWater): OutputOf<'program.review'>['weather'] {
  const { rainInches, method } = site.climate.months[month - 1]!;
  return {
    stationName: site.climate.stationName,
    etoInchesPerMonth: water.etoInches,
    rainInchesPerMonth: rainInches,
    effectiveRainInchesPerMonth: water.effectiveRainInches,
    method,
    isGuess: site.climate.isGuess,
  };
}

/** Percentages by month: a month's need of all zones, by area, over that of the month the programs are made for. */
function yearTable(
  site: AdviceSite,
  month: number,
  recommendation: Recommendation,
): OutputOf<'program.recommend'>['seasonalTable'] {
  const needs = Array.from({ length: 12 }, (_, index) => {
    const water = monthWater(site.climate, index + 1);
    return site.zones.reduce((sum, zone) => sum + zoneNeed(zone, water).dailyNeedInches * (zone.areaFt2 ?? 1000), 0);
  });
  return seasonalTable(needs, month, recommendation.zones, site.settings.roundToMinutes).map((row) => {
    const { etoInches, rainInches } = site.climate.months[row.month - 1]!;
    return { ...row, etoInches, rainInches };
  });
}

/** The program the physics would set in a month; `weekDate` is any day of the week to draw. */
export function recommendFor(site: AdviceSite, month: number, weekDate: string): OutputOf<'program.recommend'> {
  const { water, recommendation } = work(site, month, weekDate);
  return {
    programs: recommendation.programs,
    findings: recommendation.findings,
    weather: weatherLine(site, month, water),
    week: week(site, proposedOnControllers(recommendation), weekDate),
    seasonalTable: yearTable(site, month, recommendation),
  };
}

/** Current against recommended, row by row. */
export function reviewFor(site: AdviceSite, month: number, weekDate: string): OutputOf<'program.review'> {
  const { water, needs, rule, current, recommendation } = work(site, month, weekDate);
  const weekNow = week(site, current, weekDate);
  const rows = compareZones({
    zones: site.zones,
    needs,
    programs: current,
    recommendation,
    rule,
    month: water,
    thumbRules: site.thumbRules,
    settings: site.settings,
    breaches: weekNow.breaches,
  });
  const gallons = gallonsOf(rows);
  return {
    rows,
    proposed: recommendation.programs,
    weekNow,
    weekThen: week(site, proposedOnControllers(recommendation), weekDate),
    findings: [...recommendation.findings, ...setAsideFinding(site)],
    weather: weatherLine(site, month, water),
    gallonsPerWeekNow: gallons.now,
    gallonsPerWeekThen: gallons.advised,
    seasonalTable: yearTable(site, month, recommendation),
  };
}

/** Says that "now" is not today's percentage, where it is not. */
function setAsideFinding({ setAside }: AdviceSite): OutputOf<'program.review'>['findings'] {
  if (setAside.length === 0) return [];
  const programs = setAside.map(({ programName, percentThen, percentToday }) => ({
    name: programName,
    percentThen,
    percentToday,
  }));
  return [{ code: 'percentage-of-month', text: fact('finding.percentageOfMonth', { programs }) }];
}

/** One property's line in the company-wide list: without the drawings, which nobody looks at there. */
export function reviewLine(
  site: AdviceSite,
  clientName: string,
  month: number,
  weekDate: string,
): OutputOf<'program.reviewAll'>['rows'][number] {
  const { water, needs, rule, current, recommendation } = work(site, month, weekDate);
  const { breaches } = buildWaterWeek({
    programs: current,
    zones: site.zones,
    rule,
    date: weekDate,
    stepMinutes: site.settings.roundToMinutes,
  });
  const rows = compareZones({
    zones: site.zones,
    needs,
    programs: current,
    recommendation,
    rule,
    month: water,
    thumbRules: site.thumbRules,
    settings: site.settings,
    breaches,
  });
  const gallons = gallonsOf(rows);
  let worst: OutputOf<'program.reviewAll'>['rows'][number]['worst'] = null;
  let furthest = 0;
  for (const row of rows) {
    const off = Math.abs(row.now.minutesPerWeek - row.advice.minutesPerWeek) * row.precipitationRateInPerHour;
    if (off > furthest) {
      furthest = off;
      worst = { station: row.station, zoneName: row.zoneName, ...firstReason(row) };
    }
  }
  return {
    propertyId: site.property.id,
    clientName,
    street: site.property.street,
    zones: rows.length,
    gallonsPerWeekNow: gallons.now,
    gallonsPerWeekThen: gallons.advised,
    minutesPerWeekNow: rows.reduce((sum, row) => sum + row.now.minutesPerWeek, 0),
    minutesPerWeekThen: rows.reduce((sum, row) => sum + row.advice.minutesPerWeek, 0),
    distanceFromNeed: distanceFromNeed(rows, site.zones),
    breaches: breaches.length,
    guesses: rows.reduce((sum, row) => sum + row.guesses.length, 0),
    worst,
  };
}

/** What stands first about a zone in a list of properties: its first reason, else the minutes set and advised. */
function firstReason({ reasons, now, advice }: ReviewRow): ReviewRow['reasons'][number] {
  const given = {
    minutesNow: Math.round(now.minutesPerWeek),
    minutesAdvised: Math.round(advice.minutesPerWeek),
  };
  const first = reasons[0] ?? { code: 'set-and-advised', text: fact('advice.setAndAdvised', given) };
  // The line counts the property's breaches itself.
  return first.code === 'breaks-restriction' ? { ...first, text: withBreachesInWeek(first.text) } : first;
}
