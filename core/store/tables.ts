import type { Generated, Kysely, Transaction } from 'kysely';
import type { Client } from '../clients/contract.ts';
import type { Controller, Property, Sensor, Zone } from '../properties/contract.ts';
import type { Restriction, ThumbRule } from '../settings/contract.ts';
import type { Route, Technician, Truck } from '../people/contract.ts';
import type { Visit } from '../visits/contract.ts';
import type { WeatherStation } from '../weather/contract.ts';
import type { LedgerKind } from '../ledger/entry-contract.ts';
import type { Link } from './chain.ts';

// Row types, derived from the contract's entities: booleans become 0/1, the named JSON fields become text.

type Bool01<T> = [T] extends [boolean] ? 0 | 1 : [T] extends [boolean | null] ? 0 | 1 | null : T;
type Row<T, Json extends keyof T = never> = { [K in keyof T]: K extends Json ? string : Bool01<T[K]> };

export interface BookTables {
  client: Row<Client> & { version: number; searchText: string; sortName: string };
  property: Row<Property> & { version: number; searchText: string; baseBackflowTestDue: string | null };
  controller: Row<Controller>;
  /** base… = what the office said; …On and …Place = the day it was said and how many links the book held then (none = before all work). */
  zone: Row<Zone, 'prInputs'> & {
    basePrMethod: Zone['prMethod'];
    basePrecipitationRateInPerHour: number | null;
    baseDistributionUniformity: number | null;
    baseRateOn: string | null;
    baseRatePlace: number | null;
  };
  sensor: Row<Sensor> & {
    baseBatteryDate: string | null;
    baseRainSetPointInches: number | null;
    baseRainSetPointOn: string | null;
    baseRainSetPointPlace: number | null;
    baseFreezeSetPointF: number | null;
    baseFreezeSetPointOn: string | null;
    baseFreezeSetPointPlace: number | null;
  };
  program: { id: string; propertyId: string; controllerId: string; name: string };
  programRevision: {
    id: string;
    programId: string;
    revisionNumber: number;
    effectiveDate: string;
    recordedAt: string;
    madeBy: string;
    reason: string;
    days: string;
    startTimes: string;
    seasonalPercent: number;
    enabled: 0 | 1;
    ledgerEntryId: string | null;
    voidedByEntryId: string | null;
    propertyId: string;
    runCount: number;
  } & Link;
  programRun: {
    revisionId: string;
    zoneId: string;
    runMinutes: number;
    cycleMinutes: number | null;
    soakMinutes: number | null;
  };
  visit: Row<Visit> & { unplanned: Generated<0 | 1> };
  ledgerEntry: {
    id: string;
    propertyId: string;
    visitId: string | null;
    technicianId: string | null;
    kind: LedgerKind;
    doneOn: string;
    recordedAt: string;
    sensorId: string | null;
    zoneId: string | null;
    note: string;
    detail: string;
    correctsId: string | null;
    correction: 'replace' | 'void' | null;
    correctionReason: string;
  } & Link;
  /** Ends of the properties' chains, kept by trigger. */
  chainHead: { propertyId: string; place: number; hash: string };
  /** One row: links in the book, and how many of them an upgrade chained, when. Kept by trigger. */
  ledgerChain: { id: number; links: number; chainedLinks: number; chainedAt: string | null };
  season: {
    propertyId: string;
    year: number;
    startedUpOn: string | null;
    startUpEntryId: string | null;
    winterizedOn: string | null;
    winterizationEntryId: string | null;
  };
  /** Findings that stand, by the id of their first version. */
  finding: { id: string; propertyId: string; entryId: string; closedByEntryId: string | null };
  technician: Row<Technician, 'skills' | 'workWeekdays'>;
  truck: Row<Truck>;
  route: Row<Route>;
  restriction: Row<Restriction, 'stages'>;
  thumbRule: Row<ThumbRule> & { position: number };
  weatherStation: Row<WeatherStation, 'normals'>;
  weatherDay: {
    stationId: string;
    date: string;
    tmaxF: number | null;
    tminF: number | null;
    rainInches: number | null;
    rhMeanPct: number | null;
    windMph: number | null;
    solarMjM2: number | null;
  };
  setting: { key: string; value: string };
  writeLog: { writeId: string; request: string; inputHash: string; result: string; at: string };
  importMapping: { target: string; signature: string; mapping: string; at: string };
}

