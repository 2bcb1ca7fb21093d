import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { findWine, startWine, thisWindows, type Windows } from './wine.ts';

// npm run windows: core and the loopback host in Windows' own Node, as a table. `npm run windows -- paths` runs some.

export interface Row {
  name: string;
  state: 'passed' | 'failed' | 'skipped';
  word?: string;
}

const root = path.resolve(import.meta.dirname, '../..');
const GROUP_MS = 900_000;

/** The rows of a group from what it noted; a check that never ended has failed. */
export function rowsOf(group: string, noted: string, end: 'ended' | 'stopped' | number): Row[] {
  const lines = noted
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Row & { names?: string[] });
  const names = lines.find((line) => line.names !== undefined)?.names;
  if (names === undefined) return [{ name: group, state: 'failed', word: `could not be loaded (${end})` }];
  return names.map(
    (name) =>
      lines.find((line) => line.name === name) ?? {
        name,
        state: 'failed',
        word: end === 'stopped' ? 'did not end in time' : `the program ended before it (${end})`,
      },
  );
}

/** The last line. */
export function countsOf(rows: Row[]): string {
  const count = (state: Row['state']) => rows.filter((row) => row.state === state).length;
  const skipped = count('skipped');
  return `${count('passed')} passed, ${count('failed')} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}

async function runGroup(windows: Windows, bundle: string, group: string): Promise<Row[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-windows-results-'));
  try {
    const results = path.join(folder, 'results');
    const output = path.join(folder, 'output');
    const checks = windows.pathOf(path.join(bundle, `checks-${group}.js`));
    const end = await windows.node(path.join(bundle, 'table.js'), [checks, windows.pathOf(results)], output, GROUP_MS);
    const rows = rowsOf(group, existsSync(results) ? readFileSync(results, 'utf8') : '', end);
    for (const row of rows) console.log(lineOf(group, row));
    if (rows.some((row) => row.state === 'failed')) console.log(indented(readFileSync(output, 'utf8').slice(-4000)));
    return rows;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function lineOf(group: string, { name, state, word }: Row): string {
  const line = `${state.padEnd(8)}${group.padEnd(10)}${name}`;
  if (word === undefined) return line;
  return state === 'failed' ? `${line}\n${indented(word)}` : `${line} (${word})`;
}

function indented(text: string): string {
  return text.trimEnd().replaceAll(/^/gm, '        ');
}

/** Runs the table. Returns the exit code. */
export async function runWindows(filters: string[], wine = findWine()): Promise<number> {
  if (process.platform !== 'win32' && wine === undefined) {
    console.log(
      'skipped: there is no Wine on this machine (Debian: apt-get install wine64), so nothing of Windows was tried.',
    );
    return 0;
  }
  // The bundler is loaded only where there is something to bundle for.
  const { bundleChecks, groupNames } = await import('./bundle.ts');
  const { ensureBuilt } = await import('../../electron/build.ts');
  const groups = groupNames().filter((group) => filters.length === 0 || filters.includes(group));
  await ensureBuilt({ shell: false, say: (text) => console.log(text) });
  const bundle = await bundleChecks(root);
  const windows = process.platform === 'win32' ? thisWindows() : await startWine(wine!, (text) => console.log(text));
  const rows: Row[] = [];
  try {
    for (const group of groups) rows.push(...(await runGroup(windows, bundle, group)));
  } finally {
    windows.close();
  }
  if (rows.length === 0) rows.push({ name: 'no check of that name', state: 'failed' });
  console.log(countsOf(rows));
  return rows.some((row) => row.state === 'failed') ? 1 : 0;
}

if (import.meta.main) process.exitCode = await runWindows(process.argv.slice(2));
