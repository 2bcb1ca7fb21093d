import { sql, type Kysely } from 'kysely';

// Finds out what the office had said of rates and set points in a book that did not keep it. Part of migration 0003: it
// stands still, whatever the rules of later versions are.
//
// What such a book shows is what was written last: by the office, by an audit or check when it was recorded (not by its
// day), or, where an audit was voided or moved to another zone, what that audit had found there. All of it but the
// office's share stands in the ledger, so what the ledger does not explain the office said. It is dated by the latest
// day of the audits (checks) before it, so that it stays over them and not over later ones; what was said before the
// first holds from before all work. Nothing that is shown changes, but where a void or a late entry had put it wrong.

interface Rate {
  prMethod: string;
  precipitationRateInPerHour: number | null;
  distributionUniformity: number | null;
}
interface Written<T> {
  id: string;
  place: number;
  doneOn: string;
  stands: boolean;
  says: T;
}
type AuditStep = { zoneId: string; place: number; before: Rate | null; audit: Written<Rate> | null };
interface Base<T> {
  value: T;
  on: string | null;
  place: number | null;
}

/** Fills the base columns of every zone and sensor, and mends what is shown where the ledger says otherwise. */
export async function deriveBases(db: Kysely<any>): Promise<void> {
  await sql`UPDATE zone SET basePrMethod = prMethod, basePrecipitationRateInPerHour = precipitationRateInPerHour,
    baseDistributionUniformity = distributionUniformity`.execute(db);
  await sql`UPDATE sensor SET baseRainSetPointInches = rainSetPointInches, baseFreezeSetPointF = freezeSetPointF`.execute(
    db,
  );
  await deriveZones(db);
  await derivePoints(db, 'rainSetPointInches', {
    value: 'baseRainSetPointInches',
    on: 'baseRainSetPointOn',
    place: 'baseRainSetPointPlace',
  });
  await derivePoints(db, 'freezeSetPointF', {
    value: 'baseFreezeSetPointF',
    on: 'baseFreezeSetPointOn',
    place: 'baseFreezeSetPointPlace',
  });
}

async function deriveZones(db: Kysely<any>): Promise<void> {
  for (const [zoneId, steps] of Map.groupBy(await auditSteps(db), (step) => step.zoneId)) {
    const shown = (await db
      .selectFrom('zone')
      .select(['prMethod', 'precipitationRateInPerHour', 'distributionUniformity'])
      .where('id', '=', zoneId)
      .executeTakeFirst()) as Rate | undefined;
    if (!shown) continue;
    const base = zoneBase(steps, shown);
    await db
      .updateTable('zone')
      .set({
        basePrMethod: base.value.prMethod,
        basePrecipitationRateInPerHour: base.value.precipitationRateInPerHour,
        baseDistributionUniformity: base.value.distributionUniformity,
        baseRateOn: base.on,
        baseRatePlace: base.place,
        ...newestOver(
          steps.flatMap(({ audit }) => (audit === null ? [] : [audit])),
          base,
        ),
      })
      .where('id', '=', zoneId)
      .execute();
  }
}

/** Every time the book wrote a zone's rate by itself, in the order of recording. */
async function auditSteps(db: Kysely<any>): Promise<AuditStep[]> {
  const { rows } = await sql<{
    id: string;
    zoneId: string;
    place: number;
    doneOn: string;
    detail: string;
    correction: string | null;
    corrected: 0 | 1;
    oldZoneId: string | null;
    oldDetail: string | null;
  }>`SELECT e.id, e.zoneId, e.bookPlace AS place, e.doneOn, e.detail, e.correction,
      EXISTS (SELECT 1 FROM ledgerEntry c WHERE c.correctsId = e.id) AS corrected, o.zoneId AS oldZoneId, o.detail AS oldDetail
    FROM ledgerEntry e LEFT JOIN ledgerEntry o ON o.id = e.correctsId
    WHERE e.kind = 'zone-audit' AND e.zoneId IS NOT NULL ORDER BY e.bookPlace`.execute(db);
  return rows.flatMap(({ id, zoneId, place, doneOn, detail, correction, corrected, oldZoneId, oldDetail }) => {
    const said = JSON.parse(detail) as Omit<Rate, 'prMethod'> & { before?: Rate | null };
    const { precipitationRateInPerHour, distributionUniformity, before = null } = said;
    if (correction === 'void') return [{ zoneId, place, before, audit: null }];
    const says = { prMethod: 'catch-can', precipitationRateInPerHour, distributionUniformity };
    const steps: AuditStep[] = [{ zoneId, place, before, audit: { id, place, doneOn, stands: corrected === 0, says } }];
    // Moved to another zone: the one it was taken for got back what it had found there.
    if (oldDetail !== null && oldZoneId !== null && oldZoneId !== zoneId)
      steps.push({
        zoneId: oldZoneId,
        place,
        before: (JSON.parse(oldDetail) as { before?: Rate | null }).before ?? null,
        audit: null,
      });
    return steps;
  });
}

