import { existsSync, renameSync, rmSync } from 'node:fs';
import path from 'node:path';
import { makeDemoBook } from '../core/demo/make-demo-book.ts';
import { todayIn } from '../core/dates.ts';
import { BookError } from '../core/errors.ts';
import { placeOf } from '../core/paths.ts';
import { assertMayBeMade } from '../core/store/new-book.ts';
import { fact } from '../core/text/say.ts';
import { makeFolderFor } from './places.ts';
import type { Progress } from '../core/contract/index.ts';

export const DEMO_PROPERTIES = 60;
export const DEMO_SEED = 1;

export interface DemoOptions {
  path: string;
  properties?: number;
  seed?: number;
  today?: string;
  onProgress?: (progress: Progress) => void;
}

/** Makes a demo book where there is no file yet. It is made aside and renamed, so that a broken-off start leaves no half book. */
export async function makeDemo(options: DemoOptions): Promise<void> {
  placeOf(options.path, 'book');
  if (existsSync(options.path)) {
    throw new BookError('conflict', fact('terminal.demoInTheWay', { path: options.path }), 'book');
  }
  assertMayBeMade(options.path, 'book');
  const aside = path.join(path.dirname(options.path), `.${path.basename(options.path)}.making-${process.pid}`);
  makeFolderFor(options.path);
  try {
    await makeDemoBook({
      path: aside,
      properties: options.properties ?? DEMO_PROPERTIES,
      seed: options.seed ?? DEMO_SEED,
      today: options.today ?? todayIn(),
      onProgress: options.onProgress,
    });
    // Normally emptied into the book when it was closed.
    if (existsSync(`${aside}-wal`)) renameSync(`${aside}-wal`, `${options.path}-wal`);
    renameSync(aside, options.path);
  } finally {
    for (const end of ['', '-wal', '-shm', '-lock']) rmSync(`${aside}${end}`, { force: true });
  }
}
