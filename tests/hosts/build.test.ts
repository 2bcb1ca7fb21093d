import { readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import path from 'node:path';
import { Worker } from 'node:worker_threads';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findRequest } from '../../core/contract/index.ts';
import { openDesk } from '../../core/desk/desk.ts';
import { ensureBuilt } from '../../electron/build.ts';
import { importsOf } from '../lint/direction.ts';
import { makeCheckout } from './temp-checkout.ts';

// The real build of the shell, in a copy of the sources with a renderer of one line.

let root: string;
const shell = () => path.join(root, 'dist/electron');

beforeAll(async () => {
  root = makeCheckout();
  await ensureBuilt({ root, shell: true });
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

describe('the build', () => {
  it('runs again only when a source was changed, added or deleted, and only for what it concerns', async () => {
    expect(await ensureBuilt({ root, shell: true })).toEqual([]);
    writeFileSync(path.join(root, 'renderer/main.ts'), "document.body.textContent = 'two, longer';\n");
    expect(await ensureBuilt({ root, shell: true })).toEqual(['renderer']);
    writeFileSync(path.join(root, 'electron/extra.ts'), 'export {};\n');
    expect(await ensureBuilt({ root, shell: false })).toEqual([]);
    expect(await ensureBuilt({ root, shell: true })).toEqual(['electron']);
    rmSync(path.join(root, 'electron/extra.ts'));
    expect(await ensureBuilt({ root, shell: true })).toEqual(['electron']);
    expect(await ensureBuilt({ root, shell: true })).toEqual([]);
  });

  it('keeps the last good build when a source is broken', async () => {
    const file = path.join(root, 'renderer/main.ts');
    const good = readFileSync(file, 'utf8');
    const page = readFileSync(path.join(root, 'dist/renderer/index.html'), 'utf8');
    writeFileSync(file, "import './nowhere.ts';\n");
    await expect(ensureBuilt({ root, shell: false })).rejects.toThrow(/nowhere/);
    expect(readFileSync(path.join(root, 'dist/renderer/index.html'), 'utf8')).toBe(page);
    expect(readdirSync(path.join(root, 'dist')).filter((name) => name.startsWith('.'))).toEqual([]);
    writeFileSync(file, good);
    await ensureBuilt({ root, shell: false });
  });

  it('writes a page that a policy without inline scripts lets run', () => {
    const html = readFileSync(path.join(root, 'dist/renderer/index.html'), 'utf8');
    expect(html).toMatch(/<script type="module"[^>]* src="\.\/assets\//);
    expect(html).not.toMatch(/<script(?![^>]* src=)/);
    expect(html).not.toMatch(/ on\w+=/);
  });

  it('needs nothing at run time but Node, Electron and better-sqlite3', () => {
    const names = readdirSync(shell());
    expect(names).toEqual(expect.arrayContaining(['main.js', 'preload.cjs', 'job-worker.js', 'read-worker.js']));
    const wanted = new Set<string>();
    for (const name of names) {
      for (const line of readFileSync(path.join(shell(), name), 'utf8').split('\n')) {
        if (/^(import|export)\b|\brequire\(/.test(line))
          for (const { specifier } of importsOf(line)) wanted.add(specifier);
      }
    }
    const strange = [...wanted].filter(
      (name) => !name.startsWith('node:') && !name.startsWith('./') && !builtinModules.includes(name),
    );
    expect(strange.sort()).toEqual(['better-sqlite3', 'electron']);
    // The sandbox's own loader knows only this one.
    expect(
      importsOf(readFileSync(path.join(shell(), 'preload.cjs'), 'utf8')).map(({ specifier }) => specifier),
    ).toEqual(['electron']);
  });

  it('bundles a worker that does its work', async () => {
    const bookPath = path.join(root, 'new.valvebook');
    await (await openDesk({ bookPath, create: true })).close();
    const worker = new Worker(path.join(shell(), 'job-worker.js'), {
      workerData: { bookPath, access: 'read' },
    });
    worker.postMessage({
      name: 'book.check',
      // As the desk hands it on: with every default filled in.
      input: findRequest('book.check')?.input.parse({}),
      today: '2026-04-15',
      cancelFlag: new Int32Array(new SharedArrayBuffer(4)),
    });
    const result = await new Promise<unknown>((resolve, reject) => {
      worker.on('message', (message: { result?: unknown; failure?: unknown }) => {
        if (message.result !== undefined || message.failure !== undefined) resolve(message.result ?? message.failure);
      });
      worker.on('error', reject);
    });
    expect(result).toMatchObject({ clean: true });
  });
});
