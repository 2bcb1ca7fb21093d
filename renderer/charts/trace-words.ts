import type { OutputOf } from '../../core/contract/index.ts';
import { formatMeasure } from '../parts/format.ts';
import type { UnitSystem } from '../../core/units.ts';

/** The water balance of a spell in words: what came in, what went out, what the soil kept. */
export function balanceSentences(trace: OutputOf<'zone.trace'>, units: UnitSystem): string[] {
  const { etInches, rainInches, irrigationInches, drainageInches, storeChangeInches } = trace.totals;
  const say = (inches: number) => formatMeasure('depth', Math.abs(inches), units);
  const kept =
    Math.abs(storeChangeInches) < 0.005
      ? 'and the soil ended as it began'
      : storeChangeInches > 0
        ? `and the soil ended ${say(storeChangeInches)} wetter`
        : `and the soil ended ${say(storeChangeInches)} drier`;
  const came = rainInches + irrigationInches;
  const lost = came > 0 ? Math.round((100 * drainageInches) / came) : 0;
  return [
    `In: rain ${say(rainInches)} and irrigation ${say(irrigationInches)}.`,
    `Out: the plants used ${say(etInches)}, ${say(drainageInches)} drained below the roots${drainageInches > 0 && lost > 0 ? ` (${lost} % of what came)` : ''}, ${kept}.`,
  ];
}
