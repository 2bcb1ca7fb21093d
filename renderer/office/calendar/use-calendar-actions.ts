import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { DueItem } from '../../../core/due/contract.ts';
import type { VisitKind } from '../../../core/contract/parts.ts';
import type { VisitRow } from '../../../core/visits/contract.ts';
import type { OutputOf } from '../../../core/contract/index.ts';
import type { Failure } from '../../../core/errors.ts';
import { dismissToast, toast } from '../../state/toasts.ts';
import { newId, write } from '../../state/write.ts';

import { VISIT_WORDS } from '../../parts/marks.tsx';
import { dueKey, visitKindFor } from './calendar-model.ts';
import type { Slot } from './calendar-model.ts';
import { say, sayTold } from '../../state/say.ts';
import { STORED } from '../../../core/text/stored.ts';

/** What a move may change; what is left out stays. */
export interface MoveChange {
  date?: string;
  technicianId?: string | null;
  /** Left out: to the end of a new day, or the same place in the same day. */
  orderInDay?: number;
  windowFrom?: string | null;
  windowTo?: string | null;
  locked?: boolean;
  note?: string;
}
export interface BookingSlot {
  date: string;
  technicianId: string | null;
  orderInDay?: number;
  windowFrom?: string | null;
  windowTo?: string | null;
  expectedMinutes?: number;
  note?: string;
}
export interface Booking {
  propertyId: string;
  street: string;
  kind: VisitKind;
}
export interface BookingResult {
  failure: Failure | null;
  left: DueItem[];
}
interface Undo {
  label: string;
  run: () => Promise<void>;
}
type MovedVisit = OutputOf<'visit.move'>['visit'];

const END_OF_DAY = 200;
const KEPT_UNDOS = 30;

