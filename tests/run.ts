import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { brokenOff, lastLine, tally, withSecond, type Tally, type VitestReport } from './tally.ts';

// npm test: type check, lint, build, then every test. `npm test -- tests/hosts` runs some tests and skips the checks;
// `npm test -- --fast` leaves out what starts processes, browsers or takes long: for between two edits.

const root = path.resolve(import.meta.dirname, '..');
const running = new Set<ReturnType<typeof spawn>>();
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.on(signal, () => {
    for (const child of running) child.kill(signal);
    process.exitCode = 130;
  });
}

/** The script a package declares for one of its commands; run on this same Node on every system. */
function binOf(packageName: string, command = packageName): string {
  // Read from where npm puts it: a package need not let its own package.json be imported (knip does not).
  const folder = path.join(root, 'node_modules', packageName);
  const { bin } = JSON.parse(readFileSync(path.join(folder, 'package.json'), 'utf8')) as {
    bin: string | Record<string, string>;
  };
  const script = typeof bin === 'string' ? bin : bin[command];
  if (script === undefined) throw new Error(`${packageName} has no command ${command}`);
  return path.join(folder, script);
}

function run(args: string[], output: 'shown' | 'kept'): Promise<{ code: number; text: string }> {
  return new Promise((resolve) => {
    const env = output === 'shown' ? process.env : { ...process.env, NO_COLOR: '1', FORCE_COLOR: '0' };
    const child = spawn(process.execPath, args, {
      cwd: root,
      env,
      stdio: ['ignore', output === 'shown' ? 'inherit' : 'pipe', output === 'shown' ? 'inherit' : 'pipe'],
    });
    running.add(child);
    const chunks: Buffer[] = [];
    child.stdout?.on('data', (chunk: Buffer) => chunks.push(chunk));
    child.stderr?.on('data', (chunk: Buffer) => chunks.push(chunk));
    const done = (code: number, extra = '') => {
      running.delete(child);
      resolve({ code, text: `${Buffer.concat(chunks).toString().trimEnd()}${extra}` });
    };
    child.on('error', (error) => done(1, error.message));
    child.on('close', (code, signal) => done(code ?? 1, signal === null ? '' : `\nended by ${signal}`));
  });
}

async function check(name: string, args: string[]): Promise<boolean> {
  const started = performance.now();
  const { code, text } = await run(args, 'kept');
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`${code === 0 ? 'passed' : 'FAILED'}  ${name} (${seconds} s)`);
  if (code !== 0) console.log(`${text}\n`);
  return code === 0;
}

async function runTests(filters: string[]): Promise<Tally> {
  const first = await runVitest(filters);
  const broken = brokenOff(first.report);
  if (first.report === undefined || broken.length === 0) return tally(first.report, first.code);
  // V8 itself breaks a process off once in some hundred runs (“Check failed: jit_page.has_value()”,
  // github.com/nodejs/node/issues/64500). A file that it happened to says nothing, so it is asked once more, and that is said.
  for (const file of broken) console.log(`AGAIN   ${file}: the process it ran in broke off`);
  const second = await runVitest(broken);
  if (second.report === undefined) return tally(first.report, first.code);
  return tally(withSecond(first.report, second.report), second.code);
}

async function runVitest(filters: string[]): Promise<{ report: VitestReport | undefined; code: number }> {
  const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-tests-'));
  const reportFile = path.join(folder, 'report.json');
  try {
    const { code } = await run(
      [binOf('vitest'), 'run', '--reporter=default', '--reporter=json', `--outputFile.json=${reportFile}`, ...filters],
      'shown',
    );
    const report = existsSync(reportFile) ? (JSON.parse(readFileSync(reportFile, 'utf8')) as VitestReport) : undefined;
    return { report, code };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const FAST = '--fast';
const NOT_FAST = ['tests/browser/**', 'tests/faults/**', 'tests/hosts/**', 'tests/**/*.long.test.ts'];

const fast = process.argv.includes(FAST);
const filters = process.argv.slice(2).filter((argument) => argument !== FAST);
const checks: boolean[] = [];
if (filters.length === 0) {
  checks.push(await check('type check', [binOf('typescript', 'tsc'), '-p', '.']));
  checks.push(await check('lint', [binOf('oxlint'), '--deny-warnings']));
  checks.push(await check('dead exports', [binOf('knip'), '--no-progress']));
  checks.push(await check('format', [binOf('oxfmt'), '--check', '.']));
}
if (!fast) checks.push(await check('build', [path.join(root, 'electron/build.ts')]));
const total = await runTests(fast ? [...filters, ...NOT_FAST.flatMap((glob) => ['--exclude', glob])] : filters);
total.passed += checks.filter((passed) => passed).length;
total.failed += checks.filter((passed) => !passed).length;
for (const fault of total.faults) console.log(`FAILED  ${fault}`);
console.log(lastLine(total));
process.exitCode ||= total.failed === 0 ? 0 : 1;
