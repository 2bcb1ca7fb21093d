import { copyFileSync, mkdirSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { chance } from '../../core/demo/random.ts';
import type { WriteSite } from './kill-writes.ts';

// The books that are killed.

/** A book of the first layout, as Valvebook made it then. */
export const OLD_BOOK = new URL('../books/layout-1.valvebook', import.meta.url).pathname;

/** A fresh copy of a closed book in an empty folder. */
export function place(template: string, bookPath: string): void {
  rmSync(dirname(bookPath), { recursive: true, force: true });
  mkdirSync(dirname(bookPath), { recursive: true });
  copyFileSync(template, bookPath);
}

/** Makes a book large enough that copying it takes a good part of an upgrade, by writes that nobody will send again. */
export function fatten(path: string): void {
  const raw = new Database(path);
  try {
    const add = raw.prepare(
      "INSERT INTO writeLog (writeId, request, inputHash, result, at) VALUES (?, 'people.save', ?, ?, ?)",
    );
    raw.transaction(() => {
      const dice = chance('fatten');
      for (let row = 0; row < 6000; row += 1)
        add.run(
          dice.ulid(1_700_000_000_000),
          String(row),
          JSON.stringify({ saved: 1, pad: 'x'.repeat(2500) }),
          '2025-01-01T00:00:00.000Z',
        );
    })();
    raw.pragma('journal_mode = DELETE');
  } finally {
    raw.close();
  }
}
/** A property with all that the writes of the kill loops are about. */
export async function siteOf(path: string): Promise<WriteSite> {
  const raw = new Database(path, { readonly: true });
  try {
    return raw
      .prepare(
        `SELECT p.clientId, p.id AS propertyId, s.id AS sensorId, g.id AS programId, z.id AS zoneId,
           (SELECT id FROM technician LIMIT 1) AS technicianId
         FROM property p JOIN sensor s ON s.propertyId = p.id JOIN program g ON g.propertyId = p.id
           JOIN zone z ON z.controllerId = g.controllerId LIMIT 1`,
      )
      .get() as WriteSite;
  } finally {
    raw.close();
  }
}
