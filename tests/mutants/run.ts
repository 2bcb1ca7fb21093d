import { spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { chance } from '../../core/demo/random.ts';
import { importsOf } from '../lint/direction.ts';
import { mutantsOf, mutated, type Mutant } from './mutations.ts';

// `npm run mutants`: makes small changes to the rules, one at a time in a copy of this checkout, and sees whether the tests
// outside the browser notice. A seeded sample; the report says what nobody noticed. Not part of `npm test`: it takes long.

const root = path.resolve(import.meta.dirname, '../..');
const AREAS = ['core/agronomy', 'core/programs', 'core/ledger', 'core/recording', 'core/due', 'core/weather'];
const AIM_PERCENT = 85;
/** Tests that start processes or browsers, or take long by themselves. */
const NOT_ASKED = /^tests\/(browser|faults|hosts|electron|windows|lint|mutants|bench)\/|\.long\.test\.ts$/;
/** The nearest tests go first, up to so many seconds of them; only who survives those meets all others. */
const FIRST_SECONDS = 8;

const { values } = parseArgs({
  options: {
    mutants: { type: 'string', default: '400' },
    seed: { type: 'string', default: '1' },
    workers: { type: 'string', default: '2' },
    only: { type: 'string', default: '' },
  },
});
const wanted = Number(values.mutants);

const slashed = (file: string) => file.split(path.sep).join('/');
function filesIn(folder: string, fits: (file: string) => boolean): string[] {
  return readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => slashed(path.relative(root, path.join(entry.parentPath, entry.name))))
    .filter(fits)
    .sort();
}

/** How many imports lie between a test and each file it reaches. */
function reachOf(test: string): Map<string, number> {
  const reach = new Map([[test, 0]]);
  for (const file of reach.keys()) {
    const near = reach.get(file)! + 1;
    for (const { specifier } of importsOf(readFileSync(path.join(root, file), 'utf8'))) {
      const target = path.posix.join(path.posix.dirname(file), specifier);
      if (specifier.startsWith('.') && !reach.has(target) && existsSync(path.join(root, target)))
        if (/\.tsx?$/.test(target)) reach.set(target, near);
    }
  }
  return reach;
}

const vitest = path.join(path.dirname(createRequire(import.meta.url).resolve('vitest/package.json')), 'vitest.mjs');
interface Outcome {
  passed: boolean;
  /** Seconds by test file, where asked for. */
  seconds: Map<string, number>;
  /** Names of the tests that failed, and why. */
  failed: string[];
  text: string;
}

function runTests(checkout: string, tests: readonly string[], bail: boolean, limitSeconds: number): Promise<Outcome> {
  const report = path.join(checkout, 'mutants-report.json');
  rmSync(report, { force: true });
  const args = [
    'run',
    '--no-isolate',
    '--maxWorkers=1',
    '--reporter=json',
    `--outputFile=${report}`,
    ...(bail ? ['--bail=1'] : []),
  ];
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [vitest, ...args, ...tests], {
      cwd: checkout,
      detached: true,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let text = '';
    child.stdout.on('data', (chunk: Buffer) => (text += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (text += chunk.toString()));
    // A mutant may loop for ever: that is noticed too.
    const limit = setTimeout(() => process.kill(-child.pid!, 'SIGKILL'), limitSeconds * 1000);
    child.on('close', (code, signal) => {
      clearTimeout(limit);
      const seconds = new Map<string, number>();
      const failed: string[] = [];
      if (existsSync(report)) {
        const { testResults } = JSON.parse(readFileSync(report, 'utf8')) as {
          testResults: {
            name: string;
            startTime: number;
            endTime: number;
            message: string;
            assertionResults: { fullName: string; status: string; failureMessages: string[] }[];
          }[];
        };
        for (const { name, message } of testResults)
          if (message !== '') failed.push(`${name}: ${message.slice(0, 500)}`);
        for (const { assertionResults } of testResults)
          for (const { fullName, status, failureMessages } of assertionResults)
            if (status === 'failed') failed.push(`${fullName}: ${failureMessages.join(' ').slice(0, 500)}`);
        for (const { name, startTime, endTime } of testResults)
          seconds.set(slashed(path.relative(checkout, name)), Math.max(0.01, (endTime - startTime) / 1000));
      }
      resolve({ passed: code === 0, seconds, failed, text: `${text}\nended with ${signal ?? code}` });
    });
  });
}

