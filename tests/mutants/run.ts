import { createHash } from 'node:crypto';
import { appendFileSync, cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { importsOf } from '../lint/direction.ts';
import { EQUIVALENT, equivalents } from './equivalent.ts';
import { instrumented } from './instrument.ts';
import { mutantsOf, type Mutant } from './mutations.ts';
import { Passings } from './passings.ts';
import { WarmTests, type Told } from './warm.ts';

// `npm run mutants`: makes small changes to the rules, one at a time in a copy of this checkout, and sees whether the tests
// outside the browser notice. A seeded sample; the report says what nobody noticed. Not part of `npm test`: it takes long.

const root = path.resolve(import.meta.dirname, '../..');
const AREAS = ['core/agronomy', 'core/programs', 'core/ledger', 'core/recording', 'core/due', 'core/weather'];
const AIM_PERCENT = 85;
/** Tests that start processes or browsers, or take long by themselves. */
const NOT_ASKED = /^tests\/(browser|faults|hosts|electron|windows|lint|mutants|bench)\/|\.long\.test\.ts$/;

const { values } = parseArgs({
  options: {
    mutants: { type: 'string', default: '400' },
    /** Leaves out so many of the sample's first. */
    after: { type: 'string', default: '0' },
    seed: { type: 'string', default: '1' },
    workers: { type: 'string', default: '2' },
    only: { type: 'string', default: '' },
    /** So many seconds of tests are asked about a mutant at most, the nearest; what they let pass counts as not noticed. */
    patience: { type: 'string', default: '60' },
    /** A file that takes a line of JSON for each mutant. What it tells already is not asked again. */
    report: { type: 'string', default: '' },
    /** Asks only test files whose path begins so. */
    tests: { type: 'string', default: '' },
    /** Only those that such a file tells as not noticed. */
    again: { type: 'string', default: '' },
  },
});

const slashed = (file: string) => file.split(path.sep).join('/');
function filesIn(folder: string, fits: (file: string) => boolean): string[] {
  return readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => slashed(path.relative(root, path.join(entry.parentPath, entry.name))))
    .filter(fits)
    .sort();
}

/** The files a test imports, and what those import. */
function reachOf(test: string): Set<string> {
  const reach = new Set([test]);
  for (const file of reach)
    for (const { specifier } of importsOf(readFileSync(path.join(root, file), 'utf8'))) {
      const target = path.posix.join(path.posix.dirname(file), specifier);
      if (specifier.startsWith('.') && /\.tsx?$/.test(target) && existsSync(path.join(root, target))) reach.add(target);
    }
  return reach;
}

const sources = new Map(
  AREAS.flatMap((area) => filesIn(area, (file) => /(?<!queries|contract|index)\.ts$/.test(file)))
    .filter((file) => file.startsWith(values.only))
    .map((file) => [file, readFileSync(path.join(root, file), 'utf8')]),
);
const all = [...sources].flatMap(([file, source]) => mutantsOf(file, source));
const numbers = new Map(all.map((mutant, at) => [mutant, at]));
const marked = equivalents(EQUIVALENT, all, sources);
const tests = filesIn(
  'tests',
  (file) => file.endsWith('.test.ts') && !NOT_ASKED.test(file) && file.startsWith(values.tests),
);

