import { createHash } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { Temporal } from 'temporal-polyfill';
import type { z } from 'zod';
import { findRequest } from '../contract/index.ts';
import type { Reply } from '../contract/define-request.ts';
import { unfitOf } from '../contract/input-sentence.ts';
import type { Topic } from '../contract/parts.ts';
import type { Context } from '../context.ts';
import { BookError, toFailure, type Failure, factOf } from '../errors.ts';
import { removeWithSidecars } from '../book/index.ts';
import { keepBackups, type BackupTimes } from './backup-keeper.ts';
import type { AutomaticBackup } from '../book/index.ts';
import { takePlace, type PreparedRestore } from './restore.ts';
import { sweepLeftovers } from '../book/index.ts';
import { handlers } from './handlers.ts';
import { JobRunner, type CallOptions } from './job-runner.ts';
import { OpenBook } from './open-book.ts';
import type { Upgrading } from '../book/index.ts';
import { placeOf } from '../paths.ts';
import { OWNER_ONLY_FOLDER } from '../owner-only.ts';
import { readSettings } from '../settings/index.ts';
import { writeOutcome } from '../book/index.ts';
import { findWrite, keepWrite } from '../store/write-log.ts';
import { ReadThread } from './read-thread.ts';
import { UseGate } from './use-gate.ts';
import { fact, factAround } from '../text/say.ts';

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
  let book: OpenBook;
  try {
    if (options.create && access === 'write') makeFolder(dirname(bookPath));
    book = await OpenBook.open(bookPath, access, options.create ?? false, options.upgrading);
  } catch (error) {
    throw asBookError(error, log, bookPath);
  }
  if (access === 'write') sweepLeftovers(book.path);
  return new BookDesk(bookPath, book, access, options, log);
}

type Definition = NonNullable<ReturnType<typeof findRequest>>;

/** The desk of one open book: who may read, write or run a task when, and who is told of it. */
class BookDesk implements Desk {
  readonly bookPath: string;
  private readonly book: OpenBook;
  private readonly access: 'read' | 'write';
  private readonly options: DeskOptions;
  private readonly log: (text: string) => void;
  private readonly automaticBackups: boolean;
  /** Who reads or runs a job waits while a restore exchanges the book, and the restore waits for them. */
  private readonly readers = new UseGate();
  private readonly tasks = new UseGate();
  private readonly listeners = new Set<(topics: Topic[]) => void>();
  private readonly slowReads: ReadThread | null;
  private readonly jobs: JobRunner;
  private readonly stopBackups: () => void;
  /** Writes and book-changing jobs run strictly one after another. */
  private lastWrite: Promise<unknown> = Promise.resolve();
  private timeZone: string | null = null;
  private closed = false;

  constructor(
    bookPath: string,
    book: OpenBook,
    access: 'read' | 'write',
    options: DeskOptions,
    log: (text: string) => void,
  ) {
    this.bookPath = bookPath;
    this.book = book;
    this.access = access;
    this.options = options;
    this.log = log;
    this.automaticBackups = access === 'write' && options.automaticBackups !== undefined;
    this.slowReads = options.readsInThread && access === 'write' ? new ReadThread(book.path, log) : null;
    this.jobs = new JobRunner({ bookPath: book.path, access, automaticBackups: this.automaticBackups }, log);
    this.stopBackups = this.automaticBackups ? this.keepBackups() : () => undefined;
  }

  async call(name: string, input: unknown, callOptions: CallOptions = {}): Promise<Reply> {
    try {
      this.assertOpen();
      return { ok: true, data: await this.serve(name, input, callOptions) };
    } catch (error) {
      return { ok: false, error: asFailure(error, this.log) };
    }
  }

