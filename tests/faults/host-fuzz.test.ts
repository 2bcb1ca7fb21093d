import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { fuzzHost, shortfalls } from './fuzz.ts';

// The short share of the fuzz over the loopback host; `npm run faults` sends a hundred thousand.

const REQUESTS = Number(process.env['VALVEBOOK_REQUESTS'] ?? 1000);

test(
  `${REQUESTS} requests right and wrong over the loopback host: no internal fault, and every request is answered with a yes`,
  { timeout: 1_800_000 },
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'valvebook-fuzz-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const seed = process.env['CI'] ? 20261125 : Date.now() % 1_000_000;
    const { sent, tally, faults } = await fuzzHost({ requests: REQUESTS, seed, folder });
    expect(faults.map((fault) => `seed ${seed}: ${fault}`)).toEqual([]);
    expect(sent).toBeGreaterThanOrEqual(REQUESTS);
    expect(shortfalls(tally, REQUESTS >= 100_000 ? 20 : 1)).toEqual([]);
  },
);
