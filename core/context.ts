import type { OutputOf, ParsedInputOf, RequestName } from './contract/index.ts';
import type { Db } from './store/tables.ts';
import { type Fact } from './text/say.ts';

/** What every handler is given. In a write, `db` is the open transaction: nothing else may be used inside it. */
export interface Context {
  readonly db: Db;
  /** The company's own date. */
  readonly today: string;
  /** The moment of the request, UTC. */
  readonly now: string;
  readonly bookPath: string;
  /** This host makes backups by itself; left out: it does not (tests, the command line). */
  readonly automaticBackups?: boolean;
}

/** What a job is given on top: it runs in a worker with its own connection. */
export interface JobContext extends Context {
  /** Reports progress; cheap to call often, sent on at most every 100 ms. */
  progress(done: number, total: number, label: Fact): void;
  /** Throws BookError('cancelled') once the user has cancelled. */
  checkCancelled(): void;
  /** One transaction for a job that changes the book. */
  transaction<T>(work: (db: Db) => Promise<T>): Promise<T>;
  /** A consistent copy of the open book (SQLite's online backup). */
  copyBookTo(path: string): Promise<void>;
  /** Integrity and foreign keys as SQLite itself checks them: a list of findings, empty when clean. A job's runs in a thread of its own. */
  fileFindings(): Fact[] | Promise<Fact[]>;
}

export type Handler<N extends RequestName> = (context: Context, input: ParsedInputOf<N>) => Promise<OutputOf<N>>;
export type JobHandler<N extends RequestName> = (context: JobContext, input: ParsedInputOf<N>) => Promise<OutputOf<N>>;
