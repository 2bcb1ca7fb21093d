import { formatDay, formatWindow } from '../parts/format.ts';
import { DUE_WORDS, VISIT_WORDS } from '../parts/marks.tsx';
import { holdsWork, useDrafts, waitingCount, type Draft } from './draft.ts';
import type { Stop } from './stop.ts';
import { say } from '../state/say.ts';

/** The day's stops in order; beside the stop on a wide screen, the first page on a phone. */
export function StopList({
  stops,
  hrefOf,
  currentId,
}: {
  stops: readonly Stop[];
  hrefOf: (stop: Stop) => string;
  currentId: string | null;
}) {
  const drafts = useDrafts((state) => state.drafts);
  return (
    <ol className="fd-list">
      {stops.map((stop, index) => {
        const draft = drafts[stop.id];
        const { windowFrom = null, windowTo = null } = stop.visit ?? {};
        const state =
          stop.visit?.state === 'done'
            ? say('field.doneMark')
            : holdsWork(draft)
              ? waitingCount(draft) > 0
                ? say('field.factsNotSaved', { count: waitingCount(draft) })
                : say('field.halfMark')
              : '';
        return (
          <li key={stop.id}>
            <a
              href={hrefOf(stop)}
              className="fd-list-stop"
              aria-current={stop.id === currentId ? 'page' : undefined}
              data-done={stop.visit?.state === 'done' || undefined}
            >
              <span className="fd-list-number">{stop.visit === null ? '+' : index + 1}</span>
              <span className="fd-list-words">
                <strong>{stop.street}</strong>
                <span>{stop.clientName}</span>
                <span className="fd-quiet">
                  {stop.kind === null ? say('field.unplanned') : VISIT_WORDS[stop.kind]}
                  {windowFrom === null && windowTo === null ? '' : `, ${formatWindow(windowFrom, windowTo)}`}
                  {stop.due.some((due) => due.kind === 'finding') ? (
                    <b className="fd-list-state">▲ {DUE_WORDS.finding}</b>
                  ) : null}
                  {state === '' ? '' : <b className="fd-list-state">{state}</b>}
                </span>
              </span>
            </a>
          </li>
        );
      })}
    </ol>
  );
}

/** Unsaved work that is not among the stops on screen, so that it is never forgotten. */
export function ForgottenDrafts({ drafts, hrefOf }: { drafts: readonly Draft[]; hrefOf: (draft: Draft) => string }) {
  if (drafts.length === 0) return null;
  return (
    <div className="fd-forgotten" role="status">
      <p>
        <strong>{say('field.forgotten')}</strong>
      </p>
      <ul>
        {drafts.map((draft) => (
          <li key={draft.visitId}>
            <a className="fd-list-stop" href={hrefOf(draft)}>
              {formatDay(draft.doneOn)}, {draft.street}:{' '}
              {waitingCount(draft) > 0 ? say('field.facts', { count: waitingCount(draft) }) : say('field.halfFilled')}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
