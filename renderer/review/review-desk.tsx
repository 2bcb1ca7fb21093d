import './review.css';
import { create } from 'zustand';
import type { OutputOf } from '../../core/contract/index.ts';
import { Button, ButtonLink } from '../parts/button.tsx';
import { SelectField } from '../parts/fields.tsx';
import { formatCount, plural } from '../parts/format.ts';
import { EmptyState, ErrorNote, Section } from '../parts/layout.tsx';
import { useRequest } from '../state/use-request.ts';
import { correctionSentence, visitSentence } from './review-words.ts';
import { SeasonPanel } from './season-panel.tsx';
import { ByTechnician, VisitsByMonth, WorkByKind } from './work-charts.tsx';

/** The year looked at; null = this year. Kept while other desks are visited. */
const useYear = create<{ year: number | null }>(() => ({ year: null }));

/** The owner's first page: counts that the book can vouch for, nothing estimated. */
export default function ReviewDesk() {
  const chosen = useYear((state) => state.year);
  const info = useRequest('book.info', {});
  const thisYear = info.data === undefined ? null : Number(info.data.today.slice(0, 4));
  const year = chosen ?? thisYear;
  const { data, error, reload } = useRequest('work.summary', year === null ? null : { year });
  const failure = error ?? info.error;
  return (
    <div className="page rv">
      <header className="rv-head">
        <h1>Season and work{year === null ? '' : `, ${year}`}</h1>
        {data === undefined || year === null ? null : <YearChooser year={year} years={data.years} />}
      </header>
      {failure !== null && (
        <ErrorNote
          error={failure}
          onRetry={() => {
            info.reload();
            reload();
          }}
        />
      )}
      {data === undefined ? (
        failure === null ? (
          <p className="rv-quiet" role="status">
            Counting…
          </p>
        ) : null
      ) : data.properties.total === 0 ? (
        <EmptyState
          title="Nothing to count yet"
          action={
            <ButtonLink look="primary" href="#/office/import">
              Import a client list
            </ButtonLink>
          }
        >
          Once there are properties in the book, this page shows how far the season is, what was done, and by whom. It
          counts the ledger, so it fills by itself as technicians log their work.
        </EmptyState>
      ) : (
        <Summary data={data} isPast={thisYear !== null && data.year < thisYear} />
      )}
    </div>
  );
}

function YearChooser({ year, years }: { year: number; years: readonly number[] }) {
  const set = (next: number) => useYear.setState({ year: next });
  const all = years.includes(year) ? years : [...years, year].sort((a, b) => a - b);
  return (
    <div className="rv-years" role="group" aria-label="Year">
      <Button
        isDisabled={!all.includes(year - 1)}
        onPress={() => set(year - 1)}
        aria-label={`Year before, ${year - 1}`}
      >
        ‹
      </Button>
      <SelectField
        label="Year"
        hideLabel
        value={String(year)}
        onChange={(text) => set(Number(text))}
        options={[...all].reverse().map((one) => ({ id: String(one), label: String(one) }))}
      />
      <Button isDisabled={!all.includes(year + 1)} onPress={() => set(year + 1)} aria-label={`Year after, ${year + 1}`}>
        ›
      </Button>
    </div>
  );
}

function Summary({ data, isPast }: { data: OutputOf<'work.summary'>; isPast: boolean }) {
  const entries = data.byMonth.reduce((sum, row) => sum + row.count, 0);
  const visits = data.visitsByMonth.reduce(
    (sum, row) => ({
      done: sum.done + row.done,
      planned: sum.planned + row.planned,
      cancelled: sum.cancelled + row.cancelled,
    }),
    { done: 0, planned: 0, cancelled: 0 },
  );
  const anyVisit = visits.done + visits.planned + visits.cancelled > 0;
  return (
    <>
      <p className="rv-lead">
        Everything here is counted from the ledger and the calendar; nothing is estimated. What programs use against
        what plants need stands under Programs, as an estimate.
      </p>
      <Section
        title="How far the season is"
        note={`${plural(data.properties.total, 'property', 'properties')} in the book${isPast ? '; counted over those the company serves today' : ''}`}
      >
        <div className="rv-pair">
          <SeasonPanel
            title="Start-ups"
            progress={data.properties.startUp}
            doing="started up"
            what="start-up"
            isPast={isPast}
          />
          <SeasonPanel
            title="Winterizations"
            progress={data.properties.winterization}
            doing="winterized"
            what="winterization"
            isPast={isPast}
          />
        </div>
      </Section>
      <Section title="What was done">
        {entries === 0 ? (
          <EmptyState title={`No work is logged in ${data.year}`}>
            Work shows here as soon as a technician presses “Done here” in the Field, or past work is imported.
          </EmptyState>
        ) : (
          <>
            <div className="rv-bigs">
              <Big figure={formatCount(entries)} of="pieces of work">
                logged in {data.year}, each counted once as it stands after corrections.
              </Big>
              <Big figure={formatCount(data.corrections)} of={data.corrections === 1 ? 'correction' : 'corrections'}>
                {correctionSentence(data.corrections, entries)}
              </Big>
            </div>
            <WorkByKind byMonth={data.byMonth} year={data.year} />
          </>
        )}
      </Section>
      <Section title="Visits">
        {!anyVisit ? (
          <EmptyState title={`No visits in ${data.year}`}>
            Visits booked in the Office&apos;s calendar, and those technicians log on site, are counted here by month.
          </EmptyState>
        ) : (
          <>
            <div className="rv-bigs">
              <Big figure={formatCount(visits.done)} of={visits.done === 1 ? 'visit done' : 'visits done'}>
                {visitSentence(visits)}
              </Big>
            </div>
            <VisitsByMonth months={data.visitsByMonth} year={data.year} />
          </>
        )}
      </Section>
      {data.byTechnician.length === 0 ? null : (
        <Section title="Who did it">
          <ByTechnician rows={data.byTechnician} year={data.year} />
        </Section>
      )}
      <Section title="Water" note="its figures come later">
        <p className="rv-sentence">
          What each landscape used against what it needed will stand here once meters, weather and programs are brought
          together. What can be seen today is how far every program is from what plants, soil and weather ask for:
        </p>
        <p className="rv-go">
          <ButtonLink href="#/review/programs">Open programs furthest from need</ButtonLink>
        </p>
      </Section>
    </>
  );
}

function Big({ figure, of, children }: { figure: string; of: string; children: React.ReactNode }) {
  return (
    <div className="rv-big-box">
      <p className="rv-big">
        <span className="rv-figure">{figure}</span> <span className="rv-of">{of}</span>
      </p>
      <p className="rv-sentence">{children}</p>
    </div>
  );
}
