import { sql, type SelectQueryBuilder } from 'kysely';
import type { FindingLink, LedgerDetail, LedgerEntry, LedgerKind } from './entry-contract.ts';
import type { ParsedInputOf } from '../contract/index.ts';
import { BookError } from '../errors.ts';
import type { Link } from '../store/chain.ts';
import { isLastVersion, isStanding } from './standing-queries.ts';
import { summarize } from './summarize.ts';
import type { ZoneSaid } from '../text/words.ts';
import { chainEndOf } from '../store/chain-queries.ts';
import { toEntity, type BookTables, type Db } from '../store/tables.ts';
import { fact } from '../text/say.ts';

type Entries = SelectQueryBuilder<BookTables & { e: BookTables['ledgerEntry'] }, 'e', object>;

export interface NewEntry {
  id: string;
  propertyId: string;
  visitId: string | null;
  technicianId: string | null;
  doneOn: string;
  recordedAt: string;
  note: string;
  detail: LedgerDetail;
  correctsId?: string;
  correction?: 'replace' | 'void';
  correctionReason?: string;
}

/** Appends one entry at the next place of its property's chain. There is no other way to write a single entry. */
export async function appendEntry(db: Db, entry: NewEntry, field: string): Promise<void> {
  const present = await db.selectFrom('ledgerEntry').select('id').where('id', '=', entry.id).executeTakeFirst();
  if (present) throw new BookError('conflict', fact('errors.entryIdTaken'), field);
  const detail = entry.detail as { sensorId?: string; zoneId?: string | null };
  const end = await chainEndOf(db, [entry.propertyId]);
  const row = end.entry({
    id: entry.id,
    propertyId: entry.propertyId,
    visitId: entry.visitId,
    technicianId: entry.technicianId,
    kind: entry.detail.kind,
    doneOn: entry.doneOn,
    recordedAt: entry.recordedAt,
    sensorId: detail.sensorId ?? null,
    zoneId: detail.zoneId ?? null,
    note: entry.note,
    detail: JSON.stringify(entry.detail),
    correctsId: entry.correctsId ?? null,
    correction: entry.correction ?? null,
    correctionReason: entry.correctionReason ?? '',
  });
  await db.insertInto('ledgerEntry').values(row).execute();
}

function standing<Q extends Entries>(query: Q, includeVoid: boolean): Q {
  return query.where(includeVoid ? isLastVersion : isStanding) as Q;
}

type Row = BookTables['ledgerEntry'] & {
  technicianName: string | null;
  clientName: string;
  street: string;
  supersededById: string | null;
  zoneStation: number | null;
  zoneName: string | null;
};

async function dress(db: Db, rows: Row[]): Promise<LedgerEntry[]> {
  const entries: LedgerEntry[] = [];
  for (const { zoneStation, zoneName, ...row } of rows) {
    const detail = JSON.parse(row.detail) as LedgerDetail;
    entries.push({
      ...toEntity<Omit<typeof row, 'sensorId' | 'zoneId' | keyof Link>>('ledgerEntry', row),
      detail,
      historyLength: row.correctsId === null ? 0 : (await chainBefore(db, row.id)).length,
      summary: summarize(detail, zoneSaid({ zoneStation, zoneName })),
      ...(await linksOf(db, row.id, detail)),
    });
  }
  return entries;
}

/** Both ends of the link between a finding and what closed it. */
async function linksOf(
  db: Db,
  entryId: string,
  detail: LedgerDetail,
): Promise<Pick<LedgerEntry, 'closedBy' | 'closes'>> {
  if (detail.kind === 'finding') {
    const finding = await db
      .selectFrom('finding')
      .select('closedByEntryId')
      .where('propertyId', '=', (eb) => eb.selectFrom('ledgerEntry').select('propertyId').where('id', '=', entryId))
      .where('entryId', '=', entryId)
      .executeTakeFirst();
    return { closedBy: await linkTo(db, finding?.closedByEntryId), closes: null };
  }
  if (!('closesFindingId' in detail) || typeof detail.closesFindingId !== 'string')
    return { closedBy: null, closes: null };
  const finding = await db
    .selectFrom('finding')
    .select('entryId')
    .where('id', '=', detail.closesFindingId)
    .executeTakeFirst();
  return { closedBy: null, closes: await linkTo(db, finding?.entryId) };
}

