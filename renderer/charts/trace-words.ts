import type { OutputOf } from '../../core/contract/index.ts';
import { say, type Reader } from '../../core/text/say.ts';

/** The water balance of a spell in words: what came in, what went out, what the soil kept. */
export function balanceSentences(trace: OutputOf<'zone.trace'>, reader: Reader): string[] {
  const { etInches, rainInches, irrigationInches, drainageInches, storeChangeInches } = trace.totals;
  const inches = Math.abs(storeChangeInches);
  const kept =
    inches < 0.005
      ? say(reader, 'charts.endedAsBegan')
      : say(reader, storeChangeInches > 0 ? 'charts.endedWetter' : 'charts.endedDrier', { inches });
  const came = rainInches + irrigationInches;
  const lostPercent = came > 0 ? Math.round((100 * drainageInches) / came) : 0;
  return [
    say(reader, 'charts.cameIn', { rain: Math.abs(rainInches), irrigation: Math.abs(irrigationInches) }),
    say(reader, 'charts.wentOut', { used: Math.abs(etInches), drained: Math.abs(drainageInches), lostPercent, kept }),
  ];
}
