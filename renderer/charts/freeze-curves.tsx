import { useState } from 'react';
import { dateOfMonthDay, dayOfYear } from '../../core/dates.ts';
import type { FreezeDates } from '../../core/weather/contract.ts';
import { fromStored, toStored, unitLabel } from '../../core/units.ts';
import { formatMeasure, MONTHS } from '../parts/format.ts';
import { NumberField } from '../parts/fields.tsx';
import { ChartWithTable, ErrorNote } from '../parts/layout.tsx';
import { say, words } from '../state/say.ts';
import { useRequest } from '../state/use-request.ts';
import { useUnits } from '../state/use-settings.ts';
import { useWidth } from './use-width.ts';
import './charts.css';

type Points = FreezeDates['firstAutumn']['byDate'];

const TOP = 26;
const HEIGHT = 150;
const LEFT = 42;
const BELOW = 26;
/** °F; usual marks of a light frost, a freeze and a hard freeze: common practice, no source. */
const USUAL = [36, 32, 28];
const AUGUST = 8;
const SIDES = ['firstAutumn', 'lastSpring'] as const;

/** Days since 1 August of a year of 365 days. */
const daysSinceAugust = (monthDay: string) =>
  (dayOfYear(dateOfMonthDay(2001, monthDay)) - dayOfYear('2001-08-01') + 365) % 365;
const dayName = (monthDay: string | null) =>
  monthDay === null ? '—' : words().dayOfMonth(dateOfMonthDay(2001, monthDay));

/** How likely the first cold day of autumn has come by a date, and the last of spring is still to come, of a station's records. */
export function FreezeCurves({ stationId, stationName }: { stationId: string; stationName: string }) {
  const units = useUnits();
  const [thresholds, setThresholds] = useState(USUAL);
  const ask = (thresholdF: number) => ({ stationId, thresholdF });
  const answers = [
    useRequest('weather.freezeDates', ask(thresholds[0]!)),
    useRequest('weather.freezeDates', ask(thresholds[1]!)),
    useRequest('weather.freezeDates', ask(thresholds[2]!)),
  ];
  const failed = answers.find((one) => one.error !== null);
  if (failed !== undefined) return <ErrorNote error={failed.error!} onRetry={failed.reload} />;
  const found = answers.map((one) => one.data).filter((one) => one !== undefined);
  if (found.length < answers.length || found[0] === undefined) return null;
  const shown = (thresholdF: number) => Number(fromStored('temperature', thresholdF, units).toFixed(1));
  const name = (at: number) => formatMeasure('temperature', thresholds[at]!, units);
  const seasonWord = { firstAutumn: say('charts.firstAutumn'), lastSpring: say('charts.lastSpring') };
  const rows = SIDES.flatMap((side) =>
    found[0]!.firstAutumn.byDate.map(({ chance }, at) => ({
      what: seasonWord[side],
      chance: say('charts.percent', { percent: chance }),
      ...Object.fromEntries(found.map((one, index) => [`t${index}`, dayName(one[side].byDate[at]!.date)])),
    })),
  );
  const thin = found.some((one) => one.thin);
  return (
    <div className="freeze-curves">
      <ChartWithTable
        title={say('charts.freezeOf', { station: stationName })}
        caption={say('charts.freezeHow', {
          // A warmer threshold may use a season more; the fewest is what holds of all.
          autumns: Math.min(...found.map((one) => one.firstAutumn.seasons)),
          springs: Math.min(...found.map((one) => one.lastSpring.seasons)),
        })}
        columns={[
          { id: 'what', label: say('charts.what') },
          { id: 'chance', label: say('charts.chance'), figure: true },
          ...found.map((_, at) => ({ id: `t${at}`, label: name(at), figure: true })),
        ]}
        rows={rows}
      >
        <Drawing found={found} names={found.map((_, at) => name(at))} />
      </ChartWithTable>
      {thin ? <p className="small">{say('charts.freezeThin')}</p> : null}
      <div className="freeze-thresholds">
        {thresholds.map((thresholdF, at) => (
          <NumberField
            key={at}
            label={say('charts.threshold', { number: at + 1 })}
            unit={unitLabel('temperature', units)}
            value={shown(thresholdF)}
            digits={1}
            min={fromStored('temperature', -40, units)}
            max={fromStored('temperature', 70, units)}
            onChange={(value) => {
              // Left without a change, what was rounded for the screen must not drift.
              if (value === null || value === shown(thresholdF)) return;
              setThresholds((old) =>
                old.map((one, index) => (index === at ? toStored('temperature', value, units) : one)),
              );
            }}
          />
        ))}
      </div>
    </div>
  );
}

function Drawing({ found, names }: { found: readonly FreezeDates[]; names: readonly string[] }) {
  const [ref, width] = useWidth<HTMLDivElement>();
  const x = (monthDay: string) => LEFT + (daysSinceAugust(monthDay) / 365) * (width - LEFT - 4);
  const y = (chance: number) => TOP + HEIGHT - ((chance - 10) / 80) * HEIGHT;
  // A last freeze of spring lies on the right, a first one of autumn on the left, since the year drawn begins in August.
  const path = (points: Points) =>
    points
      .filter((point) => point.date !== null)
      .map((point, at) => `${at === 0 ? 'M' : 'L'}${x(point.date!).toFixed(1)} ${y(point.chance).toFixed(1)}`)
      .join('');
  return (
    <div ref={ref}>
      <svg
        width={width}
        height={TOP + HEIGHT + BELOW}
        viewBox={`0 0 ${width} ${TOP + HEIGHT + BELOW}`}
        role="img"
        aria-label={found
          .map((one, at) =>
            say('charts.freezeRead', {
              threshold: names[at]!,
              autumn: dayName(one.firstAutumn.p50),
              spring: dayName(one.lastSpring.p50),
            }),
          )
          .join(' ')}
      >
        {[10, 50, 90].map((chance) => (
          <g key={chance}>
            <line className="hour-line" x1={LEFT} x2={width - 4} y1={y(chance)} y2={y(chance)} />
            <text className="axis" x="0" y={y(chance) + 5}>
              {say('charts.percent', { percent: chance })}
            </text>
          </g>
        ))}
        {MONTHS.map((_, at) => {
          const month = ((at + AUGUST - 1) % 12) + 1;
          const first = `${String(month).padStart(2, '0')}-01`;
          return (
            <g key={month}>
              <line className="hour-line" x1={x(first)} x2={x(first)} y1={TOP} y2={TOP + HEIGHT} />
              <text className="axis" x={x(first) + 3} y={TOP + HEIGHT + 18}>
                {width < 560 ? MONTHS[month - 1]!.slice(0, 1) : MONTHS[month - 1]}
              </text>
            </g>
          );
        })}
        {found.map((one, at) =>
          SIDES.map((side) => (
            <path key={`${side} ${at}`} className={`freeze-curve of-${at}`} d={path(one[side].byDate)} />
          )),
        )}
      </svg>
      <ul className="week-legend small">
        {found.map((_, at) => (
          <li key={at}>
            <svg width="30" height="10" aria-hidden="true">
              <path className={`freeze-curve of-${at}`} d="M1 5H29" />
            </svg>{' '}
            {say('charts.freezeAt', { threshold: names[at]! })}
          </li>
        ))}
      </ul>
    </div>
  );
}