  onChange(listener: (topics: Topic[]) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  async close(): Promise<void> {
    if (this.closed) return;
    this.closed = true;
    this.stopBackups();
    await this.lastWrite;
    await this.jobs.close();
    await this.readers.alone(async () => {
      await this.slowReads?.letGo();
      await this.book.close();
    });
  }

  private assertOpen(): void {
    if (this.closed) throw new BookError('conflict', fact('errors.bookClosed'));
  }

  private announce(topics: readonly Topic[]): void {
    if (topics.length > 0) for (const listener of this.listeners) listener([...topics]);
  }

  private oneAtATime<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.lastWrite.then(work, work);
    this.lastWrite = mine.catch(() => undefined);
    return mine;
  }

  private async context(db: Context['db']): Promise<Context> {
    this.timeZone ??= (await readSettings(this.book.reader.db)).timeZone;
    return {
      db,
      today: this.options.today?.() ?? Temporal.Now.plainDateISO(this.timeZone).toString(),
      now: new Date().toISOString(),
      bookPath: this.book.path,
      automaticBackups: this.automaticBackups,
    };
  }

  private async serve(name: string, input: unknown, callOptions: CallOptions): Promise<unknown> {
    const definition = findRequest(name);
    if (!definition)
      throw new BookError(
        'unknown-request',
        fact('terminal.noRequest', {
          name: String(name)
            .replace(/[^\w.-]/g, '·')
            .slice(0, 80),
        }),
        'name',
      );
    const parsed = parseInput(definition.input, input);
    if (definition.kind === 'read') return this.serveRead(definition, parsed);
    if (this.access === 'read' && (definition.kind === 'write' || definition.changesBook))
      throw new BookError('conflict', fact('errors.readingOnly'));
    return definition.kind === 'write'
      ? this.serveWrite(definition, parsed)
      : this.serveJob(definition, parsed, callOptions);
  }

  private serveRead({ name, slow }: Definition, parsed: unknown): Promise<unknown> {
    // By its path a thread would find another file, once the book's is gone.
    if (slow && this.slowReads?.isReady && !this.book.isLost) return this.readInThread(this.slowReads, name, parsed);
    return this.read(async (db) => (handlers as any)[name](await this.context(db), parsed));
  }

  private async serveWrite({ name, topics }: Definition, parsed: unknown): Promise<unknown> {
    const { writeId } = parsed as { writeId: string };
    const inputHash = createHash('sha256')
      .update(JSON.stringify([name, parsed]))
      .digest('base64');
    const { result, repeated } = await this.writing(() =>
      this.book.writer!.transaction(async (db) => {
        const before = await findWrite(db, writeId);
        if (before) {
          if (before.inputHash !== inputHash) throw new BookError('conflict', fact('errors.writeIdUsed'), 'writeId');
          return { result: JSON.parse(before.result) as unknown, repeated: true };
        }
        const context = await this.context(db);
        const answer = await (handlers as any)[name](context, parsed);
        await keepWrite(db, { writeId, request: name, inputHash, result: JSON.stringify(answer), at: context.now });
        return { result: answer as unknown, repeated: false };
      }),
    );
    if (!repeated) {
      if (topics.includes('settings')) this.timeZone = null;
      this.announce(topics);
    }
    return result;
  }

  private async serveJob(
    { name, topics, changesBook }: Definition,
    parsed: unknown,
    callOptions: CallOptions,
  ): Promise<unknown> {
    if (!changesBook) {
      // By its path a task would find another file, or a journal that is nobody's.
      if (this.book.isLost) await this.oneAtATime(() => this.book.assertHeld());
      return this.tasks.use(() => this.runJob(name, parsed, callOptions));
    }
    const result =
      name === 'book.restore'
        ? await this.restore(parsed, callOptions)
        : await this.writing(() => this.tasks.use(() => this.runJob(name, parsed, callOptions)));
    this.timeZone = null;
    this.announce(topics);
    return result;
  }

  /** A write, after all before it; acknowledged only while the files it went to are still the book's. */
  private writing<T>(work: () => Promise<T>): Promise<T> {
    return this.oneAtATime(async () => {
      await this.book.assertHeld();
      const result = await work();
      await this.book.assertHeld();
      return result;
    });
  }

