import { appendFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { groundIn, Skipped, type Check } from './check.ts';

// Runs one file of checks inside Windows: table.ts CHECKS.ts RESULTS, a line of JSON in RESULTS as each one ends.

const [file, results] = process.argv.slice(2) as [string, string];
const { checks } = (await import(pathToFileURL(file).href)) as { checks: Check[] };
const note = (line: Record<string, unknown>) => appendFileSync(results, `${JSON.stringify(line)}\n`);
note({ names: checks.map(({ name }) => name) });
for (const { name, run } of checks) {
  const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-windows-'));
  const ground = groundIn(folder);
  try {
    const word = await run(ground);
    await ground.close();
    note({ name, state: 'passed', ...(word === undefined ? {} : { word }) });
  } catch (error) {
    await ground.close().catch(() => undefined);
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    note(
      error instanceof Skipped
        ? { name, state: 'skipped', word: error.message }
        : { name, state: 'failed', word: text },
    );
  } finally {
    try {
      rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
    } catch (error) {
      // A file that stayed open is found by the check that closes a book and removes it.
      console.error(`${folder} could not be removed: ${String(error)}`);
    }
  }
}
// A timer or socket that a check left behind must not hold the table up.
process.exit(0);