function copyCheckout(into: string): string {
  const left = new Set(['node_modules', '.git', 'dist', 'release', 'coverage'].map((name) => path.join(root, name)));
  cpSync(root, into, { recursive: true, filter: (from) => !left.has(from) });
  symlinkSync(path.join(root, 'node_modules'), path.join(into, 'node_modules'));
  return into;
}

const sources = AREAS.flatMap((area) =>
  filesIn(area, (file) => /(?<!queries|contract|index)\.ts$/.test(file) && file.startsWith(values.only)),
);
const all = sources.flatMap((file) => mutantsOf(file, readFileSync(path.join(root, file), 'utf8')));
const dice = chance(Number(values.seed));
for (let at = all.length - 1; at > 0; at -= 1) {
  const other = dice.int(0, at);
  [all[at], all[other]] = [all[other]!, all[at]!];
}
const sample = all.slice(0, wanted);
const tests = filesIn('tests', (file) => file.endsWith('.test.ts') && !NOT_ASKED.test(file));
const reach = new Map(tests.map((test) => [test, reachOf(test)]));
console.log(
  `${sources.length} files, ${all.length} mutants, a sample of ${sample.length} (seed ${values.seed}); ${tests.length} test files`,
);

const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-mutants-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => process.exit(130));
const checkouts = Array.from({ length: Number(values.workers) }, (_, at) =>
  copyCheckout(path.join(folder, String(at))),
);
const whole = await runTests(checkouts[0]!, tests, false, 1200);
if (!whole.passed) {
  console.error(`The tests do not pass without a mutant:\n${whole.failed.join('\n')}\n${whole.text.slice(-2000)}`);
  process.exit(1);
}
const cost = (files: readonly string[]) => files.reduce((sum, file) => sum + (whole.seconds.get(file) ?? 1), 0);

/** The tests that reach a file, the nearest first. */
function testsOf(file: string): { first: string[]; rest: string[] } {
  const near = tests
    .filter((test) => reach.get(test)!.has(file))
    .sort((a, b) => reach.get(a)!.get(file)! - reach.get(b)!.get(file)! || cost([a]) - cost([b]));
  let seconds = 0;
  const first = near.filter((test, at) => {
    seconds += cost([test]);
    return at === 0 || seconds <= FIRST_SECONDS;
  });
  return { first, rest: near.filter((test) => !first.includes(test)) };
}

async function isNoticed(checkout: string, mutant: Mutant): Promise<boolean> {
  const source = readFileSync(path.join(root, mutant.file), 'utf8');
  writeFileSync(path.join(checkout, mutant.file), mutated(source, mutant));
  try {
    const { first, rest } = testsOf(mutant.file);
    for (const some of [first, rest]) {
      if (some.length === 0) continue;
      const { passed } = await runTests(checkout, some, true, 30 + 6 * cost(some));
      if (!passed) return true;
    }
    return false;
  } finally {
    writeFileSync(path.join(checkout, mutant.file), source);
  }
}

const survivors: Mutant[] = [];
const tally = new Map<string, { all: number; killed: number }>();
let done = 0;
const queue = [...sample];
await Promise.all(
  checkouts.map(async (checkout) => {
    for (let mutant = queue.shift(); mutant !== undefined; mutant = queue.shift()) {
      const noticed = await isNoticed(checkout, mutant);
      const area = tally.get(mutant.file) ?? { all: 0, killed: 0 };
      tally.set(mutant.file, { all: area.all + 1, killed: area.killed + (noticed ? 1 : 0) });
      if (!noticed) survivors.push(mutant);
      done += 1;
      if (!noticed) console.log(said(mutant));
      if (done % 20 === 0) console.error(`${done} of ${sample.length}; ${survivors.length} not noticed`);
    }
  }),
);

function said({ file, line, was, becomes }: Mutant): string {
  const short = (text: string) => (text.length > 70 ? `${text.slice(0, 67)}…` : text).replaceAll(/\s+/g, ' ');
  return `not noticed  ${file}:${line}  ${short(was)}  →  ${becomes === '' ? '(nothing)' : short(becomes)}`;
}

for (const [file, { all: made, killed }] of [...tally].sort(([a], [b]) => (a < b ? -1 : 1)))
  console.log(`${file.padEnd(44)} ${String(killed).padStart(4)} of ${String(made).padStart(4)}`);
const killed = sample.length - survivors.length;
const percent = (100 * killed) / sample.length;
console.log(
  `${killed} of ${sample.length} mutants noticed: ${percent.toFixed(1)} % (at least ${AIM_PERCENT} % wanted)`,
);
process.exit(percent >= AIM_PERCENT ? 0 : 1);
