import type Database from 'better-sqlite3';
import { toRow, type BookTables } from '../store/tables.ts';
import { ChainEnd } from '../store/chain.ts';
import type { Connection } from '../store/sqlite.ts';
import type { Journal } from './journal.ts';

type Table = keyof BookTables;

/** Writes rows by prepared statements; the columns are those of the first row of a table. */
export class DemoWriter {
  readonly counts: Record<string, number> = {};
  private readonly raw: Database.Database;
  private readonly statements = new Map<Table, { columns: string[]; insert: Database.Statement }>();
  private indexes: { name: string; sql: string }[] = [];
  private triggers: { name: string; sql: string }[] = [];
  private readonly chain = new ChainEnd(0, new Map());

  constructor(connection: Connection) {
    this.raw = connection.raw;
  }

  /**
   * Only for a file nobody else sees yet: no syncing, no journal, no triggers, and indexes built once at the end from sorted
   * rows, which makes a million entries several times faster. `finish` puts all of it back.
   */
  begin(): void {
    this.raw.pragma('journal_mode = OFF');
    this.raw.pragma('synchronous = OFF');
    this.raw.pragma('foreign_keys = OFF');
    const parts = this.raw.prepare<[string], { name: string; sql: string }>(
      'SELECT name, sql FROM sqlite_schema WHERE type = ? AND sql IS NOT NULL ORDER BY rowid',
    );
    this.indexes = parts.all('index');
    this.triggers = parts.all('trigger');
    for (const { name } of this.triggers) this.raw.exec(`DROP TRIGGER "${name}"`);
    for (const { name } of this.indexes) this.raw.exec(`DROP INDEX "${name}"`);
    this.raw.exec('BEGIN');
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
    for (const row of rows as readonly Record<string, unknown>[]) {
      let statement = this.statements.get(table);
      if (!statement) {
        const columns = Object.keys(row);
        statement = {
          columns,
          insert: this.raw.prepare(
            `INSERT INTO "${table}" (${columns.map((column) => `"${column}"`).join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
          ),
        };
        this.statements.set(table, statement);
      }
      statement.insert.run(statement.columns.map((column) => row[column]));
    }
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
    this.raw.prepare('UPDATE ledgerChain SET links = ?').run(this.chain.count);
    this.raw.exec('COMMIT');
    for (const [built, { sql }] of this.indexes.entries()) {
      await onIndex(built, this.indexes.length);
      this.raw.exec(sql);
    }
    for (const { sql } of this.triggers) this.raw.exec(sql);
    const wrong = this.raw.pragma('foreign_key_check') as unknown[];
    if (wrong.length > 0) throw new Error(`the demo company breaks foreign keys: ${JSON.stringify(wrong.slice(0, 3))}`);
    // Statistics let the planner choose as it will in a book that has been used for years.
    this.raw.exec('ANALYZE');
    this.raw.pragma('foreign_keys = ON');
    this.raw.pragma('journal_mode = WAL');
    this.raw.pragma('synchronous = FULL');
  }
}
