import { useId, useState } from 'react';
import type { ReactNode } from 'react';
import { ToggleButton, ToggleButtonGroup } from 'react-aria-components';
import { clockOfMinutes } from '../../core/dates.ts';
import type { WaterWeek } from '../../core/programs/contract.ts';
import { formatClock, formatDay, formatMinutes, formatNumber, WEEKDAYS } from '../parts/format.ts';
import { ChartWithTable } from '../parts/layout.tsx';
import { ZoneTag, zoneTone } from '../parts/marks.tsx';
import { say, sayTold } from '../state/say.ts';
import { useWidth } from './use-width.ts';
import { assignLanes, forbiddenSpells, hourStep, weekScale } from './water-week-layout.ts';
import type { Block, WeekScale } from './water-week-layout.ts';
import './charts.css';

const LABEL = 62;
const HEAD = 24;
const FOOT = 18;
const GAP = 4;

export interface WaterWeekChartProps {
  week: WaterWeek;
  title?: string;
  /** Give two weeks the same scale to compare them. */
  scale?: WeekScale;
  /** This zone stands out, the others step back. */
  zoneId?: string | null;
  actions?: ReactNode;
  /** Today's row is marked. */
  today?: string;
  legend?: boolean;
  /** Why nothing runs although the program is set: the drawing then shows what would run. */
  off?: string | null;
  /** 'count' says only how many runs break the restriction. */
  breaches?: 'list' | 'count';
}

/** Seven days by the hours in use: a block where each zone runs, a thin line where it soaks, hatching where watering is forbidden. */
export function WaterWeekChart({
  week,
  title = say('charts.waterWeek'),
  scale,
  zoneId = null,
  actions,
  today,
  legend = true,
  breaches = 'list',
  off = null,
}: WaterWeekChartProps) {
  const [pointedAt, setPointedAt] = useState<string | null>(null);
  const hours = scale ?? weekScale([week]);
  const minutes = week.totals.reduce((sum, total) => sum + total.minutesPerWeek, 0);
  const known = week.totals.filter((total) => total.gallonsPerWeek !== null && total.minutesPerWeek > 0);
  const gallons = known.reduce((sum, total) => sum + (total.gallonsPerWeek ?? 0), 0);
  const running = week.totals.filter((total) => total.minutesPerWeek > 0);
  const amount =
    known.length === 0
      ? say('charts.aWeek', { minutes })
      : known.length < running.length
        ? say('charts.aWeekGallonsOf', { minutes, gallons, known: known.length, zones: running.length })
        : say('charts.aWeekGallons', { minutes, gallons });
  const caption =
    running.length === 0
      ? (off ?? say('charts.nothingRuns'))
      : off === null
        ? amount
        : say('charts.offWouldRun', { off, amount });
  const rows = week.days.flatMap((day) =>
    day.blocks.map((block) => ({
      day: formatDay(day.date),
      zone: `${block.station} ${block.zoneName}`,
      program: block.programName,
      from: formatClock(clockOfMinutes(block.startMinute)),
      to: formatClock(clockOfMinutes(block.startMinute + block.runMinutes)),
      minutes: formatNumber(block.runMinutes, 1),
    })),
  );
  return (
    <ChartWithTable
      title={title}
      caption={caption}
      actions={actions}
      columns={[
        { id: 'day', label: say('charts.day') },
        { id: 'zone', label: say('charts.zone') },
        { id: 'program', label: say('charts.program') },
        { id: 'from', label: say('charts.from'), figure: true },
        { id: 'to', label: say('charts.to'), figure: true },
        { id: 'minutes', label: say('charts.minutes'), figure: true },
      ]}
      rows={rows}
    >
      <WaterWeekDrawing
        week={week}
        scale={hours}
        isOff={off !== null}
        zoneId={pointedAt ?? zoneId}
        label={say('charts.titled', { title, caption })}
        {...(today === undefined ? {} : { today })}
      />
      {legend && running.length > 0 ? (
        <ToggleButtonGroup
          className="week-legend"
          aria-label={say('charts.letZoneStandOut')}
          selectionMode="single"
          selectedKeys={pointedAt === null ? [] : [pointedAt]}
          onSelectionChange={(keys) => setPointedAt([...keys].map(String)[0] ?? null)}
        >
          {running.map((total) => (
            <ToggleButton key={total.zoneId} id={total.zoneId} className="legend-zone">
              <ZoneTag station={total.station} /> {total.zoneName}{' '}
              <span className="quiet">{formatMinutes(total.minutesPerWeek)}</span>
            </ToggleButton>
          ))}
        </ToggleButtonGroup>
      ) : null}
      {week.breaches.length === 0 ? null : (
        <div className="week-breaches">
          <p>
            <strong>
              {say(off === null ? 'charts.runsBreak' : 'charts.runsWouldBreak', { count: week.breaches.length })}
            </strong>
          </p>
          {breaches === 'count' ? null : (
            <ul>
              {week.breaches.slice(0, 3).map((breach, index) => (
                <li key={index}>{sayTold(breach.text)}</li>
              ))}
            </ul>
          )}
          {week.breaches.length > 3 && breaches === 'list' ? (
            <p className="small">{say('charts.andMore', { count: week.breaches.length - 3 })}</p>
          ) : null}
        </div>
      )}
    </ChartWithTable>
  );
}

