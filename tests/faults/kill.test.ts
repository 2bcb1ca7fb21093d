import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { killLoop } from './kill.ts';

// Kills in the middle of writes, import, backup, restore, upgrade and creation: what was acknowledged is there, once and
// whole; nothing is half there; every book opens clean. `npm run faults` does the same for longer.

const KILLS = Number(process.env['VALVEBOOK_KILLS'] ?? (process.env['CI'] ? 25 : 60));

test(
  `${KILLS} kills lose nothing that was acknowledged, double nothing and leave nothing half-written`,
  { timeout: 1_800_000 },
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'valvebook-kill-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const seed = process.env['CI'] ? 20261125 : Date.now() % 1_000_000;
    const rows = await killLoop({ kills: KILLS, seed, folder });
    expect(
      rows.flatMap((row) => row.examples.map(({ harm, what }) => `seed ${seed}: ${row.scenario}: ${harm}: ${what}`)),
    ).toEqual([]);
    expect(rows.reduce((sum, row) => sum + row.kills, 0)).toBe(KILLS);
    // A run in which nothing had been acknowledged when the kill came would prove nothing.
    expect(rows.filter((row) => row.scenario.startsWith('writes')).every((row) => row.acknowledged > 0)).toBe(true);
  },
);
