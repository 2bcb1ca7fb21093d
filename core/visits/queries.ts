import { sql } from 'kysely';
import type { VisitKind } from '../contract/parts.ts';
import { type Visit, MAX_VISITS_A_DAY, type VisitRow } from './contract.ts';
import { toEntity, type Db, toRow } from '../store/tables.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import type { ParsedInputOf } from '../contract/index.ts';

// Within a day visits stand in the order of their stops, then in the order in which they came into the book (visits are never
// taken out, so that is the order of their rows). Ids are made by callers from their clocks and say nothing about time.
const CAME_IN_ORDER = sql`visit.rowid`;

/** Where the last work logged for a visit stands in the book; 0 where there is none. */
const LAST_WORK = sql<number>`coalesce((select max(${sql.ref('e.bookPlace')})
  from ${sql.table('ledgerEntry')} e where ${sql.ref('e.visitId')} = visit.id), 0)`;

/** Usual minutes on site by kind, where nobody says otherwise. Common practice, no source. */
export const USUAL_MINUTES: Record<VisitKind, number> = {
  'start-up': 45,
  winterization: 30,
  'sensor-check': 15,
  'battery-swap': 15,
  'program-adjustment': 20,
  repair: 60,
  'backflow-test': 30,
  'walk-through': 45,
};

export async function readVisit(db: Db, visitId: string): Promise<Visit | null> {
  const row = await db.selectFrom('visit').selectAll().where('id', '=', visitId).executeTakeFirst();
  return row ? toEntity<Visit>('visit', row) : null;
}

export async function mustReadVisit(db: Db, visitId: string): Promise<Visit> {
  const visit = await readVisit(db, visitId);
  if (!visit) throw new BookError('not-found', fact('errors.noVisit'), 'visitId');
  return visit;
}

export async function insertVisit(db: Db, visit: Visit): Promise<void> {
  await db
    .insertInto('visit')
    .values(toRow('visit', visit) as any)
    .execute();
}

export async function updateVisit(db: Db, visit: Visit): Promise<void> {
  await db
    .updateTable('visit')
    .set(toRow('visit', visit) as any)
    .where('id', '=', visit.id)
    .execute();
}

/** The visits of one technician on one day that are not cancelled, in order. */
export async function visitsOfDay(db: Db, date: string, technicianId: string | null): Promise<Visit[]> {
  const rows = await db
    .selectFrom('visit')
    .selectAll()
    .where('date', '=', date)
    .where('technicianId', technicianId === null ? 'is' : '=', technicianId as never)
    .where('state', '!=', 'cancelled')
    .orderBy('orderInDay')
    .orderBy(CAME_IN_ORDER)
    .execute();
  return rows.map((row) => toEntity<Visit>('visit', row));
}

/** Puts a visit at a place in its day and numbers the day 1, 2, 3 …; without a place it goes to the end. */
export async function placeInDay(db: Db, visit: Visit, wanted: number | undefined): Promise<number> {
  const others = (await visitsOfDay(db, visit.date, visit.technicianId)).filter((one) => one.id !== visit.id);
  if (others.length >= MAX_VISITS_A_DAY)
    throw new BookError('conflict', fact('log.dayIsFull', { most: MAX_VISITS_A_DAY }), 'date');
  const at = Math.min(wanted ?? others.length + 1, others.length + 1);
  const order = [...others.slice(0, at - 1), visit, ...others.slice(at - 1)];
  for (const [index, one] of order.entries()) {
    if (one.id !== visit.id && one.orderInDay !== index + 1)
      await db
        .updateTable('visit')
        .set({ orderInDay: index + 1 })
        .where('id', '=', one.id)
        .execute();
  }
  return at;
}

/** Closes the gap a visit left in the day it came from. */
export async function renumberDay(db: Db, date: string, technicianId: string | null): Promise<void> {
  for (const [index, one] of (await visitsOfDay(db, date, technicianId)).entries()) {
    if (one.orderInDay !== index + 1)
      await db
        .updateTable('visit')
        .set({ orderInDay: index + 1 })
        .where('id', '=', one.id)
        .execute();
  }
}

