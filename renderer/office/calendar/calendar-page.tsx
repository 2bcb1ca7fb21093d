import './calendar.css';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { addDays, weekStartOf } from '../../../core/dates.ts';
import { VISIT_KINDS } from '../../../core/contract/parts.ts';
import type { DueItem } from '../../../core/due/contract.ts';
import type { VisitKind } from '../../../core/contract/parts.ts';
import type { VisitRow } from '../../../core/visits/contract.ts';
import { ButtonLink, EmptyState, ErrorNote, VISIT_WORDS } from '../../parts/index.ts';
import { ask, useRequest } from '../../state/use-request.ts';
import { useToday } from '../../state/use-settings.ts';
import { toast } from '../../state/toasts.ts';
import { navigate, useView } from '../../state/view.ts';
import { BookDialog } from './book-dialog.tsx';
import { byCell, daysInView, dueKey, loadsByCell, withPending } from './calendar-model.ts';
import { CalendarBar } from './calendar-bar.tsx';
import type { Filters } from './calendar-bar.tsx';
import { DaySheetsDialog } from './day-sheets.tsx';
import { DayStrip } from './day-strip.tsx';
import { ToBookTray } from './to-book-tray.tsx';
import { useCalendarActions } from './use-calendar-actions.ts';
import type { BookingSlot } from './use-calendar-actions.ts';
import { useNarrow } from './use-narrow.ts';
import { useSteady } from './use-steady.ts';
import { VisitDialog } from './visit-dialog.tsx';
import { WeekGrid } from './week-grid.tsx';
import { say, sayError } from '../../state/say.ts';

const MOST_VISITS = 5000;
const NO_VISITS: VisitRow[] = [];