/** The database or the transaction inside it; functions take it first. */
export type Db = Kysely<BookTables> | Transaction<BookTables>;

const JSON_COLUMNS: Record<string, readonly string[]> = {
  zone: ['prInputs'],
  technician: ['skills', 'workWeekdays'],
  restriction: ['stages'],
  weatherStation: ['normals'],
  programRevision: ['days', 'startTimes'],
};
const BOOL_COLUMNS: Record<string, readonly string[]> = {
  client: ['archived'],
  property: ['servicesStartUp', 'servicesWinterization', 'archived'],
  controller: ['retired'],
  zone: ['betweenHouses', 'retired'],
  sensor: ['lastCheckPassed', 'retired'],
  technician: ['active'],
  truck: ['active'],
  thumbRule: ['betweenHouses'],
  visit: ['locked'],
  programRevision: ['enabled'],
};
/** Columns only the store knows. */
const HIDDEN_COLUMNS: Record<string, readonly string[]> = {
  client: ['version', 'searchText', 'sortName'],
  property: ['version', 'searchText', 'baseBackflowTestDue'],
  zone: ['basePrMethod', 'basePrecipitationRateInPerHour', 'baseDistributionUniformity', 'baseRateOn', 'baseRatePlace'],
  sensor: [
    'baseBatteryDate',
    'baseRainSetPointInches',
    'baseRainSetPointOn',
    'baseRainSetPointPlace',
    'baseFreezeSetPointF',
    'baseFreezeSetPointOn',
    'baseFreezeSetPointPlace',
  ],
  thumbRule: ['position'],
  visit: ['unplanned'],
  programRevision: [
    'ledgerEntryId',
    'voidedByEntryId',
    'propertyId',
    'runCount',
    'bookPlace',
    'place',
    'previousHash',
    'hash',
  ],
  ledgerEntry: ['sensorId', 'zoneId', 'bookPlace', 'place', 'previousHash', 'hash'],
};

/** A row as its entity: JSON parsed, 0/1 as booleans, the store's own columns left out. Mutates and returns the row. */
export function toEntity<T>(table: keyof BookTables, row: Record<string, any>): T {
  for (const column of HIDDEN_COLUMNS[table] ?? []) delete row[column];
  for (const column of JSON_COLUMNS[table] ?? [])
    if (typeof row[column] === 'string') row[column] = JSON.parse(row[column]);
  for (const column of BOOL_COLUMNS[table] ?? []) if (typeof row[column] === 'number') row[column] = row[column] === 1;
  return row as T;
}

/** What the office says of a new zone's rate: it holds from before all work, so that any audit counts over it. */
export const newZoneBase = (
  zone: Pick<Zone, 'prMethod' | 'precipitationRateInPerHour' | 'distributionUniformity'>,
) => ({
  basePrMethod: zone.prMethod,
  basePrecipitationRateInPerHour: zone.precipitationRateInPerHour,
  baseDistributionUniformity: zone.distributionUniformity,
  baseRateOn: null,
  baseRatePlace: null,
});

/** What the office says of a new sensor: it holds from before all work, so that any check counts over it. */
export const newSensorBase = (sensor: Pick<Sensor, 'batteryDate' | 'rainSetPointInches' | 'freezeSetPointF'>) => ({
  baseBatteryDate: sensor.batteryDate,
  baseRainSetPointInches: sensor.rainSetPointInches,
  baseRainSetPointOn: null,
  baseRainSetPointPlace: null,
  baseFreezeSetPointF: sensor.freezeSetPointF,
  baseFreezeSetPointOn: null,
  baseFreezeSetPointPlace: null,
});

/** An entity as the values of its row. */
export function toRow<T extends object>(table: keyof BookTables, entity: T): Record<string, unknown> {
  const row: Record<string, any> = { ...entity };
  for (const column of JSON_COLUMNS[table] ?? []) if (column in row) row[column] = JSON.stringify(row[column]);
  for (const column of BOOL_COLUMNS[table] ?? [])
    if (typeof row[column] === 'boolean') row[column] = row[column] ? 1 : 0;
  return row;
}
