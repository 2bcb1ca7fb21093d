import type { Zone } from '../../../core/properties/contract.ts';
import type { ReviewRow } from '../../../core/programs/contract.ts';
import { unitLabel } from '../../../core/units.ts';
import { formatEstimate } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import type { ZoneThen } from '../../../core/programs/accept-plan.ts';
import { say } from '../../state/say.ts';

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
  month: number;
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
          <b>{say('pr.noGallons')}</b> {say('pr.noGallonsWhy')}
        </p>
      </div>
    );
  }
  const change = sums.now > 0 ? Math.round((100 * (sums.after - sums.now)) / sums.now) : null;
  return (
    <div className="pr-gallons">
      <h3>
        {say('pr.waterInWeek', { month })} <span className="pr-estimate">{say('pr.estimate')}</span>
      </h3>
      <dl className="pr-bars">
        {(
          [
            [say('pr.now'), sums.now, 'open'],
            [say('pr.then'), sums.after, 'hatch'],
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
                {say('parts.about', { figure: `${formatEstimate('volume', value, units)} ${unit}` })}
              </span>
            </dd>
          </div>
        ))}
      </dl>
      <p className="pr-change">
        {change === null || change === 0
          ? say('pr.aboutSame')
          : say('pr.changeOf', {
              water: { quantity: 'volume', value: Math.abs(sums.after - sums.now) },
              less: change < 0,
              share: Math.abs(change),
            })}
      </p>
      <p className="small quiet">{say('pr.restsOnFlows', { guessed, counted: sums.counted, without })}</p>
    </div>
  );
}
