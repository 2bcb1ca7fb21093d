import { lazy, useState } from 'react';
import { formatLongDay, Kbd, Said } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { useToday } from '../state/use-settings.ts';
import { navigate, useView } from '../state/view.ts';
import { say } from '../state/say.ts';
import { ClientForm } from './property/edit/client-form.tsx';
import { ClientPage } from './property/client-page.tsx';
import { ClientListPane } from './list/client-list-pane.tsx';
import { PropertyPage } from './property/property-page.tsx';
import { useListView } from './list/list-view.ts';
import { Crew } from './today/crew.tsx';
import { DueCounts } from './today/due-counts.tsx';
import TodayPage from './today/today-page.tsx';
import './office.css';

const ProgramReviewPage = lazy(() => import('./program-review/program-review-page.tsx'));

/** The office manager's desk: the list at the left, the chosen property at the right; and the page of what today needs. */
export default function OfficeDesk() {
  const page = useView((view) => view.page);
  const propertyId = useView((view) => view.propertyId);
  const path = useView((view) => view.path);
  const [adding, setAdding] = useState(false);
  if (page === 'today') return <TodayPage />;
  if (propertyId !== null && path[2] === 'review') return <ProgramReviewPage propertyId={propertyId} />;
  const clientId = page === 'client' ? (path[1] ?? null) : null;
  return (
    <div className={`home${propertyId === null && clientId === null ? '' : ' has-open'}`}>
      <ClientListPane openId={propertyId ?? clientId} onAddClient={() => setAdding(true)} />
      <div className="detail-pane">
        {propertyId !== null ? (
          <PropertyPage key={propertyId} propertyId={propertyId} />
        ) : clientId !== null ? (
          <ClientPage key={clientId} clientId={clientId} />
        ) : (
          <NothingChosen />
        )}
      </div>
      {adding ? (
        <ClientForm
          onClose={() => setAdding(false)}
          onSaved={(id) => {
            setAdding(false);
            navigate(`#/office/client/${id}`);
          }}
        />
      ) : null}
    </div>
  );
}

/** A new company's first five minutes, in the order in which each step makes the next one useful. */
function FirstSteps() {
  return (
    <>
      <p className="hint">{say('office.firstLead')}</p>
      <ol className="first-steps">
        <li>
          <a href="#/office/import">{say('office.stepImport')}</a>
          <p>{say('office.stepImportWhy')}</p>
        </li>
        <li>
          <a href="#/company/people">{say('office.stepPeople')}</a>
          <p>{say('office.stepPeopleWhy')}</p>
        </li>
        <li>
          <a href="#/company/rules">{say('office.stepRules')}</a>
          <p>{say('office.stepRulesWhy')}</p>
        </li>
        <li>
          <a href="#/company/weather">{say('office.stepWeather')}</a>
          <p>{say('office.stepWeatherWhy')}</p>
        </li>
        <li>
          <a href="#/company">{say('office.stepSettings')}</a>
          <p>{say('office.stepSettingsWhy')}</p>
        </li>
      </ol>
    </>
  );
}

/** Before a property is chosen: what today needs, each count a way into the list. */
function NothingChosen() {
  const today = useToday();
  const counts = useRequest('due.list', { limit: 1, horizonDays: 14 }).data?.counts;
  const people = useRequest('people.list', {}).data;
  const book = useRequest('book.info', {}).data;
  const empty = book !== undefined && Object.values(book.counts).every((count) => count === 0);
  return (
    <div className="nothing-chosen">
      <h1>{formatLongDay(today)}</h1>
      {empty ? (
        <FirstSteps />
      ) : (
        <p className="hint">
          <Said
            text={say('office.chooseHint')}
            parts={{ down: <Kbd>↓</Kbd>, enter: <Kbd>Enter</Kbd>, slash: <Kbd>/</Kbd> }}
          />
        </p>
      )}
      {counts === undefined || empty ? null : (
        <>
          <p className="field-label">{say('office.dueTwoWeeks')}</p>
          <DueCounts
            counts={counts}
            onChoose={(due) => useListView.setState({ search: '', routeId: '', season: '', due })}
          />
        </>
      )}
      {empty ? null : <Crew today={today} people={people} />}
    </div>
  );
}
