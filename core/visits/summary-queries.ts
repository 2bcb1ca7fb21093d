import { sql } from 'kysely';
import { isStanding } from '../ledger/index.ts';
import { LEDGER_KINDS } from '../ledger/entry-contract.ts';
import type { OutputOf } from '../contract/index.ts';
import { weekStartOf } from '../dates.ts';
import type { Db } from '../store/tables.ts';

/** Counts of a year for the owner. Entries that were corrected or declared void are counted once or not at all. */
export async function summarizeWork(db: Db, year: number, onDate: string): Promise<OutputOf<'work.summary'>> {
  const from = `${year}-01-01`;
  const to = `${year}-12-31`;
  const standing = db
    .selectFrom('ledgerEntry as e')
    .where('e.doneOn', '>=', from)
    .where('e.doneOn', '<=', to)
    .where(isStanding);
  const month = sql<string>`substr(${sql.ref('e.doneOn')}, 6, 2)`;
  const byMonth = await standing
    .select([month.as('month'), 'e.kind', (eb) => eb.fn.countAll().as('n')])
    .groupBy([month, 'e.kind'])
    .execute();
  const entriesBy = await standing
    .select(['e.technicianId', (eb) => eb.fn.countAll().as('n')])
    .groupBy('e.technicianId')
    .execute();
  const visitMonth = sql<string>`substr(v.date, 6, 2)`;
  const visits = await db
    .selectFrom('visit as v')
    .select([visitMonth.as('month'), 'v.state', (eb) => eb.fn.countAll().as('n')])
    .where('v.date', '>=', from)
    .where('v.date', '<=', to)
    .groupBy([visitMonth, 'v.state'])
    .execute();
  const visitsBy = await db
    .selectFrom('visit')
    .select(['technicianId', (eb) => eb.fn.countAll().as('n')])
    .where('date', '>=', from)
    .where('date', '<=', to)
    .where('state', '=', 'done')
    .groupBy('technicianId')
    .execute();
  const technicians = new Map(
    (await db.selectFrom('technician').select(['id', 'name']).execute()).map((row) => [row.id, row.name]),
  );
  const corrections = await db
    .selectFrom('ledgerEntry')
    .select((eb) => eb.fn.countAll().as('n'))
    .where('correctsId', 'is not', null)
    .where('doneOn', '>=', from)
    .where('doneOn', '<=', to)
    .executeTakeFirstOrThrow();
  const first = await db
    .selectFrom('ledgerEntry')
    .select((eb) => eb.fn.min('doneOn').as('d'))
    .executeTakeFirst();
  const last = await db
    .selectFrom('ledgerEntry')
    .select((eb) => eb.fn.max('doneOn').as('d'))
    .executeTakeFirst();
  const thisYear = Number(onDate.slice(0, 4));
  const firstYear = Math.min(thisYear, Number(first?.d?.slice(0, 4) ?? thisYear));
  const lastYear = Math.max(thisYear, Number(last?.d?.slice(0, 4) ?? thisYear));

  const ids = [...new Set([...entriesBy.map((row) => row.technicianId), ...visitsBy.map((row) => row.technicianId)])];
  return {
    year,
    properties: {
      total: Number(
        (
          await db
            .selectFrom('property')
            .select((eb) => eb.fn.countAll().as('n'))
            .where('archived', '=', 0)
            .executeTakeFirstOrThrow()
        ).n,
      ),
      startUp: await progress(db, year, onDate, 'start-up'),
      winterization: await progress(db, year, onDate, 'winterization'),
    },
    byMonth: byMonth
      .map((row) => ({ month: Number(row.month), kind: row.kind, count: Number(row.n) }))
      .sort((a, b) => a.month - b.month || LEDGER_KINDS.indexOf(a.kind) - LEDGER_KINDS.indexOf(b.kind)),
    byTechnician: ids
      .map((id) => ({
        technicianId: id,
        name: id === null ? 'Nobody named' : (technicians.get(id) ?? 'Unknown'),
        visits: Number(visitsBy.find((row) => row.technicianId === id)?.n ?? 0),
        entries: Number(entriesBy.find((row) => row.technicianId === id)?.n ?? 0),
      }))
      .sort((a, b) => b.entries - a.entries),
    visitsByMonth: Array.from({ length: 12 }, (_, index) => {
      const of = (state: string) =>
        Number(visits.find((row) => Number(row.month) === index + 1 && row.state === state)?.n ?? 0);
      return { month: index + 1, planned: of('planned'), done: of('done'), cancelled: of('cancelled') };
    }),
    corrections: Number(corrections.n),
    years: Array.from({ length: lastYear - firstYear + 1 }, (_, index) => firstYear + index),
  };
}

async function progress(db: Db, year: number, onDate: string, kind: 'start-up' | 'winterization') {
  const serves = kind === 'start-up' ? 'servicesStartUp' : 'servicesWinterization';
  const column = kind === 'start-up' ? 'startedUpOn' : 'winterizedOn';
  const properties = db
    .selectFrom('property as p')
    .leftJoin('season as s', (join) => join.onRef('s.propertyId', '=', 'p.id').on('s.year', '=', year))
    .where('p.archived', '=', 0)
    .where(`p.${serves}`, '=', 1);
  const done = (await properties.select(`s.${column} as on`).where(`s.${column}`, 'is not', null).execute()).map(
    (row) => row.on!,
  );
  const serviced = Number((await properties.select((eb) => eb.fn.countAll().as('n')).executeTakeFirstOrThrow()).n);
  // A winterization booked in the first half of the next year still closes this one's season.
  const from = kind === 'winterization' ? `${year}-07-01` : `${year}-01-01`;
  const to = kind === 'winterization' ? `${year + 1}-06-30` : `${year}-12-31`;
  const booked = Number(
    (
      await properties
        .select((eb) => eb.fn.countAll().as('n'))
        .where(`s.${column}`, 'is', null)
        .where(({ exists, selectFrom }) =>
          exists(
            selectFrom('visit as v')
              .select('v.id')
              .whereRef('v.propertyId', '=', 'p.id')
              .where('v.state', '=', 'planned')
              .where('v.kind', '=', kind)
              .where('v.date', '>=', from > onDate ? from : onDate)
              .where('v.date', '<=', to),
          ),
        )
        .executeTakeFirstOrThrow()
    ).n,
  );
  const weeks = new Map<string, number>();
  for (const date of done) weeks.set(weekStartOf(date), (weeks.get(weekStartOf(date)) ?? 0) + 1);
  return {
    serviced,
    done: done.length,
    booked,
    notBooked: serviced - done.length - booked,
    byWeek: [...weeks].sort(([a], [b]) => (a < b ? -1 : 1)).map(([weekStart, count]) => ({ weekStart, done: count })),
  };
}
