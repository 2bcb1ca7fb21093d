import type { Zone } from '../properties/contract.ts';
import type { ThumbRuleDraft } from '../settings/index.ts';
import type { ThumbRule } from '../settings/contract.ts';

/**
 * The rule of thumb that fits a zone, or null. The rule that names most about the zone wins; of two that name as much, the one
 * that names the place (between houses) goes before the one that names the plants, and that before the device, because the cut
 * for a side yard is made whatever the heads are. After that the narrower span of minutes, then the earlier in the table.
 */
export function matchThumb<Rule extends ThumbRuleDraft>(
  zone: Pick<Zone, 'emissionDevice' | 'plantKind' | 'betweenHouses'>,
  rules: readonly Rule[],
): Rule | null {
  let best: Rule | null = null;
  for (const rule of rules) {
    if (rule.emissionDevice !== null && rule.emissionDevice !== zone.emissionDevice) continue;
    if (rule.plantKind !== null && rule.plantKind !== zone.plantKind) continue;
    if (rule.betweenHouses !== null && rule.betweenHouses !== zone.betweenHouses) continue;
    if (best === null || comesBefore(rule, best)) best = rule;
  }
  return best;
}

function comesBefore(a: ThumbRuleDraft, b: ThumbRuleDraft): boolean {
  const byRank = rank(a) - rank(b);
  if (byRank !== 0) return byRank > 0;
  return a.minutesTo - a.minutesFrom < b.minutesTo - b.minutesFrom;
}

function rank(rule: ThumbRuleDraft): number {
  const place = rule.betweenHouses === null ? 0 : 1;
  const plants = rule.plantKind === null ? 0 : 1;
  const device = rule.emissionDevice === null ? 0 : 1;
  return (place + plants + device) * 8 + place * 4 + plants * 2 + device;
}

/** Share by which minutes lie outside a rule's span; 0 inside it. A rule of 0 minutes and minutes above it: Infinity. */
export function thumbDistance(minutes: number, rule: Pick<ThumbRule, 'minutesFrom' | 'minutesTo'>): number {
  const low = Math.min(rule.minutesFrom, rule.minutesTo);
  const high = Math.max(rule.minutesFrom, rule.minutesTo);
  if (minutes > high) return high === 0 ? Infinity : (minutes - high) / high;
  return minutes < low ? (low - minutes) / low : 0;
}
