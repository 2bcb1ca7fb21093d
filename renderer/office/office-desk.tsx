import { lazy, useState } from 'react';
import { EmptyState, Kbd } from '../parts/index.ts';
import { navigate, useView } from '../state/view.ts';
import { ClientForm } from './forms/client-form.tsx';
import { ClientPage } from './property/client-page.tsx';
import { ClientListPane } from './list/client-list-pane.tsx';
import { PropertyPage } from './property/property-page.tsx';
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
        {propertyId !== null ? <PropertyPage key={propertyId} propertyId={propertyId} /> : clientId !== null ? <ClientPage key={clientId} clientId={clientId} /> : <NothingChosen />}
      </div>
      {adding ? <ClientForm onClose={() => setAdding(false)} onSaved={(id) => { setAdding(false); navigate(`#/office/client/${id}`); }} /> : null}
    </div>
  );
}

function NothingChosen() {
  return (
    <div className="nothing-chosen">
      <EmptyState title="Type any part of a name, a street or a phone number">
        The list narrows as you type; <Kbd>↓</Kbd> moves and <Kbd>Enter</Kbd> opens the property here. <Kbd>/</Kbd> brings you back to the search from anywhere on this page.
      </EmptyState>
      <p><a href="#/office/today">See what today needs</a></p>
    </div>
  );
}