/** The drawing alone. */
export function WaterWeekDrawing({
  week,
  scale,
  zoneId = null,
  label,
  today,
  isOff = false,
}: {
  week: WaterWeek;
  scale: WeekScale;
  zoneId?: string | null;
  label: string;
  today?: string;
  /** Drawn in outline: it would run, but the water is off. */ isOff?: boolean;
}) {
  const [ref, width] = useWidth<HTMLDivElement>();
  const hatch = useId();
  const laid = week.days.map((day) => assignLanes(day.blocks));
  const lanes = Math.max(...laid.map((item) => item.lanes));
  const row = lanes === 1 ? 26 : Math.min(72, 4 + lanes * 18);
  const plot = Math.max(120, width - LABEL - 6);
  const x = (minute: number) => LABEL + ((minute - scale.from) / (scale.to - scale.from)) * plot;
  const rowsEnd = HEAD + week.days.length * (row + GAP);
  const height = rowsEnd + FOOT;
  const step = hourStep(scale, plot);
  const firstMark = Math.ceil(scale.from / (step * 60)) * step * 60;
  const marks: number[] = [];
  for (let minute = firstMark; minute <= scale.to; minute += step * 60) marks.push(minute);
  const breaks = new Set(week.breaches.map((breach) => `${breach.date} ${breach.zoneId} ${breach.startMinute}`));
  return (
    <div ref={ref} className={`water-week${isOff ? ' off' : ''}`}>
      <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
        <defs>
          <pattern id={hatch} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line x1="0" y1="0" x2="0" y2="7" className="hatch-line" />
          </pattern>
        </defs>
        {marks.map((minute) => (
          <g key={minute}>
            <line
              className={minute % 1440 === 0 ? 'hour-line midnight' : 'hour-line'}
              x1={x(minute)}
              x2={x(minute)}
              y1={HEAD - 5}
              y2={rowsEnd - GAP}
            />
            <text
              className="axis"
              x={x(minute)}
              y={HEAD - 9}
              textAnchor={minute === scale.from ? 'start' : minute >= scale.to ? 'end' : 'middle'}
            >
              {hourWord(minute)}
            </text>
          </g>
        ))}
        {week.days.map((day, index) => {
          const top = HEAD + index * (row + GAP);
          const { laneOf } = laid[index] ?? { laneOf: new Map<Block, number>() };
          const laneHeight = row / lanes;
          return (
            <g key={day.date}>
              <text className={`axis day${day.date === today ? ' now' : ''}`} x={0} y={top + row / 2 + 5}>
                {WEEKDAYS[day.weekday - 1]}
              </text>
              <text className="axis date" x={LABEL - 12} y={top + row / 2 + 5} textAnchor="end">
                {Number(day.date.slice(8))}
              </text>
              <rect
                className={`week-row${day.date === today ? ' now' : ''}`}
                x={LABEL}
                y={top}
                width={plot}
                height={row}
              />
              {forbiddenSpells(week.days, index, scale).map((spell) => (
                <rect
                  key={spell.from}
                  x={x(spell.from)}
                  y={top}
                  width={x(spell.to) - x(spell.from)}
                  height={row}
                  fill={`url(#${hatch})`}
                >
                  <title>{say('charts.notAllowed')}</title>
                </rect>
              ))}
              {day.sunriseMinute === null || day.sunriseMinute < scale.from || day.sunriseMinute > scale.to ? null : (
                <g className="sunrise">
                  <line x1={x(day.sunriseMinute)} x2={x(day.sunriseMinute)} y1={top} y2={top + row} />
                  <title>{say('charts.sunriseAt', { clock: clockOfMinutes(day.sunriseMinute) })}</title>
                </g>
              )}
              {day.blocks.map((block) => {
                const lane = laneOf.get(block) ?? 0;
                const left = x(block.startMinute);
                const wide = Math.max(2.5, x(block.startMinute + block.runMinutes) - left);
                const blockTop = top + lane * laneHeight + 1.5;
                const blockHeight = laneHeight - 6;
                const broken = breaks.has(`${day.date} ${block.zoneId} ${block.startMinute}`);
                const words = formatNumber(block.runMinutes, 0);
                return (
                  <g
                    key={`${block.zoneId} ${block.startMinute} ${block.programName}`}
                    className={zoneId !== null && zoneId !== block.zoneId ? 'faded' : ''}
                  >
                    {block.soakAfterMinutes > 0 ? (
                      <line
                        className={`soak ${zoneTone(block.station)}`}
                        x1={left + wide}
                        x2={Math.min(x(scale.to), x(block.startMinute + block.runMinutes + block.soakAfterMinutes))}
                        y1={blockTop + blockHeight + 2}
                        y2={blockTop + blockHeight + 2}
                      />
                    ) : null}
                    <rect
                      className={`run ${zoneTone(block.station)}${broken ? ' broken' : ''}`}
                      x={left + 0.5}
                      y={blockTop}
                      width={Math.max(1.5, wide - 1)}
                      height={blockHeight}
                      rx="1.5"
                    />
                    {wide > words.length * 7.5 + 5 && blockHeight >= 12 ? (
                      <text
                        className="run-minutes"
                        x={left + wide / 2}
                        y={blockTop + blockHeight / 2 + 4.5}
                        textAnchor="middle"
                      >
                        {words}
                      </text>
                    ) : null}
                    {broken && wide > 12 ? (
                      <path className="broken-mark" d={`M${left + wide / 2} ${blockTop - 3}l4.5 7h-9z`} />
                    ) : null}
                    <title>
                      {broken
                        ? say('charts.runBreaks', { run: runWords(day.weekday, block) })
                        : runWords(day.weekday, block)}
                    </title>
                  </g>
                );
              })}
            </g>
          );
        })}
        {sunriseMark(week, scale, x, rowsEnd - GAP)}
      </svg>
    </div>
  );
}

