import type { Program, ProgramRevision, ProgramSettings } from './contract.ts';
import { BookError } from '../errors.ts';
import { chainEndOf } from '../store/chain-queries.ts';
import { engine } from '../store/book-engine.ts';
import { toEntity, type BookTables, type Db } from '../store/tables.ts';
import { revisionStands, shownOn } from './in-force.ts';
import { fact } from '../text/say.ts';

type RevisionHead = Omit<ProgramRevision, 'runs'>;

async function withRuns(db: Db, heads: RevisionHead[]): Promise<ProgramRevision[]> {
  if (heads.length === 0) return [];
  const runs = await db
    .selectFrom('programRun as r')
    .innerJoin('zone as z', 'z.id', 'r.zoneId')
    .select(['r.revisionId', 'r.zoneId', 'r.runMinutes', 'r.cycleMinutes', 'r.soakMinutes'])
    .where(
      'r.revisionId',
      'in',
      heads.length > 500 ? engine.listOf(heads.map((head) => head.id)) : heads.map((head) => head.id),
    )
    .orderBy('z.station')
    .orderBy('z.id')
    .execute();
  const byRevision = new Map<string, ProgramRevision['runs']>();
  for (const { revisionId, ...run } of runs) {
    const list = byRevision.get(revisionId);
    if (list) list.push(run);
    else byRevision.set(revisionId, [run]);
  }
  return heads.map((head) => ({ ...head, runs: byRevision.get(head.id) ?? [] }));
}

/** Every revision of these programs, those that stand no more too, in the order in which they come into force. */
export async function revisionRows(
  db: Db,
  programIds: readonly string[],
): Promise<Map<string, BookTables['programRevision'][]>> {
  const rows = await db
    .selectFrom('programRevision')
    .selectAll()
    .where('programId', 'in', programIds.length > 500 ? engine.listOf(programIds) : [...programIds])
    .orderBy('programId')
    .orderBy('effectiveDate')
    .orderBy('revisionNumber')
    .execute();
  return Map.groupBy(rows, (row) => row.programId);
}

/** A property's programs as in force on a date. */
export async function readPrograms(db: Db, propertyId: string, onDate: string): Promise<Program[]> {
  const programs = await db
    .selectFrom('program')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .orderBy('controllerId')
    .orderBy('name')
    .execute();
  if (programs.length === 0) return [];
  const rows = await revisionRows(
    db,
    programs.map((program) => program.id),
  );
  const inForce = programs.flatMap(({ id }) => shownOn((rows.get(id) ?? []).filter(revisionStands), onDate) ?? []);
  const revisions = await withRuns(
    db,
    inForce.map((row) => toEntity<RevisionHead>('programRevision', row)),
  );
  const byProgram = new Map(revisions.map((revision) => [revision.programId, revision]));
  return programs.flatMap((program) => {
    const revision = byProgram.get(program.id);
    return revision ? [{ ...program, revision, revisionCount: rows.get(program.id)?.length ?? 0 }] : [];
  });
}

/** Every revision of a property's programs that was ever in force, oldest first: for spans of time. */
export async function readRevisionsOfProperty(
  db: Db,
  propertyId: string,
): Promise<{ programId: string; controllerId: string; name: string; revisions: ProgramRevision[] }[]> {
  const programs = await db
    .selectFrom('program')
    .selectAll()
    .where('propertyId', '=', propertyId)
    .orderBy('controllerId')
    .orderBy('name')
    .execute();
  if (programs.length === 0) return [];
  const rows = await revisionRows(
    db,
    programs.map((program) => program.id),
  );
  const standing = [...rows.values()].flat().filter(revisionStands);
  const revisions = await withRuns(
    db,
    standing.map((row) => toEntity<RevisionHead>('programRevision', row)),
  );
  return programs.map((program) => ({
    programId: program.id,
    controllerId: program.controllerId,
    name: program.name,
    revisions: revisions.filter((revision) => revision.programId === program.id),
  }));
}

export async function readHistory(
  db: Db,
  programId: string,
): Promise<{ programName: string; revisions: (ProgramRevision & { isVoid: boolean })[] }> {
  const program = await db.selectFrom('program').select('name').where('id', '=', programId).executeTakeFirst();
  if (!program) throw new BookError('not-found', fact('errors.noProgram'), 'programId');
  const rows = (await revisionRows(db, [programId])).get(programId) ?? [];
  const isVoid = new Map(rows.map((row) => [row.id, !revisionStands(row)]));
  const revisions = await withRuns(
    db,
    rows
      .toSorted((a, b) => b.revisionNumber - a.revisionNumber)
      .map((row) => toEntity<RevisionHead>('programRevision', row)),
  );
  return {
    programName: program.name,
    revisions: revisions.map((revision) => ({ ...revision, isVoid: isVoid.get(revision.id)! })),
  };
}

/** Where a program stands, whether or not a revision of it does. */
export async function placeOfProgram(db: Db, programId: string): Promise<{ propertyId: string; name: string } | null> {
  const row = await db
    .selectFrom('program')
    .select(['propertyId', 'name'])
    .where('id', '=', programId)
    .executeTakeFirst();
  return row ?? null;
}