/** Follows what a zone showed from step to step; where it is not what the step before left, the office had said it. */
function zoneBase(steps: readonly AuditStep[], shown: Rate): Base<Rate> {
  let base: Base<Rate> | null = null;
  let state: Rate | null = null;
  let newestDay: string | null = null;
  let lastPlace: number | null = null;
  for (const { place, before, audit } of steps) {
    if (audit === null) state = before ?? state;
    else {
      if (before !== null && (state === null || !isSame(before, state)))
        base = { value: before, on: newestDay, place: lastPlace };
      state = audit.says;
      if (newestDay === null || audit.doneOn > newestDay) newestDay = audit.doneOn;
    }
    lastPlace = place;
  }
  if (state === null || !isSame(shown, state)) return { value: shown, on: newestDay, place: lastPlace };
  return (
    base ?? {
      value: { prMethod: 'table', precipitationRateInPerHour: null, distributionUniformity: null },
      on: null,
      place: null,
    }
  );
}

const isSame = (a: Rate, b: Rate): boolean =>
  a.prMethod === b.prMethod &&
  a.precipitationRateInPerHour === b.precipitationRateInPerHour &&
  a.distributionUniformity === b.distributionUniformity;

/** What is shown: the newest audit that stands, unless the office's word is later. */
function newestOver<T>(written: readonly Written<T>[], base: Base<T>): T {
  let newest: Written<T> | null = null;
  for (const one of written) if (one.stands && (newest === null || one.doneOn >= newest.doneOn)) newest = one;
  if (newest === null) return base.value;
  const counts =
    base.on === null || newest.doneOn > base.on || (newest.doneOn === base.on && newest.place > (base.place ?? 0));
  return counts ? newest.says : base.value;
}

/**
 * Set points. A check did not keep what it found, so what the office had said before the first check is not known any
 * more: once no check that names a point stands, the point is not known either. One that is shown although every check
 * that named it is void stays as it is: the office may well have said the same.
 */
async function derivePoints(
  db: Kysely<any>,
  point: 'rainSetPointInches' | 'freezeSetPointF',
  columns: { value: string; on: string; place: string },
): Promise<void> {
  const { rows } = await sql<
    Omit<Written<number>, 'stands'> & { sensorId: string; stands: 0 | 1; shown: number | null }
  >`
    SELECT e.id, e.sensorId, e.bookPlace AS place, e.doneOn, json_extract(e.detail, ${`$.${point}`}) AS says,
      NOT EXISTS (SELECT 1 FROM ledgerEntry c WHERE c.correctsId = e.id) AS stands, s.${sql.ref(point)} AS shown
    FROM ledgerEntry e JOIN sensor s ON s.id = e.sensorId
    WHERE e.kind = 'sensor-check' AND e.correction IS NOT 'void' AND json_extract(e.detail, ${`$.${point}`}) IS NOT NULL
    ORDER BY e.bookPlace`.execute(db);
  for (const [sensorId, checks] of Map.groupBy(rows, (row) => row.sensorId)) {
    const written = checks.map((check) => ({ ...check, stands: check.stands === 1 }));
    const { shown, says, place } = checks.at(-1)!;
    const newestDay = checks.reduce((day, check) => (check.doneOn > day ? check.doneOn : day), '');
    let base: Base<number | null> = { value: shown, on: newestDay, place };
    if (shown === says) base = { value: written.some((check) => check.stands) ? null : shown, on: null, place: null };
    await db
      .updateTable('sensor')
      .set({
        [columns.value]: base.value,
        [columns.on]: base.on,
        [columns.place]: base.place,
        [point]: newestOver<number | null>(written, base),
      })
      .where('id', '=', sensorId)
      .execute();
  }
}
