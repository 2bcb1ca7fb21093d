import { useState } from 'react';
import { phoneLink } from '../../core/contract/contact-links.ts';
import type { Technician } from '../../core/people/contract.ts';
import { formatWindow } from '../parts/format.ts';
import { ErrorNote } from '../parts/layout.tsx';
import { DueMark, VISIT_WORDS } from '../parts/marks.tsx';
import { toast } from '../state/toasts.ts';
import { useRequest } from '../state/use-request.ts';
import { holdsWork, useDrafts, waitingCount, type FormKind } from './draft.ts';
import { formsFor } from './forms/all-forms.ts';
import type { LogContext } from './forms/form-spec.ts';
import { GatePlate } from './gate-plate.tsx';
import { LogForm } from './log-form.tsx';
import { VisitBar } from './visit-bar.tsx';
import type { Stop } from './stop.ts';
import { visitKindOf } from './visit-kind.ts';
import { stopOfDraft } from './stop.ts';
import { useStopDraft } from './use-stop-draft.ts';
import { LogTiles, Recorded, ToBeSaved } from './work-list.tsx';
import { say, sayTold } from '../state/say.ts';

export interface StopPageProps {
  stop: Stop;
  position: string;
  technician: Technician;
  /** The date work logged here gets; null = read only. */
  logDate: string | null;
  next: { href: string; words: string } | null;
}

