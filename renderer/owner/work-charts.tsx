import { Bar, BarChart, CartesianGrid, LabelList, Legend, ResponsiveContainer, Tooltip, XAxis, YAxis } from 'recharts';
import type { OutputOf } from '../../core/contract/index.ts';
import type { LedgerKind } from '../../core/ledger/entry-contract.ts';
import { ChartWithTable } from '../parts/layout.tsx';
import { formatCount, MONTHS } from '../parts/format.ts';
import { say, texts } from '../state/say.ts';
import { kindYears } from './owner-words.ts';
import { axisText, ChartPatterns, patternFill, tooltipStyle } from './chart-dress.tsx';

type Summary = OutputOf<'work.summary'>;

const KIND_WORDS: Readonly<Record<LedgerKind, string>> = texts({
  'battery-swap': 'review.kind.battery-swap',
  'sensor-check': 'review.kind.sensor-check',
  'run-time-change': 'review.kind.run-time-change',
  'start-up': 'review.kind.start-up',
  winterization: 'review.kind.winterization',
  repair: 'review.kind.repair',
  'part-used': 'review.kind.part-used',
  'meter-read': 'review.kind.meter-read',
  'backflow-test': 'review.kind.backflow-test',
  'walk-through': 'review.kind.walk-through',
  'zone-audit': 'review.kind.zone-audit',
  'manual-run': 'log.kinds.manual-run',
  finding: 'log.kinds.finding',
  decision: 'log.kinds.decision',
  'not-done': 'log.kinds.not-done',
  photo: 'review.kind.photo',
  note: 'review.kind.note',
});

const said = (count: unknown) => formatCount(Number(count));

/** Small drawings of one shape, a kind of work each, ranked. */
export function WorkByKind({ byMonth, year }: { byMonth: Summary['byMonth']; year: number }) {
  const kinds = kindYears(byMonth);
  return (
    <ChartWithTable
      title={say('review.byKind', { year })}
      caption={say('review.byKindCaption')}
      columns={[
        { id: 'kind', label: say('review.kind') },
        ...MONTHS.map((month) => ({ id: month, label: month, figure: true })),
        { id: 'total', label: say('review.year'), figure: true },
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
                  title={say('review.kindByMonth', { kind: KIND_WORDS[row.kind] })}
                  desc={say('review.kindRead', { total: row.total, year, month: peakMonth, peak })}
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
              <p className="rv-quiet">{say('review.mostIn', { month: peakMonth, peak })}</p>
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
      title={say('review.visitsByMonth', { year })}
      columns={[
        { id: 'month', label: say('review.month') },
        { id: 'done', label: say('review.doneVisits'), figure: true },
        { id: 'planned', label: say('review.planned'), figure: true },
        { id: 'cancelled', label: say('review.cancelled'), figure: true },
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
          title={say('review.visitsByMonth', { year })}
          desc={say('review.visitsRead', {
            done: total('done'),
            planned: total('planned'),
            cancelled: total('cancelled'),
          })}
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
          <Bar
            dataKey="done"
            name={say('review.doneVisits')}
            stackId="visits"
            fill="var(--ink)"
            isAnimationActive={false}
          />
          <Bar
            dataKey="planned"
            name={say('review.plannedStriped')}
            stackId="visits"
            fill={patternFill('visits', 'hatch')}
            stroke="var(--ink)"
            isAnimationActive={false}
          />
          <Bar
            dataKey="cancelled"
            name={say('review.cancelledDotted')}
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
      title={say('review.byTechnician', { year })}
      caption={say('review.byTechnicianCaption')}
      columns={[
        { id: 'name', label: say('review.technician') },
        { id: 'visits', label: say('review.visitsDone'), figure: true },
        { id: 'entries', label: say('review.ledgerEntries'), figure: true },
      ]}
      rows={rows.map((row) => ({ name: row.name, visits: formatCount(row.visits), entries: formatCount(row.entries) }))}
    >
      <ResponsiveContainer width="100%" height={rows.length * 58 + 60}>
        <BarChart
          data={rows}
          layout="vertical"
          margin={{ top: 4, right: 48, bottom: 0, left: 0 }}
          title={say('review.byTechnician', { year })}
          desc={rows
            .map(({ name, visits, entries }) => say('review.technicianRead', { name, visits, entries }))
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
          <Bar dataKey="visits" name={say('review.visitsDone')} fill="var(--ink)" isAnimationActive={false}>
            <LabelList dataKey="visits" formatter={said} position="right" fill="var(--ink)" fontSize={13} />
          </Bar>
          <Bar
            dataKey="entries"
            name={say('review.ledgerEntriesStriped')}
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
