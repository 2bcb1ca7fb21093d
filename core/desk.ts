import { createHash } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { Temporal } from 'temporal-polyfill';
import type { z } from 'zod';
import { findRequest } from './contract/index.ts';
import type { Reply } from './contract/define-request.ts';
import { sentenceOf } from './contract/input-sentence.ts';
import type { Topic } from './contract/parts.ts';
import type { Context } from './context.ts';
import { BookError, toFailure, type Failure } from './errors.ts';
import { removeWithSidecars } from './book/files.ts';
import { keepBackups, type BackupTimes } from './backup-keeper.ts';
import type { AutomaticBackup } from './book/automatic-backup.ts';
import { takePlace, type PreparedRestore } from './book/restore.ts';
import { sweepLeftovers } from './book/sweep.ts';
import { handlers } from './handlers.ts';
import { JobRunner, type CallOptions } from './job-runner.ts';
import { OpenBook } from './open-book.ts';
import type { Upgrading } from './store/migrate.ts';
import { placeOf } from './paths.ts';
import { OWNER_ONLY_FOLDER } from './owner-only.ts';
import { inTransaction } from './store/sqlite.ts';
import { readSettings } from './store/setting-queries.ts';
import { writeOutcome } from './store/backup-queries.ts';
import { findWrite, keepWrite } from './store/write-log.ts';
import { ReadThread } from './read-thread.ts';
import { UseGate } from './use-gate.ts';
import { fact } from './text/say.ts';

/** Each time somebody else changed the book in the middle. */
const READ_ATTEMPTS = 5;

export type { CallOptions } from './job-runner.ts';

/** One open book, ready to serve every request of the contract. All hosts use this and nothing else of core. */
export interface Desk {
  call(name: string, input: unknown, options?: CallOptions): Promise<Reply>;
  /** Called after every change with the topics it touched. Returns the way to stop listening. */
  onChange(listener: (topics: Topic[]) => void): () => void;
  readonly bookPath: string;
  close(): Promise<void>;
}

export interface DeskOptions {
  bookPath: string;
  /** 'read' takes no lock and refuses writes: for a look from the command line while the app has the book open. */
  access?: 'read' | 'write';
  /** Make the book where there is none. */
  create?: boolean;
  /** The company's date, for demo and tests. */
  today?: () => string;
  /** Makes backups by itself while the book is open; left out: it does not, as in tests and on the command line. */
  automaticBackups?: true | BackupTimes;
  /** Long reads run in a thread of their own, so that a window never waits for one. Left out: they do not, as on the command line. */
  readsInThread?: boolean;
  /** Told how far it is while an older book is brought up to date, which may take minutes; may stop it. */
  upgrading?: Upgrading;
  /** Where causes of internal faults go; never shown to users. */
  log?: (text: string) => void;
}

