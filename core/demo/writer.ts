import { toRow, type BookTables } from '../store/tables.ts';
import { ChainEnd } from '../store/chain.ts';
import type { BulkLoad } from '../store/engine.ts';
import type { Journal } from './journal.ts';

type Table = keyof BookTables;

/** Fills a book nobody else sees yet, each past at its place in the chain. */
export class DemoWriter {
  readonly counts: Record<string, number> = {};
  private readonly load: BulkLoad;
  private readonly chain = new ChainEnd(0, new Map());

  constructor(load: BulkLoad) {
    this.load = load;
  }

  /** Entities of the contract. */
  add(table: Table, entities: readonly object[]): void {
    this.addRows(
      table,
      entities.map((entity) => toRow(table, entity)),
    );
  }

  /** Rows as they are stored. */
  addRows(table: Table, rows: readonly object[]): void {
    this.load.add(table, rows);
    this.counts[table] = (this.counts[table] ?? 0) + rows.length;
  }

  /** A property's past, each entry and revision at its place in the chain, in the order of recording. */
  addHistory({ entries, revisions, runs }: Journal): void {
    const inOrder = [
      ...entries.map((entry) => ({ at: `${entry.recordedAt} ${entry.id}`, entry, revision: null })),
      ...revisions.map((revision) => ({ at: `${revision.recordedAt} ${revision.id}`, entry: null, revision })),
    ].sort((a, b) => (a.at < b.at ? -1 : 1));
    const runsOf = Map.groupBy(runs, (run) => run.revisionId);
    for (const { entry, revision } of inOrder) {
      if (entry) this.addRows('ledgerEntry', [this.chain.entry({ ...entry, detail: JSON.stringify(entry.detail) })]);
      else this.addRows('programRevision', [this.chain.revision(revision, runsOf.get(revision.id) ?? [])]);
    }
    this.addRows('programRun', runs);
  }

  /** How many of the indexes are built, called before each. */
  async finish(onIndex: (built: number, of: number) => void | Promise<void>): Promise<void> {
    this.addRows('chainHead', [...this.chain.ends()]);
    this.load.chainedLinks(this.chain.count);
    await this.load.finish(onIndex);
  }
}
