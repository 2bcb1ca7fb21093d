import { Bar, BarChart, CartesianGrid, LabelList, Legend, ResponsiveContainer, Tooltip, XAxis, YAxis } from 'recharts';
import type { OutputOf } from '../../core/contract/index.ts';
import type { LedgerKind } from '../../core/contract/ledger-entries.ts';
import { ChartWithTable } from '../parts/layout.tsx';
import { formatCount, MONTHS, plural } from '../parts/format.ts';
import { kindYears } from './review-words.ts';
import { axisText, ChartPatterns, patternFill, tooltipStyle } from './chart-dress.tsx';

type Summary = OutputOf<'work.summary'>;

const KIND_WORDS: Record<LedgerKind, string> = {
  'battery-swap': 'Battery swaps',
  'sensor-check': 'Sensor checks',
  'run-time-change': 'Run-time changes',
  'start-up': 'Start-ups',
  winterization: 'Winterizations',
  repair: 'Repairs',
  'part-used': 'Parts used',
  'meter-read': 'Meter readings',
  'backflow-test': 'Backflow tests',
  'walk-through': 'Walk-throughs',
  'zone-audit': 'Catch-can audits',
  photo: 'Photos',
  note: 'Notes',
};

const said = (count: unknown) => formatCount(Number(count));

/** Small drawings of one shape, a kind of work each, ranked. */
export function WorkByKind({ byMonth, year }: { byMonth: Summary['byMonth']; year: number }) {
  const kinds = kindYears(byMonth);
  return (
    <ChartWithTable
      title={`Work by kind and month, ${year}`}
      caption="Most frequent first. Each drawing has its own height; its tallest month is written out."
      columns={[
        { id: 'kind', label: 'Kind' },
        ...MONTHS.map((month) => ({ id: month, label: month, figure: true })),
        { id: 'total', label: 'Year', figure: true },
      ]}
      rows={kinds.map((row) => ({
        kind: KIND_WORDS[row.kind],
        ...Object.fromEntries(MONTHS.map((month, index) => [month, formatCount(row.months[index] ?? 0)])),
        total: formatCount(row.total),
      }))}
    >
      <ul className="rv-multiples">
        {kinds.map((row) => {
          const peak = Math.max(...row.months);
          const peakMonth = MONTHS[row.months.indexOf(peak)] ?? '';
          return (
            <li key={row.kind}>
              <p className="rv-multiple-head">
                <span>{KIND_WORDS[row.kind]}</span> <b>{formatCount(row.total)}</b>
              </p>
              <ResponsiveContainer width="100%" height={92}>
                <BarChart
                  data={row.months.map((count, index) => ({ month: MONTHS[index], count }))}
                  margin={{ top: 4, right: 2, bottom: 0, left: 2 }}
                  title={`${KIND_WORDS[row.kind]} by month`}
                  desc={`${row.total} in ${year}, most in ${peakMonth} with ${peak}.`}
                >
                  <XAxis
                    dataKey="month"
                    tick={axisText}
                    tickFormatter={(month: string) => month.slice(0, 1)}
                    interval={0}
                    tickLine={false}
                    stroke="var(--rule-strong)"
                    height={22}
                  />
                  <YAxis hide domain={[0, peak]} />
                  <Tooltip
                    {...tooltipStyle}
                    formatter={(value) => [formatCount(Number(value)), KIND_WORDS[row.kind]]}
                    isAnimationActive={false}
                  />
                  <Bar dataKey="count" fill="var(--ink)" isAnimationActive={false} />
                </BarChart>
              </ResponsiveContainer>
              <p className="rv-quiet">
                Most in {peakMonth}: {formatCount(peak)}
              </p>
            </li>
          );
        })}
      </ul>
    </ChartWithTable>
  );
}

const legendWord = (word: string) => <span className="rv-legend">{word}</span>;

