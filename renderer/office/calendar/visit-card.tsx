import { Button as AriaButton, GridListItem } from 'react-aria-components';
import type { VisitRow } from '../../../core/contract/visits.ts';
import { formatWindow } from '../../parts/format.ts';
import { VISIT_WORDS, VisitMark } from '../../parts/marks.tsx';
import { GripIcon, LockIcon } from './calendar-icons.tsx';

/** A visit may be dragged while it is still to come and not locked. */
export function canDrag(visit: Pick<VisitRow, 'state' | 'locked'>): boolean {
  return visit.state === 'planned' && !visit.locked;
}

/** One visit in a day: where, what, how long. Opens by click or Enter; is picked up by dragging or by its grip. */
export function VisitCard({ visit, today }: { visit: VisitRow; today: string }) {
  const late = visit.state === 'planned' && visit.date < today;
  const when = visit.windowFrom === null && visit.windowTo === null ? '' : formatWindow(visit.windowFrom, visit.windowTo);
  const state = visit.state === 'done' ? 'done' : visit.state === 'cancelled' ? 'cancelled' : late ? 'not done yet' : visit.locked ? 'locked' : '';
  return (
    <GridListItem
      id={visit.id}
      className="visit-card"
      textValue={`${visit.street}, ${VISIT_WORDS[visit.kind]}, ${visit.expectedMinutes} minutes, ${visit.clientName}${when === '' ? '' : `, ${when}`}${state === '' ? '' : `, ${state}`}`}
      data-state={visit.state}
      data-kind={visit.kind}
      data-late={late || undefined}
      data-fixed={!canDrag(visit) || undefined}
    >
      <span className="visit-text">
        <span className="visit-street">{visit.street}</span>
        <span className="visit-what">
          <VisitMark kind={visit.kind} />
          <span className="visit-minutes">{visit.expectedMinutes} min</span>
        </span>
        {when === '' ? null : <span className="visit-window">{when}</span>}
        {state === '' ? null : <span className="visit-state">{visit.state === 'done' ? '✓ ' : late ? '! ' : visit.state === 'cancelled' ? '✕ ' : ''}{visit.locked && visit.state === 'planned' && !late ? <LockIcon /> : null}{state}</span>}
      </span>
      {canDrag(visit) ? (
        <AriaButton slot="drag" className="grip" aria-label={`Pick up ${visit.street}`}><GripIcon /></AriaButton>
      ) : null}
    </GridListItem>
  );
}
