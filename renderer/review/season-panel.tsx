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
import { formatCount, formatDate, formatMonth, plural } from '../parts/format.ts';
import { seasonSentence, weekCurve, type Progress } from './review-words.ts';
import { axisText, ChartPatterns, patternFill, tooltipStyle } from './chart-dress.tsx';

/** Start-ups or winterizations of a year: one big figure, the sentence that says what it means, and how it grew. */
export function SeasonPanel({
  title,
  progress,
  doing,
  what,
  isPast,
}: {
  title: string;
  progress: Progress;
  /** "started up", "winterized" */ doing: string;
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
          No property is marked as one the company {what === 'start-up' ? 'starts up' : 'winterizes'}. Tick it on a
          property&apos;s page in the Office, and it is counted here.
        </p>
      </article>
    );
  }
  return (
    <article className="rv-panel" aria-label={title}>
      <h3>{title}</h3>
      <p className="rv-big">
        <span className="rv-figure">{formatCount(done)}</span> <span className="rv-of">of {formatCount(serviced)}</span>
      </p>
      <p className="rv-sentence">{seasonSentence(progress, doing, isPast)}</p>
      <PartBar
        parts={[
          { word: 'Done', count: done, look: 'solid' },
          { word: 'Booked', count: booked, look: 'hatch' },
          { word: isPast ? 'Not done' : 'Not booked', count: notBooked, look: 'open' },
        ]}
      />
      {points.length === 0 ? (
        <p className="rv-quiet">No week has seen one yet; the curve starts with the first.</p>
      ) : (
        <ChartWithTable
          title={`${title}, week by week`}
          columns={[
            { id: 'week', label: 'Week from' },
            { id: 'done', label: 'In the week', figure: true },
            { id: 'soFar', label: 'So far', figure: true },
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
              title={`${title}, counted up week by week`}
              desc={`A rising curve: ${done} of ${serviced} ${doing} by ${formatDate(points[points.length - 1]?.by ?? '')}.`}
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
                labelFormatter={(by) => `Before ${formatDate(String(by))}`}
                formatter={(value) => [formatCount(Number(value)), 'So far']}
                isAnimationActive={false}
              />
              <ReferenceLine y={serviced} stroke="var(--ink)" strokeDasharray="5 4" />
              <Area
                type="linear"
                dataKey="soFar"
                name="So far"
                stroke={what === 'winterization' ? 'var(--ice)' : 'var(--ink)'}
                strokeWidth={2.5}
                fill={what === 'winterization' ? patternFill(what, 'ice') : patternFill(what, 'wash')}
                isAnimationActive={false}
              />
            </ComposedChart>
          </ResponsiveContainer>
          <p className="rv-quiet">
            Dashed line: all {plural(serviced, 'property', 'properties')} the company{' '}
            {what === 'start-up' ? 'starts up' : 'winterizes'}.
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
