import { copyFileSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openDesk } from '../../core/desk/desk.ts';

// Entries that earlier versions wrote hold less than today's (no finding that a repair closes, no cycles, what a zone had
// said before an audit). Each of them must be correctable and voidable like a new one, and what follows stay the ledger's.

const HERE = import.meta.dirname;
const BOOKS = readdirSync(HERE).filter((name) => name.endsWith('.valvebook'));
const TODAY = '2026-06-15';
/** Every kind there was in the first two layouts. */
const OLD_KINDS = [
  'backflow-test',
  'battery-swap',
  'meter-read',
  'note',
  'part-used',
  'photo',
  'repair',
  'run-time-change',
  'sensor-check',
  'start-up',
  'walk-through',
  'winterization',
  'zone-audit',
];

const KINDS: Record<string, readonly string[]> = {
  'layout-3.valvebook': [...OLD_KINDS, 'decision', 'finding', 'manual-run', 'not-done'].sort(),
};

interface Entry {
  id: string;
  kind: string;
  doneOn: string;
  propertyId: string;
  correction: string | null;
  detail: Record<string, any>;
}

async function upgraded(name: string) {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-older-'));
  const path = join(folder, name);
  copyFileSync(join(HERE, name), path);
  const desk = await openDesk({ bookPath: path, today: () => TODAY });
  onTestFinished(async () => {
    await desk.close();
    rmSync(folder, { recursive: true, force: true });
  });
  const call = async (request: string, input: object) => {
    const reply = await desk.call(request, input);
    if (!reply.ok) throw new Error(`${request} ${JSON.stringify(input)}: ${JSON.stringify(reply.error)}`);
    return reply.data as any;
  };
  const rows = (sql: string): any[] => {
    const raw = new Database(path, { readonly: true });
    try {
      return raw.prepare(sql).all();
    } finally {
      raw.close();
    }
  };
  return { call, rows };
}

/** The same fact a little otherwise, as a form would send it. */
function otherwise({ kind, detail }: Entry, turn: number): object {
  switch (kind) {
    case 'battery-swap':
      return { ...detail, cells: 1 + (turn % 3) };
    case 'sensor-check':
      return { ...detail, rainTrip: 'fail', rainSetPointInches: 0.375, freezeSetPointF: turn % 2 ? null : 41 };
    case 'zone-audit':
      return { ...detail, volumesMl: detail['volumesMl'].map((volumeMl: number) => volumeMl + 1 + turn) };
    case 'backflow-test':
      return { ...detail, passed: !detail['passed'] };
    case 'run-time-change':
      return {
        kind,
        programId: detail['programId'],
        revisionId: ulid(),
        seasonalPercent: 30 + turn,
        reason: 'misread',
      };
    default:
      return detail;
  }
}

const dayBefore = (day: string) => new Date(Date.parse(day) - 86_400_000).toISOString().slice(0, 10);

describe.each(BOOKS)('entries of %s', (name) => {
  it('of every kind are corrected and voided, and what follows from them stays what they say', async () => {
    const { call, rows } = await upgraded(name);
    const kinds = KINDS[name] ?? OLD_KINDS;
    const findings = async () =>
      (await call('book.check', {})).checks.flatMap((check: { findings: string[] }) => check.findings);
    const standing = async (kind?: string): Promise<Entry[]> => {
      const { entries, total } = await call('ledger.list', { limit: 500, ...(kind && { kinds: [kind] }) });
      expect(entries).toHaveLength(total);
      return entries;
    };
    const correct = async (entry: Pick<Entry, 'id'>, more: object) => {
      const input = { writeId: ulid(), id: ulid(), correctsId: entry.id, reason: 'not so', ...more };
      return (await call('ledger.correct', input)).entry as Entry;
    };
    const replaced = (entry: Entry, turn: number) =>
      correct(entry, { correction: 'replace', detail: otherwise(entry, turn), doneOn: dayBefore(entry.doneOn) });

    expect([...new Set((await standing()).map((entry) => entry.kind))].sort()).toEqual(kinds);
    for (const kind of kinds) {
      const entries = await standing(kind);
      expect(entries.length, kind).toBeGreaterThan(2);
      // The oldest first: a program's later changes start from what its earlier ones left.
      for (const [turn, entry] of entries.toReversed().entries()) {
        if (turn % 3 === 0) await replaced(entry, turn);
        if (turn % 3 === 1) await correct(entry, { correction: 'void' });
        if (turn % 3 === 2) {
          const second = await replaced(entry, turn);
          expect(second).toMatchObject({ kind, doneOn: dayBefore(entry.doneOn), historyLength: expect.any(Number) });
          if (turn % 2 === 0) await correct(second, { correction: 'void' });
        }
      }
      expect((await standing(kind)).length, kind).toBeLessThan(entries.length);
    }

    expect(await findings()).toEqual([]);

    // With nothing left that happened, everything is what the office or a list said.
    for (const entry of await standing()) await correct(entry, { correction: 'void' });
    expect((await standing()).length).toBe(0);
    expect(await findings()).toEqual([]);
    expect(rows('SELECT * FROM season')).toEqual([]);
    expect(rows('SELECT * FROM finding')).toEqual([]);
    expect(
      rows(`SELECT id FROM sensor WHERE batteryDate IS NOT baseBatteryDate OR lastCheckDate IS NOT NULL OR cellsGood IS NOT NULL
        OR rainSetPointInches IS NOT baseRainSetPointInches OR freezeSetPointF IS NOT baseFreezeSetPointF`),
    ).toEqual([]);
    expect(
      rows(`SELECT id FROM zone WHERE prMethod IS NOT basePrMethod
        OR precipitationRateInPerHour IS NOT basePrecipitationRateInPerHour`),
    ).toEqual([]);
    expect(rows('SELECT id FROM property WHERE backflowTestDue IS NOT baseBackflowTestDue')).toEqual([]);
    expect(rows('SELECT id FROM programRevision WHERE ledgerEntryId IS NOT NULL AND voidedByEntryId IS NULL')).toEqual(
      [],
    );
    expect(rows("SELECT id FROM visit WHERE state = 'done' AND id IN (SELECT visitId FROM ledgerEntry)")).toEqual([]);
  });
});
