import type { SeasonFacts } from '../../ledger/index.ts';
import { backflowProjections, findingRows, seasonRows, sensorProjections, zoneProjections } from '../check-queries.ts';
import { sensorBaseOf, zoneBaseOf } from '../../ledger/index.ts';
import { toRow, type Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import type { LedgerReading } from './ledger-pass.ts';
import { fact } from '../../text/say.ts';

// Columns that the ledger decides, worked out again by the table of effects and compared.

const held = (value: unknown): string | null => (value === null || value === undefined ? null : String(value));

interface Whose {
  thing: 'sensor' | 'zone' | 'finding' | 'season';
  /** Of a season: its property's. */
  id: string;
  year?: number;
}

function compare(
  check: Check,
  { thing, id, year = undefined }: Whose,
  row: Readonly<Record<string, unknown>>,
  expected: Readonly<Record<string, unknown>>,
): void {
  for (const [column, value] of Object.entries(expected))
    if (row[column] !== value)
      check.find(
        fact('check.differs', { thing, id, year: year ?? null, column, is: held(row[column]), should: held(value) }),
      );
}

/** Battery date, last check and set points of every sensor. */
export async function checkSensors(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check(fact('check.of.sensors'));
  for (const sensor of await sensorProjections(db)) {
    check.looked += 1;
    compare(
      check,
      { thing: 'sensor', id: sensor.id },
      sensor,
      toRow('sensor', recount.sensor(sensor.id, sensorBaseOf(sensor))),
    );
  }
  return check;
}

/** How the rate and uniformity of every zone are known. */
export async function checkZones(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check(fact('check.of.zones'));
  for (const zone of await zoneProjections(db)) {
    check.looked += 1;
    compare(check, { thing: 'zone', id: zone.id }, zone, { ...recount.zone(zone.id, zoneBaseOf(zone)) });
  }
  return check;
}

/** When every backflow assembly must be tested next. */
export async function checkBackflow(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check(fact('check.of.backflow'));
  for (const property of await backflowProjections(db)) {
    check.looked += 1;
    const expected = recount.backflow(property.id, property.baseBackflowTestDue);
    if (property.backflowTestDue !== expected)
      check.find(
        fact('check.backflowDiffers', { propertyId: property.id, is: property.backflowTestDue, should: expected }),
      );
  }
  return check;
}

/** Every season's start-up and winterization, in both directions. */
export async function checkSeasons(db: Db, { recount }: LedgerReading): Promise<Check> {
  const check = new Check(fact('check.of.seasons'));
  const missing = new Map<string, SeasonFacts>();
  for (const propertyId of recount.properties('seasons'))
    for (const [year, season] of recount.seasons(propertyId)) missing.set(`${propertyId} ${year}`, season);
  for (const season of await seasonRows(db)) {
    check.looked += 1;
    const key = `${season.propertyId} ${season.year}`;
    const expected = missing.get(key);
    missing.delete(key);
    const { propertyId, year } = season;
    if (expected) compare(check, { thing: 'season', id: propertyId, year }, season, { ...expected });
    else check.find(fact('check.seasonAlone', { propertyId, year }));
  }
  for (const [key, season] of missing) {
    const [propertyId, year] = key.split(' ');
    check.looked += 1;
    check.find(
      fact('check.noSeason', {
        entryId: (season.startUpEntryId ?? season.winterizationEntryId)!,
        propertyId: propertyId!,
        year: year!,
      }),
    );
  }
  return check;
}

/** Every finding that stands and what closed it, in both directions; and that what is said to be closed is a finding. */
export async function checkFindings(db: Db, { recount, findings, firstIds, closers }: LedgerReading): Promise<Check> {
  const check = new Check(fact('check.of.findings'));
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
    if (expected) compare(check, { thing: 'finding', id: finding.id }, finding, expected);
    else check.find(fact('check.findingAlone', { id: finding.id }));
  }
  for (const [id, { entryId }] of missing) {
    check.looked += 1;
    check.find(fact('check.noFinding', { entryId, id }));
  }
  for (const { id, propertyId, findingId } of closers) {
    check.looked += 1;
    if (firstIds.get(findingId) !== findingId) check.find(fact('check.closesNoFinding', { id, findingId }));
    else if (findings.get(findingId) !== propertyId) check.find(fact('check.closesElsewhere', { id, findingId }));
  }
  return check;
}
