import type { Controller, Property, Zone } from '../properties/contract.ts';
import type { Program, ProgramRevision } from './contract.ts';
import { engine } from '../store/book-engine.ts';
import { toEntity, type BookTables, type Db } from '../store/tables.ts';
import { inForceOn, revisionStands, shownOn } from './in-force.ts';
import { revisionRows } from './queries.ts';

/** All that advice for one property rests on. */
export interface ReviewSite {
  property: Property;
  clientName: string;
  controllers: Controller[];
  /** Not retired. */
  zones: Zone[];
  programs: Program[];
  /** Programs whose percentage is that of the month looked at, not today's. */
  setAside: { programName: string; percentToday: number; percentThen: number; since: string }[];
}

/**
 * Reads many properties at once, in the order asked for: whole-company work must not ask ten questions for each.
 * Programs are those in force on a date. Where `monthDate` is given and a program has had nothing but its seasonal percentage
 * changed since then, it carries the percentage of that day: July's need is to be held against July's setting, not November's.
 */
export async function readReviewSites(
  db: Db,
  propertyIds: readonly string[],
  onDate: string,
  monthDate = onDate,
): Promise<ReviewSite[]> {
  if (propertyIds.length === 0) return [];
  const ids = engine.listOf(propertyIds);
  const properties = await db.selectFrom('property').selectAll().where('id', 'in', ids).execute();
  const clients = new Map(
    (
      await db
        .selectFrom('client')
        .select(['id', 'name'])
        .where('id', 'in', engine.listOf(properties.map((row) => row.clientId)))
        .execute()
    ).map((row) => [row.id, row.name]),
  );
  const sites = new Map<string, ReviewSite>();
  for (const row of properties) {
    const property = toEntity<Property>('property', row);
    sites.set(property.id, {
      property,
      clientName: clients.get(property.clientId) ?? '',
      controllers: [],
      zones: [],
      programs: [],
      setAside: [],
    });
  }
  for (const row of await db
    .selectFrom('controller')
    .selectAll()
    .where('propertyId', 'in', ids)
    .where('retired', '=', 0)
    .orderBy('name')
    .orderBy('id')
    .execute()) {
    sites.get(row.propertyId)?.controllers.push(toEntity<Controller>('controller', row));
  }
  for (const row of await db
    .selectFrom('zone')
    .selectAll()
    .where('propertyId', 'in', ids)
    .where('retired', '=', 0)
    .orderBy('controllerId')
    .orderBy('station')
    .execute()) {
    sites.get(row.propertyId)?.zones.push(toEntity<Zone>('zone', row));
  }
  const programs = await db
    .selectFrom('program')
    .selectAll()
    .where('propertyId', 'in', ids)
    .orderBy('controllerId')
    .orderBy('name')
    .execute();
  const revisions = await revisionRows(
    db,
    programs.map((program) => program.id),
  );
  const inForce = new Map<string, BookTables['programRevision']>();
  const inMonth = new Map<string, BookTables['programRevision']>();
  for (const [programId, all] of revisions) {
    const standing = all.filter(revisionStands);
    const [now, then] = [shownOn(standing, onDate), inForceOn(standing, monthDate)];
    if (now !== null) inForce.set(programId, now);
    if (then !== null) inMonth.set(programId, then);
  }
  const runs = new Map<string, ProgramRevision['runs']>();
  for (const { revisionId, ...run } of await db
    .selectFrom('programRun')
    .selectAll()
    .where('revisionId', 'in', engine.listOf([...inForce.values(), ...inMonth.values()].map((row) => row.id)))
    .execute()) {
    const list = runs.get(revisionId);
    if (list) list.push(run);
    else runs.set(revisionId, [run]);
  }
  for (const program of programs) {
    const row = inForce.get(program.id);
    if (!row) continue;
    const site = sites.get(program.propertyId);
    const then = inMonth.get(program.id);
    const onlyPercentDiffers =
      then !== undefined &&
      then.seasonalPercent !== row.seasonalPercent &&
      then.days === row.days &&
      then.startTimes === row.startTimes &&
      then.enabled === row.enabled &&
      sameRuns(runs.get(then.id) ?? [], runs.get(row.id) ?? []);
    const seasonalPercent = onlyPercentDiffers ? then.seasonalPercent : row.seasonalPercent;
    if (onlyPercentDiffers)
      site?.setAside.push({
        programName: program.name,
        percentToday: row.seasonalPercent,
        percentThen: then.seasonalPercent,
        since: then.effectiveDate,
      });
    const head = toEntity<Omit<ProgramRevision, 'runs'>>('programRevision', { ...row, seasonalPercent });
    site?.programs.push({
      ...program,
      revision: { ...head, runs: runs.get(head.id) ?? [] },
      revisionCount: revisions.get(program.id)?.length ?? 0,
    });
  }
  return propertyIds.flatMap((id) => sites.get(id) ?? []);
}

/** Every property in use, on one route or all. */
export async function reviewablePropertyIds(db: Db, routeId: string | null): Promise<string[]> {
  let query = db.selectFrom('property').select('id').where('archived', '=', 0);
  if (routeId) query = query.where('routeId', '=', routeId);
  return (await query.orderBy('id').execute()).map((row) => row.id);
}

function sameRuns(a: ProgramRevision['runs'], b: ProgramRevision['runs']): boolean {
  if (a.length !== b.length) return false;
  const byZone = new Map(a.map((run) => [run.zoneId, run]));
  return b.every((run) => {
    const other = byZone.get(run.zoneId);
    return (
      other !== undefined &&
      other.runMinutes === run.runMinutes &&
      other.cycleMinutes === run.cycleMinutes &&
      other.soakMinutes === run.soakMinutes
    );
  });
}