/** One stop: what to know at the gate, what was found last time, what to log, and "Done here". */
export function StopPage({ stop: listedStop, position, technician, logDate, next }: StopPageProps) {
  const saved = useDrafts((state) => state.drafts[listedStop.id]);
  const {
    data: page,
    error,
    reload,
  } = useRequest('property.open', { propertyId: listedStop.propertyId, ledgerLimit: 20 }, { keepPrevious: false });
  const recorded = useRequest(
    'ledger.list',
    listedStop.visit === null ? null : { visitId: listedStop.id, limit: 100 },
    { keepPrevious: false },
  );
  const stop = listedStop.gate === null && saved !== undefined ? stopOfDraft(saved, page ?? null) : listedStop;
  const readOnly = logDate === null && !holdsWork(saved);
  const draft = useStopDraft(stop, technician.id, logDate ?? saved?.doneOn ?? '');
  const call = phoneLink(stop.phone);
  const [open, setOpenState] = useState<FormKind | null>(readOnly ? null : (saved?.openForm ?? null));
  const kinds = [...(saved?.sent?.entries ?? []), ...(saved?.entries ?? [])].map((entry) => entry.detail.kind);
  const context: LogContext = {
    page: page ?? null,
    technicianName: technician.name,
    doneOn: logDate ?? saved?.doneOn ?? '',
    visit: stop.visit ?? { kind: saved?.unplannedKind ?? visitKindOf(kinds), state: 'planned' },
    kinds,
  };

  const setOpen = (kind: FormKind | null) => {
    setOpenState(kind);
    draft.setOpenForm(kind);
  };
  const back = () => {
    const kind = open;
    setOpen(null);
    requestAnimationFrame(() => document.getElementById(`log-${kind ?? ''}`)?.focus());
  };

  if (open !== null) {
    return (
      <div className="fd-scroll">
        <p className="fd-where">
          {stop.street} · {stop.clientName}
        </p>
        <LogForm
          key={open}
          kind={open}
          draft={saved?.forms[open]}
          context={context}
          pageError={error}
          onRetry={reload}
          onChange={(form) => draft.putForm(open, form)}
          onBack={back}
          onAdd={(entry) => {
            draft.putEntry(entry, open);
            back();
          }}
          onDiscard={() => {
            draft.dropForm(open);
            back();
          }}
        />
      </div>
    );
  }

  const done = stop.visit?.state === 'done';
  const job = stop.kind === null ? say('field.unplannedWork') : VISIT_WORDS[stop.kind];
  const tiles = formsFor(stop.kind).map(({ form, expected }) => ({ kind: form.kind, title: form.title, expected }));
  const visitEntries = recorded.data?.entries ?? [];
  return (
    <>
      <div className="fd-scroll">
        <article className="fd-stop" aria-labelledby="fd-stop-title">
          <header className="fd-head">
            <p className="fd-kicker">
              <span>{position}</span>
              {stop.visit !== null && <span>{formatWindow(stop.visit.windowFrom, stop.visit.windowTo)}</span>}
              {done ? (
                <span className="fd-state">{say('field.doneState')}</span>
              ) : stop.visit === null ? (
                <span className="fd-state">{say('field.notBooked')}</span>
              ) : null}
            </p>
            <h2 id="fd-stop-title">{stop.street}</h2>
            <p className="fd-who">
              {stop.clientName}
              {stop.label === '' ? '' : `, ${stop.label}`}
              {stop.city === '' ? '' : ` · ${stop.city}`}
            </p>
            <div className="fd-job-row">
              <p className="fd-job">
                {stop.visit === null ? job : say('field.job', { job, minutes: stop.visit.expectedMinutes })}
              </p>
              {call === null ? (
                stop.phone
              ) : (
                <a className="button big fd-call" href={call}>
                  {say('field.call', { phone: stop.phone })}
                </a>
              )}
            </div>
          </header>
          {stop.gate === null ? (
            error === null ? (
              <p className="fd-quiet" role="status">
                {say('field.readingProperty')}
              </p>
            ) : (
              <ErrorNote error={error} onRetry={reload} />
            )
          ) : (
            <GatePlate gate={stop.gate} />
          )}
          {stop.due.length > 0 && (
            <ul className="fd-due" aria-label={say('field.dueHere')}>
              {stop.due.map((due) => (
                <li key={`${due.kind} ${sayTold(due.why)}`}>
                  <DueMark kind={due.kind} />
                  <span>{sayTold(due.why)}</span>
                </li>
              ))}
            </ul>
          )}
          {stop.visit !== null && stop.visit.note !== '' && (
            <p className="fd-office-note">
              <strong>{say('field.fromOffice')}</strong> {stop.visit.note}
            </p>
          )}
          {(page?.openFindings.length ?? 0) > 0 && (
            <Recorded title={say('log.openFindings')} entries={page?.openFindings ?? []} none="" />
          )}
          {visitEntries.length > 0 && <Recorded title={say('field.savedHere')} entries={visitEntries} none="" />}
          {!readOnly && (
            <ToBeSaved
              entries={saved?.entries ?? []}
              sentCount={saved?.sent?.entries.length ?? 0}
              page={page ?? null}
              onRemove={(entry) => {
                draft.removeEntry(entry);
                toast({ text: say('field.takenOff'), undo: () => draft.addEntry(entry) });
              }}
              onChange={(entry) => {
                const kind = draft.editEntry(entry, context);
                if (kind !== null) setOpen(kind);
              }}
            />
          )}
          {logDate !== null && stop.visit !== null && stop.visit.date > logDate && (
            <p className="fd-fact">{say('field.plannedLater', { date: stop.visit.date })}</p>
          )}
          {!readOnly && (
            <LogTiles forms={tiles} half={(kind) => saved?.forms[kind]?.touched === true} onOpen={setOpen} />
          )}
          {readOnly && <p className="fd-quiet">{say('field.dayOver')}</p>}
          <Recorded
            title={say('field.foundLast')}
            entries={stop.lastEntries.filter((entry) => entry.visitId !== stop.id)}
            none={say('field.nothingEarlier')}
          />
        </article>
      </div>
      <VisitBar
        stop={stop}
        draft={saved}
        readOnly={readOnly}
        waiting={waitingCount(saved)}
        ensure={draft.ensure}
        onOpen={setOpen}
        next={next}
        hint={
          saved === undefined || !holdsWork(saved) ? null : say('field.factsOnDevice', { count: waitingCount(saved) })
        }
      />
    </>
  );
}
