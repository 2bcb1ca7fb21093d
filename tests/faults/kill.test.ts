import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { openDesk } from '../../core/desk.ts';
import { makeBook, makeSite } from '../desk/make-book.ts';

// kill -9 in the middle of writes: what was acknowledged is there, nothing is half there, and the book checks clean.

const KILLS = Number(process.env['VALVEBOOK_KILLS'] ?? (process.env['CI'] ? 25 : 200));

interface Acknowledged {
  writeId: string;
  visitId: string;
  entries: string[];
}

test(
  `${KILLS} kills in the middle of writes lose nothing that was acknowledged and leave nothing half-written`,
  { timeout: 900_000 },
  async () => {
    const book = await makeBook();
    const site = await makeSite(book);
    await book.desk.close();
    const known: Acknowledged[] = [];
    let killedWhileWriting = 0;

    for (let kill = 0; kill < KILLS; kill++) {
      const before = known.length;
      await writeUntilKilled(
        book.path,
        [site.propertyId, site.sensorId, site.programId, site.zoneIds[0]!],
        (kill * 7) % 31,
        known,
      );
      if (known.length > before) killedWhileWriting++;

      const raw = new Database(book.path);
      try {
        const entry = raw.prepare('SELECT visitId FROM ledgerEntry WHERE id = ?');
        const logged = raw.prepare('SELECT 1 FROM writeLog WHERE writeId = ?');
        for (const one of known.slice(before)) {
          expect(logged.get(one.writeId)).toBeDefined();
          for (const id of one.entries) expect(entry.get(id)).toEqual({ visitId: one.visitId });
        }
        // Every write is three entries, one closed visit, one revision and one line of the write log, or nothing.
        expect(
          raw.prepare("SELECT note, count(*) AS n FROM ledgerEntry WHERE note <> '' GROUP BY note HAVING n <> 3").all(),
        ).toEqual([]);
        expect(
          raw
            .prepare(
              "SELECT count(*) AS n FROM ledgerEntry e WHERE kind = 'run-time-change' AND NOT EXISTS (SELECT 1 FROM programRevision r JOIN programRun u ON u.revisionId = r.id WHERE r.ledgerEntryId = e.id)",
            )
            .get(),
        ).toEqual({ n: 0 });
        expect(
          raw
            .prepare(
              "SELECT count(*) AS n FROM visit v WHERE state <> 'done' OR NOT EXISTS (SELECT 1 FROM ledgerEntry e WHERE e.visitId = v.id)",
            )
            .get(),
        ).toEqual({ n: 0 });
        expect(raw.prepare("SELECT count(DISTINCT note) AS n FROM ledgerEntry WHERE note <> ''").get()).toEqual(
          raw.prepare("SELECT count(*) AS n FROM writeLog WHERE request = 'visit.record'").get(),
        );
        expect(raw.prepare('SELECT batteryDate FROM sensor WHERE id = ?').pluck().get(site.sensorId)).toBe(
          raw
            .prepare(
              "SELECT max(doneOn) FROM (SELECT doneOn FROM ledgerEntry WHERE kind = 'battery-swap' UNION SELECT '2025-04-01')",
            )
            .pluck()
            .get(),
        );
      } finally {
        raw.close();
      }
    }
    // A run in which nothing had been written when the kill came would prove nothing.
    expect(killedWhileWriting).toBe(KILLS);

    const desk = await openDesk({ bookPath: book.path, today: () => '2026-06-15' });
    try {
      const reply = await desk.call('book.check', {});
      expect(reply).toMatchObject({ ok: true, data: { clean: true } });
    } finally {
      await desk.close();
    }
  },
);

/** Starts the writer, lets it acknowledge a first write, waits so many milliseconds more, and kills it. */
function writeUntilKilled(path: string, args: string[], waitMs: number, known: Acknowledged[]): Promise<void> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [new URL('./writer.ts', import.meta.url).pathname, path, ...args], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let timer: NodeJS.Timeout | null = null;
    createInterface({ input: child.stdout }).on('line', (line) => {
      if (line.startsWith('fault')) reject(new Error(line));
      else if (line.endsWith('}')) {
        known.push(JSON.parse(line) as Acknowledged);
        timer ??= setTimeout(() => child.kill('SIGKILL'), waitMs);
      }
    });
    child.on('close', (code, signal) => {
      if (timer) clearTimeout(timer);
      if (signal === 'SIGKILL') resolve();
      else reject(new Error(`the writer ended by itself with code ${code}`));
    });
  });
}
