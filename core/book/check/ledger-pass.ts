import type { z } from 'zod';
import type { JobContext } from '../../context.ts';
import {
  ledgerDetailSchema,
  type backflowTestSchema,
  type batterySwapSchema,
  type LedgerDetail,
  type sensorCheckSchema,
} from '../../contract/ledger-entries.ts';
import { seasonYear } from '../../ledger/facts.ts';
import { pastCount, pastPages, type EntryRow } from '../../store/chain-pages.ts';
import { corrections } from '../../store/check-queries.ts';
import type { Db } from '../../store/tables.ts';
import { reasonOf } from '../import/plan.ts';
import type { ChainCheck } from './chain.ts';
import { Check } from './check.ts';

export interface Dated<T> {
  place: number;
  doneOn: string;
  detail: T;
}

export interface SeasonFacts {
  startedUpOn: string | null;
  startUpEntryId: string | null;
  winterizedOn: string | null;
  winterizationEntryId: string | null;
}

/** What one reading of the whole ledger says, the corrected truth only where it says "latest". */
export interface LedgerReading {
  checks: Check[];
  latestSwap: Map<string, Dated<z.infer<typeof batterySwapSchema>>>;
  latestCheck: Map<string, Dated<z.infer<typeof sensorCheckSchema>>>;
  latestTest: Map<string, Dated<z.infer<typeof backflowTestSchema>>>;
  /** By `propertyId year`. */
  seasons: Map<string, SeasonFacts>;
  /** Run-time changes: entry → the revision it names; voids have none. */
  changes: Map<string, { revisionId: string | null; programId: string | null }>;
  /** Entries that were corrected → by which entry. */
  supersededBy: Map<string, string>;
}

/** Reads the past once, in the order of recording and a page at a time: follows its chain and gathers what everything else is compared with. */
export async function readLedger(context: JobContext, db: Db, chain: ChainCheck): Promise<LedgerReading> {
  const chains = new Check('Every correction points at an entry of its own kind and property');
  const details = new Check('Every ledger entry can be read');
  const reading: LedgerReading = {
    checks: [chains, details],
    latestSwap: new Map(),
    latestCheck: new Map(),
    latestTest: new Map(),
    seasons: new Map(),
    changes: new Map(),
    supersededBy: new Map(),
  };
  for (const row of await corrections(db)) {
    chains.looked += 1;
    if (row.correctedId === null)
      chains.find(`Ledger entry ${row.id} corrects ${row.correctsId}, which is not in the ledger.`);
    else if (row.correctedKind !== row.kind)
      chains.find(
        `Ledger entry ${row.id} (${row.kind}) corrects ${row.correctsId}, which is of another kind (${row.correctedKind}).`,
      );
    else if (row.correctedPropertyId !== row.propertyId)
      chains.find(`Ledger entry ${row.id} corrects ${row.correctsId}, which belongs to another property.`);
    if (row.id === row.correctsId) chains.find(`Ledger entry ${row.id} corrects itself.`);
    const other = reading.supersededBy.get(row.correctsId!);
    if (other !== undefined)
      chains.find(`Ledger entry ${row.correctsId} is corrected twice, by ${other} and ${row.id}.`);
    reading.supersededBy.set(row.correctsId!, row.id);
  }
  const total = await pastCount(db);
  for await (const page of pastPages(db)) {
    context.checkCancelled();
    for (const link of page) {
      chain.take(link);
      if (link.kind === 'revision') continue;
      take(reading, details, link.row);
      details.looked += 1;
    }
    context.progress(chain.check.looked, total, 'Reading the ledger');
  }
  return reading;
}

function take(reading: LedgerReading, details: Check, row: EntryRow): void {
  if ((row.correctsId === null) !== (row.correction === null))
    details.find(`Ledger entry ${row.id} names a correction without saying of what, or the other way round.`);
  const detail = parseDetail(row, details);
  if (!detail) return;
  if (detail.kind === 'run-time-change') {
    const isVoid = row.correction === 'void';
    reading.changes.set(row.id, {
      revisionId: isVoid ? null : detail.revisionId,
      programId: isVoid ? null : detail.programId,
    });
  }
  if (row.correction === 'void' || reading.supersededBy.has(row.id)) return;
  switch (detail.kind) {
    case 'battery-swap':
      keepLatest(reading.latestSwap, detail.sensorId, row, detail);
      break;
    case 'sensor-check':
      keepLatest(reading.latestCheck, detail.sensorId, row, detail);
      break;
    case 'backflow-test':
      keepLatest(reading.latestTest, row.propertyId, row, detail);
      break;
    case 'start-up':
    case 'winterization':
      keepSeason(reading, row, detail.kind);
      break;
    default:
  }
}

function parseDetail(row: EntryRow, details: Check): LedgerDetail | null {
  let value: unknown;
  try {
    value = JSON.parse(row.detail);
  } catch {
    details.find(`Ledger entry ${row.id}: what it says cannot be read (it is not JSON).`);
    return null;
  }
  const parsed = ledgerDetailSchema.safeParse(value);
  if (!parsed.success) {
    const issue = parsed.error.issues[0]!;
    details.find(`Ledger entry ${row.id} (${row.kind}): ${issue.path.join('.') || 'its content'} ${reasonOf(issue)}.`);
    return null;
  }
  const detail = parsed.data;
  if (detail.kind !== row.kind) details.find(`Ledger entry ${row.id} is filed as ${row.kind} and says ${detail.kind}.`);
  const sensorId = 'sensorId' in detail ? detail.sensorId : null;
  const zoneId = 'zoneId' in detail ? detail.zoneId : null;
  if (sensorId !== row.sensorId)
    details.find(
      `Ledger entry ${row.id} is filed under sensor ${row.sensorId ?? 'none'} and says ${sensorId ?? 'none'}.`,
    );
  if (zoneId !== row.zoneId)
    details.find(`Ledger entry ${row.id} is filed under zone ${row.zoneId ?? 'none'} and says ${zoneId ?? 'none'}.`);
  return detail;
}

/** Entries come in the order of recording, so of one day the one met later counts. */
function isLater(row: { doneOn: string }, than: { doneOn: string } | undefined): boolean {
  return than === undefined || row.doneOn >= than.doneOn;
}

function keepLatest<T>(latest: Map<string, Dated<T>>, key: string, row: EntryRow, detail: T): void {
  if (isLater(row, latest.get(key))) latest.set(key, { place: row.bookPlace, doneOn: row.doneOn, detail });
}

function keepSeason(reading: LedgerReading, row: EntryRow, kind: 'start-up' | 'winterization'): void {
  const key = `${row.propertyId} ${seasonYear(kind, row.doneOn)}`;
  const season = reading.seasons.get(key) ?? {
    startedUpOn: null,
    startUpEntryId: null,
    winterizedOn: null,
    winterizationEntryId: null,
  };
  reading.seasons.set(key, season);
  if (kind === 'start-up') {
    const before = season.startedUpOn === null ? undefined : { doneOn: season.startedUpOn };
    if (isLater(row, before)) Object.assign(season, { startedUpOn: row.doneOn, startUpEntryId: row.id });
  } else {
    const before = season.winterizedOn === null ? undefined : { doneOn: season.winterizedOn };
    if (isLater(row, before)) Object.assign(season, { winterizedOn: row.doneOn, winterizationEntryId: row.id });
  }
}
