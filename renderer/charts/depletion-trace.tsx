import { useId, useState } from 'react';
import type { OutputOf } from '../../core/contract/index.ts';
import { unitLabel } from '../../core/units.ts';
import { currentReader, say, sayTold } from '../state/say.ts';
import { formatDate, formatFigure, formatMonth } from '../parts/format.ts';
import { ChartWithTable } from '../parts/layout.tsx';
import { useUnits } from '../state/use-settings.ts';
import { balanceSentences } from './trace-words.ts';
import { useWidth } from './use-width.ts';
import './science.css';

export type Trace = OutputOf<'zone.trace'>;

export interface DepletionTraceProps {
  zoneName: string;
  inForce?: Trace;
  advice?: Trace;
}

const LEFT = 92;
const RIGHT = 10;
const HEAD = 22;
const SOIL = 210;
const BARS = 46;
const GAP = 14;

/** Soil moisture by day between full and empty, with the refill point; rain from above, irrigation from below, all on one scale. */
export function DepletionTrace({ zoneName, inForce, advice }: DepletionTraceProps) {
  const units = useUnits();
  const [chosen, setChosen] = useState<number | null>(null);
  const both = [
    ...(inForce === undefined ? [] : [{ id: 'set' as const, word: say('charts.asSet'), trace: inForce }]),
    ...(advice === undefined ? [] : [{ id: 'advised' as const, word: say('charts.asAdvised'), trace: advice }]),
  ];
  const first = both[0]?.trace;
  if (first === undefined || first.days.length === 0) return null;
  const depth = unitLabel('depth', units);
  const day = chosen === null ? null : Math.min(chosen, first.days.length - 1);
  return (
    <ChartWithTable
      title={say('charts.soilOf', { zone: zoneName })}
      caption={say('charts.weatherBy', {
        station: first.weather.stationName,
        method: sayTold(first.weather.method),
        guess: first.weather.isGuess,
      })}
      columns={[
        { id: 'date', label: say('charts.day') },
        { id: 'et', label: say('charts.plantsUsed', { unit: depth }), figure: true },
        { id: 'rain', label: say('charts.rainIn', { unit: depth }), figure: true },
        ...both.flatMap(({ id, word }) => [
          { id: `${id}-in`, label: say('charts.irrigationOf', { how: word, unit: depth }), figure: true },
          { id: `${id}-drain`, label: say('charts.drainedOf', { how: word, unit: depth }), figure: true },
          { id: `${id}-dry`, label: say('charts.shortOf', { how: word, unit: depth }), figure: true },
        ]),
      ]}
      rows={first.days.map((one, index) => ({
        date: formatDate(one.date),
        et: formatFigure('depth', one.etInches, units),
        rain: formatFigure('depth', one.rainInches, units),
        ...Object.fromEntries(
          both.flatMap(({ id, trace }) => {
            const at = trace.days[index];
            return [
              [`${id}-in`, formatFigure('depth', at?.irrigationInches, units)],
              [`${id}-drain`, formatFigure('depth', at?.drainageInches, units)],
              [`${id}-dry`, formatFigure('depth', at?.depletionInches, units)],
            ];
          }),
        ),
      }))}
    >
      <Drawing both={both} day={day} onDay={setChosen} zoneName={zoneName} />
      <div className="sc-readout">
        <label className="no-print">
          <span className="field-label">{say('charts.day')}</span>
          <input
            type="range"
            min={0}
            max={first.days.length - 1}
            value={day ?? 0}
            aria-valuetext={day === null ? say('charts.noneChosen') : readout(both, day)}
            onChange={(event) => setChosen(Number(event.target.value))}
          />
        </label>
        <p aria-hidden="true">
          {day === null ? <span className="quiet">{say('charts.pointAtDay')}</span> : readout(both, day)}
        </p>
      </div>
      <Totals both={both} />
    </ChartWithTable>
  );

  function readout(traces: typeof both, index: number): string {
    const one = traces[0]?.trace.days[index];
    if (one === undefined) return '';
    const figure = (value: number | undefined) => `${formatFigure('depth', value, units)} ${depth}`;
    return [
      say('charts.dayRead', { date: one.date, used: figure(one.etInches), rain: figure(one.rainInches) }),
      ...traces.map(({ id, trace }) =>
        say('charts.traceRead', {
          how: headOf(id),
          irrigation: figure(trace.days[index]?.irrigationInches),
          short: figure(trace.days[index]?.depletionInches),
        }),
      ),
      '',
    ]
      .join('. ')
      .trim();
  }
}

