import type { LedgerKind } from '../contract/ledger-entries.ts';
import { backflowDue, seasonYear, sensorFacts } from '../ledger/facts.ts';
import type { Db } from './tables.ts';

// Columns that the ledger decides are worked out again here, always from the ledger itself, so that recording,
// correcting and importing cannot disagree.

/** The latest entry of a kind that still stands (not corrected, not a "did not happen"). */
async function latestStanding(
  db: Db,
  kind: LedgerKind,
  by: 'sensorId' | 'propertyId',
  id: string,
): Promise<{ place: number; doneOn: string; detail: any } | null> {
  const row = await db
    .selectFrom('ledgerEntry as e')
    .select(['e.bookPlace', 'e.doneOn', 'e.detail'])
    .where(`e.${by}`, '=', id)
    .where('e.kind', '=', kind)
    .where((eb) => eb.or([eb('e.correction', 'is', null), eb('e.correction', '=', 'replace')]))
    .where(({ not, exists, selectFrom }) =>
      not(exists(selectFrom('ledgerEntry as c').select('c.id').whereRef('c.correctsId', '=', 'e.id'))),
    )
    .orderBy('e.doneOn', 'desc')
    .orderBy('e.bookPlace', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ? { place: row.bookPlace, doneOn: row.doneOn, detail: JSON.parse(row.detail) } : null;
}

/** Works out battery date and last check of these sensors from the ledger. */
export async function projectSensors(db: Db, sensorIds: readonly string[]): Promise<void> {
  for (const sensorId of new Set(sensorIds)) {
    const sensor = await db
      .selectFrom('sensor')
      .select('baseBatteryDate')
      .where('id', '=', sensorId)
      .executeTakeFirst();
    if (!sensor) continue;
    const facts = sensorFacts(
      sensor.baseBatteryDate,
      await latestStanding(db, 'battery-swap', 'sensorId', sensorId),
      await latestStanding(db, 'sensor-check', 'sensorId', sensorId),
    );
    await db
      .updateTable('sensor')
      .set({ ...facts, lastCheckPassed: facts.lastCheckPassed === null ? null : facts.lastCheckPassed ? 1 : 0 })
      .where('id', '=', sensorId)
      .execute();
  }
}

/** Works out the season rows of these properties from the ledger. */
export async function projectSeasons(db: Db, propertyIds: readonly string[]): Promise<void> {
  for (const propertyId of new Set(propertyIds)) {
    const entries = await db
      .selectFrom('ledgerEntry as e')
      .select(['e.id', 'e.kind', 'e.doneOn'])
      .where('e.propertyId', '=', propertyId)
      .where('e.kind', 'in', ['start-up', 'winterization'])
      .where((eb) => eb.or([eb('e.correction', 'is', null), eb('e.correction', '=', 'replace')]))
      .where(({ not, exists, selectFrom }) =>
        not(exists(selectFrom('ledgerEntry as c').select('c.id').whereRef('c.correctsId', '=', 'e.id'))),
      )
      .orderBy('e.doneOn')
      .orderBy('e.bookPlace')
      .execute();
    const seasons = new Map<
      number,
      {
        startedUpOn: string | null;
        startUpEntryId: string | null;
        winterizedOn: string | null;
        winterizationEntryId: string | null;
      }
    >();
    for (const entry of entries) {
      const kind = entry.kind as 'start-up' | 'winterization';
      const year = seasonYear(kind, entry.doneOn);
      const season = seasons.get(year) ?? {
        startedUpOn: null,
        startUpEntryId: null,
        winterizedOn: null,
        winterizationEntryId: null,
      };
      if (kind === 'start-up') Object.assign(season, { startedUpOn: entry.doneOn, startUpEntryId: entry.id });
      else Object.assign(season, { winterizedOn: entry.doneOn, winterizationEntryId: entry.id });
      seasons.set(year, season);
    }
    await db.deleteFrom('season').where('propertyId', '=', propertyId).execute();
    if (seasons.size > 0) {
      await db
        .insertInto('season')
        .values([...seasons].map(([year, season]) => ({ propertyId, year, ...season })))
        .execute();
    }
  }
}

/** Works out the next backflow test of these properties from the ledger. */
export async function projectBackflow(db: Db, propertyIds: readonly string[]): Promise<void> {
  for (const propertyId of new Set(propertyIds)) {
    const property = await db
      .selectFrom('property')
      .select('baseBackflowTestDue')
      .where('id', '=', propertyId)
      .executeTakeFirst();
    if (!property) continue;
    const due = backflowDue(
      property.baseBackflowTestDue,
      await latestStanding(db, 'backflow-test', 'propertyId', propertyId),
    );
    await db.updateTable('property').set({ backflowTestDue: due }).where('id', '=', propertyId).execute();
  }
}

/**
 * Works out anew whatever may have come out otherwise while the last thing of a day was told by id: for sensors and
 * properties with several entries on one day.
 */
export async function projectDaysWithSeveral(db: Db): Promise<void> {
  const several = (kinds: LedgerKind[], by: 'sensorId' | 'propertyId') =>
    db
      .selectFrom('ledgerEntry')
      .select(by)
      .distinct()
      .where('kind', 'in', kinds)
      .where(by, 'is not', null)
      .groupBy([by, 'doneOn'])
      .having((eb) => eb(eb.fn.countAll(), '>', 1))
      .execute();
  const ids = (rows: { [by: string]: string | null }[], by: string) => rows.map((row) => row[by]!);
  await projectSensors(db, ids(await several(['battery-swap', 'sensor-check'], 'sensorId'), 'sensorId'));
  await projectBackflow(db, ids(await several(['backflow-test'], 'propertyId'), 'propertyId'));
  await projectSeasons(db, ids(await several(['start-up', 'winterization'], 'propertyId'), 'propertyId'));
}
