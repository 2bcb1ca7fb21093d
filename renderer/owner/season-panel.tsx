import {
  Area,
  CartesianGrid,
  ComposedChart,
  ReferenceLine,
  ResponsiveContainer,
  Tooltip,
  XAxis,
  YAxis,
} from 'recharts';
import { ChartWithTable } from '../parts/layout.tsx';
import { formatCount, formatDate, formatMonth } from '../parts/format.ts';
import { say } from '../state/say.ts';

import { seasonSentence, weekCurve, type Progress } from './owner-words.ts';
import { axisText, ChartPatterns, patternFill, tooltipStyle } from './chart-dress.tsx';

/** Start-ups or winterizations of a year: one big figure, the sentence that says what it means, and how it grew. */
export function SeasonPanel({
  title,
  progress,
  what,
  isPast,
}: {
  title: string;
  progress: Progress;
  what: 'start-up' | 'winterization';
  isPast: boolean;
}) {
  const { serviced, done, booked, notBooked } = progress;
  const points = weekCurve(progress.byWeek);
  if (serviced === 0) {
    return (
      <article className="rv-panel">
        <h3>{title}</h3>
        <p className="rv-sentence">
          {say(what === 'start-up' ? 'review.notMarkedStartUp' : 'review.notMarkedWinterization')}
        </p>
      </article>
    );
  }
  return (
    <article className="rv-panel" aria-label={title}>
      <h3>{title}</h3>
      <p className="rv-big">
        <span className="rv-figure">{formatCount(done)}</span>{' '}
        <span className="rv-of">{say('review.of', { count: serviced })}</span>
      </p>
      <p className="rv-sentence">{seasonSentence(progress, what, isPast)}</p>
      <PartBar
        parts={[
          { word: say('review.done'), count: done, look: 'solid' },
          { word: say('review.booked'), count: booked, look: 'hatch' },
          { word: say(isPast ? 'review.notDone' : 'review.notBooked'), count: notBooked, look: 'open' },
        ]}
      />
      {points.length === 0 ? (
        <p className="rv-quiet">{say('review.noWeek')}</p>
      ) : (
        <ChartWithTable
          title={say('review.weekByWeek', { title })}
          columns={[
            { id: 'week', label: say('review.weekFrom') },
            { id: 'done', label: say('review.inTheWeek'), figure: true },
            { id: 'soFar', label: say('review.soFar'), figure: true },
          ]}
          rows={points.slice(1).map((point) => ({
            week: formatDate(point.weekStart),
            done: formatCount(point.done),
            soFar: formatCount(point.soFar),
          }))}
        >
          <ResponsiveContainer width="100%" height={190}>
            <ComposedChart
              data={points}
              margin={{ top: 14, right: 12, bottom: 0, left: 0 }}
              title={say('review.countedUp', { title })}
              desc={say('review.curveRead', { done, serviced, what, by: points[points.length - 1]?.by ?? '' })}
            >
              <ChartPatterns id={what} />
              <CartesianGrid stroke="var(--rule)" vertical={false} />
              <XAxis
                dataKey="by"
                tickFormatter={shortDay}
                tick={axisText}
                stroke="var(--rule-strong)"
                minTickGap={28}
              />
              <YAxis
                width={48}
                domain={[0, serviced]}
                allowDecimals={false}
                tick={axisText}
                tickFormatter={formatCount}
                stroke="var(--rule-strong)"
              />
              <Tooltip
                {...tooltipStyle}
                labelFormatter={(by) => say('review.before', { date: String(by) })}
                formatter={(value) => [formatCount(Number(value)), say('review.soFar')]}
                isAnimationActive={false}
              />
              <ReferenceLine y={serviced} stroke="var(--ink)" strokeDasharray="5 4" />
              <Area
                type="linear"
                dataKey="soFar"
                name={say('review.soFar')}
                stroke={what === 'winterization' ? 'var(--ice)' : 'var(--ink)'}
                strokeWidth={2.5}
                fill={what === 'winterization' ? patternFill(what, 'ice') : patternFill(what, 'wash')}
                isAnimationActive={false}
              />
            </ComposedChart>
          </ResponsiveContainer>
          <p className="rv-quiet">
            {say(what === 'start-up' ? 'review.dashedStartUp' : 'review.dashedWinterization', { count: serviced })}
          </p>
        </ChartWithTable>
      )}
    </article>
  );
}

const shortDay = (date: string) => `${formatMonth(date)} ${Number(date.slice(8))}`;

interface Part {
  word: string;
  count: number;
  look: 'solid' | 'hatch' | 'open';
}

/** One bar in parts; each has its own filling and its word with the count. */
function PartBar({ parts }: { parts: readonly Part[] }) {
  const shown = parts.filter((part) => part.count > 0);
  return (
    <div className="rv-parts">
      <div className="rv-part-bar" aria-hidden="true">
        {shown.map((part) => (
          <span key={part.word} data-look={part.look} style={{ flexGrow: part.count }} />
        ))}
      </div>
      <ul className="rv-part-words">
        {parts.map((part) => (
          <li key={part.word}>
            <span className="rv-swatch" data-look={part.look} aria-hidden="true" />
            {part.word} <b>{formatCount(part.count)}</b>
          </li>
        ))}
      </ul>
    </div>
  );
}