/** By chance of the seed, and so that a change of one line moves nothing but what stands on it into a sample or out. */
function drawn(): Mutant[] {
  const lines = new Map([...sources].map(([file, source]) => [file, source.split('\n')]));
  const times = new Map<string, number>();
  const draws = new Map<Mutant, string>();
  for (const mutant of all) {
    const { file, line, was, becomes } = mutant;
    const like = [values.seed, file, lines.get(file)![line - 1]!.trim(), was, becomes].join('\0');
    const nth = (times.get(like) ?? 0) + 1;
    times.set(like, nth);
    draws.set(mutant, createHash('sha256').update(`${like}\0${nth}`).digest('hex'));
  }
  const inOrder = all.toSorted((a, b) => (draws.get(a)! < draws.get(b)! ? -1 : 1));
  const sample = inOrder.slice(Number(values.after), Number(values.mutants));
  if (values.again === '') return sample;
  const open = rowsIn(values.again).filter(({ noticedBy }) => noticedBy === null);
  return sample.filter((mutant) => open.some((row) => isOf(row, mutant)));
}
const rowsIn = (file: string) =>
  readFileSync(file, 'utf8')
    .split('\n')
    .filter(Boolean)
    .map((line) => JSON.parse(line) as Row);
const isOf = (row: Row, { file, start, was, becomes }: Mutant) =>
  row.file === file && row.start === start && row.was === was && row.becomes === becomes;
interface Row {
  file: string;
  line: number;
  start: number;
  was: string;
  becomes: string;
  noticedBy: string | null;
  testsAsked: number;
}

/** A copy of this checkout with all mutants in it, none in force. */
function copyCheckout(into: string): string {
  const left = new Set(['node_modules', '.git', 'dist', 'release', 'coverage'].map((name) => path.join(root, name)));
  cpSync(root, into, { recursive: true, filter: (from) => !left.has(from) });
  symlinkSync(path.join(root, 'node_modules'), path.join(into, 'node_modules'));
  for (const [file, source] of sources) {
    const from = path.posix.relative(path.posix.dirname(file), 'tests/mutants/in-force.ts');
    const own = all.filter((mutant) => mutant.file === file);
    writeFileSync(
      path.join(into, file),
      instrumented(source, own, (mutant) => numbers.get(mutant)!, from),
    );
  }
  return into;
}

const sample = drawn();
console.log(
  `${sources.size} files, ${all.length} mutants, a sample of ${sample.length} (seed ${values.seed}); ${tests.length} test files`,
);
const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-mutants-'));
const warm = Array.from(
  { length: Number(values.workers) },
  (_, at) => new WarmTests(copyCheckout(path.join(folder, String(at)))),
);
process.on('exit', () => {
  for (const each of warm) each.kill();
  rmSync(folder, { recursive: true, force: true });
});
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => process.exit(130));

const sayFailed = ({ failed }: Told) => failed.map(({ file, test, why }) => `${file} ${test}: ${why.slice(0, 500)}`);
const seenFolder = path.join(folder, 'seen');
mkdirSync(seenFolder);
const whole = await warm[0]!.run({ mutant: -1, tests: tests.map((file) => ({ file })), bail: false, seenFolder }, 3600);
if (whole.failed.length > 0) {
  console.error(`The tests do not pass without a mutant:\n${sayFailed(whole).join('\n')}`);
  process.exit(1);
}
const passings = new Passings(
  readFileSync(path.join(seenFolder, 'passings'), 'utf8'),
  warm[0]!.checkout,
  new Map(tests.map((test) => [test, reachOf(test)])),
);
console.error(`Without a mutant all tests pass, in ${Math.round(passings.seconds)} s`);

/** Whether each test passes without those before it, where that was asked. */
const standing = new Map<string, boolean>();
async function standsAlone(on: WarmTests, file: string, test: string): Promise<boolean> {
  const key = `${file} ${test}`;
  if (!standing.has(key)) {
    const { failed } = await on.run({ mutant: -1, tests: [{ file, names: [test] }], bail: true }, 600);
    standing.set(key, failed.length === 0);
  }
  return standing.get(key)!;
}

