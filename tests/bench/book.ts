import { createHash } from 'node:crypto';
import { constants, copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { makeDemoBook } from '../../core/demo/make-demo-book.ts';

export const BENCH_TODAY = '2026-10-12';
export const BENCH_SEED = 7;
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const BENCH_FOLDER = path.join(tmpdir(), 'valvebook-bench');

/** The large book, made once for a state of the generator and the migrations and kept in the temporary folder. */
export async function largeBook(
  properties: number,
  entriesPerProperty: number,
  say: (text: string) => void,
): Promise<string> {
  mkdirSync(BENCH_FOLDER, { recursive: true });
  const file = path.join(BENCH_FOLDER, `${properties}-${entriesPerProperty}-${sourceHash()}.valvebook`);
  if (existsSync(file)) return file;
  for (const old of readdirSync(BENCH_FOLDER))
    if (old.startsWith(`${properties}-${entriesPerProperty}-`)) rmSync(path.join(BENCH_FOLDER, old), { force: true });
  const start = performance.now();
  let last = 0;
  const { counts } = await makeDemoBook({
    path: file,
    properties,
    seed: BENCH_SEED,
    today: BENCH_TODAY,
    ledgerEntriesPerProperty: entriesPerProperty,
    onProgress: ({ done, total, label }) => {
      if (performance.now() - last < 5000) return;
      last = performance.now();
      say(`making the large book: ${label}, ${done} of ${total}`);
    },
  });
  say(
    `made the large book in ${((performance.now() - start) / 1000).toFixed(1)} s: ${counts.property} properties, ${counts.zone} zones, ${counts.ledgerEntry} ledger entries, ${(statSync(file).size / 1e6).toFixed(0)} MB`,
  );
  return file;
}

/** A copy to write in; gone with `remove`. */
export function copyOf(book: string, name: string): { path: string; remove(): void } {
  const copy = path.join(BENCH_FOLDER, `copy-${process.pid}-${name}.valvebook`);
  const remove = () => {
    for (const end of ['', '-wal', '-shm', '-lock']) rmSync(`${copy}${end}`, { force: true });
  };
  remove();
  copyFileSync(book, copy, constants.COPYFILE_FICLONE);
  return { path: copy, remove };
}

function sourceHash(): string {
  const hash = createHash('sha256');
  for (const folder of ['core/demo', 'assets/demo', 'migrations']) {
    for (const name of readdirSync(path.join(ROOT, folder)).sort())
      hash.update(name).update(readFileSync(path.join(ROOT, folder, name)));
  }
  return hash.digest('hex').slice(0, 12);
}
