import { byForce } from '../../core/programs/in-force.ts';
import { useId } from 'react';
import { addDays, dateOfMonthDay, dayOfYear, daysInYear } from '../../core/dates.ts';
import type { ProgramRevision } from '../../core/programs/contract.ts';
import type { Settings } from '../../core/settings/contract.ts';
import type { Visit } from '../../core/visits/contract.ts';
import { say } from '../state/say.ts';
import { formatDate, MONTHS } from '../parts/format.ts';
import { ChartWithTable } from '../parts/layout.tsx';
import { VISIT_STATE_WORDS, VISIT_WORDS } from '../parts/marks.tsx';
import { useWidth } from './use-width.ts';
import './charts.css';

export interface SeasonRibbonProps {
  year: number;
  today: string;
  settings: Pick<Settings, 'startUpFrom' | 'startUpTo' | 'winterizationFrom' | 'winterizationTo'>;
  season: { startedUpOn: string | null; winterizedOn: string | null };
  visits: readonly Visit[];
  /** Revisions of the program whose percentage is drawn, any order. */
  revisions?: readonly ProgramRevision[];
  servicesStartUp?: boolean;
  servicesWinterization?: boolean;
}

const TOP = 22;
const PERCENT = 46;
const BAND = 20;
const MARKS = 26;

