import { memo } from 'react';
import type { DragEvent } from 'react';
import { DropIndicator, GridList, useDragAndDrop } from 'react-aria-components';
import type { DropTarget, ItemDropTarget } from 'react-aria-components';
import type { VisitRow } from '../../../core/visits/contract.ts';
import { formatLongDay } from '../../parts/format.ts';
import { placeBeside } from './calendar-model.ts';
import type { DayLoad } from './calendar-model.ts';
import { DUE_DRAG, droppedIds, VISIT_DRAG } from './drag-types.ts';
import { LoadBar } from './load-bar.tsx';
import { canDrag, VisitCard } from './visit-card.tsx';
import { say } from '../../state/say.ts';

export interface DropHandler {
  /** Ids put into a day; place left out = at its end. */
  (
    dropped: { visits: string[]; due: string[] },
    date: string,
    technicianId: string | null,
    place: number | undefined,
  ): void;
}

interface DayCellProps {
  date: string;
  technicianId: string | null;
  who: string;
  /** All visits of the day, in order; places are counted among these. */
  visits: VisitRow[];
  /** Those that pass the filters. */
  shown: VisitRow[];
  load: DayLoad | undefined;
  today: string;
  onDropped: DropHandler;
  onOpen: (visitId: string) => void;
}

/** One technician's day: how full it is, and its visits in order. Takes drops. */
export const DayCell = memo(function DayCell({
  date,
  technicianId,
  who,
  visits,
  shown,
  load,
  today,
  onDropped,
  onOpen,
}: DayCellProps) {
  const place = (target: ItemDropTarget, movedId: string) =>
    placeBeside(visits, movedId, String(target.key), target.dropPosition === 'after' ? 'after' : 'before');
  const { dragAndDropHooks } = useDragAndDrop<VisitRow>({
    getItems: (_keys, items) =>
      items.filter(canDrag).map((visit) => ({ [VISIT_DRAG]: visit.id, 'text/plain': visit.street })),
    getAllowedDropOperations: () => ['move'],
    acceptedDragTypes: [VISIT_DRAG, DUE_DRAG],
    getDropOperation: () => 'move',
    onReorder: (event) => {
      const [id] = [...event.keys].map(String);
      if (id !== undefined) onDropped({ visits: [id], due: [] }, date, technicianId, place(event.target, id));
    },
    onInsert: (event) => {
      void droppedIds(event.items).then((dropped) =>
        onDropped(dropped, date, technicianId, place(event.target, dropped.visits[0] ?? '')),
      );
    },
    onRootDrop: (event) => {
      void droppedIds(event.items).then((dropped) => onDropped(dropped, date, technicianId, undefined));
    },
    renderDropIndicator: (target: DropTarget) => <DropIndicator target={target} className="drop-line" />,
    renderDragPreview: (items) => (
      <div className="drag-preview">{items[0]?.['text/plain'] ?? say('calendar.visit')}</div>
    ),
  });
  const day = formatLongDay(date);
  return (
    <div
      className="day-cell"
      data-today={date === today || undefined}
      data-past={date < today || undefined}
      onDragStartCapture={keepFixed}
    >
      <LoadBar load={load} who={who} day={day} />
      <GridList
        aria-label={`${who}, ${day}`}
        className="day-list"
        items={shown}
        dependencies={[today]}
        dragAndDropHooks={dragAndDropHooks}
        onAction={(key) => onOpen(String(key))}
        renderEmptyState={() => null}
      >
        {(visit) => <VisitCard visit={visit} today={today} />}
      </GridList>
    </div>
  );
}, sameCell);

/** What is locked, done or cancelled has no grip; the pointer must not lift it either. */
function keepFixed(event: DragEvent<HTMLDivElement>): void {
  if ((event.target as HTMLElement).closest('[data-fixed]') === null) return;
  event.preventDefault();
  event.stopPropagation();
}

function sameCell(before: DayCellProps, now: DayCellProps): boolean {
  return (
    before.date === now.date &&
    before.technicianId === now.technicianId &&
    before.who === now.who &&
    before.today === now.today &&
    before.onDropped === now.onDropped &&
    before.onOpen === now.onOpen &&
    before.load?.bookedMinutes === now.load?.bookedMinutes &&
    before.load?.availableMinutes === now.load?.availableMinutes &&
    before.load?.visits === now.load?.visits &&
    sameVisits(before.visits, now.visits) &&
    sameVisits(before.shown, now.shown)
  );
}

function sameVisits(before: VisitRow[], now: VisitRow[]): boolean {
  return before === now || (before.length === now.length && before.every((visit, index) => visit === now[index]));
}
