import { useId } from 'react';
import { unitLabel } from '../../core/units.ts';
import { formatFigure, formatNumber } from '../parts/format.ts';
import { ChartWithTable } from '../parts/layout.tsx';
import { say } from '../state/say.ts';
import { useUnits } from '../state/use-settings.ts';
import { lowQuarter } from '../../core/agronomy/precipitation-rate.ts';
import { useWidth } from './use-width.ts';
import './science.css';

export interface CatchCanPlotProps {
  volumesMl: readonly number[];
  /** The number on each can. */
  canNumbers: readonly number[];
  meanMl: number;
  lowQuarterMeanMl: number;
  depthsInches: readonly number[];
}

const HEIGHT = 190;
const TOP = 20;
const BOTTOM = 40;
const LEFT = 40;
const RIGHT = 96;

/** A column a can, in the order they stood; the lowest quarter is hatched and named, the mean and its own mean are lines. */
export function CatchCanPlot({ volumesMl, canNumbers, meanMl, lowQuarterMeanMl, depthsInches }: CatchCanPlotProps) {
  const units = useUnits();
  const [ref, width] = useWidth<HTMLDivElement>();
  const hatch = useId();
  const low = new Set(lowQuarter(volumesMl));
  const top = Math.max(...volumesMl, 1) * 1.06;
  const plot = width - LEFT - RIGHT;
  const y = (volume: number) => TOP + (1 - volume / top) * (HEIGHT - TOP - BOTTOM);
  const step = plot / volumesMl.length;
  const bar = Math.max(2, Math.min(34, step - 3));
  const every = Math.ceil(22 / step);
  // The two lines' words must not stand on each other.
  const lowWord = Math.max(y(lowQuarterMeanMl), y(meanMl) + 17) + 4;
  const depth = unitLabel('depth', units);
  return (
    <ChartWithTable
      title={say('charts.cansTitle')}
      caption={say('charts.cansCaption', { cans: volumesMl.length, low: low.size })}
      columns={[
        { id: 'can', label: say('charts.can') },
        { id: 'volume', label: say('charts.ml'), figure: true },
        { id: 'depth', label: say('charts.depth', { unit: depth }), figure: true },
        { id: 'part', label: say('charts.part') },
      ]}
      rows={volumesMl.map((volume, index) => ({
        can: canNumbers[index],
        volume: formatNumber(volume),
        depth: formatFigure('depth', depthsInches[index], units),
        part: low.has(index) ? say('charts.lowestQuarter') : '',
      }))}
    >
      <div ref={ref} className="catch-cans">
        <svg
          width={width}
          height={HEIGHT}
          viewBox={`0 0 ${width} ${HEIGHT}`}
          role="img"
          aria-label={say('charts.cansRead', { cans: volumesMl.length, mean: meanMl, low: lowQuarterMeanMl })}
        >
          <defs>
            <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <rect width="6" height="6" className="sc-sheet" />
              <line x1="0" y1="0" x2="0" y2="6" className="sc-hatch" />
            </pattern>
          </defs>
          <text className="axis" x={LEFT - 6} y={TOP - 6} textAnchor="end">
            {say('charts.ml')}
          </text>
          {ticks(top).map((tick) => (
            <g key={tick}>
              <line className="hour-line" x1={LEFT} x2={LEFT + plot} y1={y(tick)} y2={y(tick)} />
              <text className="axis" x={LEFT - 6} y={y(tick) + 4} textAnchor="end">
                {formatNumber(tick)}
              </text>
            </g>
          ))}
          {volumesMl.map((volume, index) => {
            const middle = LEFT + step * (index + 0.5);
            return (
              <g key={canNumbers[index]}>
                <rect
                  className="sc-can"
                  x={middle - bar / 2}
                  y={y(volume)}
                  width={bar}
                  height={Math.max(1, y(0) - y(volume))}
                  fill={low.has(index) ? `url(#${hatch})` : 'var(--blue-wash)'}
                />
                {low.has(index) ? <path className="sc-low-mark" d={`M${middle - 4} ${y(volume) - 9}h8l-4 6z`} /> : null}
                {index % every === 0 ? (
                  <text className="axis" x={middle} y={y(0) + 16} textAnchor="middle">
                    {canNumbers[index]}
                  </text>
                ) : null}
                <title>
                  {say('charts.canRead', { can: String(canNumbers[index] ?? ''), volume, low: low.has(index) })}
                </title>
              </g>
            );
          })}
          <line className="sc-mean" x1={LEFT} x2={LEFT + plot} y1={y(meanMl)} y2={y(meanMl)} />
          <text className="axis sc-word" x={LEFT + plot + 5} y={y(meanMl) + 4}>
            {say('charts.mean', { value: meanMl })}
          </text>
          <line className="sc-mean low" x1={LEFT} x2={LEFT + plot} y1={y(lowQuarterMeanMl)} y2={y(lowQuarterMeanMl)} />
          <text className="axis sc-word" x={LEFT + plot + 5} y={lowWord}>
            {say('charts.lowest', { value: lowQuarterMeanMl })}
          </text>
          <text className="axis" x={LEFT + plot / 2} y={HEIGHT - 4} textAnchor="middle">
            {say('charts.axisCan')}
          </text>
        </svg>
        <ul className="week-legend small">
          <li>
            <svg width="14" height="14" aria-hidden="true">
              <rect className="sc-can" x="1" y="1" width="12" height="12" fill="var(--blue-wash)" />
            </svg>{' '}
            {say('charts.legendCan')}
          </li>
          <li>
            <svg width="14" height="14" aria-hidden="true">
              <rect className="sc-can" x="1" y="1" width="12" height="12" fill={`url(#${hatch})`} />
            </svg>{' '}
            {say('charts.legendLowest')}
          </li>
        </ul>
      </div>
    </ChartWithTable>
  );
}

function ticks(top: number): number[] {
  const rough = top / 4;
  const unit = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((times) => times * unit).find((one) => one >= rough) ?? unit * 10;
  return Array.from({ length: Math.floor(top / step) + 1 }, (_, index) => index * step);
}
