import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { build, type InlineConfig } from 'vite';
import { projectRoot } from './places.ts';

// Builds what a browser or Electron needs, and only when a source has changed since the last time.

interface Part {
  name: 'renderer' | 'electron';
  sources: string[];
  build(root: string, outDir: string): Promise<void>;
}

const renderer: Part = {
  name: 'renderer',
  sources: ['renderer', 'assets', 'core', 'vite.config.ts', 'package-lock.json'],
  async build(root, outDir) {
    await build({
      configFile: path.join(root, 'vite.config.ts'),
      logLevel: 'warn',
      build: { outDir, emptyOutDir: true },
    });
  },
};

const shell: Part = {
  name: 'electron',
  sources: ['electron', 'core', 'migrations', 'assets', 'package-lock.json'],
  async build(root, outDir) {
    await build(
      nodeBundle(
        root,
        outDir,
        {
          main: path.join(root, 'electron/main.ts'),
          'job-worker': path.join(root, 'core/desk/job-worker.ts'),
          'read-worker': path.join(root, 'core/desk/read-worker.ts'),
        },
        'es',
      ),
    );
    // A sandboxed preload is a single CommonJS file.
    await build(nodeBundle(root, outDir, { preload: path.join(root, 'electron/preload.ts') }, 'cjs'));
  },
};

function nodeBundle(root: string, outDir: string, input: Record<string, string>, format: 'es' | 'cjs'): InlineConfig {
  const extension = format === 'cjs' ? 'cjs' : 'js';
  return {
    configFile: false,
    root,
    logLevel: 'warn',
    publicDir: false,
    ssr: { noExternal: true, external: ['electron', 'better-sqlite3'] },
    build: {
      ssr: true,
      outDir,
      emptyOutDir: false,
      target: 'node24',
      minify: false,
      reportCompressedSize: false,
      rolldownOptions: {
        input,
        // The worker is looked for beside the file that starts it, so shared pieces stay in the same folder.
        output: { format, entryFileNames: `[name].${extension}`, chunkFileNames: `[name]-[hash].${extension}` },
      },
    },
  };
}

/** Builds the parts that are stale (all of them when forced). Returns the names of those that were built. */
export async function ensureBuilt(options: {
  shell: boolean;
  force?: boolean;
  root?: string;
  say?: (text: string) => void;
}): Promise<string[]> {
  const root = options.root ?? projectRoot();
  // A packaged app carries its build and no sources.
  if (!existsSync(path.join(root, 'renderer'))) return [];
  const built: string[] = [];
  for (const part of options.shell ? [renderer, shell] : [renderer]) {
    const outDir = path.join(root, 'dist', part.name);
    const stamp = path.join(root, 'dist', `${part.name}.stamp`);
    const now = fingerprint(root, part.sources);
    if (!options.force && existsSync(outDir) && existsSync(stamp) && readFileSync(stamp, 'utf8') === now) continue;
    options.say?.(`Building ${part.name} …`);
    // Built aside and moved into place: a host that is serving never meets half a build.
    const aside = path.join(root, 'dist', `.${part.name}-${process.pid}`);
    dropAbandoned(path.join(root, 'dist'));
    try {
      await part.build(root, aside);
      rmSync(stamp, { force: true });
      moveIntoPlace(aside, outDir);
      mkdirSync(path.dirname(stamp), { recursive: true });
      writeFileSync(stamp, now);
    } finally {
      rmSync(aside, { recursive: true, force: true });
    }
    built.push(part.name);
  }
  return built;
}

/** What builds that were killed left behind. */
function dropAbandoned(folder: string): void {
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder)) {
    const file = path.join(folder, name);
    if (/^\.(renderer|electron)-\d+$/.test(name) && Date.now() - statSync(file).mtimeMs > 10 * 60_000)
      rmSync(file, { recursive: true, force: true });
  }
}

function moveIntoPlace(from: string, to: string): void {
  const old = `${to}.old-${process.pid}`;
  for (let attempt = 0; ; attempt += 1) {
    try {
      if (existsSync(to)) renameSync(to, old);
      renameSync(from, to);
      break;
    } catch (error) {
      // Another build moved its own in between.
      if (attempt >= 5) throw error;
    } finally {
      rmSync(old, { recursive: true, force: true });
    }
  }
}

/** A hash over path, size and time of every source: notices changed, added and deleted files. */
export function fingerprint(root: string, sources: string[]): string {
  const hash = createHash('sha256').update(process.version);
  const look = (file: string): void => {
    const stat = statSync(file, { throwIfNoEntry: false });
    if (stat === undefined) return;
    if (stat.isDirectory()) for (const name of readdirSync(file).sort()) look(path.join(file, name));
    else hash.update(`${path.relative(root, file)} ${stat.size} ${stat.mtimeMs}\n`);
  };
  for (const source of sources) look(path.join(root, source));
  return hash.digest('hex');
}

if (import.meta.main) {
  try {
    const built = await ensureBuilt({
      shell: true,
      force: process.argv.includes('--force'),
      say: (text) => console.error(text),
    });
    console.error(built.length === 0 ? 'Everything is built already.' : `Built: ${built.join(', ')}.`);
  } catch (error) {
    console.error(stripVTControlCharacters(error instanceof Error ? error.message : String(error)));
    process.exitCode = 1;
  }
}
