import { Temporal } from 'temporal-polyfill';
import { addDays, weekStartOf } from '../../../core/dates.ts';
import type { DueItem, DueKind } from '../../../core/due/contract.ts';
import type { Technician } from '../../../core/people/contract.ts';
import type { VisitKind } from '../../../core/contract/parts.ts';
import type { VisitRow } from '../../../core/visits/contract.ts';
import type { OutputOf } from '../../../core/contract/index.ts';
import { formatMinutes } from '../../parts/format.ts';
import { say, words } from '../../state/say.ts';

// What the calendar works out from its requests; no React here, so that it can be tested by itself.

export type DayLoad = OutputOf<'visit.list'>['load'][number];

/** Where a visit stands: whose day, which day, which place in it. */
export interface Slot {
  date: string;
  technicianId: string | null;
  orderInDay: number;
}

/** The Monday of the first week that shows a month written YYYY-MM. */
export function weekOfMonth(month: string): string {
  const first = Temporal.PlainDate.from(`${month}-01`);
  // A 1st on Saturday or Sunday belongs to a week that is all but over; the next one shows the month.
  return weekStartOf((first.dayOfWeek >= 6 ? first.add({ days: 8 - first.dayOfWeek }) : first).toString());
}

/** Weekdays that stay in view: Monday to Friday, and a weekend day on which somebody works, a visit stands, or the reader asked. */
export function daysInView(
  weekStart: string,
  technicians: Pick<Technician, 'workWeekdays' | 'active'>[],
  visits: Pick<VisitRow, 'date'>[],
  showWeekend: boolean,
): string[] {
  const worked = new Set(
    technicians.filter((technician) => technician.active).flatMap((technician) => technician.workWeekdays),
  );
  const booked = new Set(visits.map((visit) => visit.date));
  return Array.from({ length: 7 }, (_, index) => addDays(weekStart, index)).filter(
    (date, index) => index < 5 || showWeekend || worked.has(index + 1) || booked.has(date),
  );
}

/** The key of one cell of the week. */
export function cellKey(date: string, technicianId: string | null): string {
  return `${date}|${technicianId ?? ''}`;
}

/** Visits with moves that the book has not confirmed yet already shown where they were put. */
export function withPending(visits: VisitRow[], pending: ReadonlyMap<string, Slot>): VisitRow[] {
  if (pending.size === 0) return visits;
  return visits.map((visit) => {
    const slot = pending.get(visit.id);
    if (slot === undefined) return visit;
    const sameDay = slot.date === visit.date && slot.technicianId === visit.technicianId;
    // Half a step before the one it was put in front of (or behind, when it moves down its own day).
    const order = sameDay && slot.orderInDay > visit.orderInDay ? slot.orderInDay + 0.5 : slot.orderInDay - 0.5;
    return { ...visit, date: slot.date, technicianId: slot.technicianId, orderInDay: order };
  });
}

/** Visits by cell, in the order of the day, else as the book lists them; planned and done before cancelled. */
export function byCell(visits: VisitRow[]): Map<string, VisitRow[]> {
  const cells = new Map<string, VisitRow[]>();
  for (const visit of visits) {
    const key = cellKey(visit.date, visit.technicianId);
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [visit]);
    else cell.push(visit);
  }
  for (const cell of cells.values()) {
    cell.sort(
      (one, other) =>
        Number(one.state === 'cancelled') - Number(other.state === 'cancelled') || one.orderInDay - other.orderInDay,
    );
  }
  return cells;
}

/**
 * The place in the day for a visit put before or after a neighbour.
 * Places are counted as they will be once the visit has left its own.
 */
export function placeBeside(cell: VisitRow[], movedId: string, neighbourId: string, side: 'before' | 'after'): number {
  const others = cell.filter((visit) => visit.id !== movedId && visit.state !== 'cancelled');
  const index = others.findIndex((visit) => visit.id === neighbourId);
  if (index < 0) return others.length + 1;
  return index + (side === 'before' ? 1 : 2);
}

