import type { z } from 'zod';
import type { JobContext } from '../../context.ts';
import { clientSchema, type Client } from '../../clients/contract.ts';
import {
  controllerSchema,
  propertySchema,
  sensorSchema,
  zoneSchema,
  type Property,
} from '../../properties/contract.ts';
import { programRunSchema, programSettingsSchema } from '../../programs/contract.ts';
import { restrictionSchema, thumbRuleSchema, settingsSchema } from '../../settings/contract.ts';
import { routeSchema, technicianSchema, truckSchema } from '../../people/contract.ts';
import { visitSchema } from '../../visits/contract.ts';
import { weatherStationSchema } from '../../weather/contract.ts';
import { pagesOf, TABLE_KEYS, type TableName } from '../export-queries.ts';
import { clientSearchText, propertySearchText, sortName } from '../../store/search-text.ts';
import { lastDayFor } from '../../settings/index.ts';
import { toEntity, type Db } from '../../store/tables.ts';
import { reasonOf } from '../../contract/reason-of.ts';
import { Check } from './check.ts';
import { fact, factAround } from '../../text/say.ts';

const TEXTS: Partial<Record<TableName, z.ZodType>> = {
  client: clientSchema,
  controller: controllerSchema,
  zone: zoneSchema,
  sensor: sensorSchema,
  technician: technicianSchema,
  truck: truckSchema,
  route: routeSchema,
  restriction: restrictionSchema,
  thumbRule: thumbRuleSchema,
  weatherStation: weatherStationSchema,
  visit: visitSchema,
  programRun: programRunSchema,
  programRevision: programSettingsSchema.omit({ runs: true }),
};
// Asking the machine for a time zone is slow, so each different one is asked for once.
const propertyCheck = propertySchema.omit({ timeZone: true });
const zoneCheck = propertySchema.shape.timeZone;

/** Every row holds what the contract allows, and is found by what it says. */
export async function checkValues(context: JobContext, db: Db): Promise<Check> {
  const check = new Check(fact('check.of.values'));
  const timeZones = new Map<string, boolean>();
  for (const table of [...(Object.keys(TEXTS) as TableName[]), 'property' as const]) {
    const schema = table === 'property' ? propertyCheck : TEXTS[table]!;
    for await (const page of pagesOf(db, table)) {
      context.checkCancelled();
      context.progress(check.looked, 0, fact('book.checkingTable', { table }));
      for (const row of page) {
        check.looked += 1;
        checkRow(check, table, schema, row, timeZones);
      }
    }
  }
  for await (const page of pagesOf(db, 'setting')) {
    for (const row of page) {
      check.looked += 1;
      if (row['key'] !== 'company') continue;
      checkSettings(check, readJson(String(row['value'])));
    }
  }
  return check;
}

function checkRow(
  check: Check,
  table: TableName,
  schema: z.ZodType,
  row: Record<string, unknown>,
  timeZones: Map<string, boolean>,
): void {
  const id = TABLE_KEYS[table].map((key) => String(row[key])).join(' ');
  const { searchText, sortName: sorted } = row;
  let entity: unknown;
  try {
    entity = toEntity(table, { ...row });
  } catch {
    check.find(fact('check.rowNotJson', { table, id }));
    return;
  }
  const parsed = schema.safeParse(entity);
  if (!parsed.success) {
    for (const issue of parsed.error.issues)
      check.find(factAround('check.rowOdd', reasonOf(issue), { table, id, field: issue.path.join('.') }));
    return;
  }
  if (table === 'client') {
    const client = entity as Client;
    if (searchText !== clientSearchText(client) || sorted !== sortName(client.name))
      check.find(fact('check.notFound', { table, id }));
  }
  if (table === 'property') {
    const property = entity as Property;
    if (searchText !== propertySearchText(property)) check.find(fact('check.notFound', { table, id }));
    const zone = String(property.timeZone);
    if (!timeZones.has(zone)) timeZones.set(zone, zoneCheck.safeParse(zone).success);
    if (!timeZones.get(zone)) check.find(fact('check.timeZone', { id, zone }));
  }
}

function checkSettings(check: Check, held: unknown): void {
  const parsed = held === undefined ? null : settingsSchema.safeParse(held);
  if (parsed?.success) return;
  for (const { path } of parsed?.error.issues ?? [{ path: [] }]) {
    const name = String(path[0] ?? '');
    const value = (held as Record<string, unknown> | null)?.[name];
    const last = lastDayFor(value);
    if (last === null) return check.find(fact('check.settings'));
    check.find(fact('check.settingDay', { name, value: String(value), last }));
  }
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