  /** A read; once more where the book is read without locks and somebody changed it meanwhile. */
  private async read<T>(work: (db: Context['db']) => Promise<T>): Promise<T> {
    for (let attempt = 0; attempt < READ_ATTEMPTS; attempt++) {
      const { answer, whole } = await this.readers.use(async () => {
        this.assertOpen();
        const { reader } = this.book;
        if (!reader.unchanged()) return { answer: undefined, whole: false };
        try {
          const read = await work(reader.db);
          return { answer: read, whole: reader.unchanged() };
        } catch (error) {
          if (reader.unchanged()) throw error;
          return { answer: undefined, whole: false };
        }
      });
      if (whole) return answer as T;
      await this.readers.alone(async () => {
        if (!this.book.reader.unchanged()) await this.book.reread();
      });
    }
    throw new BookError('book-busy', fact('errors.keepsChanging'), 'book');
  }

  private readInThread(thread: ReadThread, name: string, parsed: unknown): Promise<unknown> {
    return this.readers.use(async () => {
      this.assertOpen();
      const { db, ...about } = await this.context(this.book.reader.db);
      // While it waited a restore may have taken the thread away.
      return thread.isReady ? thread.read(name, parsed, about) : (handlers as any)[name]({ ...about, db }, parsed);
    });
  }

  private async restore(input: unknown, callOptions: CallOptions): Promise<unknown> {
    const { signal } = callOptions;
    // The long look at the backup needs nothing of the book, so everybody goes on working.
    const prepared = (await this.tasks.use(() =>
      this.runJob('restore.prepare', input, callOptions),
    )) as PreparedRestore;
    try {
      // Tasks first: one that runs still reads.
      return await this.oneAtATime(() =>
        this.tasks.alone(() => this.readers.alone(() => this.exchange(prepared)), signal),
      );
    } catch (error) {
      if (!signal?.aborted || error !== signal.reason) throw error;
      throw new BookError('cancelled', fact('errors.cancelledBefore'));
    } finally {
      removeWithSidecars(prepared.temporary);
    }
  }

  private async exchange(prepared: PreparedRestore): Promise<unknown> {
    await this.slowReads?.letGo();
    try {
      return await this.book.exchange(() => takePlace(this.book.path, prepared));
    } finally {
      this.slowReads?.start();
    }
  }

  private async runJob(name: string, input: unknown, callOptions: CallOptions): Promise<unknown> {
    const { today } = await this.context(this.book.reader.db);
    this.assertOpen();
    return this.jobs.run(name, input, today, callOptions, (until) => this.tasks.linger(until));
  }

  private keepBackups(): () => void {
    return keepBackups(this.options.automaticBackups!, {
      run: async () => {
        // By its path it would copy another file.
        if (this.book.isLost) return null;
        return (await this.tasks.use(() => this.runJob('backup.auto', {}, {}))) as AutomaticBackup;
      },
      settle: async ({ changed, outcome }) => {
        if (changed) await this.writing(() => this.book.writer!.transaction((db) => writeOutcome(db, outcome)));
        this.announce(['book']);
      },
      log: this.log,
    });
  }
}

/** Checks an input against its schema; the first finding becomes a sentence with the field it belongs to. */
export function parseInput(schema: z.ZodType, input: unknown): unknown {
  const outcome = schema.safeParse(input ?? {});
  if (outcome.success) return outcome.data;
  const { issues } = outcome.error;
  const { told, field } = unfitOf(issues[0]!, issues.length - 1);
  throw new BookError('bad-input', fact('input.unfit', told), field);
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
  const what =
    failure.code === 'disk' ? factAround('errors.theBookIs', factOf(failure), { path: bookPath }) : factOf(failure);
  return new BookError(failure.code, what, failure.field ?? 'book', { cause: error });
}
