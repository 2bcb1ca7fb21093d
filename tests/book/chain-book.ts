import { copyFileSync, rmSync } from 'node:fs';
import Database from 'better-sqlite3';
import { jobHandlers } from '../../core/desk/handlers.ts';
import type { JobContext } from '../../core/context.ts';
import { findRequest, type OutputOf } from '../../core/contract/index.ts';
import { openForWriting } from '../../core/book/migrate.ts';
import { english } from './english.ts';

export type Checked = OutputOf<'book.check'>;
export const PAST = 'The past is as it was sealed in';

export const pastFindings = (checked: Checked): string[] =>
  english(checked).checks.find((check) => check.name === PAST)?.findings ?? ['the past was not checked'];

/**
 * Runs work on a closed book's file as somebody would who takes the triggers off and puts them back as they were (an index that
 * what is there now cannot have stays off). Says how many rows were changed.
 */
export function pastTheGuards(path: string, work: (raw: Database.Database) => void): number {
  const raw = new Database(path);
  try {
    raw.pragma('foreign_keys = OFF');
    raw.pragma('ignore_check_constraints = ON');
    const guards = raw
      .prepare(
        "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND (type = 'trigger' OR name LIKE '%BookPlace')",
      )
      .all() as { type: string; name: string; sql: string }[];
    for (const { type, name } of guards) raw.exec(`DROP ${type} ${name}`);
    const changes = raw.prepare<[], number>('SELECT total_changes()').pluck();
    const before = changes.get()!;
    work(raw);
    const changed = changes.get()! - before;
    for (const { type, sql } of guards) {
      try {
        raw.exec(sql);
      } catch (error) {
        if (type !== 'index' || !String(error).includes('UNIQUE')) throw error;
      }
    }
    return changed;
  } finally {
    raw.close();
  }
}

/** Checks a closed book's file, as the job does it. */
export async function checkFile(path: string, seals: { count: number; seal: string }[] = []): Promise<Checked> {
  const connection = await openForWriting(path, false);
  try {
    const context: JobContext = {
      db: connection.db,
      today: '2026-06-15',
      now: '2026-06-15T12:00:00.000Z',
      bookPath: path,
      progress: () => undefined,
      checkCancelled: () => undefined,
      transaction: connection.transaction,
      copyBookTo: (to) => connection.copyTo(to),
      fileFindings: connection.findings,
    };
    const { input, output } = findRequest('book.check')!;
    return output.parse(await jobHandlers['book.check'](context, input.parse({ seals }) as never)) as Checked;
  } finally {
    await connection.close();
  }
}

/** A copy of a closed book that is gone after the work. */
export async function onCopy<T>(path: string, work: (copy: string) => Promise<T>): Promise<T> {
  const copy = `${path}.copy.valvebook`;
  copyFileSync(path, copy);
  try {
    return await work(copy);
  } finally {
    for (const end of ['', '-wal', '-shm', '-lock']) rmSync(`${copy}${end}`, { force: true });
  }
}