async function linkTo(db: Db, entryId: string | null | undefined): Promise<FindingLink | null> {
  if (!entryId) return null;
  const row = await db
    .selectFrom('ledgerEntry as e')
    .leftJoin('zone as z', 'z.id', 'e.zoneId')
    .select(['e.kind', 'e.doneOn', 'e.detail', 'z.station as zoneStation', 'z.name as zoneName'])
    .where('e.id', '=', entryId)
    .executeTakeFirst();
  if (!row) return null;
  return {
    entryId,
    kind: row.kind,
    doneOn: row.doneOn,
    summary: summarize(JSON.parse(row.detail) as LedgerDetail, zoneSaid(row)),
  };
}

/** The zone an entry names, if it names one. */
const zoneSaid = ({ zoneStation, zoneName }: Pick<Row, 'zoneStation' | 'zoneName'>): ZoneSaid | null =>
  zoneStation === null || zoneName === null ? null : { station: zoneStation, name: zoneName };

const dressed = (query: Entries) =>
  query
    .innerJoin('property as p', 'p.id', 'e.propertyId')
    .innerJoin('client as k', 'k.id', 'p.clientId')
    .leftJoin('technician as t', 't.id', 'e.technicianId')
    .leftJoin('zone as z', 'z.id', 'e.zoneId')
    .selectAll('e')
    .select([
      't.name as technicianName',
      'k.name as clientName',
      'p.street',
      'z.station as zoneStation',
      'z.name as zoneName',
      sql<string | null>`(select s.id from ${sql.table('ledgerEntry')} s where ${sql.ref('s.correctsId')} = e.id)`.as(
        'supersededById',
      ),
    ]);

/** The corrected truth, newest day first, and of one day what was recorded last. */
export async function listEntries(
  db: Db,
  input: ParsedInputOf<'ledger.list'>,
): Promise<{ entries: LedgerEntry[]; total: number }> {
  if (input.historyOfId !== null) return history(db, input.historyOfId);
  let query = standing(db.selectFrom('ledgerEntry as e') as unknown as Entries, input.includeVoid);
  if (input.propertyId) query = query.where('e.propertyId', '=', input.propertyId);
  if (input.visitId) query = query.where('e.visitId', '=', input.visitId);
  if (input.technicianId) query = query.where('e.technicianId', '=', input.technicianId);
  if (input.sensorId) query = query.where('e.sensorId', '=', input.sensorId);
  if (input.kinds) query = query.where('e.kind', 'in', input.kinds);
  if (input.fromDate) query = query.where('e.doneOn', '>=', input.fromDate);
  if (input.toDate) query = query.where('e.doneOn', '<=', input.toDate);
  const rows = (await dressed(query)
    .orderBy('e.doneOn', 'desc')
    .orderBy('e.bookPlace', 'desc')
    .limit(input.limit)
    .offset(input.offset)
    .execute()) as unknown as Row[];
  const total =
    rows.length < input.limit && (rows.length > 0 || input.offset === 0)
      ? input.offset + rows.length
      : await count(query);
  return { entries: await dress(db, rows), total };
}

async function count(query: Entries): Promise<number> {
  return Number(((await query.select((eb) => eb.fn.countAll().as('n')).executeTakeFirstOrThrow()) as { n: number }).n);
}

/** A property's latest entries and how many there are. */
export async function latestEntries(
  db: Db,
  propertyId: string,
  limit: number,
): Promise<{ entries: LedgerEntry[]; total: number }> {
  const query = standing(db.selectFrom('ledgerEntry as e') as unknown as Entries, false).where(
    'e.propertyId',
    '=',
    propertyId,
  );
  const rows =
    limit === 0
      ? []
      : ((await dressed(query)
          .orderBy('e.doneOn', 'desc')
          .orderBy('e.bookPlace', 'desc')
          .limit(limit)
          .execute()) as unknown as Row[]);
  return { entries: await dress(db, rows), total: rows.length < limit ? rows.length : await count(query) };
}