/** Sunrise of the week's first day, said under the rows: its light and wind end good watering hours. */
function sunriseMark(week: WaterWeek, scale: WeekScale, x: (minute: number) => number, top: number) {
  const sunrise = week.days[0]?.sunriseMinute;
  if (sunrise === null || sunrise === undefined || sunrise < scale.from || sunrise > scale.to) return null;
  const right = sunrise > (scale.from + scale.to) / 2;
  return (
    <g className="sun" transform={`translate(${x(sunrise)} ${top})`}>
      <path d="M-5 12a5 5 0 0 1 10 0zM0 4v1.5M-6.5 7l1.2 1M6.5 7l-1.2 1" />
      <text className="axis" x={right ? -11 : 11} y="12" textAnchor={right ? 'end' : 'start'}>
        {say('charts.sunrise', { clock: clockOfMinutes(sunrise) })}
      </text>
    </g>
  );
}

function hourWord(minute: number): string {
  const hour = Math.floor((minute % 1440) / 60);
  if (hour === 0) return say('charts.midnight');
  if (hour === 12) return say('charts.noon');
  return hour < 12 ? say('charts.am', { hour }) : say('charts.pm', { hour: hour - 12 });
}

function runWords(weekday: number, block: Block): string {
  return say('charts.run', {
    weekday,
    clock: clockOfMinutes(block.startMinute),
    station: block.station,
    zone: block.zoneName,
    minutes: block.runMinutes,
    program: block.programName,
  });
}