/** The booking calendar: a week of every technician, how full each day is, and what is still to book. */
export default function CalendarPage() {
  const today = useToday();
  const narrow = useNarrow();
  const viewDate = useView((view) => view.date);
  const date = viewDate !== null && /^\d{4}-\d\d-\d\d$/.test(viewDate) ? viewDate : today;
  const weekStart = weekStartOf(date);
  const [filters, setFilters] = useState<Filters>({ kind: '', routeId: '', weekend: false, cancelled: false });
  const [trayOpen, setTrayOpen] = useState(() => window.innerWidth > 1180);
  const [openId, setOpenId] = useState<string | null>(null);
  const [booking, setBooking] = useState<DueItem[] | null>(null);
  const [printing, setPrinting] = useState(false);

  const people = useRequest('people.list', {});
  const week = useRequest('visit.list', {
    fromDate: weekStart,
    toDate: addDays(weekStart, 6),
    limit: MOST_VISITS,
    states: filters.cancelled ? ['planned', 'done', 'cancelled'] : ['planned', 'done'],
  });
  const visits = useSteady(week.isPrevious ? undefined : week.data?.visits) ?? NO_VISITS;
  const all = people.data?.technicians;
  const names = useMemo(() => new Map((all ?? []).map(({ id, name }) => [id, name])), [all]);
  const technicianName = useCallback(
    (id: string | null) =>
      id === null ? say('calendar.nobodyYetSmall') : (names.get(id) ?? say('calendar.aTechnician')),
    [names],
  );
  // Somebody who has left still shows where visits stand on them.
  const technicians = useMemo(
    () => (all ?? []).filter(({ id, active }) => active || visits.some((visit) => visit.technicianId === id)),
    [all, visits],
  );
  const bookable = useMemo(() => (all ?? []).filter(({ active }) => active), [all]);

  const { pending, goneDue, lastUndo, actions, clearMessage, dueAnswered } = useCalendarActions(
    week.data?.visits,
    technicianName,
  );
  const placed = useMemo(() => withPending(visits, pending), [visits, pending]);
  const cells = useMemo(() => byCell(placed), [placed]);
  const shown = useMemo(() => byCell(placed.filter((visit) => passes(visit, filters))), [placed, filters]);
  const loads = useMemo(
    () => loadsByCell(week.isPrevious ? [] : (week.data?.load ?? []), visits, pending),
    [week.isPrevious, week.data, visits, pending],
  );
  const days = useMemo(
    () => daysInView(weekStart, bookable, visits, filters.weekend),
    [weekStart, bookable, visits, filters.weekend],
  );

  const latest = useRef({ visits, due: new Map<string, DueItem>() });
  useEffect(() => {
    latest.current.visits = visits;
  }, [visits]);
  const onItems = useCallback(
    (items: DueItem[]) => {
      latest.current.due = new Map(items.map((item) => [dueKey(item), item]));
      dueAnswered();
    },
    [dueAnswered],
  );
  const bookDue = useCallback(
    (items: DueItem[], slot: BookingSlot) => actions.bookDue(items, slot, findVisit),
    [actions],
  );
  const onDropped = useCallback(
    (
      dropped: { visits: string[]; due: string[] },
      toDate: string,
      technicianId: string | null,
      place: number | undefined,
    ) => {
      const order = place === undefined ? {} : { orderInDay: place };
      for (const id of dropped.visits) {
        const visit = latest.current.visits.find((one) => one.id === id);
        if (visit === undefined) continue;
        if (
          visit.date === toDate &&
          visit.technicianId === technicianId &&
          (place === undefined || place === visit.orderInDay)
        )
          continue;
        void actions.move(visit, { date: toDate, technicianId, ...order });
      }
      const items = dropped.due.map((key) => latest.current.due.get(key)).filter((item) => item !== undefined);
      if (items.length > 0) {
        void bookDue(items, { date: toDate, technicianId, ...order }).then(({ failure }) => {
          // A refused move tells itself; a refused booking has no form here to stand beside.
          if (failure?.field !== undefined) toast({ text: sayError(failure), tone: 'error' });
        });
      }
    },
    [actions, bookDue],
  );
  // A message over the form would hide its buttons; the step can still be taken back by the button in the bar.
  const formOpen = openId !== null || booking !== null;
  useEffect(() => {
    if (formOpen) clearMessage();
  }, [formOpen, clearMessage]);
  const goTo = (day: string) => navigate(`#/office/calendar/${day}`, { replace: true });
  const opened = openId === null ? undefined : visits.find(({ id }) => id === openId);
  const shownDays = narrow ? [days.includes(date) ? date : (days[0] ?? date)] : days;

  return (
    <div className="calendar" data-tray={trayOpen || undefined}>
      <CalendarBar
        weekStart={weekStart}
        today={today}
        filters={filters}
        onFilters={setFilters}
        routes={people.data?.routes ?? []}
        kinds={VISIT_KINDS.map((id) => ({ id, label: VISIT_WORDS[id] }))}
        onGoTo={goTo}
        trayOpen={trayOpen}
        onTray={setTrayOpen}
        lastUndo={lastUndo}
        onPrint={() => setPrinting(true)}
      />
      {narrow ? (
        <DayStrip days={days} chosen={shownDays[0] ?? date} today={today} loads={loads} onChoose={goTo} />
      ) : null}
      <div className="calendar-body">
        <div className="calendar-week">
          {week.error === null ? null : <ErrorNote error={week.error} onRetry={week.reload} />}
          {people.data !== undefined && technicians.length === 0 ? (
            <EmptyState
              title={say('calendar.nobodyToSend')}
              action={
                <ButtonLink look="primary" href="#/company/people">
                  {say('calendar.addTechnicians')}
                </ButtonLink>
              }
            >
              {say('calendar.nobodyToSendWhy')}
            </EmptyState>
          ) : null}
          {/* Days without their visits would be taken for free ones, and move away under a drag when the visits come. */}
          {people.data === undefined || (week.data === undefined && week.error === null) ? (
            <p className="waiting" role="status">
              {say('calendar.readingWeek')}
            </p>
          ) : (
            <WeekGrid
              days={shownDays}
              today={today}
              technicians={technicians}
              cells={cells}
              shown={shown}
              loads={loads}
              onDropped={onDropped}
              onOpen={setOpenId}
            />
          )}
        </div>
        {trayOpen ? (
          <ToBookTray routeId={filters.routeId} gone={goneDue} onBook={setBooking} onItems={onItems} />
        ) : null}
      </div>
      {opened === undefined ? null : (
        <VisitDialog
          key={opened.id}
          visit={opened}
          technicians={bookable}
          actions={actions}
          onClose={() => setOpenId(null)}
        />
      )}
      {booking === null ? null : (
        <BookDialog
          items={booking}
          date={date < today ? today : date}
          technicians={bookable}
          onBook={bookDue}
          onClose={() => setBooking(null)}
        />
      )}
      {printing ? <DaySheetsDialog technicians={technicians} date={date} onClose={() => setPrinting(false)} /> : null}
    </div>
  );
}

function passes(visit: VisitRow, filters: Filters): boolean {
  return (
    (filters.kind === '' || visit.kind === (filters.kind as VisitKind)) &&
    (filters.routeId === '' || visit.routeId === filters.routeId)
  );
}

/** An overdue visit stands in an earlier week: it is looked up by its id before it is moved. */
async function findVisit(item: DueItem): Promise<VisitRow | null> {
  const reply = await ask('visit.list', {
    fromDate: item.dueOn,
    toDate: item.dueOn,
    propertyId: item.propertyId,
    states: ['planned'],
  });
  return reply.ok ? (reply.data.visits.find(({ id }) => id === item.visitId) ?? null) : null;
}
