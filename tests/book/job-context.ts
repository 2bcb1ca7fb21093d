import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { jobHandlers } from '../../core/desk/handlers.ts';
import type { JobContext } from '../../core/context.ts';
import { findRequest, type InputOf, type OutputOf } from '../../core/contract/index.ts';
import { TABLE_NAMES } from '../../core/book/export-queries.ts';
import { openForWriting } from '../../core/book/migrate.ts';
import type { SqliteConnection } from '../../core/store/sqlite.ts';
import { PLAIN_READER, sayFact } from '../../core/text/say.ts';

export const TODAY = '2026-03-02';

/** A real book in a temporary folder, and the jobs run on it the way the worker runs them (without the worker). */
export interface TestBook {
  folder: string;
  path: string;
  connection: SqliteConnection;
  progress: { done: number; total: number; label: string }[];
  /** Set to throw `cancelled` at the next look. */
  cancelAfter: number | null;
  run<N extends keyof typeof jobHandlers>(name: N, input: InputOf<N>): Promise<OutputOf<N>>;
  /** Every row of every table, for "nothing changed". */
  everything(): Promise<Record<string, unknown[]>>;
  close(): Promise<void>;
}

export async function makeBook(): Promise<TestBook> {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-book-'));
  const path = join(folder, 'company.valvebook');
  const connection = (await openForWriting(path, true)) as SqliteConnection;
  const book: TestBook = {
    folder,
    path,
    connection,
    progress: [],
    cancelAfter: null,
    async run(name, input) {
      const definition = findRequest(name)!;
      const parsed = definition.input.parse(input);
      let looks = 0;
      const context: JobContext = {
        db: connection.db,
        today: TODAY,
        now: '2026-03-02T15:00:00.000Z',
        bookPath: path,
        progress: (done, total, label) => void book.progress.push({ done, total, label: sayFact(PLAIN_READER, label) }),
        checkCancelled() {
          looks += 1;
          if (book.cancelAfter !== null && looks > book.cancelAfter) {
            throw Object.assign(new Error('cancelled by the test'), { code: 'cancelled' });
          }
        },
        transaction: connection.transaction,
        // Not by copyTo, which holds one moment of the connection: here several jobs share one, where each has its own in truth.
        copyBookTo: async (to) => void (await connection.raw.backup(to)),
        fileFindings: connection.findings,
      };
      const result = await (jobHandlers[name] as any)(context, parsed);
      // What a handler returns must be what the contract promises.
      definition.output.parse(result);
      return result;
    },
    async everything() {
      const all: Record<string, unknown[]> = {};
      for (const table of TABLE_NAMES) all[table] = await connection.db.selectFrom(table).selectAll().execute();
      return all;
    },
    async close() {
      await connection.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  return book;
}

/** What a restore outside a job is given: nobody watches it, and nobody cancels. */
export const unwatched = {
  today: TODAY,
  now: '2026-03-02T15:00:00.000Z',
  progress: () => undefined,
  checkCancelled: () => undefined,
};

export const base64 = (text: string | Buffer): string => Buffer.from(text as string).toString('base64');
