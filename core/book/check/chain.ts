import { entryHash, revisionHash, sealOf, type Head } from '../../store/chain.ts';
import { chainRecord, pastCount, revisionsElsewhere, type PastLink } from '../../store/chain-pages.ts';
import type { Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import { fact, factAround, type Fact } from '../../text/say.ts';

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
  readonly check = new Check(fact('check.of.past'));
  readonly seals = new Check(fact('check.of.seals'));
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
      check.find(factAround('check.noPlace', nameOf(link)));
      return;
    }
    const hash = link.kind === 'entry' ? entryHash(link.row) : revisionHash(link.row, link.row.runs);
    const before = this.heads.get(row.propertyId) ?? { place: 0, hash: '' };
    if (row.bookPlace > this.next) {
      const missing = row.bookPlace - this.next;
      check.find(
        missing === 1
          ? factAround('check.oneMissing', nameOf(link), { number: this.next })
          : factAround('check.someMissing', nameOf(link), { from: this.next, to: row.bookPlace - 1 }),
      );
    } else if (row.bookPlace !== this.next)
      check.find(factAround('check.wrongNumber', nameOf(link), { number: row.bookPlace, next: this.next }));
    if (hash !== row.hash) check.find(factAround('check.notSealed', nameOf(link)));
    else if (row.place !== before.place + 1 || row.previousHash !== before.hash)
      check.find(factAround('check.notFollowing', nameOf(link)));
    if (link.kind === 'revision' && link.row.runCount !== link.row.runs.length)
      check.find(factAround('check.otherZones', nameOf(link), { made: link.row.runCount, has: link.row.runs.length }));
    this.heads.set(row.propertyId, { place: row.place, hash: row.hash });
    this.next = row.bookPlace + 1;
    this.compareSeals(row.bookPlace);
  }

  /** What can be said once everything was read. */
  async finish(db: Db): Promise<SealedPast | null> {
    const { check, heads } = this;
    const { book, heads: kept } = await chainRecord(db);
    const count = this.next - 1;
    if (book?.links !== count) check.find(fact('check.lastMissing', { counts: book?.links ?? null, holds: count }));
    const all = await pastCount(db);
    if (all !== check.looked) check.find(fact('check.sameNumber', { inFile: all, met: check.looked }));
    for (const { propertyId, place, hash } of kept) {
      const head = heads.get(propertyId);
      if (head?.place !== place || head.hash !== hash)
        check.find(fact('check.otherEnd', { propertyId, ends: head?.place ?? 0, shouldEnd: place }));
      heads.delete(propertyId);
    }
    for (const propertyId of heads.keys()) check.find(fact('check.noEnd', { propertyId }));
    for (const one of await revisionsElsewhere(db))
      check.find(fact('check.revisionElsewhere', { id: one.id, propertyId: one.propertyId, programAt: one.programAt }));
    for (const seal of this.noted.filter((one) => one.count > count)) {
      this.seals.looked += 1;
      this.seals.find(fact('check.sealCountsMore', { ...sealSaid(seal), holds: count }));
    }
    const { chainedLinks, chainedAt } = book ?? { chainedLinks: -1, chainedAt: null };
    if (!(chainedLinks <= count && (chainedLinks === 0 ? chainedAt === null : isMoment(chainedAt))))
      check.find(fact('check.beginning'));
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
        this.seals.find(fact('check.sealDiffers', sealSaid(noted)));
    }
  }
}

const isMoment = (text: string | null) => text !== null && /^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(text);

const sealSaid = ({ date, seal, count }: NotedSeal) => ({ date: date ?? null, seal: seal.slice(0, 16), count });

function nameOf({ kind, row }: PastLink): Fact {
  const { id, propertyId } = row;
  return kind === 'entry'
    ? fact('check.entry', { id, propertyId, kind: row.kind, doneOn: row.doneOn })
    : fact('check.revision', { id, propertyId, number: row.revisionNumber, from: row.effectiveDate });
}
