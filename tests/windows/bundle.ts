import { readdirSync } from 'node:fs';
import path from 'node:path';
import { build } from 'vite';

/** The groups of checks, by the names of their files. */
export function groupNames(): string[] {
  return readdirSync(path.join(import.meta.dirname, 'checks'))
    .map((file) => path.basename(file, '.ts'))
    .sort();
}

/** What is bundled: the table with its checks, the processes it starts, and the job worker. Whole paths by name. */
export function bundleEntries(root: string): Record<string, string> {
  const here = import.meta.dirname;
  return {
    table: path.join(here, 'table.ts'),
    'hold-book': path.join(here, 'hold-book.ts'),
    writer: path.join(here, 'writer.ts'),
    'job-worker': path.join(root, 'core/desk/job-worker.ts'),
    'read-worker': path.join(root, 'core/desk/read-worker.ts'),
    ...Object.fromEntries(groupNames().map((group) => [`checks-${group}`, path.join(here, 'checks', `${group}.ts`)])),
  };
}

/**
 * Bundles core, the hosts and the checks the way the packaged app is bundled: under Wine each of a thousand modules costs
 * more to find than to run. The job worker lies beside them, as it does there. Returns the folder.
 */
export async function bundleChecks(root: string): Promise<string> {
  const outDir = path.join(root, 'dist', 'windows');
  const input = bundleEntries(root);
  await build({
    configFile: false,
    root,
    logLevel: 'warn',
    publicDir: false,
    ssr: { noExternal: true, external: ['electron', 'better-sqlite3'] },
    build: {
      ssr: true,
      outDir,
      emptyOutDir: true,
      target: 'node22',
      minify: false,
      reportCompressedSize: false,
      rolldownOptions: { input, output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' } },
    },
  });
  return outDir;
}