const headOf = (id: 'set' | 'advised') => say(id === 'set' ? 'charts.AsSet' : 'charts.AsAdvised');

type Both = Array<{ id: 'set' | 'advised'; word: string; trace: Trace }>;

function Drawing({
  both,
  day,
  onDay,
  zoneName,
}: {
  both: Both;
  day: number | null;
  onDay: (day: number | null) => void;
  zoneName: string;
}) {
  const units = useUnits();
  const [ref, width] = useWidth<HTMLDivElement>(900);
  const dots = useId();
  const hatch = useId();
  const first = both[0]?.trace;
  if (first === undefined) return null;
  const { days, availableWaterInches: available, allowedDepletionInches: allowed } = first;
  const plot = Math.max(160, width - LEFT - RIGHT);
  const step = plot / days.length;
  const x = (index: number) => LEFT + (index + 0.5) * step;
  const deepest = Math.max(available, ...both.flatMap(({ trace }) => trace.days.map((one) => one.depletionInches)));
  const rainTop = HEAD;
  const soilTop = rainTop + BARS + GAP;
  const soilY = (depletion: number) => soilTop + (depletion / deepest) * SOIL;
  const stripTop = (index: number) => soilTop + SOIL + GAP + index * (BARS + GAP);
  const height = stripTop(both.length) + 4;
  const tallest = Math.max(
    0.05,
    ...both.flatMap(({ trace }) => trace.days.map((one) => Math.max(one.rainInches, one.irrigationInches))),
  );
  const bar = (inches: number) => (inches / tallest) * BARS;
  const wide = Math.max(1, Math.min(10, step * 0.8));
  const months = days
    .map((one, index) => ({ date: one.date, index }))
    .filter(({ date }, index) => index === 0 || date.endsWith('-01'));
  const monthWidth = step * 30;
  const unit = unitLabel('depth', units);
  const pick = (clientX: number, box: DOMRect) => {
    const at = Math.floor((clientX - box.left - LEFT) / step);
    onDay(at >= 0 && at < days.length ? at : null);
  };
  return (
    <div ref={ref} className="sc-trace">
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={say('charts.soilRead', {
          zone: zoneName,
          from: days[0]?.date ?? '',
          to: days.at(-1)?.date ?? '',
          below: both
            .map(({ word, trace }) => say('charts.daysBelow', { how: word, days: trace.totals.daysBelowRefill }))
            .join('; '),
        })}
        onPointerMove={(event) => pick(event.clientX, event.currentTarget.getBoundingClientRect())}
      >
        <defs>
          <pattern id={dots} width="4" height="4" patternUnits="userSpaceOnUse">
            <rect width="4" height="4" className="sc-slate-wash" />
            <circle cx="2" cy="2" r="1.1" className="sc-slate" />
          </pattern>
          <pattern id={hatch} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line x1="0" y1="0" x2="0" y2="7" className="sc-dry-line" />
          </pattern>
        </defs>
        {months.map(({ date, index }) => (
          <g key={date}>
            <line
              className="hour-line"
              x1={LEFT + index * step}
              x2={LEFT + index * step}
              y1={HEAD - 6}
              y2={height - 4}
            />
            {index === 0 && days.length > 45 && !date.endsWith('-01') ? null : (
              <text className="axis" x={LEFT + index * step + 3} y={HEAD - 8}>
                {monthWidth < 34 ? formatMonth(date).slice(0, 1) : formatMonth(date)}
                {(date.slice(5, 7) === '01' || index === 0) && monthWidth > 74 ? ` ${date.slice(0, 4)}` : ''}
              </text>
            )}
          </g>
        ))}
        <text className="axis sc-word" x={0} y={rainTop + 14}>
          {say('charts.rain')}
        </text>
        <text className="axis" x={0} y={rainTop + 30}>
          {formatFigure('depth', first.totals.rainInches, units)} {unit}
        </text>
        <line className="hour-line" x1={LEFT} x2={LEFT + plot} y1={rainTop} y2={rainTop} />
        {days.map((one, index) =>
          one.rainInches <= 0 ? null : (
            <rect
              key={one.date}
              x={x(index) - wide / 2}
              y={rainTop}
              width={wide}
              height={Math.max(1, bar(one.rainInches))}
              fill={`url(#${dots})`}
              className="sc-rain"
            />
          ),
        )}

        <rect className="sc-soil" x={LEFT} y={soilTop} width={plot} height={SOIL} />
        <rect
          x={LEFT}
          y={soilY(allowed)}
          width={plot}
          height={Math.max(0, soilTop + SOIL - soilY(allowed))}
          fill={`url(#${hatch})`}
        />
        <line className="sc-full" x1={LEFT} x2={LEFT + plot} y1={soilTop} y2={soilTop} />
        <line className="sc-refill" x1={LEFT} x2={LEFT + plot} y1={soilY(allowed)} y2={soilY(allowed)} />
        <text className="axis sc-word" x={0} y={soilTop + 5}>
          {say('charts.full')}
        </text>
        <text className="axis sc-word" x={0} y={soilY(allowed) + 1}>
          {say('charts.refillPoint')}
        </text>
        <text className="axis" x={0} y={soilY(allowed) + 16}>
          −{formatFigure('depth', allowed, units)} {unit}
        </text>
        {soilTop + SOIL - soilY(allowed) > 44 ? (
          <text className="axis" x={0} y={soilTop + SOIL - 2}>
            −{formatFigure('depth', deepest, units)} {unit}
          </text>
        ) : null}
        {both.map(({ id, trace }) => (
          <path
            key={id}
            className={`sc-line ${id}`}
            d={trace.days
              .map(
                (one, index) =>
                  `${index === 0 ? 'M' : 'L'}${x(index).toFixed(1)} ${soilY(one.depletionInches).toFixed(1)}`,
              )
              .join('')}
          />
        ))}
        {both.map(({ id, word, trace }, strip) => {
          const base = stripTop(strip) + BARS;
          return (
            <g key={id}>
              <text className="axis sc-word" x={0} y={base - BARS + 14}>
                {say('charts.irrigation')}
              </text>
              <text className="axis" x={0} y={base - BARS + 29}>
                {word}
              </text>
              <text className="axis" x={0} y={base - BARS + 44}>
                {formatFigure('depth', trace.totals.irrigationInches, units)} {unit}
              </text>
              <line className="hour-line" x1={LEFT} x2={LEFT + plot} y1={base} y2={base} />
              {trace.days.map((one, index) =>
                one.irrigationInches <= 0 ? null : (
                  <rect
                    key={one.date}
                    className={`sc-irrigation ${id}`}
                    x={x(index) - wide / 2}
                    y={base - Math.max(1, bar(one.irrigationInches))}
                    width={wide}
                    height={Math.max(1, bar(one.irrigationInches))}
                  />
                ),
              )}
            </g>
          );
        })}
        {day === null ? null : <line className="sc-cursor" x1={x(day)} x2={x(day)} y1={HEAD - 4} y2={height - 4} />}
        {day === null
          ? null
          : both.map(({ id, trace }) => (
              <circle
                key={id}
                className={`sc-dot ${id}`}
                cx={x(day)}
                cy={soilY(trace.days[day]?.depletionInches ?? 0)}
                r="4.5"
              />
            ))}
      </svg>
      <ul className="week-legend small">
        {both.map(({ id, word }) => (
          <li key={id}>
            <svg width="34" height="12" aria-hidden="true">
              <line className={`sc-line ${id}`} x1="1" x2="33" y1="6" y2="6" />
            </svg>{' '}
            {say('charts.soilHow', { how: word })}
          </li>
        ))}
        <li>
          <svg width="20" height="14" aria-hidden="true">
            <rect width="20" height="14" fill={`url(#${hatch})`} className="sc-box" />
          </svg>{' '}
          {say('charts.drierThanLiked')}
        </li>
        <li>
          <svg width="14" height="14" aria-hidden="true">
            <rect width="14" height="14" fill={`url(#${dots})`} className="sc-rain" />
          </svg>{' '}
          {say('charts.legendRain')}
        </li>
        <li>
          <svg width="14" height="14" aria-hidden="true">
            <rect x="1" width="12" height="14" className="sc-irrigation set" />
          </svg>{' '}
          {say('charts.legendIrrigation')}
        </li>
        <li className="quiet">{say('charts.oneScale', { top: formatFigure('depth', tallest, units), unit })}</li>
      </ul>
    </div>
  );
}

function Totals({ both }: { both: Both }) {
  return (
    <div className="sc-totals">
      {both.map(({ id, trace }) => (
        <section key={id}>
          <h4>{headOf(id)}</h4>
          <p className={trace.totals.daysBelowRefill > 0 ? 'sc-days' : ''}>
            <b>{say('charts.days', { count: trace.totals.daysBelowRefill })}</b>
            {say('charts.belowRefill')}
          </p>
          {balanceSentences(trace, currentReader()).map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </section>
      ))}
    </div>
  );
}
