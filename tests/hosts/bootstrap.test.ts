import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

// The bootstrap on a made-up checkout, with a made-up npm that "installs" this Node as the private one.

const bootstrap = path.resolve(import.meta.dirname, '../../electron/bootstrap.mjs');
let root: string;

const FAKE_NPM = `
import { appendFileSync, mkdirSync, symlinkSync, writeFileSync, existsSync, rmSync } from 'node:fs';
appendFileSync('npm-calls', process.argv.slice(2).join(' ') + '\\n');
console.log('npm says something on stdout');
if (existsSync('npm-fails')) process.exit(7);
await new Promise((resolve) => setTimeout(resolve, 300));
mkdirSync('node_modules/.bin', { recursive: true });
// Like the real one: the Node only comes with the install script of its package.
if (process.argv[2] === 'rebuild') symlinkSync(${JSON.stringify(process.execPath)}, 'node_modules/.bin/node');
else {
  rmSync('node_modules/.bin/node', { force: true });
  writeFileSync('node_modules/.package-lock.json', '{}');
}
`;
const CLI = `
import { writeFileSync } from 'node:fs';
const [what, ...rest] = process.argv.slice(2);
if (what === 'exit') process.exit(Number(rest[0]));
if (what === 'wait') {
  process.on('SIGTERM', () => { console.log('told to stop'); process.exit(5); });
  console.log('waiting');
  setInterval(() => undefined, 1000);
} else console.log(JSON.stringify({ args: [what, ...rest], dir: process.env.VALVEBOOK_CALLER_DIR }));
`;

beforeEach(() => {
  root = mkdtempSync(path.join(tmpdir(), 'valvebook-bootstrap-'));
  mkdirSync(path.join(root, 'electron'));
  writeFileSync(path.join(root, 'electron/cli.ts'), CLI);
  writeFileSync(path.join(root, 'package.json'), '{"type":"module"}');
  writeFileSync(path.join(root, 'package-lock.json'), '{"lockfileVersion":3}');
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

interface Ended {
  code: number | null;
  stdout: string;
  stderr: string;
}
function start(
  args: string[],
  onOutput?: (text: string, kill: (signal: NodeJS.Signals) => void) => void,
): Promise<Ended> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [bootstrap, ...args], {
      cwd: root,
      env: {
        ...process.env,
        VALVEBOOK_BOOTSTRAP_ROOT: root,
        npm_execpath: path.join(root, 'npm.js'),
        npm_node_execpath: process.execPath,
        INIT_CWD: '/somewhere',
      },
    });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (chunk: Buffer) => {
      stdout += chunk.toString();
      onOutput?.(stdout, (signal) => child.kill(signal));
    });
    child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
    child.on('close', (code) => resolve({ code, stdout, stderr }));
  });
}
const npmCalls = () =>
  existsSync(path.join(root, 'npm-calls')) ? readFileSync(path.join(root, 'npm-calls'), 'utf8').trim().split('\n') : [];

describe('the bootstrap', () => {
  beforeEach(() => {
    // npm's entry is a .js file; in this package of modules that is a module.
    writeFileSync(path.join(root, 'npm.js'), FAKE_NPM);
  });

  it('installs what is missing, once, and keeps stdout to the program it starts', async () => {
    const first = await start(['cli', 'requests', '--x', 'a b']);
    expect(first.code).toBe(0);
    expect(JSON.parse(first.stdout)).toEqual({ args: ['requests', '--x', 'a b'], dir: '/somewhere' });
    expect(first.stderr).toContain('installing');
    // Nothing may be compiled or downloaded by a package's own script, but for the one that brings Node.
    expect(npmCalls()).toEqual([expect.stringMatching(/^ci --ignore-scripts /), 'rebuild node --ignore-scripts=false']);
    const second = await start(['cli', 'again']);
    expect(JSON.parse(second.stdout)).toMatchObject({ args: ['again'] });
    expect(second.stderr).toBe('');
    expect(npmCalls()).toHaveLength(2);
  });

  it('fetches only its Node where somebody installed the packages by hand without scripts', async () => {
    mkdirSync(path.join(root, 'node_modules'));
    writeFileSync(path.join(root, 'node_modules/.package-lock.json'), '{}');
    expect((await start(['cli', 'x'])).code).toBe(0);
    expect(npmCalls()).toEqual([expect.stringMatching(/^rebuild node /)]);
  });

  it('installs again when the lock file has changed, and only then', async () => {
    await start(['cli', 'x']);
    const later = new Date(Date.now() + 60_000);
    utimesSync(path.join(root, 'package-lock.json'), later, later);
    await start(['cli', 'x']);
    expect(npmCalls()).toHaveLength(2);
    writeFileSync(path.join(root, 'package-lock.json'), '{"lockfileVersion":3,"changed":true}');
    await start(['cli', 'x']);
    expect(npmCalls()).toHaveLength(4);
  });

  it('uses npm install where there is no lock file', async () => {
    rmSync(path.join(root, 'package-lock.json'));
    expect((await start(['cli', 'x'])).code).toBe(0);
    expect(npmCalls()).toEqual([expect.stringMatching(/^install /), expect.stringMatching(/^rebuild node /)]);
  });

  it('lets two starts at once install only once', async () => {
    const both = await Promise.all([start(['cli', 'one']), start(['cli', 'two'])]);
    expect(both.map(({ code }) => code)).toEqual([0, 0]);
    expect(npmCalls()).toHaveLength(2);
    expect(existsSync(path.join(root, '.valvebook-install-lock'))).toBe(false);
  });

  it('takes over the lock of a start that was killed', async () => {
    const lock = path.join(root, '.valvebook-install-lock');
    mkdirSync(lock);
    const long = new Date(Date.now() - 120_000);
    utimesSync(lock, long, long);
    expect((await start(['cli', 'x'])).code).toBe(0);
    expect(npmCalls()).toHaveLength(2);
  });

  it('passes on how the install failed and tries again next time', async () => {
    writeFileSync(path.join(root, 'npm-fails'), '');
    const failed = await start(['cli', 'x']);
    expect(failed.code).toBe(7);
    expect(failed.stdout).toBe('');
    rmSync(path.join(root, 'npm-fails'));
    expect((await start(['cli', 'x'])).code).toBe(0);
  });

  it('passes the exit code and signals through', async () => {
    expect((await start(['cli', 'exit', '2'])).code).toBe(2);
    let told = false;
    const stopped = await start(['cli', 'wait'], (text, kill) => {
      if (!told && text.includes('waiting')) {
        told = true;
        kill('SIGTERM');
      }
    });
    expect(stopped.stdout).toContain('told to stop');
    expect(stopped.code).toBe(5);
  });

  it('explains itself when it is asked for something else', async () => {
    const odd = await start(['toString']);
    expect(odd.code).toBe(2);
    expect(odd.stderr).toContain('usage');
    expect(npmCalls()).toEqual([]);
  });
});
