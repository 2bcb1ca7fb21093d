import './field.css';
import { useEffect } from 'react';
import type { Technician } from '../../core/people/contract.ts';
import { addDays } from '../../core/dates.ts';
import { Button } from '../parts/button.tsx';
import { EmptyState, ErrorNote } from '../parts/layout.tsx';
import { newId } from '../state/write.ts';
import { useRequest } from '../state/use-request.ts';
import { navigate, useView } from '../state/view.ts';
import { DayChooser } from './day-chooser.tsx';
import { dayName } from './day-words.ts';
import { followOtherWindows, holdsWork, useDrafts, type Draft } from './draft.ts';
import { FindProperty } from './find-property.tsx';
import { lastPlace, rememberPlace } from './last-place.ts';
import { ForgottenDrafts, StopList } from './stop-list.tsx';
import { StopPage } from './stop-page.tsx';
import { stopOfDay, stopOfDraft, type Stop } from './stop.ts';
import { emptyDraft } from './use-stop-draft.ts';
import { say } from '../state/say.ts';

const address = (technicianId: string, date: string, rest = '') =>
  `#/field/${technicianId}/${date}${rest === '' ? '' : `/${rest}`}`;

/** The technician's desk: whose day, then stop after stop. */
export default function FieldDesk() {
  const path = useView((view) => view.path);
  const people = useRequest('people.list', {});
  const info = useRequest('book.info', {});
  const bookPath = info.data?.path;
  const draftsOf = useDrafts((state) => state.bookPath);
  useEffect(() => {
    if (bookPath !== undefined) useDrafts.getState().open(bookPath);
  }, [bookPath]);
  useEffect(followOtherWindows, []);
  const error = people.error ?? info.error;
  const today = info.data?.today;
  const [first, date, rest] = path;
  const place = lastPlace();
  const technicians = people.data?.technicians;

  useEffect(() => {
    if (first !== undefined || technicians === undefined || today === undefined || place.technicianId === null) return;
    if (technicians.some((one) => one.id === place.technicianId && one.active))
      navigate(address(place.technicianId, place.date ?? today), { replace: true });
  }, [first, technicians, today, place.technicianId, place.date]);

  if (technicians === undefined || today === undefined || draftsOf !== bookPath) {
    if (error !== null)
      return (
        <div className="fd-chooser">
          <ErrorNote
            error={error}
            onRetry={() => {
              people.reload();
              info.reload();
            }}
          />
        </div>
      );
    return (
      <p className="waiting" role="status">
        {say('shell.opening')}
      </p>
    );
  }
  const technician = technicians.find((one) => one.id === first);
  if (technician === undefined) {
    return (
      <DayChooser
        technicians={technicians}
        technicianId={place.technicianId}
        date={place.date ?? today}
        today={today}
        onChoose={(id, day) => {
          rememberPlace(id, day);
          navigate(address(id, day));
        }}
      />
    );
  }
  const day = date !== undefined && /^\d{4}-\d\d-\d\d$/.test(date) ? date : today;
  return <Day key={`${technician.id} ${day}`} technician={technician} date={day} today={today} rest={rest ?? ''} />;
}

