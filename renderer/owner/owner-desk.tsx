import './owner.css';
import { create } from 'zustand';
import type { OutputOf } from '../../core/contract/index.ts';
import { Button, ButtonLink } from '../parts/button.tsx';
import { SelectField } from '../parts/fields.tsx';
import { formatCount } from '../parts/format.ts';
import { say } from '../state/say.ts';

import { EmptyState, ErrorNote, Section } from '../parts/layout.tsx';
import { useRequest } from '../state/use-request.ts';
import { correctionSentence } from './owner-words.ts';
import { SeasonPanel } from './season-panel.tsx';
import { ByTechnician, VisitsByMonth, WorkByKind } from './work-charts.tsx';

/** The year looked at; null = this year. Kept while other desks are visited. */
const useYear = create<{ year: number | null }>(() => ({ year: null }));

/** The owner's first page: counts that the book can vouch for, nothing estimated. */
export default function OwnerDesk() {
  const chosen = useYear((state) => state.year);
  const info = useRequest('book.info', {});
  const thisYear = info.data === undefined ? null : Number(info.data.today.slice(0, 4));
  const year = chosen ?? thisYear;
  const { data, error, reload } = useRequest('work.summary', year === null ? null : { year });
  const failure = error ?? info.error;
  return (
    <div className="page rv">
      <header className="rv-head">
        <h1>{year === null ? say('review.seasonAndWork') : say('review.seasonAndWorkOf', { year })}</h1>
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
            {say('review.counting')}
          </p>
        ) : null
      ) : data.properties.total === 0 ? (
        <EmptyState
          title={say('review.nothingToCount')}
          action={
            <ButtonLink look="primary" href="#/office/import">
              {say('review.importClients')}
            </ButtonLink>
          }
        >
          {say('review.nothingToCountWhy')}
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
    <div className="rv-years" role="group" aria-label={say('review.year')}>
      <Button
        isDisabled={!all.includes(year - 1)}
        onPress={() => set(year - 1)}
        aria-label={say('review.yearBefore', { year: year - 1 })}
      >
        ‹
      </Button>
      <SelectField
        label={say('review.year')}
        hideLabel
        value={String(year)}
        onChange={(text) => set(Number(text))}
        options={[...all].reverse().map((one) => ({ id: String(one), label: String(one) }))}
      />
      <Button
        isDisabled={!all.includes(year + 1)}
        onPress={() => set(year + 1)}
        aria-label={say('review.yearAfter', { year: year + 1 })}
      >
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
      <p className="rv-lead">{say('review.lead')}</p>
      <Section
        title={say('review.howFar')}
        note={say(isPast ? 'review.inTheBookPast' : 'review.inTheBook', { count: data.properties.total })}
      >
        <div className="rv-pair">
          <SeasonPanel
            title={say('review.startUps')}
            progress={data.properties.startUp}
            what="start-up"
            isPast={isPast}
          />
          <SeasonPanel
            title={say('review.winterizations')}
            progress={data.properties.winterization}
            what="winterization"
            isPast={isPast}
          />
        </div>
      </Section>
      <Section title={say('review.whatWasDone')}>
        {entries === 0 ? (
          <EmptyState title={say('review.noWorkIn', { year: data.year })}>{say('review.noWorkWhy')}</EmptyState>
        ) : (
          <>
            <div className="rv-bigs">
              <Big figure={formatCount(entries)} of={say('review.pieces', { count: entries })}>
                {say('review.loggedIn', { year: data.year })}
              </Big>
              <Big figure={formatCount(data.corrections)} of={say('review.corrections', { count: data.corrections })}>
                {correctionSentence(data.corrections, entries)}
              </Big>
            </div>
            <WorkByKind byMonth={data.byMonth} year={data.year} />
          </>
        )}
      </Section>
      <Section title={say('review.visits')}>
        {!anyVisit ? (
          <EmptyState title={say('review.noVisitsIn', { year: data.year })}>{say('review.noVisitsWhy')}</EmptyState>
        ) : (
          <>
            <div className="rv-bigs">
              <Big figure={formatCount(visits.done)} of={say('review.visitsDoneOf', { count: visits.done })}>
                {say('review.visitSentence', visits)}
              </Big>
            </div>
            <VisitsByMonth months={data.visitsByMonth} year={data.year} />
          </>
        )}
      </Section>
      {data.byTechnician.length === 0 ? null : (
        <Section title={say('review.whoDidIt')}>
          <ByTechnician rows={data.byTechnician} year={data.year} />
        </Section>
      )}
      <Section title={say('review.water')} note={say('review.waterNote')}>
        <p className="rv-sentence">{say('review.waterLead')}</p>
        <p className="rv-go">
          <ButtonLink href="#/owner/programs">{say('review.openFurthest')}</ButtonLink>
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
