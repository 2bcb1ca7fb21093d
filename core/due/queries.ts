import type { Urgency } from '../ledger/entry-contract.ts';
import type { DueFacts } from './due.ts';
import { sql } from 'kysely';
import type { Db } from '../store/tables.ts';

/** The facts that decide what is due: of the named properties, or of every one that is not archived. */
export async function readDueFacts(db: Db, propertyIds: readonly string[] | null): Promise<Map<string, DueFacts>> {
  const facts = new Map<string, DueFacts>();
  if (propertyIds?.length === 0) return facts;
  const only = <Q extends { where(column: any, op: any, value: any): Q }>(query: Q, column: string): Q =>
    propertyIds === null ? query : query.where(column, 'in', propertyIds);

  let properties = db
    .selectFrom('property')
    .select(['id', 'servicesStartUp', 'servicesWinterization', 'backflowTestDue']);
  if (propertyIds === null) properties = properties.where('archived', '=', 0);
  for (const row of (await only(properties as any, 'id').execute()) as any[]) {
    facts.set(row.id, {
      propertyId: row.id,
      servicesStartUp: row.servicesStartUp === 1,
      servicesWinterization: row.servicesWinterization === 1,
      backflowTestDue: row.backflowTestDue,
      sensors: [],
      seasons: [],
      planned: [],
      urgent: [],
    });
  }
  const sensors = db
    .selectFrom('sensor')
    .select([
      'id',
      'propertyId',
      'link',
      'batteryCells',
      'batteryDate',
      'lastCheckDate',
      'lastCheckPassed',
      'lastSignal',
      'cellsGood',
    ])
    .where('retired', '=', 0);
  for (const row of (await only(sensors as any, 'propertyId').execute()) as any[]) {
    facts
      .get(row.propertyId)
      ?.sensors.push({ ...row, lastCheckPassed: row.lastCheckPassed === null ? null : row.lastCheckPassed === 1 });
  }
  const seasons = db.selectFrom('season').select(['propertyId', 'year', 'startedUpOn', 'winterizedOn']);
  for (const row of (await only(seasons as any, 'propertyId').execute()) as any[])
    facts.get(row.propertyId)?.seasons.push(row);
  const planned = db
    .selectFrom('visit')
    .select(['id', 'propertyId', 'kind', 'date'])
    .where('state', '=', 'planned')
    .orderBy('date')
    .orderBy('orderInDay')
    .orderBy(sql`visit.rowid`);
  for (const row of (await only(planned as any, 'propertyId').execute()) as any[])
    facts.get(row.propertyId)?.planned.push(row);
  const urgent = db
    .selectFrom('finding as f')
    .innerJoin('ledgerEntry as e', 'e.id', 'f.entryId')
    .leftJoin('zone as z', 'z.id', 'e.zoneId')
    .select(['f.propertyId', 'f.entryId', 'e.doneOn', 'e.detail', 'z.station', 'z.name'])
    .where('f.closedByEntryId', 'is', null)
    .where(sql`json_extract(e.detail, '$.urgency')`, '=', 'at-once' satisfies Urgency)
    .orderBy('e.doneOn')
    .orderBy('e.bookPlace');
  for (const row of (await only(urgent as any, 'f.propertyId').execute()) as any[]) {
    const { what, place } = JSON.parse(row.detail) as { what: string; place: string };
    const zone = row.station === null ? null : { station: row.station, name: row.name };
    facts.get(row.propertyId)?.urgent.push({ entryId: row.entryId, foundOn: row.doneOn, what, place, zone });
  }
  return facts;
}

/** Who and where, for every property of clients in use; on one route or all. */
export async function dueSites(
  db: Db,
  routeId: string | null,
): Promise<
  Map<
    string,
    { clientId: string; clientName: string; phone: string; street: string; city: string; routeName: string | null }
  >
> {
  let query = db
    .selectFrom('property as p')
    .innerJoin('client as c', 'c.id', 'p.clientId')
    .leftJoin('route as r', 'r.id', 'p.routeId')
    .select([
      'p.id',
      'c.id as clientId',
      'c.name as clientName',
      'c.phone',
      'p.street',
      'p.city',
      'r.name as routeName',
    ])
    .where('c.archived', '=', 0);
  if (routeId) query = query.where('p.routeId', '=', routeId);
  return new Map((await query.execute()).map(({ id, ...site }) => [id, site]));
}
