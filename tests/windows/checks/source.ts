import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { closeSync, openSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { projectRoot } from '../../../electron/places.ts';
import { umlautFolder, type Check, type Ground } from '../check.ts';

/** The command line from its sources, as a checkout on Windows runs it; output to files, since a pipe fails under Wine. */
function cli(ground: Ground, ...args: string[]): { code: number | null; out: string; err: string } {
  const [outPath, errPath] = [path.join(ground.folder, 'out.txt'), path.join(ground.folder, 'err.txt')];
  const [out, err] = [openSync(outPath, 'w'), openSync(errPath, 'w')];
  try {
    const file = path.join(projectRoot(), 'electron', 'cli.ts');
    const { status } = spawnSync(process.execPath, [file, ...args], { stdio: ['ignore', out, err] });
    return { code: status, out: readFileSync(outPath, 'utf8'), err: readFileSync(errPath, 'utf8') };
  } finally {
    closeSync(out);
    closeSync(err);
  }
}

export const checks: Check[] = [
  {
    name: 'the TypeScript sources run as they are: the command line makes a demo book and reads it',
    async run(ground) {
      const book = path.join(umlautFolder(ground), 'b.valvebook');
      const made = cli(ground, 'demo', '--book', book, '--properties', '3', '--today', '2026-06-15');
      assert.equal(made.code, 0, made.err);
      assert.equal((JSON.parse(made.out) as { path: string }).path, book);
      const again = cli(ground, 'demo', '--book', book);
      assert.equal(again.code, 1);
      assert.match(again.err, /never replaces/);
      const device = cli(ground, 'call', 'book.info', '{}', '--book', path.join(ground.folder, 'CON.valvebook'));
      assert.equal(device.code, 1);
      assert.match(device.err, /for a device/);
    },
  },
];