/** Opens a book. Throws BookError with a sentence for every way in which it cannot be opened; nothing is changed then. */
export async function openDesk(options: DeskOptions): Promise<Desk> {
  const bookPath = placeOf(options.bookPath, 'book');
  const access = options.access ?? 'write';
  const log = options.log ?? ((text) => console.error(text));
  const automaticBackups = access === 'write' && options.automaticBackups !== undefined;
  let book: OpenBook;
  try {
    if (options.create && access === 'write') makeFolder(dirname(bookPath));
    book = await OpenBook.open(bookPath, access, options.create ?? false, options.upgrading);
  } catch (error) {
    throw asBookError(error, log, bookPath);
  }
  /** Who reads or runs a job waits while a restore exchanges the book, and the restore waits for them. */
  const readers = new UseGate();
  const tasks = new UseGate();

  if (access === 'write') sweepLeftovers(book.path);

  const listeners = new Set<(topics: Topic[]) => void>();
  const announce = (topics: readonly Topic[]) => {
    if (topics.length > 0) for (const listener of listeners) listener([...topics]);
  };
  let closed = false;
  const assertOpen = () => {
    if (closed) throw new BookError('conflict', fact('errors.bookClosed'));
  };
  const slowReads = options.readsInThread && access === 'write' ? new ReadThread(book.path, log) : null;
  const jobs = new JobRunner({ bookPath: book.path, access, automaticBackups }, log);
  // Writes and book-changing jobs run strictly one after another.
  let lastWrite: Promise<unknown> = Promise.resolve();
  const oneAtATime = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = lastWrite.then(work, work);
    lastWrite = mine.catch(() => undefined);
    return mine;
  };

  let timeZone: string | null = null;
  const context = async (db: Context['db']): Promise<Context> => {
    timeZone ??= (await readSettings(book.reader.db)).timeZone;
    return {
      db,
      today: options.today?.() ?? Temporal.Now.plainDateISO(timeZone).toString(),
      now: new Date().toISOString(),
      bookPath: book.path,
      automaticBackups,
    };
  };

  async function serve(name: string, input: unknown, callOptions: CallOptions): Promise<unknown> {
    const definition = findRequest(name);
    if (!definition)
      throw new BookError(
        'unknown-request',
        `There is no request named “${String(name)
          .replace(/[^\w.-]/g, '·')
          .slice(0, 80)}”. List them with: valvebook requests`,
        'name',
      );
    const parsed = parseInput(definition.input, input);
    if (definition.kind === 'read') {
      // By its path a thread would find another file, once the book's is gone.
      if (definition.slow && slowReads?.isReady && !book.isLost) return readInThread(slowReads, name, parsed);
      return read(async (db) => (handlers as any)[name](await context(db), parsed));
    }
    if (access === 'read' && (definition.kind === 'write' || definition.changesBook)) {
      throw new BookError('conflict', fact('errors.readingOnly'));
    }
    if (definition.kind === 'write') {
      const { writeId } = parsed as { writeId: string };
      const inputHash = createHash('sha256')
        .update(JSON.stringify([name, parsed]))
        .digest('base64');
      const { result, repeated } = await writing(() =>
        inTransaction(book.writer!, async (db) => {
          const before = await findWrite(db, writeId);
          if (before) {
            if (before.inputHash !== inputHash) throw new BookError('conflict', fact('errors.writeIdUsed'), 'writeId');
            return { result: JSON.parse(before.result) as unknown, repeated: true };
          }
          const context_ = await context(db);
          const answer = await (handlers as any)[name](context_, parsed);
          await keepWrite(db, { writeId, request: name, inputHash, result: JSON.stringify(answer), at: context_.now });
          return { result: answer as unknown, repeated: false };
        }),
      );
      if (!repeated) {
        if (definition.topics.includes('settings')) timeZone = null;
        announce(definition.topics);
      }
      return result;
    }
    if (!definition.changesBook) {
      // By its path a task would find another file, or a journal that is nobody's.
      if (book.isLost) await oneAtATime(() => book.assertHeld());
      return tasks.use(() => runJob(name, parsed, callOptions));
    }
    const result =
      name === 'book.restore'
        ? await restore(parsed, callOptions)
        : await writing(() => tasks.use(() => runJob(name, parsed, callOptions)));
    timeZone = null;
    announce(definition.topics);
    return result;
  }

  /** A write, after all before it; acknowledged only while the files it went to are still the book's. */
  const writing = <T>(work: () => Promise<T>): Promise<T> =>
    oneAtATime(async () => {
      await book.assertHeld();
      const result = await work();
      await book.assertHeld();
      return result;
    });

  /** A read; once more where the book is read without locks and somebody changed it meanwhile. */
  async function read<T>(work: (db: Context['db']) => Promise<T>): Promise<T> {
    for (let attempt = 0; attempt < READ_ATTEMPTS; attempt++) {
      const { answer, whole } = await readers.use(async () => {
        assertOpen();
        const { reader } = book;
        if (!reader.unchanged()) return { answer: undefined, whole: false };
        try {
          const answer_ = await work(reader.db);
          return { answer: answer_, whole: reader.unchanged() };
        } catch (error) {
          if (reader.unchanged()) throw error;
          return { answer: undefined, whole: false };
        }
      });
      if (whole) return answer as T;
      await readers.alone(async () => {
        if (!book.reader.unchanged()) await book.reread();
      });
    }
    throw new BookError('book-busy', fact('errors.keepsChanging'), 'book');
  }

  const readInThread = (thread: ReadThread, name: string, parsed: unknown): Promise<unknown> =>
    readers.use(async () => {
      assertOpen();
      const { db, ...about } = await context(book.reader.db);
      // While it waited a restore may have taken the thread away.
      return thread.isReady ? thread.read(name, parsed, about) : (handlers as any)[name]({ ...about, db }, parsed);
    });

  async function restore(input: unknown, callOptions: CallOptions): Promise<unknown> {
    const { signal } = callOptions;
    // The long look at the backup needs nothing of the book, so everybody goes on working.
    const prepared = (await tasks.use(() => runJob('restore.prepare', input, callOptions))) as PreparedRestore;
    try {
      // Tasks first: one that runs still reads.
      return await oneAtATime(() =>
        tasks.alone(
          () =>
            readers.alone(async () => {
              await slowReads?.letGo();
              try {
                return await book.exchange(() => takePlace(book.path, prepared));
              } finally {
                slowReads?.start();
              }
            }),
          signal,
        ),
      );
    } catch (error) {
      if (!signal?.aborted || error !== signal.reason) throw error;
      throw new BookError('cancelled', fact('errors.cancelledBefore'));
    } finally {
      removeWithSidecars(prepared.temporary);
    }
  }

  async function runJob(name: string, input: unknown, callOptions: CallOptions): Promise<unknown> {
    const { today } = await context(book.reader.db);
    assertOpen();
    return jobs.run(name, input, today, callOptions, (until) => tasks.linger(until));
  }

  const stopBackups = !automaticBackups
    ? () => undefined
    : keepBackups(options.automaticBackups!, {
        run: async () => {
          // By its path it would copy another file.
          if (book.isLost) return null;
          return (await tasks.use(() => runJob('backup.auto', {}, {}))) as AutomaticBackup;
        },
        async settle({ changed, outcome }) {
          if (changed) await writing(() => inTransaction(book.writer!, (db) => writeOutcome(db, outcome)));
          announce(['book']);
        },
        log,
      });

  return {
    bookPath,
    async call(name, input, callOptions = {}) {
      try {
        assertOpen();
        return { ok: true, data: await serve(name, input, callOptions) };
      } catch (error) {
        return { ok: false, error: asFailure(error, log) };
      }
    },
    onChange(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    async close() {
      if (closed) return;
      closed = true;
      stopBackups();
      await lastWrite;
      await jobs.close();
      await readers.alone(async () => {
        await slowReads?.letGo();
        await book.close();
      });
    },
  };
}

/** Checks an input against its schema; the first finding becomes a sentence with the field it belongs to. */
export function parseInput(schema: z.ZodType, input: unknown): unknown {
  const outcome = schema.safeParse(input ?? {});
  if (outcome.success) return outcome.data;
  const { issues } = outcome.error;
  const { sentence, field } = sentenceOf(issues[0]!, issues.length - 1);
  throw new BookError('bad-input', sentence, field);
}

function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true, mode: OWNER_ONLY_FOLDER });
  } catch (error) {
    if (toFailure(error).code !== 'internal') throw error;
    throw new BookError('disk', fact('errors.noFolderFor', { folder }), 'book', { cause: error });
  }
}

function asFailure(error: unknown, log: (text: string) => void): Failure {
  const failure = toFailure(error);
  if (failure.code === 'internal')
    log(`internal fault: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
  return failure;
}

function asBookError(error: unknown, log: (text: string) => void, bookPath: string): BookError {
  if (error instanceof BookError) return error;
  const failure = asFailure(error, log);
  const message = failure.code === 'disk' ? `${failure.message} The book is ${bookPath}.` : failure.message;
  return new BookError(failure.code, message, failure.field ?? 'book', { cause: error });
}
