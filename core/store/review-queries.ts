import type { Controller, Program, ProgramRevision, Property, Zone } from '../contract/entities.ts';
import { listOf } from './sqlite.ts';
import { toEntity, type Db } from './tables.ts';

/** All that advice for one property rests on. */
export interface ReviewSite {
  property: Property;
  clientName: string;
  controllers: Controller[];
  /** Not retired. */
  zones: Zone[];
  programs: Program[];
}

/** Reads many properties at once, in the order asked for: whole-company work must not ask ten questions for each. */
export async function readReviewSites(db: Db, propertyIds: readonly string[], onDate: string): Promise<ReviewSite[]> {
  if (propertyIds.length === 0) return [];
  const ids = listOf(propertyIds);
  const properties = await db.selectFrom('property').selectAll().where('id', 'in', ids).execute();
  const clients = new Map((await db.selectFrom('client').select(['id', 'name']).where('id', 'in', listOf(properties.map((row) => row.clientId))).execute()).map((row) => [row.id, row.name]));
  const sites = new Map<string, ReviewSite>();
  for (const row of properties) {
    const property = toEntity<Property>('property', row);
    sites.set(property.id, { property, clientName: clients.get(property.clientId) ?? '', controllers: [], zones: [], programs: [] });
  }
  for (const row of await db.selectFrom('controller').selectAll().where('propertyId', 'in', ids).where('retired', '=', 0).orderBy('name').orderBy('id').execute()) {
    sites.get(row.propertyId)?.controllers.push(toEntity<Controller>('controller', row));
  }
  for (const row of await db.selectFrom('zone').selectAll().where('propertyId', 'in', ids).where('retired', '=', 0).orderBy('controllerId').orderBy('station').execute()) {
    sites.get(row.propertyId)?.zones.push(toEntity<Zone>('zone', row));
  }
  const programs = await db.selectFrom('program').selectAll().where('propertyId', 'in', ids).orderBy('controllerId').orderBy('name').execute();
  const revisions = await db.selectFrom('programRevision').selectAll().where('programId', 'in', listOf(programs.map((program) => program.id))).where('voidedByEntryId', 'is', null).orderBy('effectiveDate').orderBy('revisionNumber').execute();
  const inForce = new Map<string, (typeof revisions)[number]>();
  const counts = new Map<string, number>();
  for (const row of revisions) {
    counts.set(row.programId, (counts.get(row.programId) ?? 0) + 1);
    if (row.effectiveDate <= onDate || !inForce.has(row.programId)) inForce.set(row.programId, row);
  }
  const runs = new Map<string, ProgramRevision['runs']>();
  for (const { revisionId, ...run } of await db.selectFrom('programRun').selectAll().where('revisionId', 'in', listOf([...inForce.values()].map((row) => row.id))).execute()) {
    const list = runs.get(revisionId);
    if (list) list.push(run);
    else runs.set(revisionId, [run]);
  }
  for (const program of programs) {
    const row = inForce.get(program.id);
    if (!row) continue;
    const head = toEntity<Omit<ProgramRevision, 'runs'>>('programRevision', row);
    sites.get(program.propertyId)?.programs.push({ ...program, revision: { ...head, runs: runs.get(head.id) ?? [] }, revisionCount: counts.get(program.id) ?? 0 });
  }
  return propertyIds.flatMap((id) => sites.get(id) ?? []);
}

/** Every property in use, on one route or all. */
export async function reviewablePropertyIds(db: Db, routeId: string | null): Promise<string[]> {
  let query = db.selectFrom('property').select('id').where('archived', '=', 0);
  if (routeId) query = query.where('routeId', '=', routeId);
  return (await query.orderBy('id').execute()).map((row) => row.id);
}