/** Loads by cell with unconfirmed moves counted in. */
export function loadsByCell(
  load: DayLoad[],
  visits: VisitRow[],
  pending: ReadonlyMap<string, Slot>,
): Map<string, DayLoad> {
  const cells = new Map(load.map((entry) => [cellKey(entry.date, entry.technicianId), { ...entry }]));
  const shift = (date: string, technicianId: string | null, minutes: number, count: number) => {
    const key = cellKey(date, technicianId);
    const entry = cells.get(key) ?? { date, technicianId, visits: 0, bookedMinutes: 0, availableMinutes: 0 };
    cells.set(key, { ...entry, visits: entry.visits + count, bookedMinutes: entry.bookedMinutes + minutes });
  };
  for (const visit of visits) {
    const slot = pending.get(visit.id);
    if (slot === undefined || (slot.date === visit.date && slot.technicianId === visit.technicianId)) continue;
    shift(visit.date, visit.technicianId, -visit.expectedMinutes, -1);
    shift(slot.date, slot.technicianId, visit.expectedMinutes, 1);
  }
  return cells;
}

export type LoadState = 'off' | 'room' | 'nearly-full' | 'full' | 'over' | 'unassigned';
export interface LoadReading {
  state: LoadState;
  /** Share of the day that is booked; may pass 1. */
  share: number;
  /** What a glance should tell: "full", "2 h 10 left". */
  word: string;
}

/** Whether a day still has room, as a word, a state and a share. Driving is not in it: nobody knows it before the order is set. */
export function readLoad(
  load: { bookedMinutes: number; availableMinutes: number; technicianId: string | null } | undefined,
): LoadReading {
  const booked = load?.bookedMinutes ?? 0;
  const room = load?.availableMinutes ?? 0;
  if (load !== undefined && load.technicianId === null)
    return { state: 'unassigned', share: 0, word: booked === 0 ? '' : formatMinutes(booked) };
  if (room <= 0)
    return booked === 0
      ? { state: 'off', share: 0, word: say('calendar.off') }
      : { state: 'over', share: 2, word: say('calendar.offBooked', { minutes: booked }) };
  const share = booked / room;
  const left = room - booked;
  if (left < 0) return { state: 'over', share, word: say('calendar.overBy', { minutes: -left }) };
  if (share >= 0.95) return { state: 'full', share, word: say('calendar.full') };
  if (share >= 0.8) return { state: 'nearly-full', share, word: say('calendar.left', { minutes: left }) };
  return { state: 'room', share, word: say('calendar.left', { minutes: left }) };
}

/** The visit that answers a due item; null = the item is a visit already, which has to be moved. */
export function visitKindFor(kind: DueKind): VisitKind | null {
  if (kind === 'overdue-visit') return null;
  if (kind === 'finding') return 'repair';
  return kind === 'battery' ? 'battery-swap' : kind;
}

/** One key for one due item: a property can have several sensors due. */
export function dueKey(item: Pick<DueItem, 'kind' | 'propertyId' | 'sensorId' | 'visitId' | 'findingId'>): string {
  return `${item.kind}:${item.propertyId}:${item.sensorId ?? item.visitId ?? item.findingId ?? ''}`;
}

/** Several sensors due at one property are one stop: the first (most urgent) of each kind and property stays. */
export function oneStopEach(items: DueItem[]): DueItem[] {
  const seen = new Set<string>();
  return items.filter((item) => {
    const key = item.kind === 'overdue-visit' ? dueKey(item) : `${item.kind}:${item.propertyId}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** "Oct 5 – 11, 2026", with both months where the week crosses one. */
export function weekTitle(weekStart: string): string {
  return words().dateSpan(weekStart, addDays(weekStart, 6));
}

/** Months to jump to, around the week in view. */
export function monthsAround(weekStart: string, today: string): { id: string; label: string }[] {
  const first = Temporal.PlainYearMonth.from(
    Temporal.PlainDate.compare(weekStart, today) < 0 ? weekStart.slice(0, 7) : today.slice(0, 7),
  ).subtract({ months: 6 });
  const last = Temporal.PlainYearMonth.from(
    Temporal.PlainDate.compare(weekStart, today) > 0 ? weekStart.slice(0, 7) : today.slice(0, 7),
  ).add({ months: 12 });
  const months: { id: string; label: string }[] = [];
  for (let month = first; Temporal.PlainYearMonth.compare(month, last) <= 0; month = month.add({ months: 1 })) {
    months.push({
      id: month.toString(),
      label: words().monthOfYear(month.toString()),
    });
  }
  return months;
}
