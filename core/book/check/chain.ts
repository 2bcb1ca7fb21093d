import { entryHash, revisionHash, sealOf, type Head } from '../../store/chain.ts';
import { chainRecord, pastCount, revisionsElsewhere, type PastLink } from '../../store/chain-pages.ts';
import type { Db } from '../../store/tables.ts';
import { Check } from './check.ts';

/** A seal noted earlier, to be found again among the first `count` links of the book. */
export interface NotedSeal {
  date?: string | undefined;
  count: number;
  /** Its digits, or the beginning of them. */
  seal: string;
}

/** A past that is whole: its seal, how many links an upgrade gave their places, and when. */
export interface SealedPast {
  count: number;
  seal: string;
  chainedLinks: number;
  chainedAt: string | null;
}

/** Follows the past link by link in the order of recording, and says which is not what was sealed in. */
export class ChainCheck {
  readonly check = new Check('The past is as it was sealed in');
  readonly seals = new Check('Seals noted earlier are found again');
  private readonly heads = new Map<string, Head>();
  private readonly noted: NotedSeal[];
  private next = 1;

  constructor(noted: readonly NotedSeal[]) {
    this.noted = [...noted].sort((a, b) => a.count - b.count);
    this.compareSeals(0);
  }

  take(link: PastLink): void {
    const { check } = this;
    const { row } = link;
    check.looked += 1;
    if (!Number.isSafeInteger(row.bookPlace) || row.hash === null) {
      check.find(`${nameOf(link)} has no place in the chain: it was put into the file past Valvebook.`);
      return;
    }
    const hash = link.kind === 'entry' ? entryHash(link.row) : revisionHash(link.row, link.row.runs);
    const before = this.heads.get(row.propertyId) ?? { place: 0, hash: '' };
    if (row.bookPlace > this.next) {
      const missing = row.bookPlace - this.next;
      check.find(
        missing === 1
          ? `Number ${this.next} of the book is missing: a ledger entry or program revision was taken out, before ${lowered(nameOf(link))}.`
          : `Numbers ${this.next} to ${row.bookPlace - 1} of the book are missing: ${missing} ledger entries or program revisions were taken out, before ${lowered(nameOf(link))}.`,
      );
    } else if (row.bookPlace !== this.next)
      check.find(
        `${nameOf(link)} has number ${row.bookPlace} of the book, which cannot be: number ${this.next} comes next.`,
      );
    if (hash !== row.hash) check.find(`${nameOf(link)}: what it says is not what was sealed in.`);
    else if (row.place !== before.place + 1 || row.previousHash !== before.hash)
      check.find(
        `${nameOf(link)} does not follow what stands before it in its property’s chain: something there was changed, taken out or put in.`,
      );
    if (link.kind === 'revision' && link.row.runCount !== link.row.runs.length)
      check.find(`${nameOf(link)} was made with ${link.row.runCount} zones and has ${link.row.runs.length}.`);
    this.heads.set(row.propertyId, { place: row.place, hash: row.hash });
    this.next = row.bookPlace + 1;
    this.compareSeals(row.bookPlace);
  }

  /** What can be said once everything was read. */
  async finish(db: Db): Promise<SealedPast | null> {
    const { check, heads } = this;
    const { book, heads: kept } = await chainRecord(db);
    const count = this.next - 1;
    if (book?.links !== count)
      check.find(
        `The book counts ${book?.links ?? 'no'} ledger entries and program revisions, and holds ${count}: the last ones were taken out or put in past Valvebook.`,
      );
    const all = await pastCount(db);
    if (all !== check.looked)
      check.find(
        `${all} ledger entries and program revisions are in the file, and ${check.looked} were met in the order of recording: two have one number.`,
      );
    for (const { propertyId, place, hash } of kept) {
      const head = heads.get(propertyId);
      if (head?.place !== place || head.hash !== hash)
        check.find(
          `Property ${propertyId}: its chain ends at place ${head?.place ?? 0}, and should end at ${place} with another entry or revision: its latest were changed, taken out or put in.`,
        );
      heads.delete(propertyId);
    }
    for (const propertyId of heads.keys())
      check.find(`Property ${propertyId}: the book keeps no end of its chain, though it has one.`);
    for (const one of await revisionsElsewhere(db))
      check.find(
        `Program revision ${one.id} was made at property ${one.propertyId}, but its program stands at ${one.programAt}.`,
      );
    for (const seal of this.noted.filter((one) => one.count > count)) {
      this.seals.looked += 1;
      this.seals.find(
        `${sealName(seal)} counts ${seal.count} ledger entries and program revisions, and this book holds ${count}: later ones were taken out, an older backup was put back, or the seal is of another book.`,
      );
    }
    const { chainedLinks, chainedAt } = book ?? { chainedLinks: -1, chainedAt: null };
    if (!(chainedLinks <= count && (chainedLinks === 0 ? chainedAt === null : isMoment(chainedAt))))
      check.find('What the book keeps about the beginning of its chain was changed past Valvebook.');
    // A past that is not whole gets no seal.
    if (check.findings.length > 0) return null;
    return {
      count,
      seal: sealOf(count, new Map(kept.map(({ propertyId, place, hash }) => [propertyId, { place, hash }]))),
      chainedLinks,
      chainedAt,
    };
  }

  private compareSeals(count: number): void {
    while (this.noted[0]?.count === count) {
      const noted = this.noted.shift()!;
      this.seals.looked += 1;
      if (!sealOf(count, this.heads).startsWith(noted.seal))
        this.seals.find(
          `${sealName(noted)} is not what the first ${count} ledger entries and program revisions of this book give: something recorded until then was changed since, or the seal is of another book.`,
        );
    }
  }
}

const isMoment = (text: string | null) => text !== null && /^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(text);

function sealName({ date, seal }: NotedSeal): string {
  return `The seal ${date === undefined ? '' : `of ${date}, `}${seal.slice(0, 16)}…,`;
}

function nameOf({ kind, row }: PastLink): string {
  return kind === 'entry'
    ? `Ledger entry ${row.id} of property ${row.propertyId} (${row.kind}, ${row.doneOn})`
    : `Program revision ${row.id} of property ${row.propertyId} (number ${row.revisionNumber}, from ${row.effectiveDate})`;
}

const lowered = (text: string) => text[0]!.toLowerCase() + text.slice(1);
