import type { JobContext } from '../../context.ts';
import { ledgerDetailSchema, type LedgerDetail } from '../../ledger/entry-contract.ts';
import { Recount, stands } from '../../ledger/index.ts';
import { pastCount, pastPages, type EntryRow } from '../../store/chain-pages.ts';
import { corrections } from '../check-queries.ts';
import type { Db } from '../../store/tables.ts';
import { reasonOf } from '../../contract/reason-of.ts';
import type { ChainCheck } from './chain.ts';
import { Check } from './check.ts';
import { fact, factAround } from '../../text/say.ts';

/** What one reading of the whole ledger says. */
export interface LedgerReading {
  checks: Check[];
  /** What the entries that stand decide, by the table of effects. */
  recount: Recount;
  /** Every version of a finding → its first; and the property of each first one. */
  firstIds: Map<string, string>;
  findings: Map<string, string>;
  /** Entries that stand and name a finding. */
  closers: { id: string; propertyId: string; findingId: string }[];
  /** Run-time changes: entry → the revision it names; voids have none. */
  changes: Map<string, { revisionId: string | null; programId: string | null }>;
  /** Entries that were corrected → by which entry. */
  supersededBy: Map<string, string>;
}

/** Reads the past once, in the order of recording and a page at a time: follows its chain and gathers what everything else is compared with. */
export async function readLedger(context: JobContext, db: Db, chain: ChainCheck): Promise<LedgerReading> {
  const chains = new Check(fact('check.of.corrections'));
  const details = new Check(fact('check.of.entries'));
  const reading: LedgerReading = {
    checks: [chains, details],
    recount: new Recount(),
    firstIds: new Map(),
    findings: new Map(),
    closers: [],
    changes: new Map(),
    supersededBy: new Map(),
  };
  for (const row of await corrections(db)) {
    chains.looked += 1;
    if (row.correctedId === null)
      chains.find(fact('check.correctsNothing', { id: row.id, correctsId: row.correctsId! }));
    else if (row.correctedKind !== row.kind)
      chains.find(
        fact('check.correctsOtherKind', {
          id: row.id,
          kind: row.kind,
          correctsId: row.correctsId!,
          otherKind: row.correctedKind ?? '',
        }),
      );
    else if (row.correctedPropertyId !== row.propertyId)
      chains.find(fact('check.correctsElsewhere', { id: row.id, correctsId: row.correctsId! }));
    if (row.id === row.correctsId) chains.find(fact('check.correctsItself', { id: row.id }));
    const other = reading.supersededBy.get(row.correctsId!);
    if (other !== undefined) chains.find(fact('check.correctedTwice', { id: row.correctsId!, by: other, and: row.id }));
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
    context.progress(chain.check.looked, total, fact('book.readingLedger'));
  }
  return reading;
}

function take(reading: LedgerReading, details: Check, row: EntryRow): void {
  if ((row.correctsId === null) !== (row.correction === null))
    details.find(fact('check.halfCorrection', { id: row.id }));
  const detail = parseDetail(row, details);
  if (!detail) return;
  if (detail.kind === 'run-time-change') {
    const isVoid = row.correction === 'void';
    reading.changes.set(row.id, {
      revisionId: isVoid ? null : detail.revisionId,
      programId: isVoid ? null : detail.programId,
    });
  }
  const firstId = detail.kind === 'finding' ? firstOf(reading, row) : row.id;
  if (!stands(row, reading.supersededBy.has(row.id))) return;
  if ('closesFindingId' in detail && detail.closesFindingId !== null)
    reading.closers.push({ id: row.id, propertyId: row.propertyId, findingId: detail.closesFindingId });
  reading.recount.take({
    id: row.id,
    firstId,
    propertyId: row.propertyId,
    place: row.bookPlace,
    doneOn: row.doneOn,
    detail,
  });
}

/** Corrections come after what they correct, so the first version of that is known. */
function firstOf(reading: LedgerReading, { id, correctsId, propertyId }: EntryRow): string {
  const firstId = (correctsId && reading.firstIds.get(correctsId)) ?? id;
  reading.firstIds.set(id, firstId);
  if (firstId === id) reading.findings.set(id, propertyId);
  return firstId;
}

function parseDetail(row: EntryRow, details: Check): LedgerDetail | null {
  let value: unknown;
  try {
    value = JSON.parse(row.detail);
  } catch {
    details.find(fact('check.entryNotJson', { id: row.id }));
    return null;
  }
  const parsed = ledgerDetailSchema.safeParse(value);
  if (!parsed.success) {
    const issue = parsed.error.issues[0]!;
    details.find(
      factAround('check.entryOdd', reasonOf(issue), {
        id: row.id,
        kind: row.kind,
        field: issue.path.join('.') || null,
      }),
    );
    return null;
  }
  const detail = parsed.data;
  if (detail.kind !== row.kind)
    details.find(fact('check.filedKind', { id: row.id, filed: row.kind, says: detail.kind }));
  const sensorId = 'sensorId' in detail ? detail.sensorId : null;
  const zoneId = 'zoneId' in detail ? detail.zoneId : null;
  if (sensorId !== row.sensorId)
    details.find(fact('check.filedSensor', { id: row.id, filed: row.sensorId, says: sensorId }));
  if (zoneId !== row.zoneId) details.find(fact('check.filedZone', { id: row.id, filed: row.zoneId, says: zoneId }));
  return detail;
}