/** Ids an entry corrects, nearest first. */
async function chainBefore(db: Db, id: string): Promise<string[]> {
  const chain: string[] = [];
  let at: string | null = id;
  while (at !== null) {
    const row: { correctsId: string | null } | undefined = await db
      .selectFrom('ledgerEntry')
      .select('correctsId')
      .where('id', '=', at)
      .executeTakeFirst();
    at = row?.correctsId ?? null;
    if (at !== null) chain.push(at);
  }
  return chain;
}

async function history(db: Db, id: string): Promise<{ entries: LedgerEntry[]; total: number }> {
  let newest: string = id;
  for (;;) {
    const next = await db.selectFrom('ledgerEntry').select('id').where('correctsId', '=', newest).executeTakeFirst();
    if (!next) break;
    newest = next.id;
  }
  const ids = [newest, ...(await chainBefore(db, newest))];
  const rows = (await dressed(db.selectFrom('ledgerEntry as e') as unknown as Entries)
    .where('e.id', 'in', ids)
    .execute()) as unknown as Row[];
  if (rows.length === 0) throw new BookError('not-found', fact('errors.noEntry'), 'historyOfId');
  rows.sort((a, b) => ids.indexOf(b.id) - ids.indexOf(a.id));
  return { entries: await dress(db, rows), total: rows.length };
}

/** One entry as stored, and whether something corrects it. */
export async function readEntry(
  db: Db,
  id: string,
): Promise<{
  entry: Omit<BookTables['ledgerEntry'], 'detail'> & { detail: LedgerDetail };
  supersededById: string | null;
} | null> {
  const row = await db.selectFrom('ledgerEntry').selectAll().where('id', '=', id).executeTakeFirst();
  if (!row) return null;
  const by = await db.selectFrom('ledgerEntry').select('id').where('correctsId', '=', id).executeTakeFirst();
  return { entry: { ...row, detail: JSON.parse(row.detail) as LedgerDetail }, supersededById: by?.id ?? null };
}

/** Entries by id, dressed for showing, in the order given. */
export async function readEntries(db: Db, ids: readonly string[]): Promise<LedgerEntry[]> {
  if (ids.length === 0) return [];
  const rows = (await dressed(db.selectFrom('ledgerEntry as e') as unknown as Entries)
    .where('e.id', 'in', [...ids])
    .execute()) as unknown as Row[];
  rows.sort((a, b) => ids.indexOf(a.id) - ids.indexOf(b.id));
  return dress(db, rows);
}

/** Of the entries of a kind that stand about a sensor or at a property, the one that decides: the latest. */
export async function latestOfKind<K extends LedgerKind>(
  db: Db,
  kind: K,
  about: { sensorId: string } | { propertyId: string },
): Promise<{ doneOn: string; technicianName: string | null; detail: Extract<LedgerDetail, { kind: K }> } | null> {
  const [column, id] =
    'sensorId' in about ? (['e.sensorId', about.sensorId] as const) : (['e.propertyId', about.propertyId] as const);
  const row = await db
    .selectFrom('ledgerEntry as e')
    .leftJoin('technician as t', 't.id', 'e.technicianId')
    .select(['e.doneOn', 'e.detail', 't.name as technicianName'])
    .where(isStanding)
    .where('e.kind', '=', kind)
    .where(column, '=', id)
    .orderBy('e.doneOn', 'desc')
    .orderBy('e.bookPlace', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ? { ...row, detail: JSON.parse(row.detail) as Extract<LedgerDetail, { kind: K }> } : null;
}

/** Does the visit still have a standing entry of this kind? */
export async function visitHasEntry(db: Db, visitId: string, kinds: readonly LedgerKind[] | null): Promise<boolean> {
  let query = standing(db.selectFrom('ledgerEntry as e') as unknown as Entries, false).where('e.visitId', '=', visitId);
  if (kinds) query = query.where('e.kind', 'in', [...kinds]);
  return (await query.select('e.id').limit(1).executeTakeFirst()) !== undefined;
}
