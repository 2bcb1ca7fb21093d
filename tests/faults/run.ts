// npm run faults [-- --kills N --requests N --seed N --only TEXT]: kills and fuzz for as long as a night has, and one table.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { fuzzHost, shortfalls, type FuzzResult } from './fuzz.ts';
import { killLoop, type KillRow } from './kill.ts';

const USAGE = `npm run faults -- [--kills N] [--requests N] [--seed N] [--only TEXT] [--keep]

  --kills N      processes killed in the middle of something (1000)
  --requests N   requests sent to a book served on this machine (100000)
  --seed N       the same kills and requests as far as the machine allows (else new ones, and said)
  --only TEXT    only kills whose name holds this
  --keep         leaves the books where they are
`;
/** From this many requests on, every request of the contract must have been answered with a yes twenty times. */
const LONG_RUN = 100_000;
const HARMS = ['lost', 'doubled', 'half', 'unopenable', 'left over', 'other'] as const;

function wholeNumber(text: string, name: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 0) throw new Error(`--${name} is a whole number from 0.\n\n${USAGE}`);
  return number;
}

let passed = 0;
let failed = 0;
function verdict(holds: boolean, what: string): void {
  if (holds) passed += 1;
  else failed += 1;
  console.log(`${holds ? 'passed' : 'FAILED'}  ${what}`);
}

function tellKills(rows: readonly KillRow[]): void {
  console.log(
    `\n${'killed during'.padEnd(26)}${['kills', 'SIGTERM', 'too late', 'acknowledged', ...HARMS].map((head) => head.padStart(13)).join('')}`,
  );
  for (const row of rows) {
    const figures = [row.kills, row.terms, row.late, row.acknowledged, ...HARMS.map((harm) => row.harm[harm] ?? 0)];
    console.log(
      row.scenario.padEnd(26) +
        (row.skipped ? `  skipped: ${row.skipped}` : figures.map((figure) => String(figure).padStart(13)).join('')),
    );
  }
  for (const row of rows) for (const { harm, what } of row.examples) console.log(`  ${row.scenario}: ${harm}: ${what}`);
  console.log('');
  for (const row of rows.filter((one) => one.skipped === null))
    verdict(
      row.kills > 0 && Object.keys(row.harm).length === 0,
      `${row.kills} kills during ${row.scenario}: nothing lost, doubled, half-written, unopenable or left over`,
    );
}

function tellFuzz({ sent, tally, faults }: FuzzResult): void {
  console.log(`\n${'request'.padEnd(26)}${'yes'.padStart(9)}   refusals by code`);
  for (const [name, row] of [...tally].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const refusals = [...row].filter(([code]) => code !== 'ok').sort(([a], [b]) => (a < b ? -1 : 1));
    console.log(
      `${name.padEnd(26)}${String(row.get('ok') ?? 0).padStart(9)}   ${refusals.map(([code, count]) => `${code} ${count}`).join(', ')}`,
    );
  }
  for (const fault of faults) console.log(`  ${fault}`);
  const least = sent >= LONG_RUN ? 20 : 1;
  const short = shortfalls(tally, least);
  console.log('');
  verdict(
    faults.length === 0,
    `${sent} requests over the loopback host: no internal fault, no answer out of shape, no hang, no crash; the book is clean`,
  );
  verdict(
    short.length === 0,
    `every request was answered with a yes at least ${least} times${short.length > 0 ? `: not ${short.join(', ')}` : ''}`,
  );
}

const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '1000' },
    requests: { type: 'string', default: String(LONG_RUN) },
    seed: { type: 'string', default: String(Date.now() % 1_000_000) },
    only: { type: 'string', default: '' },
    keep: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});
if (values.help) {
  console.log(USAGE);
  process.exit(0);
}
const kills = wholeNumber(values.kills, 'kills');
const requests = wholeNumber(values.requests, 'requests');
const seed = wholeNumber(values.seed, 'seed');
const folder = mkdtempSync(join(tmpdir(), 'valvebook-faults-'));
const say = (text: string) => console.log(text);
console.log(`seed ${seed}, Node ${process.version}, in ${folder}`);
try {
  if (requests > 0) tellFuzz(await fuzzHost({ requests, seed, folder: join(folder, 'fuzz'), say }));
  if (kills > 0) tellKills(await killLoop({ kills, seed, folder: join(folder, 'kills'), say, only: values.only }));
} finally {
  if (!values.keep) rmSync(folder, { recursive: true, force: true });
}
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
