import type Database from 'better-sqlite3';
import { sqlitePlace } from '../paths.ts';

/** Pages copied before others get their turn. */
const PAGES_A_STEP = 100;

/**
 * Copies an open book into a new file, as it stood at one moment. The moment is held by a read transaction: without one the
 * copy begins anew at every write of another connection, and while somebody works it would never end.
 * @param onStep told after each step; what it throws ends the copy
 */
export async function copyBook(
  raw: Database.Database,
  path: string,
  onStep: (done: number, total: number) => void = () => undefined,
): Promise<void> {
  raw.exec('BEGIN');
  try {
    raw.prepare('SELECT count(*) FROM sqlite_schema').get();
    await raw.backup(sqlitePlace(path), {
      progress({ totalPages, remainingPages }) {
        onStep(totalPages - remainingPages, totalPages);
        return PAGES_A_STEP;
      },
    });
  } finally {
    raw.exec('COMMIT');
  }
}
