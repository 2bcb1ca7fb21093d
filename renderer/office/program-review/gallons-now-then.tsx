import type { Zone } from '../../../core/contract/entities.ts';
import type { ReviewRow } from '../../../core/contract/programs.ts';
import { unitLabel } from '../../../core/units.ts';
import { formatEstimate, plural } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import type { ZoneThen } from '../../../core/programs/accept-plan.ts';

export interface WaterSums {
  now: number;
  after: number;
  /** Zones whose flow is known. */
  counted: number;
}

/** Gallons a week of the zones whose flow is known, now and once the plan is in force. */
export function sumWater(rows: readonly ReviewRow[], then: ReadonlyMap<string, ZoneThen>): WaterSums {
  let [now, after, counted] = [0, 0, 0];
  for (const row of rows) {
    const week = then.get(row.zoneId);
    if (row.now.gallonsPerWeek === null || week === undefined || week.gallonsPerWeek === null) continue;
    counted += 1;
    now += row.now.gallonsPerWeek;
    after += week.gallonsPerWeek;
  }
  return { now, after, counted };
}

/** The water of a week now and then, on one scale, with what the estimate rests on. */
export function GallonsNowThen({
  rows,
  sums,
  zones,
  month,
}: {
  rows: readonly ReviewRow[];
  sums: WaterSums;
  zones: ReadonlyMap<string, Zone>;
  month: string;
}) {
  const units = useUnits();
  const unit = unitLabel('volume', units);
  const top = Math.max(sums.now, sums.after, 1);
  const guessed = rows.filter(
    (row) => row.now.gallonsPerWeek !== null && zones.get(row.zoneId)?.flowKnown === 'guess',
  ).length;
  const without = rows.length - sums.counted;
  if (sums.counted === 0) {
    return (
      <div className="pr-gallons">
        <p>
          <b>Gallons cannot be said yet.</b> No zone here has a flow. Read the meter while each zone runs for two
          minutes and enter the flow at the property; the estimate follows.
        </p>
      </div>
    );
  }
  const change = sums.now > 0 ? Math.round((100 * (sums.after - sums.now)) / sums.now) : null;
  return (
    <div className="pr-gallons">
      <h3>
        Water in a week of {month} <span className="pr-estimate">estimate</span>
      </h3>
      <dl className="pr-bars">
        {(
          [
            ['Now', sums.now, 'open'],
            ['Then', sums.after, 'hatch'],
          ] as const
        ).map(([word, value, look]) => (
          <div key={word}>
            <dt>{word}</dt>
            <dd>
              <span
                className="pr-bar"
                data-look={look}
                style={{ width: `${(value / top) * 100}%` }}
                aria-hidden="true"
              />
              <span className="pr-bar-figure">
                about {formatEstimate('volume', value, units)} {unit}
              </span>
            </dd>
          </div>
        ))}
      </dl>
      <p className="pr-change">
        {change === null || change === 0
          ? 'About the same.'
          : `About ${formatEstimate('volume', Math.abs(sums.after - sums.now), units)} ${unit} a week ${change < 0 ? 'less' : 'more'} (${Math.abs(change)} %).`}
      </p>
      <p className="small quiet">
        Run minutes × each zone&apos;s flow, no meter read:{' '}
        {guessed === 0
          ? 'all flows were measured or looked up'
          : `${guessed} of ${plural(sums.counted, 'flow')} ${guessed === 1 ? 'is a guess' : 'are guesses'}`}
        {without === 0
          ? ''
          : `; ${plural(without, 'zone')} without a known flow ${without === 1 ? 'is' : 'are'} not in it`}
        .
      </p>
    </div>
  );
}
