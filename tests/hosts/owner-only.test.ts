import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';

const ROOT = path.resolve(import.meta.dirname, '../..');

// Windows knows no such modes: there the user's own profile keeps others out.
// The story runs in a process of its own: a worker of the test runner may not set the umask.
describe.skipIf(process.platform === 'win32')('what Valvebook makes belongs to its user alone', () => {
  it('under a umask of 0: every file 0600 and every folder 0700, at every moment', () => {
    const home = mkdtempSync(path.join(tmpdir(), 'valvebook-modes-'));
    onTestFinished(() => rmSync(home, { recursive: true, force: true }));
    chmodSync(home, 0o755);
    const data = path.join(home, 'data');
    mkdirSync(data, { mode: 0o755 });
    const done = spawnSync(process.execPath, [path.join(import.meta.dirname, 'owner-only-story.ts'), home], {
      cwd: ROOT,
      encoding: 'utf8',
      env: { ...process.env, XDG_DATA_HOME: data },
    });
    expect(done.stderr).toBe('');
    const seen = JSON.parse(done.stdout) as Record<string, string[]>;
    // The data folder stands for one that was there before.
    delete seen['data'];
    const folders = new Set(['Valvebook', 'Valvebook/backups', 'Valvebook/exports', 'data/valvebook']);
    const open: string[] = [];
    for (const [name, moments] of Object.entries(seen))
      for (const moment of moments)
        if (!moment.endsWith(folders.has(name) ? ' 700' : ' 600')) open.push(`${name}: ${moment}`);
    expect(open).toEqual([]);
    const names = Object.keys(seen).map((name) => name.replaceAll(/\d{4}-\d\d-\d\d(-\d{6})?/g, 'DATE'));
    for (const name of [
      'Valvebook/company.valvebook',
      'Valvebook/company.valvebook-wal',
      'Valvebook/company.valvebook-shm',
      'Valvebook/company.valvebook-lock',
      'Valvebook/backups/company-DATE.valvebook',
      'Valvebook/backups/company-before-restore-DATE.valvebook',
      'Valvebook/exports/My-company-DATE.zip',
      'data/valvebook/valvebook.log',
      'data/valvebook/demo.valvebook',
    ])
      expect(names).toContain(name);
    expect(names.filter((name) => name.endsWith('.part')).length).toBeGreaterThan(0);
  });
});