/** Everything the calendar can do to visits: at once on the screen, then in the book, and back again. */
export function useCalendarActions(visits: VisitRow[] | undefined, technicianName: (id: string | null) => string) {
  const [pending, setPending] = useState<ReadonlyMap<string, Slot>>(new Map());
  const [goneDue, setGoneDue] = useState<ReadonlySet<string>>(new Set());
  const [undos, setUndos] = useState<Undo[]>([]);
  const settled = useRef(new Set<string>());
  const settledDue = useRef<string[]>([]);
  const shownToast = useRef(0);

  // A fresh answer of the book takes the place of what was only assumed.
  useEffect(() => {
    if (settled.current.size === 0) return;
    const done = settled.current;
    settled.current = new Set();
    setPending((old) => new Map([...old].filter(([id]) => !done.has(id))));
  }, [visits]);

  const offerUndo = useCallback((label: string, text: string, run: () => Promise<void>) => {
    const entry: Undo = {
      label,
      run: async () => {
        setUndos((old) => old.filter((other) => other !== entry));
        await run();
      },
    };
    setUndos((old) => [...old, entry].slice(-KEPT_UNDOS));
    // One message at a time: it must not hide the days it speaks of. Older steps are taken back by the button.
    dismissToast(shownToast.current);
    shownToast.current = toast({ text, undo: () => void entry.run() });
  }, []);

  const send = useCallback(
    async (visit: Pick<VisitRow, 'id' | 'date' | 'technicianId' | 'windowFrom' | 'windowTo'>, change: MoveChange) => {
      const date = change.date ?? visit.date;
      const technicianId = change.technicianId === undefined ? visit.technicianId : change.technicianId;
      const changesDay = date !== visit.date || technicianId !== visit.technicianId;
      if (changesDay || change.orderInDay !== undefined) {
        setPending((old) =>
          new Map(old).set(visit.id, { date, technicianId, orderInDay: change.orderInDay ?? END_OF_DAY }),
        );
      }
      const reply = await write('visit.move', {
        writeId: newId(),
        visitId: visit.id,
        date,
        technicianId,
        windowFrom: change.windowFrom === undefined ? visit.windowFrom : change.windowFrom,
        windowTo: change.windowTo === undefined ? visit.windowTo : change.windowTo,
        ...(change.orderInDay === undefined ? {} : { orderInDay: change.orderInDay }),
        ...(change.locked === undefined ? {} : { locked: change.locked }),
        ...(change.note === undefined ? {} : { note: change.note }),
      });
      if (reply.ok) settled.current.add(visit.id);
      else setPending((old) => new Map([...old].filter(([id]) => id !== visit.id)));
      return reply;
    },
    [],
  );

  const moveBack = useCallback(
    async (now: MovedVisit, before: MovedVisit) => {
      const reply = await send(now, {
        date: before.date,
        technicianId: before.technicianId,
        orderInDay: before.orderInDay,
        windowFrom: before.windowFrom,
        windowTo: before.windowTo,
        locked: before.locked,
        note: before.note,
      });
      if (reply.ok)
        toast({ text: say('calendar.backOn', { date: before.date, who: technicianName(before.technicianId) }) });
    },
    [send, technicianName],
  );

  const move = useCallback(
    async (visit: VisitRow, change: MoveChange) => {
      const reply = await send(visit, change);
      if (!reply.ok) return reply.error;
      const { visit: now, before, warnings } = reply.data;
      const text = sentence(visit, now, before, technicianName);
      offerUndo(say('calendar.takeBack', { what: text }), [text, ...warnings.map(sayTold)].join(' '), () =>
        moveBack(now, before),
      );
      return null;
    },
    [moveBack, offerUndo, send, technicianName],
  );

  const cancel = useCallback(
    async (visit: VisitRow, reason: string) => {
      const reply = await write('visit.cancel', { writeId: newId(), visitId: visit.id, reason });
      if (!reply.ok) return reply.error;
      const text = say('calendar.cancelledAt', { work: VISIT_WORDS[visit.kind], street: visit.street });
      offerUndo(say('calendar.takeBack', { what: text }), text, async () => {
        const back = await write('visit.cancel', { writeId: newId(), visitId: visit.id, restore: true });
        if (back.ok) toast({ text: say('calendar.bookedAgain', { street: visit.street, date: visit.date }) });
      });
      return null;
    },
    [offerUndo],
  );

  const restore = useCallback(async (visit: VisitRow) => {
    const reply = await write('visit.cancel', { writeId: newId(), visitId: visit.id, restore: true });
    if (!reply.ok) return reply.error;
    toast({ text: say('calendar.bookedAgain', { street: visit.street, date: visit.date }) });
    return null;
  }, []);

  const book = useCallback(
    async (bookings: Booking[], slot: BookingSlot, undone: () => void = () => undefined) => {
      const made: { id: string; street: string }[] = [];
      const warnings = new Set<string>();
      let order = slot.orderInDay;
      let failure: Failure | null = null;
      for (const booking of bookings) {
        const visitId = newId();
        const { orderInDay: _, ...rest } = slot;
        const reply = await write('visit.book', {
          writeId: newId(),
          visitId,
          propertyId: booking.propertyId,
          kind: booking.kind,
          ...rest,
          ...(order === undefined ? {} : { orderInDay: order }),
        });
        if (!reply.ok) {
          failure = reply.error;
          break;
        }
        for (const warning of reply.data.warnings) warnings.add(sayTold(warning));
        made.push({ id: visitId, street: booking.street });
        if (order !== undefined) order += 1;
      }
      if (made.length > 0) {
        const what = made.length === 1 ? (made[0]?.street ?? '') : say('calendar.visits', { count: made.length });
        const text = say('calendar.bookedFor', { what, date: slot.date, who: technicianName(slot.technicianId) });
        offerUndo(say('calendar.takeBack', { what: text }), [text, ...warnings].join(' '), async () => {
          for (const { id } of made.toReversed())
            await write('visit.cancel', { writeId: newId(), visitId: id, reason: STORED.bookingTakenBack });
          undone();
          toast({
            text:
              made.length === 1
                ? say('calendar.notBookedMore', { what })
                : say('calendar.takenBackMany', { count: made.length }),
          });
        });
      }
      return { failure, done: made.length };
    },
    [offerUndo, technicianName],
  );

  /** Books due items on a day; an overdue visit is moved there instead. What could not be done is handed back. */
  const bookDue = useCallback(
    async (
      items: DueItem[],
      slot: BookingSlot,
      overdueVisit: (item: DueItem) => Promise<VisitRow | null>,
    ): Promise<BookingResult> => {
      setGoneDue((old) => new Set([...old, ...items.map(dueKey)]));
      const { orderInDay, ...rest } = slot;
      let order = orderInDay;
      const place = () => (order === undefined ? {} : { orderInDay: order });
      let failure: Failure | null = null;
      let left: DueItem[] = [];
      for (const item of items.filter(({ kind }) => visitKindFor(kind) === null)) {
        const visit = failure === null ? await overdueVisit(item) : null;
        // Gone from the book in the meantime: the list will say so by itself.
        if (visit === null && failure === null) continue;
        if (visit !== null)
          failure = await move(visit, { date: slot.date, technicianId: slot.technicianId, ...place() });
        if (failure !== null) left.push(item);
        else if (order !== undefined) order += 1;
      }
      const toBook = items.filter(({ kind }) => visitKindFor(kind) !== null);
      if (failure === null && toBook.length > 0) {
        const result = await book(
          toBook.map((item) => ({
            propertyId: item.propertyId,
            street: item.street,
            kind: visitKindFor(item.kind) ?? 'walk-through',
          })),
          { ...rest, ...place() },
          // The list may be read only before the booking and after its end: then its answer is the same and says nothing.
          () => setGoneDue((old) => new Set([...old].filter((key) => !toBook.some((item) => dueKey(item) === key)))),
        );
        failure = result.failure;
        left = toBook.slice(result.done);
      } else if (failure !== null) left.push(...toBook);
      const leftKeys = new Set(left.map(dueKey));
      setGoneDue((old) => new Set([...old].filter((key) => !leftKeys.has(key))));
      settledDue.current = [...settledDue.current, ...items.map(dueKey).filter((key) => !leftKeys.has(key))];
      return { failure, left };
    },
    [book, move],
  );

  /** The list of what is due has a fresh answer: what was booked is no longer in it, or is due again. */
  const dueAnswered = useCallback(() => {
    if (settledDue.current.length === 0) return;
    const settledKeys = new Set(settledDue.current);
    settledDue.current = [];
    setGoneDue((old) => new Set([...old].filter((key) => !settledKeys.has(key))));
  }, []);

  const lastUndo = undos.at(-1) ?? null;
  const actions = useMemo(() => ({ move, cancel, restore, book, bookDue }), [move, cancel, restore, book, bookDue]);
  const clearMessage = useCallback(() => dismissToast(shownToast.current), []);
  return { pending, goneDue, lastUndo, actions, clearMessage, dueAnswered };
}
export type CalendarActions = ReturnType<typeof useCalendarActions>['actions'];

function sentence(
  visit: VisitRow,
  now: MovedVisit,
  before: MovedVisit,
  technicianName: (id: string | null) => string,
): string {
  if (now.date !== before.date || now.technicianId !== before.technicianId)
    return say('calendar.movedTo', { street: visit.street, date: now.date, who: technicianName(now.technicianId) });
  if (now.orderInDay !== before.orderInDay)
    return say('calendar.nowStop', {
      street: visit.street,
      place: now.orderInDay,
      who: technicianName(now.technicianId),
      date: now.date,
    });
  if (now.locked !== before.locked)
    return now.locked
      ? say('calendar.staysLocked', { street: visit.street })
      : say('calendar.mayMove', { street: visit.street });
  return say('calendar.savedStreet', { street: visit.street });
}