/** Planned visits by date, then the latest done or cancelled ones; of one day the one first whose work was logged last. */
export async function readVisitsOfProperty(db: Db, propertyId: string, pastLimit: number): Promise<Visit[]> {
  const planned = await db
    .selectFrom('visit')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .where('state', '=', 'planned')
    .orderBy('date')
    .orderBy('orderInDay')
    .orderBy(CAME_IN_ORDER)
    .execute();
  const past = await db
    .selectFrom('visit')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .where('state', '!=', 'planned')
    .orderBy('date', 'desc')
    .orderBy(LAST_WORK, 'desc')
    .orderBy('orderInDay', 'desc')
    .orderBy(CAME_IN_ORDER, 'desc')
    .limit(pastLimit)
    .execute();
  return [...planned, ...past].map((row) => toEntity<Visit>('visit', row));
}

export async function listVisits(
  db: Db,
  input: ParsedInputOf<'visit.list'>,
): Promise<{ visits: VisitRow[]; total: number }> {
  let base = db.selectFrom('visit as v').where('v.date', '>=', input.fromDate).where('v.date', '<=', input.toDate);
  if (input.states.length > 0) base = base.where('v.state', 'in', input.states);
  if (input.technicianId) base = base.where('v.technicianId', '=', input.technicianId);
  if (input.propertyId) base = base.where('v.propertyId', '=', input.propertyId);
  const rows = await base
    .innerJoin('property as p', 'p.id', 'v.propertyId')
    .innerJoin('client as c', 'c.id', 'p.clientId')
    .leftJoin('technician as t', 't.id', 'v.technicianId')
    .selectAll('v')
    .select([
      'c.id as clientId',
      'c.name as clientName',
      'c.phone',
      'p.street',
      'p.city',
      'p.latitudeDeg',
      'p.longitudeDeg',
      'p.routeId',
      't.name as technicianName',
    ])
    .orderBy('v.date')
    .orderBy('v.technicianId')
    .orderBy('v.orderInDay')
    .orderBy(sql`v.rowid`)
    .limit(input.limit)
    .execute();
  const total =
    rows.length < input.limit
      ? rows.length
      : Number((await base.select((eb) => eb.fn.countAll().as('n')).executeTakeFirstOrThrow()).n);
  return { visits: rows.map((row) => toEntity<VisitRow>('visit', row)), total };
}

/** Booked minutes per technician and day, cancelled visits left out. */
export async function bookedLoad(
  db: Db,
  fromDate: string,
  toDate: string,
): Promise<{ date: string; technicianId: string | null; visits: number; bookedMinutes: number }[]> {
  const rows = await db
    .selectFrom('visit')
    .select([
      'date',
      'technicianId',
      (eb) => eb.fn.countAll().as('visits'),
      (eb) => eb.fn.sum('expectedMinutes').as('bookedMinutes'),
    ])
    .where('date', '>=', fromDate)
    .where('date', '<=', toDate)
    .where('state', '!=', 'cancelled')
    .groupBy(['date', 'technicianId'])
    .orderBy('date')
    .execute();
  return rows.map((row) => ({
    date: row.date,
    technicianId: row.technicianId,
    visits: Number(row.visits),
    bookedMinutes: Number(row.bookedMinutes),
  }));
}

/** The next planned visit of a kind at a property. */
export async function plannedVisitOfKind(db: Db, propertyId: string, kind: VisitKind): Promise<Visit | null> {
  const row = await db
    .selectFrom('visit')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .where('state', '=', 'planned')
    .where('kind', '=', kind)
    .orderBy('date')
    .orderBy('orderInDay')
    .orderBy(CAME_IN_ORDER)
    .limit(1)
    .executeTakeFirst();
  return row ? toEntity<Visit>('visit', row) : null;
}

/** Notes that nobody had booked this visit: it came into being when work was logged. */
export async function markUnplanned(db: Db, visitId: string): Promise<void> {
  await db.updateTable('visit').set({ unplanned: 1 }).where('id', '=', visitId).execute();
}

export async function isUnplanned(db: Db, visitId: string): Promise<boolean> {
  return (
    (await db.selectFrom('visit').select('unplanned').where('id', '=', visitId).executeTakeFirst())?.unplanned === 1
  );
}
