import { emissionDeviceRow, soilRow } from '../agronomy/index.ts';
import type { ThumbRule } from '../settings/contract.ts';
import type { Zone } from '../properties/contract.ts';
import { fact, type Fact } from '../text/say.ts';
import type { Measured } from '../text/words.ts';
import { withBreachesInWeek, type Breach } from './check-program.ts';
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

/** Why the advice differs from what is set and from the rule of thumb, the weightiest first. */
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
  if (breaches.length === 1) return [{ code: 'breaks-restriction', text: first.text }];
  return [{ code: 'breaks-restriction', text: withBreachesInWeek(first.text, breaches.length) }];
}

function amountReasons({ now, advice }: ReasonFacts): Reason[] {
  if (advice.minutesPerWeek === 0) {
    return now.minutesPerWeek === 0 ? [] : [{ code: 'no-need', text: fact('advice.runsForNothing') }];
  }
  if (now.minutesPerWeek === 0) return [{ code: 'not-watered', text: fact('advice.notWatered') }];
  const reasons: Reason[] = [];
  const share = now.minutesPerWeek / advice.minutesPerWeek - 1;
  if (share > AMOUNT_DIFFERS)
    reasons.push({ code: 'too-much', text: fact('advice.tooMuch', { percent: Math.round(share * 100) }) });
  if (share < -AMOUNT_DIFFERS)
    reasons.push({ code: 'too-little', text: fact('advice.tooLittle', { percent: Math.round(-share * 100) }) });
  const days = { daysNow: now.daysPerWeek, daysAdvised: advice.daysPerWeek };
  if (now.daysPerWeek > advice.daysPerWeek + DAYS_DIFFER)
    reasons.push({ code: 'too-often', text: fact('advice.tooOften', days) });
  if (now.daysPerWeek < advice.daysPerWeek - DAYS_DIFFER)
    reasons.push({ code: 'too-rarely', text: fact('advice.tooRarely', days) });
  const percents = [...new Set(now.percents.filter((percent) => percent !== 100))];
  if (percents.length > 0) {
    const given = { setMinutes: now.setMinutes, runMinutes: now.runMinutes, percents };
    reasons.push({ code: 'seasonal-percent', text: fact('advice.seasonalPercent', given) });
  }
  if (now.programNames.length > 1)
    reasons.push({ code: 'several-programs', text: fact('advice.severalPrograms', { names: now.programNames }) });
  return reasons;
}

function intakeReasons({ zone, need, advice, longestCycleNow }: ReasonFacts): Reason[] {
  const longest = need.longestCycleMinutes;
  if (longest === null) return [];
  const reasons: Reason[] = [];
  if (longestCycleNow > longest + 1e-9) {
    const given = { longestMinutes: longest, cycleMinutes: longestCycleNow };
    reasons.push({ code: 'runs-off', text: fact('advice.runsOff', given) });
  }
  if (advice.cycles > 1) {
    if (zone.soil === 'clay' || zone.soil === 'clay-loam') {
      const intake: Measured = { quantity: 'rate', value: soilRow(zone.soil).intakeInchesPerHour };
      const rate: Measured = { quantity: 'rate', value: need.prInchesPerHour };
      reasons.push({ code: 'clay-soil', text: fact('advice.slowSoil', { soil: zone.soil, intake, rate }) });
    }
    if (zone.slopePercent > 3)
      reasons.push({ code: 'slope', text: fact('advice.slope', { percent: Math.round(zone.slopePercent) }) });
  }
  return reasons;
}

function placeReasons({ zone }: ReasonFacts): Reason[] {
  return zone.betweenHouses ? [{ code: 'between-houses', text: fact('advice.betweenHouses') }] : [];
}

function rateReasons({ zone, need }: ReasonFacts): Reason[] {
  const reasons: Reason[] = [];
  const { basis } = precipitationRate(zone);
  const usual = emissionDeviceRow(zone.emissionDevice).prInchesPerHour;
  if (zone.flowGpm === null) {
    const text = fact(basis === 'table' ? 'advice.flowUnknownUsualRate' : 'advice.flowUnknown');
    reasons.push({ code: 'flow-unknown', text });
  }
  if (zone.areaFt2 === null && basis === 'table')
    reasons.push({ code: 'area-unknown', text: fact('advice.areaUnknown') });
  if (basis !== 'table') {
    const share = need.prInchesPerHour / usual - 1;
    const given = {
      rate: { quantity: 'rate', value: need.prInchesPerHour },
      usual: { quantity: 'rate', value: usual },
    } as const;
    if (share > RATE_STANDS_OUT) reasons.push({ code: 'pr-high', text: fact('advice.fast', given) });
    if (share < -RATE_STANDS_OUT) reasons.push({ code: 'pr-low', text: fact('advice.slow', given) });
  }
  return reasons;
}

function thumbReasons(facts: ReasonFacts): Reason[] {
  const { thumb, advice } = facts;
  if (thumb === null || !thumbDiffers(advice.runMinutes, thumb, facts.thumbDiffersShare)) return [];
  return [{ code: 'thumb-differs', text: whyThumbDiffers(facts, thumb) }];
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
function whyThumbDiffers({ zone, need, advice, guesses }: ReasonFacts, { minutesFrom, minutesTo }: ThumbRule): Fact {
  const given = { runMinutes: advice.runMinutes, minutesFrom, minutesTo };
  const isLonger = advice.runMinutes > Math.max(minutesFrom, minutesTo);
  if (isLonger && zone.betweenHouses) return fact('thumb.neighbors', given);
  const usual = emissionDeviceRow(zone.emissionDevice).prInchesPerHour;
  if (isLonger && need.prInchesPerHour < usual * (1 - RATE_STANDS_OUT)) return fact('thumb.slow', given);
  if (!isLonger && need.prInchesPerHour > usual * (1 + RATE_STANDS_OUT)) return fact('thumb.fast', given);
  const worst = guesses[0];
  if (worst !== undefined && worst.effectShare >= RATE_STANDS_OUT)
    return fact('thumb.guess', { ...given, field: worst.field, measurement: worst.measurement });
  if (isLonger && advice.daysPerWeek < 3) return fact('thumb.fewDays', { ...given, daysAdvised: advice.daysPerWeek });
  return fact(isLonger ? 'thumb.month' : 'thumb.monthOrPlants', given);
}
