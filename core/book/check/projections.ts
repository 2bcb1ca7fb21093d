import { backflowDue, sensorFacts } from '../../ledger/facts.ts';
import { backflowProjections, seasonRows, sensorProjections } from '../../store/check-queries.ts';
import type { Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import type { LedgerReading } from './ledger-pass.ts';

// Columns that the ledger decides, worked out again and compared.

const said = (value: unknown): string => (value === null || value === undefined ? 'nothing' : String(value));

/** Battery date and last check of every sensor. */
export async function checkSensors(db: Db, ledger: LedgerReading): Promise<Check> {
  const check = new Check('Battery dates and sensor checks agree with the ledger');
  for (const sensor of await sensorProjections(db)) {
    check.looked += 1;
    const facts = sensorFacts(
      sensor.baseBatteryDate,
      ledger.latestSwap.get(sensor.id) ?? null,
      ledger.latestCheck.get(sensor.id) ?? null,
    );
    const expected = {
      ...facts,
      lastCheckPassed: facts.lastCheckPassed === null ? null : facts.lastCheckPassed ? 1 : 0,
    };
    for (const column of ['batteryDate', 'lastCheckDate', 'lastCheckPassed', 'lastSignal', 'cellsGood'] as const) {
      if (sensor[column] !== expected[column])
        check.find(
          `Sensor ${sensor.id}: ${column} says ${said(sensor[column])}, the ledger says ${said(expected[column])}.`,
        );
    }
  }
  return check;
}

/** When every backflow assembly must be tested next. */
export async function checkBackflow(db: Db, ledger: LedgerReading): Promise<Check> {
  const check = new Check('Backflow test dates agree with the ledger');
  for (const property of await backflowProjections(db)) {
    check.looked += 1;
    const expected = backflowDue(property.baseBackflowTestDue, ledger.latestTest.get(property.id) ?? null);
    if (property.backflowTestDue !== expected)
      check.find(
        `Property ${property.id}: the next backflow test says ${said(property.backflowTestDue)}, the ledger says ${said(expected)}.`,
      );
  }
  return check;
}

/** Every season's start-up and winterization, in both directions. */
export async function checkSeasons(db: Db, ledger: LedgerReading): Promise<Check> {
  const check = new Check('Seasons agree with the start-ups and winterizations in the ledger');
  const missing = new Map(ledger.seasons);
  for (const season of await seasonRows(db)) {
    check.looked += 1;
    const key = `${season.propertyId} ${season.year}`;
    const expected = missing.get(key);
    missing.delete(key);
    const where = `Season ${season.year} of property ${season.propertyId}`;
    if (!expected) {
      check.find(`${where} is kept, but no start-up or winterization in the ledger stands behind it.`);
      continue;
    }
    for (const column of ['startedUpOn', 'startUpEntryId', 'winterizedOn', 'winterizationEntryId'] as const) {
      if (season[column] !== expected[column])
        check.find(`${where}: ${column} says ${said(season[column])}, the ledger says ${said(expected[column])}.`);
    }
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
