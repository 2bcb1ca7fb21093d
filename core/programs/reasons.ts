import { emissionDeviceRow, soilRow } from '../agronomy/index.ts';
import type { ThumbRule, Zone } from '../contract/entities.ts';
import type { Breach } from './check-program.ts';
import type { Guess } from './guesses.ts';
import type { Reason, ZoneAdvice } from './recommend.ts';
import { thumbDistance } from './thumb-rules.ts';
import type { MeanWeek } from './totals.ts';
import { precipitationRate, type ZoneNeed } from './zone-need.ts';

/** All that a zone's reasons are read from. */
export interface ReasonFacts {
  zone: Zone;
  need: ZoneNeed;
  now: MeanWeek;
  advice: ZoneAdvice;
  thumb: ThumbRule | null;
  thumbDiffersShare: number;
  /** The longest cycle set now, after the seasonal percentage; 0 where the zone does not run. */
  longestCycleNow: number;
  breaches: readonly Breach[];
  guesses: readonly Guess[];
}

/** A rate this far from the device's usual one is worth a word. Common practice, no source. */
const RATE_STANDS_OUT = 0.3;
/** Weekly minutes closer than this to the advice are as advised. Common practice, no source. */
const AMOUNT_DIFFERS = 0.1;
/** Watering days a week closer than this are as advised. */
const DAYS_DIFFER = 0.5;

/** Why the advice differs from what is set and from the rule of thumb, the weightiest first, each in a sentence. */
export function reasonsFor(facts: ReasonFacts): Reason[] {
  return [
    ...breachReasons(facts),
    ...amountReasons(facts),
    ...intakeReasons(facts),
    ...facts.advice.reasons,
    ...placeReasons(facts),
    ...rateReasons(facts),
    ...thumbReasons(facts),
  ];
}

function breachReasons({ breaches }: ReasonFacts): Reason[] {
  const first = breaches[0];
  if (first === undefined) return [];
  const more = breaches.length > 1 ? ` (${breaches.length} breaches in the week)` : '';
  return [{ code: 'breaks-restriction', sentence: `${first.sentence}${more}` }];
}

function amountReasons({ now, advice }: ReasonFacts): Reason[] {
  if (advice.minutesPerWeek === 0) {
    return now.minutesPerWeek === 0
      ? []
      : [{ code: 'no-need', sentence: 'Nothing is advised for this zone in this month, but it runs.' }];
  }
  if (now.minutesPerWeek === 0) return [{ code: 'not-watered', sentence: 'No program that is on runs this zone.' }];
  const reasons: Reason[] = [];
  const share = now.minutesPerWeek / advice.minutesPerWeek - 1;
  if (share > AMOUNT_DIFFERS)
    reasons.push({ code: 'too-much', sentence: `It gets ${Math.round(share * 100)} % more than it needs.` });
  if (share < -AMOUNT_DIFFERS)
    reasons.push({ code: 'too-little', sentence: `It gets ${Math.round(-share * 100)} % less than it needs.` });
  if (now.daysPerWeek > advice.daysPerWeek + DAYS_DIFFER) {
    reasons.push({
      code: 'too-often',
      sentence: `It waters on ${days(now.daysPerWeek)} a week; its roots can draw on the soil long enough for ${days(advice.daysPerWeek)}, and longer runs further apart make them grow deeper.`,
    });
  }
  if (now.daysPerWeek < advice.daysPerWeek - DAYS_DIFFER) {
    reasons.push({
      code: 'too-rarely',
      sentence: `It waters on ${days(now.daysPerWeek)} a week; the soil holds too little for that, ${days(advice.daysPerWeek)} are needed.`,
    });
  }
  const percents = [...new Set(now.percents.filter((percent) => percent !== 100))];
  if (percents.length > 0) {
    reasons.push({
      code: 'seasonal-percent',
      sentence: `Set ${minutes(now.setMinutes)}, run ${minutes(now.runMinutes)} at ${percents.join(' and ')} %.`,
    });
  }
  if (now.programNames.length > 1)
    reasons.push({ code: 'several-programs', sentence: `Programs ${now.programNames.join(' and ')} both run it.` });
  return reasons;
}

