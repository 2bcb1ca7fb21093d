import { describe, expect, it } from 'vitest';
import type { DueItem } from '../../core/due/contract.ts';
import type { VisitRow } from '../../core/visits/contract.ts';
import {
  byCell,
  cellKey,
  daysInView,
  dueKey,
  loadsByCell,
  monthsAround,
  oneStopEach,
  placeBeside,
  readLoad,
  visitKindFor,
  weekOfMonth,
  weekTitle,
  withPending,
  type Slot,
} from '../../renderer/office/calendar/calendar-model.ts';

const visit = (id: string, orderInDay: number, change: Partial<VisitRow> = {}): VisitRow => ({
  id,
  propertyId: `p-${id}`,
  kind: 'winterization',
  state: 'planned',
  date: '2026-10-07',
  windowFrom: null,
  windowTo: null,
  technicianId: 'ada',
  orderInDay,
  expectedMinutes: 30,
  locked: false,
  note: '',
  doneOn: null,
  cancelReason: '',
  clientId: `c-${id}`,
  clientName: id,
  phone: '',
  street: id,
  city: '',
  latitudeDeg: null,
  longitudeDeg: null,
  technicianName: 'Ada',
  ...change,
});
const day = [visit('a', 1), visit('b', 2), visit('c', 3), visit('d', 4)];
const order = (visits: VisitRow[], pending: Map<string, Slot>, key = cellKey('2026-10-07', 'ada')) =>
  (byCell(withPending(visits, pending)).get(key) ?? []).map(({ id }) => id);

/** What the book does with a place: the visit leaves its own, then goes in front of whoever stands there. */
function bookOrder(cell: VisitRow[], movedId: string, place: number): string[] {
  const others = cell.filter(({ id }) => id !== movedId).map(({ id }) => id);
  return [...others.slice(0, place - 1), movedId, ...others.slice(place - 1)];
}

describe('places in a day', () => {
  it('puts a visit where it is dropped, the same on the screen as in the book', () => {
    for (const moved of day) {
      for (const neighbour of day.filter(({ id }) => id !== moved.id)) {
        for (const side of ['before', 'after'] as const) {
          const place = placeBeside(day, moved.id, neighbour.id, side);
          const inBook = bookOrder(day, moved.id, place);
          expect(inBook.indexOf(moved.id) - inBook.indexOf(neighbour.id)).toBe(side === 'before' ? -1 : 1);
          expect(
            order(day, new Map([[moved.id, { date: '2026-10-07', technicianId: 'ada', orderInDay: place }]])),
          ).toEqual(inBook);
        }
      }
    }
  });

  it('takes a visit of another day in before its neighbour', () => {
    const guest = visit('x', 1, { date: '2026-10-08' });
    for (const [neighbour, side, expected] of [
      ['a', 'before', 1],
      ['b', 'after', 3],
      ['d', 'after', 5],
    ] as const) {
      const place = placeBeside(day, 'x', neighbour, side);
      expect(place).toBe(expected);
      expect(
        order([...day, guest], new Map([['x', { date: '2026-10-07', technicianId: 'ada', orderInDay: place }]])),
      ).toEqual(bookOrder([...day, guest], 'x', place));
    }
  });

  it('counts no place for cancelled visits and shows them last', () => {
    const cell = [visit('gone', 1, { state: 'cancelled' }), ...day];
    expect(placeBeside(cell, 'd', 'a', 'before')).toBe(1);
    expect(order(cell, new Map())).toEqual(['a', 'b', 'c', 'd', 'gone']);
  });
});

describe('how full a day is', () => {
  const load = (bookedMinutes: number, availableMinutes: number, technicianId: string | null = 'ada') =>
    readLoad({ bookedMinutes, availableMinutes, technicianId });
  it('says it in a word at every limit', () => {
    expect(load(0, 480)).toMatchObject({ state: 'room', word: '8 h left' });
    expect(load(383, 480).state).toBe('room');
    expect(load(384, 480)).toMatchObject({ state: 'nearly-full', word: '1 h 36 left' });
    expect(load(456, 480)).toMatchObject({ state: 'full', word: 'full' });
    expect(load(480, 480)).toMatchObject({ state: 'full', word: 'full' });
    expect(load(481, 480)).toMatchObject({ state: 'over', word: 'over by 1 min' });
    expect(load(0, 0)).toMatchObject({ state: 'off', word: 'off' });
    expect(load(30, 0)).toMatchObject({ state: 'over', word: 'off, 30 min booked' });
    expect(load(30, 0, null)).toMatchObject({ state: 'unassigned', word: '30 min' });
    expect(readLoad(undefined).state).toBe('off');
  });

  it('counts a move at once on both days, and only once', () => {
    const loads = [{ date: '2026-10-07', technicianId: 'ada', visits: 4, bookedMinutes: 120, availableMinutes: 480 }];
    const pending = new Map([
      ['a', { date: '2026-10-08', technicianId: 'ben', orderInDay: 1 }],
      ['b', { date: '2026-10-07', technicianId: 'ada', orderInDay: 4 }],
    ]);
    const after = loadsByCell(loads, day, pending);
    expect(after.get(cellKey('2026-10-07', 'ada'))).toMatchObject({
      visits: 3,
      bookedMinutes: 90,
      availableMinutes: 480,
    });
    expect(after.get(cellKey('2026-10-08', 'ben'))).toMatchObject({ visits: 1, bookedMinutes: 30 });
    expect(loads[0]?.bookedMinutes).toBe(120);
  });
});