/** Visits of a year by month: done, still planned, cancelled. */
export function VisitsByMonth({ months, year }: { months: Summary['visitsByMonth']; year: number }) {
  const total = (pick: 'planned' | 'done' | 'cancelled') => months.reduce((sum, month) => sum + month[pick], 0);
  const data = months.map((month) => ({ ...month, name: MONTHS[month.month - 1] }));
  return (
    <ChartWithTable
      title={`Visits by month, ${year}`}
      columns={[
        { id: 'month', label: 'Month' },
        { id: 'done', label: 'Done', figure: true },
        { id: 'planned', label: 'Planned', figure: true },
        { id: 'cancelled', label: 'Cancelled', figure: true },
      ]}
      rows={data.map((month) => ({
        month: month.name,
        done: formatCount(month.done),
        planned: formatCount(month.planned),
        cancelled: formatCount(month.cancelled),
      }))}
    >
      <ResponsiveContainer width="100%" height={270}>
        <BarChart
          data={data}
          margin={{ top: 8, right: 8, bottom: 0, left: 0 }}
          title={`Visits by month, ${year}`}
          desc={`${total('done')} done, ${total('planned')} planned, ${total('cancelled')} cancelled.`}
        >
          <ChartPatterns id="visits" />
          <CartesianGrid stroke="var(--rule)" vertical={false} />
          <XAxis dataKey="name" tick={axisText} stroke="var(--rule-strong)" interval="preserveStartEnd" />
          <YAxis
            width={48}
            allowDecimals={false}
            tick={axisText}
            tickFormatter={formatCount}
            stroke="var(--rule-strong)"
          />
          <Tooltip {...tooltipStyle} isAnimationActive={false} />
          <Legend itemSorter={null} formatter={legendWord} />
          <Bar dataKey="done" name="Done" stackId="visits" fill="var(--ink)" isAnimationActive={false} />
          <Bar
            dataKey="planned"
            name="Planned (striped)"
            stackId="visits"
            fill={patternFill('visits', 'hatch')}
            stroke="var(--ink)"
            isAnimationActive={false}
          />
          <Bar
            dataKey="cancelled"
            name="Cancelled (dotted)"
            stackId="visits"
            fill={patternFill('visits', 'dots')}
            stroke="var(--ink-2)"
            isAnimationActive={false}
          />
        </BarChart>
      </ResponsiveContainer>
    </ChartWithTable>
  );
}

/** Who did how much, in visits and in ledger entries. */
export function ByTechnician({ rows, year }: { rows: Summary['byTechnician']; year: number }) {
  return (
    <ChartWithTable
      title={`Work by technician, ${year}`}
      caption="Counts, not quality: a repair and a note weigh the same here."
      columns={[
        { id: 'name', label: 'Technician' },
        { id: 'visits', label: 'Visits done', figure: true },
        { id: 'entries', label: 'Ledger entries', figure: true },
      ]}
      rows={rows.map((row) => ({ name: row.name, visits: formatCount(row.visits), entries: formatCount(row.entries) }))}
    >
      <ResponsiveContainer width="100%" height={rows.length * 58 + 60}>
        <BarChart
          data={rows}
          layout="vertical"
          margin={{ top: 4, right: 48, bottom: 0, left: 0 }}
          title={`Work by technician, ${year}`}
          desc={rows
            .map((row) => `${row.name}: ${plural(row.visits, 'visit')}, ${plural(row.entries, 'entry', 'entries')}`)
            .join('; ')}
        >
          <ChartPatterns id="people" />
          <XAxis type="number" allowDecimals={false} tick={axisText} stroke="var(--rule-strong)" hide />
          <YAxis
            type="category"
            dataKey="name"
            width={112}
            tick={{ ...axisText, fontSize: 14 }}
            stroke="var(--rule-strong)"
          />
          <Tooltip {...tooltipStyle} isAnimationActive={false} />
          <Legend itemSorter={null} formatter={legendWord} />
          <Bar dataKey="visits" name="Visits done" fill="var(--ink)" isAnimationActive={false}>
            <LabelList dataKey="visits" formatter={said} position="right" fill="var(--ink)" fontSize={13} />
          </Bar>
          <Bar
            dataKey="entries"
            name="Ledger entries (striped)"
            fill={patternFill('people', 'hatch')}
            stroke="var(--ink)"
            isAnimationActive={false}
          >
            <LabelList dataKey="entries" formatter={said} position="right" fill="var(--ink)" fontSize={13} />
          </Bar>
        </BarChart>
      </ResponsiveContainer>
    </ChartWithTable>
  );
}