function Day({ technician, date, today, rest }: { technician: Technician; date: string; today: string; rest: string }) {
  const { data, error, reload } = useRequest(
    'day.open',
    { technicianId: technician.id, date },
    { keepPrevious: false },
  );
  const drafts = useDrafts((state) => state.drafts);
  useEffect(() => rememberPlace(technician.id, date), [technician.id, date]);

  const listed = (data?.stops ?? []).map(stopOfDay);
  const known = new Set(listed.map((stop) => stop.id));
  const mine = Object.values(drafts).filter(
    (draft) => draft.technicianId === technician.id && !known.has(draft.visitId),
  );
  // The unplanned stop just chosen has nothing typed yet, but is on screen.
  const extra = mine.filter(
    (draft) => !draft.planned && draft.doneOn === date && (holdsWork(draft) || draft.visitId === rest),
  );
  const stops: Stop[] = [...listed, ...extra.map((draft) => stopOfDraft(draft, null))];
  const forgotten = data === undefined ? [] : mine.filter((draft) => holdsWork(draft) && !extra.includes(draft));
  const current = stops.findIndex((stop) => stop.id === rest);
  // Unsaved work on a visit that was moved or cancelled meanwhile can still be saved from here.
  const orphan = drafts[rest];
  const stop =
    stops[current] ??
    (data !== undefined && orphan !== undefined && holdsWork(orphan) ? stopOfDraft(orphan, null) : undefined);
  const hrefOf = (one: Stop) => address(technician.id, date, one.id);
  const isOpen = (one: Stop) => one.visit?.state !== 'done';
  const following = stops.slice(current + 1).find(isOpen) ?? stops.slice(0, Math.max(0, current)).find(isOpen);
  // Work on a stop planned for a later day is dated the day it is done.
  const logDate = date < today ? null : today;
  const doneCount = listed.filter((one) => one.visit?.state === 'done').length;

  const choose = (row: { propertyId: string; clientName: string; street: string }) => {
    const draft: Draft = emptyDraft({
      visitId: newId(),
      planned: false,
      propertyId: row.propertyId,
      technicianId: technician.id,
      doneOn: logDate ?? today,
      clientName: row.clientName,
      street: row.street,
    });
    useDrafts.getState().put(draft);
    navigate(address(technician.id, logDate ?? today, draft.visitId));
  };

  return (
    <div className="fd-root" data-view={rest === '' ? 'list' : 'stop'}>
      <aside className="fd-side" aria-label={say('field.theDay')}>
        <header className="fd-day-head">
          <h1>{dayName(date, today)}</h1>
          <p className="fd-quiet">
            {technician.name}
            {data === undefined ? '' : ` · ${say('field.stopsDone', { stops: listed.length, done: doneCount })}`}
            {data?.truck == null ? '' : ` · ${data.truck.name}`}
          </p>
          <nav className="fd-day-nav" aria-label={say('field.otherDays')}>
            <a
              className="button big"
              href={address(technician.id, addDays(date, -1))}
              aria-label={say('field.dayBefore')}
            >
              ‹
            </a>
            <a className="button big" href="#/field/choose">
              {say('field.personOrDay')}
            </a>
            <a
              className="button big"
              href={address(technician.id, addDays(date, 1))}
              aria-label={say('field.dayAfter')}
            >
              ›
            </a>
          </nav>
        </header>
        {error !== null && <ErrorNote error={error} onRetry={reload} />}
        {data === undefined && error === null && (
          <p className="fd-quiet" role="status">
            {say('field.readingDay')}
          </p>
        )}
        {data !== undefined && stops.length === 0 && (
          <EmptyState title={say('field.noStops')}>
            {date < today ? say('field.nothingThatDay') : say('field.nothingBookedFor', { name: technician.name })}
          </EmptyState>
        )}
        <StopList stops={stops} hrefOf={hrefOf} currentId={rest === '' ? null : rest} />
        <ForgottenDrafts
          drafts={forgotten}
          hrefOf={(draft) => address(draft.technicianId, draft.doneOn, draft.visitId)}
        />
        {logDate === null ? null : (
          <Button big className="fd-wide" onPress={() => navigate(address(technician.id, date, 'find'))}>
            {say('field.logUnplanned')}
          </Button>
        )}
      </aside>
      <div className="fd-main">
        {rest === 'find' && logDate !== null ? (
          <FindProperty onChoose={choose} onBack={() => navigate(address(technician.id, date))} />
        ) : stop !== undefined ? (
          <>
            <a className="fd-up" href={address(technician.id, date)}>
              {say('field.allStops')}
            </a>
            <StopPage
              key={stop.id}
              stop={stop}
              technician={technician}
              logDate={logDate}
              position={
                current < 0
                  ? say('field.notThisDay')
                  : stop.visit === null
                    ? say('field.extraStop')
                    : say('field.stopOf', { number: current + 1, total: listed.length })
              }
              next={
                following === undefined
                  ? null
                  : { href: hrefOf(following), words: `${following.street}, ${following.clientName}` }
              }
            />
          </>
        ) : rest !== '' && data !== undefined ? (
          <div className="fd-scroll">
            <EmptyState title={say('field.stopGone')}>{say('field.stopGoneWhy')}</EmptyState>
          </div>
        ) : (
          <div className="fd-scroll fd-invite">
            <EmptyState title={say('field.chooseStop')}>{say('field.chooseStopWhy')}</EmptyState>
          </div>
        )}
      </div>
    </div>
  );
}