/** A property's year on one strip: windows for start-up and winterization, when water was on, seasonal percentages, visits. */
export function SeasonRibbon({
  year,
  today,
  settings,
  season,
  visits,
  revisions = [],
  servicesStartUp = true,
  servicesWinterization = true,
}: SeasonRibbonProps) {
  const [ref, width] = useWidth<HTMLDivElement>();
  const hatch = useId();
  const dots = useId();
  const days = daysInYear(year);
  const plot = width - 4;
  const x = (date: string) =>
    date < `${year}-01-01` ? 2 : date > `${year}-12-31` ? 2 + plot : 2 + ((dayOfYear(date) - 1) / days) * plot;
  const inYear = visits.filter(
    (visit) => (visit.doneOn ?? visit.date).startsWith(String(year)) && visit.state !== 'cancelled',
  );
  const steps = percentSteps(revisions, year);
  const top = Math.max(100, ...steps.map((step) => step.percent));
  const bandTop = TOP + PERCENT + 6;
  const percentY = (percent: number) => TOP + PERCENT - (percent / top) * (PERCENT - 10);
  const marksTop = bandTop + BAND + 6;
  const height = marksTop + MARKS;
  const waterFrom = season.startedUpOn;
  const waterTo = season.winterizedOn ?? (today < `${year}-12-31` ? today : `${year}-12-31`);
  const rows = [
    ...inYear.map((visit) => ({
      when: visit.doneOn ?? visit.date,
      what: VISIT_WORDS[visit.kind],
      how: VISIT_STATE_WORDS[visit.state],
    })),
    ...steps
      .filter((step) => step.from >= `${year}-01-01`)
      .map((step) => ({
        when: step.from,
        what: say('charts.seasonalPercentage'),
        how: say('charts.percent', { percent: step.percent }),
      })),
    ...(season.startedUpOn === null
      ? []
      : [{ when: season.startedUpOn, what: say('charts.waterOn'), how: say('charts.startedUp') }]),
    ...(season.winterizedOn === null
      ? []
      : [{ when: season.winterizedOn, what: say('charts.waterOff'), how: say('charts.winterized') }]),
  ]
    .sort((a, b) => (a.when < b.when ? -1 : 1))
    .map((row) => ({ ...row, when: formatDate(row.when) }));
  const windows = [
    ...(servicesStartUp
      ? [{ from: settings.startUpFrom, to: settings.startUpTo, name: say('charts.startUpWindow'), pattern: dots }]
      : []),
    ...(servicesWinterization
      ? [
          {
            from: settings.winterizationFrom,
            to: settings.winterizationTo,
            name: say('charts.winterizationWindow'),
            pattern: hatch,
          },
        ]
      : []),
  ];
  return (
    <ChartWithTable
      title={say('charts.season', { year })}
      columns={[
        { id: 'when', label: say('charts.date') },
        { id: 'what', label: say('charts.what') },
        { id: 'how', label: say('charts.state') },
      ]}
      rows={rows}
    >
      <div ref={ref} className="season-ribbon">
        <svg
          width={width}
          height={height}
          viewBox={`0 0 ${width} ${height}`}
          role="img"
          aria-label={say('charts.seasonRead', {
            year,
            start:
              season.startedUpOn === null
                ? say('charts.notStartedUp')
                : say('charts.startedUpOn', { date: season.startedUpOn }),
            end:
              season.winterizedOn === null
                ? say('charts.notWinterized')
                : say('charts.winterizedOn', { date: season.winterizedOn }),
            visits: inYear.length,
          })}
        >
          <defs>
            <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <line x1="0" y1="0" x2="0" y2="6" className="freeze-line" />
            </pattern>
            <pattern id={dots} width="6" height="6" patternUnits="userSpaceOnUse">
              <circle cx="2" cy="2" r="1" className="start-dot" />
            </pattern>
          </defs>
          {MONTHS.map((month, index) => {
            const first = `${year}-${String(index + 1).padStart(2, '0')}-01`;
            return (
              <g key={month}>
                <line className="hour-line" x1={x(first)} x2={x(first)} y1={TOP - 4} y2={bandTop + BAND} />
                <text className="axis" x={x(first) + 4} y={TOP - 8}>
                  {width < 460 ? month.slice(0, 1) : month}
                </text>
              </g>
            );
          })}
          <rect className="ribbon-band" x="2" y={bandTop} width={plot} height={BAND} />
          {windows.map((spell) => {
            const first = dateOfMonthDay(year, spell.from);
            const last = dateOfMonthDay(year, spell.to);
            const from = x(first);
            const to = x(addDays(last, 1));
            return (
              <g key={spell.name}>
                <rect x={from} y={TOP} width={to - from} height={PERCENT + 6 + BAND} fill={`url(#${spell.pattern})`} />
                <rect className="window-edge" x={from} y={bandTop} width={to - from} height={BAND} />
                <title>{say('charts.spell', { name: spell.name, first, last })}</title>
              </g>
            );
          })}
          {waterFrom === null || !waterFrom.startsWith(String(year)) ? null : (
            <g>
              <rect
                className="water-on"
                x={x(waterFrom)}
                y={bandTop + 5}
                width={Math.max(2, x(waterTo) - x(waterFrom))}
                height={BAND - 10}
                rx="2"
              />
              <title>{say('charts.waterOn')}</title>
            </g>
          )}
          {steps.map((step, index) => {
            const to = steps[index + 1]?.from ?? (today < `${year}-12-31` ? today : `${year}-12-31`);
            const left = x(step.from);
            const right = x(to);
            if (right <= left) return null;
            return (
              <g key={step.from}>
                <path
                  className="percent-line"
                  d={`M${left} ${percentY(steps[index - 1]?.percent ?? step.percent)}V${percentY(step.percent)}H${right}`}
                />
                {right - left > 44 ? (
                  <text className="axis percent" x={left + 5} y={percentY(step.percent) + 15}>
                    {say('charts.percent', { percent: step.percent })}
                  </text>
                ) : null}
              </g>
            );
          })}
          {inYear.map((visit) => {
            const at = x(visit.doneOn ?? visit.date);
            return (
              <g key={visit.id} className={`visit-mark ${visit.state}`}>
                <line x1={at} x2={at} y1={bandTop + BAND} y2={marksTop + 5} />
                {visit.kind === 'winterization' ? (
                  <path d={`M${at} ${marksTop + 4}l6 6-6 6-6-6z`} />
                ) : visit.kind === 'start-up' ? (
                  <path d={`M${at} ${marksTop + 4}l6 11h-12z`} />
                ) : (
                  <circle cx={at} cy={marksTop + 10} r="5" />
                )}
                <title>
                  {say('charts.visit', {
                    kind: VISIT_WORDS[visit.kind],
                    state: VISIT_STATE_WORDS[visit.state],
                    date: visit.doneOn ?? visit.date,
                  })}
                </title>
              </g>
            );
          })}
          {today.startsWith(String(year)) ? (
            <g className="today-line">
              <line x1={x(today)} x2={x(today)} y1={TOP - 2} y2={bandTop + BAND} />
              <text className="axis now" x={Math.min(x(today) + 4, width - 36)} y={TOP + 8}>
                {say('charts.today')}
              </text>
            </g>
          ) : null}
        </svg>
        <ul className="week-legend small">
          <li>
            <svg width="14" height="14" aria-hidden="true">
              <rect className="water-on" y="3" width="14" height="8" rx="2" />
            </svg>{' '}
            {say('charts.legendWaterOn')}
          </li>
          {windows.map((spell) => (
            <li key={spell.name}>
              <svg width="18" height="14" aria-hidden="true">
                <rect width="18" height="14" fill={`url(#${spell.pattern})`} />
                <rect className="window-edge" x="0.5" y="0.5" width="17" height="13" />
              </svg>{' '}
              {spell.name}
            </li>
          ))}
          <li>
            <svg width="14" height="14" aria-hidden="true" className="visit-mark done">
              <path d="M7 1l6 11H1z" />
            </svg>{' '}
            {say('charts.legendStartUp')}
          </li>
          <li>
            <svg width="14" height="14" aria-hidden="true" className="visit-mark done">
              <path d="M7 1l6 6-6 6-6-6z" />
            </svg>{' '}
            {say('charts.legendWinterization')}
          </li>
          <li>
            <svg width="14" height="14" aria-hidden="true" className="visit-mark done">
              <circle cx="7" cy="7" r="5" />
            </svg>{' '}
            {say('charts.legendOther')}
          </li>
          <li>
            <svg width="14" height="14" aria-hidden="true" className="visit-mark planned">
              <circle cx="7" cy="7" r="5" />
            </svg>{' '}
            {say('charts.legendPlanned')}
          </li>
        </ul>
      </div>
    </ChartWithTable>
  );
}

function percentSteps(revisions: readonly ProgramRevision[], year: number): Array<{ from: string; percent: number }> {
  const sorted = [...revisions].filter((revision) => revision.effectiveDate <= `${year}-12-31`).sort(byForce);
  const steps: Array<{ from: string; percent: number }> = [];
  for (const revision of sorted) {
    const from = revision.effectiveDate < `${year}-01-01` ? `${year}-01-01` : revision.effectiveDate;
    const percent = revision.enabled ? revision.seasonalPercent : 0;
    const last = steps.at(-1);
    if (last !== undefined && last.from === from) last.percent = percent;
    else if (last === undefined || last.percent !== percent) steps.push({ from, percent });
  }
  return steps;
}