/** The revision that a ledger entry made. */
export async function revisionOfEntry(db: Db, ledgerEntryId: string): Promise<ProgramRevision | null> {
  const row = await db
    .selectFrom('programRevision')
    .selectAll()
    .where('ledgerEntryId', '=', ledgerEntryId)
    .executeTakeFirst();
  if (!row) return null;
  const [revision] = await withRuns(db, [toEntity<RevisionHead>('programRevision', row)]);
  return revision!;
}

/** A revision, and whether it stands. */
export async function revisionById(db: Db, id: string): Promise<{ revision: ProgramRevision; stands: boolean } | null> {
  const row = await db.selectFrom('programRevision').selectAll().where('id', '=', id).executeTakeFirst();
  if (!row) return null;
  const stands = revisionStands(row);
  const [revision] = await withRuns(db, [toEntity<RevisionHead>('programRevision', row)]);
  return { revision: revision!, stands };
}

/** One program with the revision in force on a date; revisions made by the entry `exceptEntryId` are passed over. */
export async function readProgram(
  db: Db,
  programId: string,
  onDate: string,
  exceptEntryId?: string,
): Promise<Program | null> {
  const program = await db.selectFrom('program').selectAll().where('id', '=', programId).executeTakeFirst();
  if (!program) return null;
  const all = (await revisionRows(db, [programId])).get(programId) ?? [];
  const standing = all.filter(
    (row) => revisionStands(row) && (exceptEntryId === undefined || row.ledgerEntryId !== exceptEntryId),
  );
  const row = shownOn(standing, onDate);
  if (!row) return null;
  const [revision] = await withRuns(db, [toEntity<RevisionHead>('programRevision', row)]);
  return { ...program, revision: revision!, revisionCount: all.length };
}

export interface NewRevision {
  id: string;
  programId: string;
  effectiveDate: string;
  recordedAt: string;
  madeBy: string;
  reason: string;
  settings: ProgramSettings;
  ledgerEntryId: string | null;
}

/** Adds a dated revision at the next place of its property's chain. Its zones must be on the program's controller; a run of a retired zone is refused. */
export async function addRevision(db: Db, revision: NewRevision, fieldPrefix: string): Promise<ProgramRevision> {
  const { settings } = revision;
  const program = await db
    .selectFrom('program')
    .select(['controllerId', 'propertyId'])
    .where('id', '=', revision.programId)
    .executeTakeFirst();
  if (!program) throw new BookError('not-found', fact('errors.noProgram'), 'programId');
  const zones = await db
    .selectFrom('zone')
    .select(['id', 'name', 'retired'])
    .where('controllerId', '=', program.controllerId)
    .execute();
  const known = new Map(zones.map((zone) => [zone.id, zone]));
  for (const [index, run] of settings.runs.entries()) {
    const zone = known.get(run.zoneId);
    if (!zone) throw new BookError('bad-input', fact('errors.ownZones'), `${fieldPrefix}.${index}.zoneId`);
    if (zone.retired === 1 && run.runMinutes > 0)
      throw new BookError(
        'bad-input',
        fact('errors.retiredZone', { zone: zone.name }),
        `${fieldPrefix}.${index}.zoneId`,
      );
  }
  const taken = await db.selectFrom('programRevision').select('id').where('id', '=', revision.id).executeTakeFirst();
  if (taken) throw new BookError('conflict', fact('errors.revisionIdTaken'), 'revisionId');
  const last = await db
    .selectFrom('programRevision')
    .select((eb) => eb.fn.max('revisionNumber').as('n'))
    .where('programId', '=', revision.programId)
    .executeTakeFirst();
  const head = {
    id: revision.id,
    programId: revision.programId,
    revisionNumber: Number(last?.n ?? 0) + 1,
    effectiveDate: revision.effectiveDate,
    recordedAt: revision.recordedAt,
    madeBy: revision.madeBy,
    reason: revision.reason,
    seasonalPercent: settings.seasonalPercent,
  };
  const end = await chainEndOf(db, [program.propertyId]);
  const row = end.revision(
    {
      ...head,
      days: JSON.stringify(settings.days),
      startTimes: JSON.stringify(settings.startTimes),
      enabled: settings.enabled ? (1 as const) : (0 as const),
      ledgerEntryId: revision.ledgerEntryId,
      voidedByEntryId: null,
      propertyId: program.propertyId,
    },
    settings.runs,
  );
  await db.insertInto('programRevision').values(row).execute();
  if (settings.runs.length > 0)
    await db
      .insertInto('programRun')
      .values(settings.runs.map((run) => ({ revisionId: revision.id, ...run })))
      .execute();
  return {
    ...head,
    days: settings.days,
    startTimes: settings.startTimes,
    enabled: settings.enabled,
    runs: settings.runs,
  };
}

export async function addProgram(
  db: Db,
  program: { id: string; propertyId: string; controllerId: string; name: string },
): Promise<void> {
  await db.insertInto('program').values(program).execute();
}

/** Revisions made by a ledger entry are never in force once that entry is corrected. */
export async function voidRevisionsOf(db: Db, ledgerEntryId: string, byEntryId: string): Promise<void> {
  await db
    .updateTable('programRevision')
    .set({ voidedByEntryId: byEntryId })
    .where('ledgerEntryId', '=', ledgerEntryId)
    .where('voidedByEntryId', 'is', null)
    .execute();
}
