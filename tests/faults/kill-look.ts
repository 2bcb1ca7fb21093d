import { createHash } from 'node:crypto';
import { existsSync, readdirSync, utimesSync } from 'node:fs';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { jobHandlers } from '../../core/desk/handlers.ts';
import type { JobContext } from '../../core/context.ts';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import { TABLE_NAMES } from '../../core/book/export-queries.ts';
import { openForReading } from '../../core/book/migrate.ts';
import type { Finding } from './kill-writes.ts';
import { english } from '../book/english.ts';

// Looking at books after a kill: does it open, is it clean, what does it hold, what was left lying about.

const TODAY = '2026-06-15';

/** The book's own check, run here: a worker for each of a thousand looks would take longer than the kills. */
export async function checkHere(path: string): Promise<string[]> {
  const connection = await openForReading(path);
  try {
    const context: JobContext = {
      db: connection.db,
      today: TODAY,
      now: new Date().toISOString(),
      bookPath: path,
      progress: () => undefined,
      checkCancelled: () => undefined,
      transaction: connection.transaction,
      copyBookTo: (to) => connection.copyTo(to),
      fileFindings: connection.findings,
    };
    const { checks } = await jobHandlers['book.check'](context, { seals: [] });
    return english(checks.filter((check) => !check.passed)).map(
      (check) => `${check.name}: ${check.findings.join(' ')}`,
    );
  } finally {
    await connection.close();
  }
}

/** Opens a book as the app does, lets `look` ask it things, closes it and checks it. */
export async function reopen(
  path: string,
  look: (desk: Desk) => Promise<Finding[]> = async () => [],
  create = false,
): Promise<Finding[]> {
  const findings: Finding[] = [];
  // Young files under a passing name may be somebody's at work, so a start leaves them: this one finds them old.
  const longAgo = new Date(Date.now() - 3_600_000);
  for (const { what } of leftOver(dirname(path))) utimesSync(what, longAgo, longAgo);
  try {
    const desk = await openDesk({
      bookPath: path,
      create,
      today: () => TODAY,
      log: (text) => findings.push({ harm: 'other', what: text }),
    });
    try {
      findings.push(...(await look(desk)));
    } finally {
      await desk.close();
    }
    for (const what of await checkHere(path)) findings.push({ harm: 'half', what: `check of ${path}: ${what}` });
  } catch (error) {
    findings.push({ harm: 'unopenable', what: `${path}: ${String(error)}` });
  }
  return findings;
}

/** Rows by table. */
export function countsOf(path: string): Record<string, number> {
  const raw = new Database(path, { readonly: true });
  try {
    // A book of an older layout lacks the tables that came after it.
    const known = raw.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[];
    return Object.fromEntries(
      TABLE_NAMES.filter((table) => known.includes(table)).map((table) => [
        table,
        raw.prepare(`SELECT count(*) FROM ${table}`).pluck().get() as number,
      ]),
    );
  } finally {
    raw.close();
  }
}

/** The whole content of a closed book as one short text: equal where every row of every table is. */
export function contentOf(path: string, without: readonly string[] = []): string {
  const raw = new Database(path, { readonly: true });
  try {
    const hash = createHash('sha256');
    const tables = raw
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
      .pluck()
      .all() as string[];
    for (const table of tables.filter((name) => !without.includes(name))) {
      const rows = raw
        .prepare(`SELECT * FROM "${table}"`)
        .raw()
        .all()
        .map((row) => JSON.stringify(row))
        .sort();
      hash.update(`${table} ${rows.length}\n${rows.join('\n')}\n`);
    }
    return hash.digest('base64url').slice(0, 16);
  } finally {
    raw.close();
  }
}

/** Every file below a folder. */
export function filesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
}

/** Files that should be gone once the book has been opened and closed again: whatever was being written under another name. */
export function leftOver(folder: string): Finding[] {
  return filesIn(folder)
    .filter((file) => /\/\.[^/]*$|\.(part|restoring|new|tmp)$|\.(making|demo)-\d+$|-journal$/.test(file))
    .map((file) => ({ harm: 'left over', what: file }));
}