function intakeReasons({ zone, need, advice, longestCycleNow }: ReasonFacts): Reason[] {
  const longest = need.longestCycleMinutes;
  if (longest === null) return [];
  const reasons: Reason[] = [];
  if (longestCycleNow > longest + 1e-9) {
    reasons.push({
      code: 'runs-off',
      sentence: `Water runs off after about ${minutes(longest)}, but it runs ${minutes(longestCycleNow)} in one go: it needs cycles with soaks.`,
    });
  }
  if (advice.cycles > 1) {
    const soil = soilRow(zone.soil);
    if (zone.soil === 'clay' || zone.soil === 'clay-loam') {
      reasons.push({
        code: 'clay-soil',
        sentence: `${soil.label} takes in only ${soil.intakeInchesPerHour} in/h of the ${need.prInchesPerHour.toFixed(2)} in/h that comes down.`,
      });
    }
    if (zone.slopePercent > 3)
      reasons.push({
        code: 'slope',
        sentence: `On a slope of ${Math.round(zone.slopePercent)} % less water can stand before it runs off.`,
      });
  }
  return reasons;
}

function placeReasons({ zone }: ReasonFacts): Reason[] {
  return zone.betweenHouses
    ? [
        {
          code: 'between-houses',
          sentence: 'Neighbors water this strip too; physics does not count their water, the rule of thumb does.',
        },
      ]
    : [];
}

function rateReasons({ zone, need }: ReasonFacts): Reason[] {
  const reasons: Reason[] = [];
  const { basis } = precipitationRate(zone);
  const device = emissionDeviceRow(zone.emissionDevice);
  if (zone.flowGpm === null) {
    reasons.push({
      code: 'flow-unknown',
      sentence: `Its flow is not known${basis === 'table' ? ', so the usual rate of such heads is used' : ''}; gallons cannot be said.`,
    });
  }
  if (zone.areaFt2 === null && basis === 'table')
    reasons.push({
      code: 'area-unknown',
      sentence: 'Its area is not known, so its rate cannot be computed from its flow.',
    });
  if (basis !== 'table') {
    const share = need.prInchesPerHour / device.prInchesPerHour - 1;
    const figures = `${need.prInchesPerHour.toFixed(2)} in/h, usual for this device is ${device.prInchesPerHour} in/h`;
    if (share > RATE_STANDS_OUT)
      reasons.push({ code: 'pr-high', sentence: `It applies water fast (${figures}), so it needs fewer minutes.` });
    if (share < -RATE_STANDS_OUT)
      reasons.push({ code: 'pr-low', sentence: `It applies water slowly (${figures}), so it needs more minutes.` });
  }
  return reasons;
}

function thumbReasons(facts: ReasonFacts): Reason[] {
  const { thumb, advice } = facts;
  if (thumb === null || !thumbDiffers(advice.runMinutes, thumb, facts.thumbDiffersShare)) return [];
  const span =
    thumb.minutesFrom === thumb.minutesTo
      ? minutes(thumb.minutesFrom)
      : `${thumb.minutesFrom} to ${minutes(thumb.minutesTo)}`;
  return [
    {
      code: 'thumb-differs',
      sentence: `Physics says ${minutes(advice.runMinutes)} a run, the rule of thumb ${span}: ${whyThumbDiffers(facts)}.`,
    },
  ];
}

/** Do minutes lie further outside a rule of thumb than the company lets pass? A zone that is off is not compared. */
export function thumbDiffers(
  runMinutes: number,
  thumb: Pick<ThumbRule, 'minutesFrom' | 'minutesTo'>,
  differsShare: number,
): boolean {
  return runMinutes > 0 && thumbDistance(runMinutes, thumb) > differsShare;
}

/** The likeliest reason, by what would explain the direction of the difference. */
function whyThumbDiffers({ zone, need, advice, thumb, guesses }: ReasonFacts): string {
  const isLonger = advice.runMinutes > Math.max(thumb!.minutesFrom, thumb!.minutesTo);
  if (isLonger && zone.betweenHouses) return 'the rule allows for the water of the neighbors';
  const usual = emissionDeviceRow(zone.emissionDevice).prInchesPerHour;
  if (isLonger && need.prInchesPerHour < usual * (1 - RATE_STANDS_OUT))
    return 'this zone applies water more slowly than such heads usually do';
  if (!isLonger && need.prInchesPerHour > usual * (1 + RATE_STANDS_OUT))
    return 'this zone applies water faster than such heads usually do';
  const worst = guesses[0];
  if (worst !== undefined && worst.effectShare >= RATE_STANDS_OUT)
    return `physics rests on a guess here (${worst.label.toLowerCase()}); a ${worst.measurement} would tell who is right`;
  if (isLonger && advice.daysPerWeek < 3)
    return `the advice waters on only ${days(advice.daysPerWeek)} a week, so each run brings more`;
  return isLonger
    ? 'this month asks for more than the rule is made for'
    : 'this month, or these plants, ask for less than the rule is made for';
}

function days(count: number): string {
  const rounded = Math.round(count * 10) / 10;
  return `${rounded} ${rounded === 1 ? 'day' : 'days'}`;
}

function minutes(count: number): string {
  return `${Math.round(count * 10) / 10} min`;
}
