import type { JobContext } from '../context.ts';
import { BookError } from '../errors.ts';
import { bringUpToDate, lookIntoBook, withClosedBook } from '../book/index.ts';
import { SCHEMA_VERSION } from '../book/index.ts';
import { checkBook } from '../book/index.ts';
import { firstUnansweredRead } from './screen-reads.ts';
import { codeOf, faultOf } from '../store/fault.ts';
import { fact, factAround, type Fact } from '../text/say.ts';

/** What a look needs of the job it is part of. */
export type Looking = Pick<JobContext, 'today' | 'now' | 'progress' | 'checkCancelled'>;

/**
 * Looks at a copy of a backup in full before it may take the place of a book: its layout word for word, the file itself,
 * every check of `book.check`, and what every screen asks when it opens. A backup of an older layout is held against that
 * one, brought up to date (the copy, not the backup), and then looked at like any other.
 * @throws BookError with a sentence that names the backup (`from`) and what is wrong with it.
 */
export async function assertGoodBackup(copy: string, from: string, looking: Looking): Promise<void> {
  looking.progress(0, 0, fact('book.lookingBackup'));
  try {
    const { version, findings } = await lookIntoBook(copy);
    assertKnownLayout(version, from);
    if (findings.length > 0) throw refusal(from, findings[0]!);
    looking.checkCancelled();
    if (version < SCHEMA_VERSION) {
      looking.progress(0, 0, fact('book.copyUpToDate'));
      await bringUpToDate(copy, {
        progress({ done, total }) {
          looking.checkCancelled();
          looking.progress(done, total, fact('book.copyUpToDate'));
        },
      });
      looking.checkCancelled();
    }
    await withClosedBook(copy, async (book) => {
      const context: JobContext = {
        ...looking,
        db: book.db,
        bookPath: copy,
        transaction: book.transaction,
        copyBookTo: book.copyTo,
        fileFindings: book.fileFindings,
      };
      const { checks } = await checkBook(context, { seals: [] });
      const bad = checks.find((check) => !check.passed);
      if (bad) throw refusal(from, bad.findings[0]! as Fact);
      const unanswered = await firstUnansweredRead(context, (done, total) => {
        looking.checkCancelled();
        looking.progress(done, total, fact('book.askingBackup'));
      });
      if (unanswered) throw refusal(from, fact('check.screenShut', { request: unanswered.request }), unanswered.cause);
    });
  } catch (error) {
    if (error instanceof BookError && error.code !== 'book-unreadable') throw error;
    if (error instanceof BookError && error.field === 'fromPath') throw error;
    if (!isAboutContent(error)) throw error;
    throw refusal(from, fact('check.notToEnd'), error);
  }
}

function assertKnownLayout(version: number, from: string): void {
  if (version > SCHEMA_VERSION) {
    throw new BookError(
      'book-unreadable',
      fact('errors.newerBackup', { path: from, version, known: SCHEMA_VERSION }),
      'fromPath',
    );
  }
  if (version === 0) throw new BookError('book-unreadable', fact('errors.backupEmpty', { path: from }), 'fromPath');
  if (version < 0)
    throw new BookError('book-unreadable', fact('errors.backupNoLayout', { path: from, version }), 'fromPath');
}

function refusal(from: string, finding: Fact, cause?: unknown): BookError {
  return new BookError(
    'book-unreadable',
    factAround('errors.backupDamaged', printable(finding), { path: from }),
    'fromPath',
    {
      cause,
    },
  );
}

/** A finding fit to be shown: what a file says of itself may hold anything. */
function printable<T>(told: T): T {
  if (typeof told === 'string') return told.replaceAll(/[\u0000-\u001f\u007f]+/g, ' ').slice(0, 300) as T;
  if (Array.isArray(told)) return told.map(printable) as T;
  if (typeof told !== 'object' || told === null) return told;
  return Object.fromEntries(Object.entries(told).map(([key, one]) => [key, printable(one)])) as T;
}

/** Whether a failure comes from what the file holds, and not from the disk or the system around it. */
function isAboutContent(error: unknown): boolean {
  if (error instanceof BookError || codeOf(error) === '') return true;
  const fault = faultOf(error);
  return fault === 'damaged' || fault === 'cut-short' || fault === 'refused';
}
