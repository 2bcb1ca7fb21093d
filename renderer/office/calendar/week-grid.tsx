import type { Technician } from '../../../core/people/contract.ts';
import type { VisitRow } from '../../../core/visits/contract.ts';
import { formatDay } from '../../parts/format.ts';
import { cellKey } from './calendar-model.ts';
import type { DayLoad } from './calendar-model.ts';
import { DayCell } from './day-cell.tsx';
import type { DropHandler } from './day-cell.tsx';
import { say } from '../../state/say.ts';

interface WeekGridProps {
  days: string[];
  today: string;
  technicians: Technician[];
  /** All visits by cell, and those the filters let through. */
  cells: ReadonlyMap<string, VisitRow[]>;
  shown: ReadonlyMap<string, VisitRow[]>;
  loads: ReadonlyMap<string, DayLoad>;
  onDropped: DropHandler;
  onOpen: (visitId: string) => void;
}
const NONE: VisitRow[] = [];

/** The week: a row a technician, a column a day. */
export function WeekGrid({ days, today, technicians, cells, shown, loads, onDropped, onOpen }: WeekGridProps) {
  const rows = [
    ...technicians.map(({ id, name }) => ({ id: id as string | null, name })),
    { id: null, name: say('calendar.nobodyYet') },
  ];
  return (
    <table className="week" style={{ '--days': days.length } as React.CSSProperties}>
      <caption className="visually-hidden">{say('calendar.tableCaption')}</caption>
      <thead>
        <tr>
          <th scope="col" className="week-corner">
            <span className="visually-hidden">{say('calendar.technician')}</span>
          </th>
          {days.map((date) => (
            <DayHead key={date} date={date} today={today} total={totalOf(date, loads)} />
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ id, name }) => (
          <tr key={id ?? 'nobody'} data-nobody={id === null || undefined}>
            <th scope="row" className="week-who">
              <div>
                {name}
                <span className="week-count">{weekOf(id, days, loads)}</span>
              </div>
            </th>
            {days.map((date) => {
              const key = cellKey(date, id);
              return (
                <td key={date}>
                  <DayCell
                    date={date}
                    technicianId={id}
                    who={name}
                    today={today}
                    load={
                      loads.get(key) ??
                      (id === null
                        ? { date, technicianId: null, visits: 0, bookedMinutes: 0, availableMinutes: 0 }
                        : undefined)
                    }
                    visits={cells.get(key) ?? NONE}
                    shown={shown.get(key) ?? NONE}
                    onDropped={onDropped}
                    onOpen={onOpen}
                  />
                </td>
              );
            })}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function DayHead({ date, today, total }: { date: string; today: string; total: { booked: number; room: number } }) {
  return (
    <th
      scope="col"
      className="week-day"
      data-today={date === today || undefined}
      {...(date === today ? { 'aria-current': 'date' as const } : {})}
    >
      <span className="week-date">{formatDay(date)}</span>
      {date === today ? <span className="today-word">{say('parts.today')}</span> : null}
      <span className="week-total small quiet">
        {total.room === 0 && total.booked === 0
          ? say('calendar.nobodyWorks')
          : say('calendar.ofRoom', { booked: total.booked, room: total.room })}
      </span>
    </th>
  );
}

function totalOf(date: string, loads: ReadonlyMap<string, DayLoad>): { booked: number; room: number } {
  let booked = 0;
  let room = 0;
  for (const load of loads.values()) {
    if (load.date !== date) continue;
    booked += load.bookedMinutes;
    room += load.availableMinutes;
  }
  return { booked, room };
}

function weekOf(technicianId: string | null, days: string[], loads: ReadonlyMap<string, DayLoad>): string {
  let visits = 0;
  for (const date of days) visits += loads.get(cellKey(date, technicianId))?.visits ?? 0;
  if (visits === 0) return technicianId === null ? say('calendar.noVisitsWaiting') : say('calendar.noVisits');
  return say('calendar.visits', { count: visits });
}