async function judge(on: WarmTests, mutant: Mutant): Promise<Pick<Row, 'noticedBy' | 'testsAsked'>> {
  const number = numbers.get(mutant)!;
  const groups = passings.groupsFor(number, mutant, Number(values.patience));
  const testsAsked = groups.flat().length;
  for (const group of groups) {
    const limit = 60 + 8 * group.reduce((sum, { seconds }) => sum + seconds, 0);
    const { failed } = await on.run({ mutant: number, tests: group, bail: true }, limit);
    const first = failed[0];
    if (first === undefined) continue;
    const chosen = group.find(({ file }) => file === first.file);
    if (chosen?.names !== undefined && first.test !== '' && !(await standsAlone(on, first.file, first.test))) {
      passings.askWhole(first.file);
      return judge(on, mutant);
    }
    return { noticedBy: `${first.file} ${first.test}: ${first.why}`.slice(0, 300), testsAsked };
  }
  return { noticedBy: null, testsAsked };
}

const rows = new Map<Mutant, Row>();
if (existsSync(values.report))
  for (const row of rowsIn(values.report)) {
    const mutant = sample.find((each) => isOf(row, each));
    if (mutant !== undefined) rows.set(mutant, row);
  }
const queue = sample.filter((mutant) => !rows.has(mutant));
await Promise.all(
  warm.map(async (on) => {
    for (let mutant = queue.shift(); mutant !== undefined; mutant = queue.shift()) {
      const { file, line, start, was, becomes } = mutant;
      const row: Row = { file, line, start, was, becomes, ...(await judge(on, mutant)) };
      rows.set(mutant, row);
      if (values.report !== '') appendFileSync(values.report, `${JSON.stringify(row)}\n`);
      if (row.noticedBy === null && !marked.found.has(mutant)) console.log(said(mutant, row));
      const open = [...rows.values()].filter(({ noticedBy }) => noticedBy === null).length;
      if (rows.size % 20 === 0) console.error(`${rows.size} of ${sample.length}; ${open} not noticed`);
    }
  }),
);
for (const each of warm) each.kill();

function said({ file, line, was, becomes }: Mutant, { testsAsked }: Row): string {
  const short = (text: string) => (text.length > 70 ? `${text.slice(0, 67)}…` : text).replaceAll(/\s+/g, ' ');
  const why = testsAsked === 0 ? '  (no test comes here)' : '';
  return `not noticed  ${file}:${line}  ${short(was)}  →  ${becomes === '' ? '(nothing)' : short(becomes)}${why}`;
}

function report(): boolean {
  const missed = sample.filter((mutant) => rows.get(mutant)!.noticedBy === null);
  for (const file of new Set(sample.map((mutant) => mutant.file).sort())) {
    const made = sample.filter((mutant) => mutant.file === file);
    const noticed = made.filter((mutant) => !missed.includes(mutant));
    console.log(`${file.padEnd(44)} ${String(noticed.length).padStart(4)} of ${String(made.length).padStart(4)}`);
  }
  const same = missed.filter((mutant) => marked.found.has(mutant));
  if (same.length > 0) console.log('After these the program does the same as before:');
  for (const mutant of same) console.log(`${said(mutant, rows.get(mutant)!)}\n    ${marked.found.get(mutant)!.why}`);
  for (const mutant of sample.filter((each) => marked.found.has(each) && !missed.includes(each)))
    console.log(`said to change nothing, but noticed  ${said(mutant, rows.get(mutant)!)}`);
  for (const { file, line, was, becomes } of values.only === '' ? marked.stale : [])
    console.log(`listed as changing nothing, but fits no mutant or several: ${file}  ${line}  ${was} → ${becomes}`);
  const noticed = sample.length - missed.length;
  const percent = (100 * noticed) / sample.length;
  console.log(
    `not noticed: ${missed.length}, of which ${same.length} change nothing; of all that change something ` +
      `${((100 * noticed) / Math.max(1, sample.length - same.length)).toFixed(1)} % are noticed`,
  );
  console.log(
    `${noticed} of ${sample.length} mutants noticed: ${percent.toFixed(1)} % (at least ${AIM_PERCENT} % wanted)`,
  );
  return percent >= AIM_PERCENT;
}
process.exit(report() ? 0 : 1);
