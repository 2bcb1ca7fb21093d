import { hash } from 'node:crypto';
import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { chance } from '../../core/demo/random.ts';
import { BENCH_TODAY, copyOf } from './book.ts';
import { openBench } from './call.ts';
import { duel } from './stats.ts';
import type { Measured } from './table.ts';

interface Stop {
  propertyId: string;
  sensorId: string;
  cells: number;
  technicianId: string;
}

/** An unplanned battery swap with a note: a visit, two entries, the sensor's battery date, the write's memory; durable when it returns. */
export async function recordRow(book: string, rounds: number): Promise<Measured> {
  const WARM = 10;
  const ourCopy = copyOf(book, 'ours');
  const bareCopy = copyOf(book, 'bare');
  const { desk, call } = await openBench(ourCopy.path, 'write');
  const raw = new Database(bareCopy.path);
  try {
    raw.pragma('journal_mode = WAL');
    raw.pragma('synchronous = FULL');
    raw.pragma('foreign_keys = ON');
    raw.pragma('recursive_triggers = ON');
    raw.pragma('cache_size = -65536');
    const sensors = raw
      .prepare(
        "SELECT s.propertyId, s.id sensorId, s.batteryCells cells, (SELECT id FROM technician ORDER BY id LIMIT 1) technicianId FROM sensor s WHERE s.link = 'wireless' ORDER BY s.id",
      )
      .all() as Stop[];
    const rng = chance('record');
    const stops = Array.from({ length: rounds + WARM }, () => rng.pick(sensors));
    const text = 'Swapped on the way past; client told at the door.';
    const bare = bareRecord(raw, text);
    const times = await duel(
      stops,
      WARM,
      (stop) =>
        call('visit.record', {
          writeId: ulid(),
          propertyId: stop.propertyId,
          visitId: ulid(),
          unplannedKind: 'battery-swap',
          technicianId: stop.technicianId,
          doneOn: BENCH_TODAY,
          entries: [
            {
              id: ulid(),
              detail: {
                kind: 'battery-swap',
                sensorId: stop.sensorId,
                batteryType: 'CR2032',
                cells: Math.max(1, stop.cells),
                oldBatteryState: 'low',
              },
            },
            { id: ulid(), detail: { kind: 'note', text } },
          ],
        }),
      bare,
    );
    const made = (database: Database.Database) =>
      database
        .prepare(
          'SELECT (SELECT count(*) FROM ledgerEntry WHERE doneOn = ?), (SELECT count(*) FROM writeLog), (SELECT count(*) FROM sensor WHERE batteryDate = ?)',
        )
        .raw()
        .get(BENCH_TODAY, BENCH_TODAY);
    const look = new Database(ourCopy.path, { readonly: true });
    const [ours, mine] = [made(look), made(raw)];
    look.close();
    if (JSON.stringify(ours) !== JSON.stringify(mine))
      throw new Error(`visit.record: ours left ${JSON.stringify(ours)}, bare ${JSON.stringify(mine)}`);
    return {
      name: 'visit.record, durable',
      unit: 'ms',
      ...times,
      aim: { of: 'p95', atMost: 20, ratioAtMost: 3 },
      note: 'an unplanned battery swap with a note; bare: the same rows, chained, by prepared statements in one WAL transaction with synchronous = FULL, on a copy of its own',
    };
  } finally {
    raw.close();
    await desk.close();
    ourCopy.remove();
    bareCopy.remove();
  }
}

function bareRecord(raw: Database.Database, text: string): (stop: Stop) => void {
  const visit = raw.prepare(
    "INSERT INTO visit (id, propertyId, kind, state, date, windowFrom, windowTo, technicianId, orderInDay, expectedMinutes, locked, note, doneOn, cancelReason, unplanned) VALUES (?, ?, 'battery-swap', 'done', ?, NULL, NULL, ?, (SELECT count(*) + 1 FROM visit WHERE date = ? AND technicianId = ? AND state <> 'cancelled'), 15, 0, '', ?, '', 1)",
  );
  const entry = raw.prepare(
    "INSERT INTO ledgerEntry (id, propertyId, visitId, technicianId, kind, doneOn, recordedAt, sensorId, zoneId, note, detail, correctsId, correction, correctionReason, bookPlace, place, previousHash, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?, NULL, '', ?, NULL, NULL, '', ?, ?, ?, ?)",
  );
  const head = raw.prepare<[string], { links: number; place: number | null; hash: string | null }>(
    'SELECT links, place, hash FROM ledgerChain LEFT JOIN chainHead ON propertyId = ?',
  );
  // The book refuses an entry that is not at the next place, so the bare side has to ask and to hash as well.
  const append = (propertyId: string, ...values: (string | null)[]) => {
    const { links, place, hash: before } = head.get(propertyId)!;
    const standing = [links + 1, (place ?? 0) + 1, before ?? ''] as const;
    entry.run(...values, ...standing, hash('sha256', JSON.stringify([...standing, ...values])));
  };
  const sensor = raw.prepare('UPDATE sensor SET batteryDate = ?, cellsGood = ? WHERE id = ?');
  const memory = raw.prepare(
    "INSERT INTO writeLog (writeId, request, inputHash, result, at) VALUES (?, 'visit.record', ?, ?, ?)",
  );
  const work = raw.transaction((stop: Stop) => {
    const visitId = ulid();
    const at = new Date().toISOString();
    const cells = Math.max(1, stop.cells);
    visit.run(visitId, stop.propertyId, BENCH_TODAY, stop.technicianId, BENCH_TODAY, stop.technicianId, BENCH_TODAY);
    append(
      stop.propertyId,
      ulid(),
      stop.propertyId,
      visitId,
      stop.technicianId,
      'battery-swap',
      BENCH_TODAY,
      at,
      stop.sensorId,
      JSON.stringify({
        kind: 'battery-swap',
        sensorId: stop.sensorId,
        batteryType: 'CR2032',
        cells,
        oldBatteryState: 'low',
      }),
    );
    append(
      stop.propertyId,
      ulid(),
      stop.propertyId,
      visitId,
      stop.technicianId,
      'note',
      BENCH_TODAY,
      at,
      null,
      JSON.stringify({ kind: 'note', text }),
    );
    sensor.run(BENCH_TODAY, cells, stop.sensorId);
    memory.run(ulid(), 'x'.repeat(44), JSON.stringify({ visitId }), at);
  });
  return (stop) => work.immediate(stop);
}
