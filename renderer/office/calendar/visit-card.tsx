import { Button as AriaButton, GridListItem } from 'react-aria-components';
import type { VisitRow } from '../../../core/visits/contract.ts';
import { formatWindow } from '../../parts/format.ts';
import { VISIT_WORDS, VisitMark } from '../../parts/marks.tsx';
import { GripIcon, LockIcon } from './calendar-icons.tsx';
import { say, words } from '../../state/say.ts';

/** A visit may be dragged while it is still to come and not locked. */
export function canDrag(visit: Pick<VisitRow, 'state' | 'locked'>): boolean {
  return visit.state === 'planned' && !visit.locked;
}

/** One visit in a day: where, what, how long. Opens by click or Enter; is picked up by dragging or by its grip. */
export function VisitCard({ visit, today }: { visit: VisitRow; today: string }) {
  const late = visit.state === 'planned' && visit.date < today;
  const when =
    visit.windowFrom === null && visit.windowTo === null
      ? ''
      : formatWindow(visit.windowFrom, visit.windowTo).replaceAll(':00', '');
  const state =
    visit.state === 'cancelled' ? `✕ ${say('calendar.cancelledSmall')}` : late ? `! ${say('calendar.notDoneYet')}` : '';
  const extra = [
    visit.state === 'planned' && visit.locked ? say('calendar.locked') : '',
    visit.state === 'done' ? '' : when,
    state,
  ]
    .filter((text) => text !== '')
    .join(' · ');
  return (
    <GridListItem
      id={visit.id}
      value={visit}
      className="visit-card"
      textValue={[
        visit.street,
        VISIT_WORDS[visit.kind],
        visit.state === 'done' ? say('calendar.done') : words().duration(visit.expectedMinutes),
        visit.clientName,
        extra,
      ]
        .filter((text) => text !== '')
        .join(', ')}
      data-state={visit.state}
      data-kind={visit.kind}
      data-late={late || undefined}
      data-fixed={!canDrag(visit) || undefined}
    >
      <span className="visit-text">
        <span className="visit-street">{visit.street}</span>
        <span className="visit-what">
          <VisitMark kind={visit.kind} />
          {visit.state === 'done' ? (
            <span className="visit-minutes">✓ {say('calendar.done')}</span>
          ) : (
            <span className="visit-minutes">{words().duration(visit.expectedMinutes)}</span>
          )}
          {extra === '' ? null : (
            <span className="visit-extra">
              {visit.state === 'planned' && visit.locked ? <LockIcon /> : null}
              {extra}
            </span>
          )}
        </span>
      </span>
      {/* React Aria wants a grip in every row; one that may not be lifted has it switched off and out of sight. */}
      <AriaButton
        slot="drag"
        className="grip"
        isDisabled={!canDrag(visit)}
        aria-label={say('calendar.pickUp', { street: visit.street })}
      >
        <GripIcon />
      </AriaButton>
    </GridListItem>
  );
}