describe('weeks and months', () => {
  it('shows weekdays, and a weekend day when somebody works or a visit stands on it', () => {
    const nobody: never[] = [];
    const monday = '2026-10-05';
    expect(daysInView(monday, nobody, [], false)).toEqual([
      '2026-10-05',
      '2026-10-06',
      '2026-10-07',
      '2026-10-08',
      '2026-10-09',
    ]);
    expect(daysInView(monday, [{ active: true, workWeekdays: [6] }], [], false)).toContain('2026-10-10');
    expect(daysInView(monday, [{ active: false, workWeekdays: [6] }], [], false)).not.toContain('2026-10-10');
    expect(daysInView(monday, nobody, [{ date: '2026-10-11' }], false)).toEqual([
      '2026-10-05',
      '2026-10-06',
      '2026-10-07',
      '2026-10-08',
      '2026-10-09',
      '2026-10-11',
    ]);
    expect(daysInView(monday, nobody, [], true)).toHaveLength(7);
  });

  it('names a week by its months and goes to the first week that shows a month', () => {
    expect(weekTitle('2026-10-05')).toBe('Oct 5 – 11, 2026');
    expect(weekTitle('2026-09-28')).toBe('Sep 28 – Oct 4, 2026');
    expect(weekTitle('2026-12-28')).toBe('Dec 28, 2026 – Jan 3, 2027');
    expect(weekOfMonth('2026-10')).toBe('2026-09-28');
    // August 1, 2026 is a Saturday: its week is all but July's.
    expect(weekOfMonth('2026-08')).toBe('2026-08-03');
    expect(weekOfMonth('2026-06')).toBe('2026-06-01');
  });

  it('offers the months around today and around the week in view', () => {
    const months = monthsAround('2029-02-05', '2026-10-06').map(({ id }) => id);
    expect(months[0]).toBe('2026-04');
    expect(months).toContain('2029-02');
    expect(months.at(-1)).toBe('2030-02');
  });
});

describe('the list of what is due', () => {
  const due = (kind: DueItem['kind'], propertyId: string, more: Partial<DueItem> = {}): DueItem => ({
    kind,
    propertyId,
    clientId: 'c',
    clientName: '',
    phone: '',
    street: '',
    city: '',
    routeName: null,
    dueOn: '2026-10-01',
    daysLate: 5,
    sensorId: null,
    visitId: null,
    findingId: null,
    bookedVisitId: null,
    bookedDate: null,
    why: { key: 'due.neverChecked' },
    ...more,
  });
  it('makes one stop of several sensors at one property, and keeps every overdue visit', () => {
    const items = [
      due('battery', 'p', { sensorId: 's1' }),
      due('battery', 'p', { sensorId: 's2' }),
      due('sensor-check', 'p', { sensorId: 's1' }),
      due('battery', 'q', { sensorId: 's3' }),
      due('overdue-visit', 'p', { visitId: 'v1' }),
      due('overdue-visit', 'p', { visitId: 'v2' }),
    ];
    expect(
      oneStopEach(items).map((item) => `${item.kind} ${item.propertyId} ${item.sensorId ?? item.visitId ?? ''}`),
    ).toEqual(['battery p s1', 'sensor-check p s1', 'battery q s3', 'overdue-visit p v1', 'overdue-visit p v2']);
  });

  it('makes one repair of several urgent findings at a property', () => {
    const items = [due('finding', 'p', { findingId: 'f1' }), due('finding', 'p', { findingId: 'f2' })];
    expect(new Set(items.map(dueKey)).size).toBe(2);
    expect(oneStopEach(items).map((item) => item.findingId)).toEqual(['f1']);
    expect(visitKindFor('finding')).toBe('repair');
  });
});
