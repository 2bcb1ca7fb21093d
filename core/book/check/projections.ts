import type { SeasonFacts } from '../../ledger/index.ts';
import { backflowProjections, findingRows, seasonRows, sensorProjections, zoneProjections } from '../check-queries.ts';
import { sensorBaseOf, zoneBaseOf } from '../../ledger/index.ts';
import { toRow, type Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import type { LedgerReading } from './ledger-pass.ts';

// Columns that the ledger decides, worked out again by the table of effects and compared.

const said = (value: unknown): string => (value === null || value === undefined ? 'nothing' : String(value));

function compare(
  check: Check,
  what: string,
  row: Readonly<Record<string, unknown>>,
  expected: Readonly<Record<string, unknown>>,
  says = 'the ledger says',
): void {
  for (const [column, value] of Object.entries(expected))
    if (row[column] !== value) check.find(`${what}: ${column} says ${said(row[column])}, ${says} ${said(value)}.`);
}

/** Battery date, last check and set points of every sensor. */
export async function checkSensors(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check('Battery dates, sensor checks and set points agree with the ledger');
  for (const sensor of await sensorProjections(db)) {
    check.looked += 1;
    compare(check, `Sensor ${sensor.id}`, sensor, toRow('sensor', recount.sensor(sensor.id, sensorBaseOf(sensor))));
  }
  return check;
}

/** How the rate and uniformity of every zone are known. */
export async function checkZones(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check('Zone rates are the office’s, or what the latest catch-can test measured');
  for (const zone of await zoneProjections(db)) {
    check.looked += 1;
    compare(
      check,
      `Zone ${zone.id}`,
      zone,
      { ...recount.zone(zone.id, zoneBaseOf(zone)) },
      'by the office and the ledger it is',
    );
  }
  return check;
}

/** When every backflow assembly must be tested next. */
export async function checkBackflow(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check('Backflow test dates agree with the ledger');
  for (const property of await backflowProjections(db)) {
    check.looked += 1;
    const expected = recount.backflow(property.id, property.baseBackflowTestDue);
    if (property.backflowTestDue !== expected)
      check.find(
        `Property ${property.id}: the next backflow test says ${said(property.backflowTestDue)}, the ledger says ${said(expected)}.`,
      );
  }
  return check;
}

/** Every season's start-up and winterization, in both directions. */
export async function checkSeasons(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check('Seasons agree with the start-ups and winterizations in the ledger');
  const missing = new Map<string, SeasonFacts>();
  for (const propertyId of recount.properties('seasons'))
    for (const [year, season] of recount.seasons(propertyId)) missing.set(`${propertyId} ${year}`, season);
  for (const season of await seasonRows(db)) {
    check.looked += 1;
    const key = `${season.propertyId} ${season.year}`;
    const expected = missing.get(key);
    missing.delete(key);
    const where = `Season ${season.year} of property ${season.propertyId}`;
    if (expected) compare(check, where, season, { ...expected });
    else check.find(`${where} is kept, but no start-up or winterization in the ledger stands behind it.`);
  }
  for (const [key, season] of missing) {
    const [propertyId, year] = key.split(' ');
    check.looked += 1;
    check.find(
      `Ledger entry ${season.startUpEntryId ?? season.winterizationEntryId} has no season ${year} of property ${propertyId} behind it.`,
    );
  }
  return check;
}

/** Every finding that stands and what closed it, in both directions; and that what is said to be closed is a finding. */
export async function checkFindings(db: Db, { recount, findings, firstIds, closers }: LedgerReading): Promise<Check> {
  const check = new Check('Findings are open or closed as the ledger says');
  const missing = new Map(
    recount
      .properties('findings')
      .flatMap((propertyId) =>
        [...recount.findings(propertyId)].map(([id, finding]) => [id, { propertyId, ...finding }] as const),
      ),
  );
  for (const finding of await findingRows(db)) {
    check.looked += 1;
    const expected = missing.get(finding.id);
    missing.delete(finding.id);
    if (expected) compare(check, `Finding ${finding.id}`, finding, expected);
    else check.find(`Finding ${finding.id} is kept, but no entry in the ledger stands behind it.`);
  }
  for (const [id, { entryId }] of missing) {
    check.looked += 1;
    check.find(`Ledger entry ${entryId} is a finding that is not kept as one (${id}).`);
  }
  for (const { id, propertyId, findingId } of closers) {
    check.looked += 1;
    if (firstIds.get(findingId) !== findingId)
      check.find(`Ledger entry ${id} says that it closes ${findingId}, which is not the first version of a finding.`);
    else if (findings.get(findingId) !== propertyId)
      check.find(`Ledger entry ${id} says that it closes finding ${findingId}, which is at another property.`);
  }
  return check;
}
