import { hash } from 'node:crypto';

// The chain of a property's history, and the seal of the whole book. Described in DEVELOPERS.md so exactly that anyone
// can recompute it with any tool; a change of what is hashed or how needs a new version mark, never an edit of an old one.

/** Where a ledger entry or a program revision stands: a row carries it beside what it says. */
export interface Link {
  /** 1, 2, 3 … through the whole book, in the order of recording. */
  bookPlace: number;
  /** 1, 2, 3 … in its property's chain, entries and revisions together. */
  place: number;
  /** Hash of the one before in the property's chain; '' for the first. */
  previousHash: string;
  /** SHA-256 of its canonical form, 64 hexadecimal digits. */
  hash: string;
}

/** What the hash of a ledger entry covers: the columns as they are stored. */
export interface EntryContent {
  id: string;
  propertyId: string;
  visitId: string | null;
  technicianId: string | null;
  kind: string;
  doneOn: string;
  recordedAt: string;
  sensorId: string | null;
  zoneId: string | null;
  note: string;
  detail: string;
  correctsId: string | null;
  correction: string | null;
  correctionReason: string;
}

/** What the hash of a program revision covers besides its runs; voidedByEntryId follows from a later entry and is left out. */
export interface RevisionContent {
  id: string;
  propertyId: string;
  programId: string;
  revisionNumber: number;
  effectiveDate: string;
  recordedAt: string;
  madeBy: string;
  reason: string;
  days: string;
  startTimes: string;
  seasonalPercent: number;
  enabled: number;
  ledgerEntryId: string | null;
}

export interface RunContent {
  zoneId: string;
  runMinutes: number;
  cycleMinutes: number | null;
  soakMinutes: number | null;
}

type Standing = Omit<Link, 'hash'>;

/** Hash of a ledger entry at its place. */
export function entryHash(entry: EntryContent & Standing): string {
  return hashOf([
    'valvebook-entry-1',
    entry.bookPlace,
    entry.place,
    entry.previousHash,
    entry.id,
    entry.propertyId,
    entry.visitId,
    entry.technicianId,
    entry.kind,
    entry.doneOn,
    entry.recordedAt,
    entry.sensorId,
    entry.zoneId,
    entry.note,
    entry.detail,
    entry.correctsId,
    entry.correction,
    entry.correctionReason,
  ]);
}

/** Hash of a program revision with its runs, in whatever order they come, at its place. */
export function revisionHash(revision: RevisionContent & Standing, runs: readonly RunContent[]): string {
  return hashOf([
    'valvebook-revision-1',
    revision.bookPlace,
    revision.place,
    revision.previousHash,
    revision.id,
    revision.propertyId,
    revision.programId,
    revision.revisionNumber,
    revision.effectiveDate,
    revision.recordedAt,
    revision.madeBy,
    revision.reason,
    revision.days,
    revision.startTimes,
    revision.seasonalPercent,
    revision.enabled,
    revision.ledgerEntryId,
    [...runs]
      .sort(byZone)
      .map((run) => [run.zoneId, run.runMinutes, run.cycleMinutes, run.soakMinutes].map((value) => plain(value))),
  ]);
}

const byZone = (a: RunContent, b: RunContent) => (a.zoneId < b.zoneId ? -1 : a.zoneId > b.zoneId ? 1 : 0);

/** The end of a property's chain. */
export interface Head {
  place: number;
  hash: string;
}

/** The seal of a book of so many links with these ends of its properties' chains. */
export function sealOf(count: number, heads: ReadonlyMap<string, Head>): string {
  const ends = [...heads].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  return hashOf(['valvebook-seal-1', count, ends.map(([propertyId, head]) => [propertyId, head.place, head.hash])]);
}

function hashOf(form: readonly unknown[]): string {
  return hash(
    'sha256',
    JSON.stringify(form.map((value) => (Array.isArray(value) ? (value as unknown) : plain(value)))),
    'hex',
  );
}

/** Text as the file will hold it; what can be neither text nor number (only tampering puts it there) is told apart from nothing. */
function plain(value: unknown): unknown {
  if (typeof value === 'string') return value.toWellFormed();
  if (value === null || (typeof value === 'number' && Number.isFinite(value))) return value;
  return { unfit: String(value) };
}

/** Gives the next links of a book in the order they are asked for. All writers of the past come through here. */
export class ChainEnd {
  private readonly heads: Map<string, Head>;
  private links: number;

  constructor(links: number, heads: Map<string, Head>) {
    this.links = links;
    this.heads = heads;
  }

  get count(): number {
    return this.links;
  }

  entry<T extends EntryContent>(entry: T): T & Link {
    const standing = this.next(entry.propertyId);
    return this.took(entry.propertyId, { ...entry, ...standing, hash: entryHash({ ...entry, ...standing }) });
  }

  revision<T extends RevisionContent>(revision: T, runs: readonly RunContent[]): T & Link & { runCount: number } {
    const standing = this.next(revision.propertyId);
    return this.took(revision.propertyId, {
      ...revision,
      ...standing,
      runCount: runs.length,
      hash: revisionHash({ ...revision, ...standing }, runs),
    });
  }

  /** Ends of the chains that were asked about or grew. */
  *ends(): Generator<{ propertyId: string } & Head> {
    for (const [propertyId, head] of this.heads) yield { propertyId, ...head };
  }

  private next(propertyId: string): Standing {
    const head = this.heads.get(propertyId);
    return { bookPlace: this.links + 1, place: (head?.place ?? 0) + 1, previousHash: head?.hash ?? '' };
  }

  private took<T extends Link>(propertyId: string, linked: T): T {
    this.links = linked.bookPlace;
    this.heads.set(propertyId, { place: linked.place, hash: linked.hash });
    return linked;
  }
}
