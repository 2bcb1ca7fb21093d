#!/usr/bin/env node
// The one door of every npm script. It runs on whatever Node the machine has (18 or newer) with nothing
// installed, so: no dependency, no TypeScript, nothing newer than Node 18. It installs what is missing and
// then hands over to the Node 24 that the `node` package brings. Its own words go to stderr only.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { constants } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(
  process.env.VALVEBOOK_BOOTSTRAP_ROOT ?? path.join(path.dirname(fileURLToPath(import.meta.url)), '..'),
);
const modules = path.join(root, 'node_modules');
const stampFile = path.join(modules, '.valvebook-install');
const lockDir = path.join(root, '.valvebook-install-lock');
const windows = process.platform === 'win32';
const STALE_LOCK_MS = 30_000;
const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'];
const ENTRIES = {
  start: ['electron/launch.ts'],
  cli: ['electron/cli.ts'],
  test: ['tests/run.ts'],
  bench: ['tests/bench/run.ts'],
  build: ['electron/build.ts', '--force'],
  package: ['electron/package.ts'],
  windows: ['tests/windows/run.ts'],
  faults: ['tests/faults/run.ts'],
  mutants: ['tests/mutants/run.ts'],
};

function say(text) {
  process.stderr.write(`${text}\n`);
}

function privateNode() {
  const candidates = windows ? ['node/bin/node.exe', 'node/node.exe', '.bin/node.exe'] : ['.bin/node', 'node/bin/node'];
  return candidates.map((name) => path.join(modules, name)).find((file) => existsSync(file));
}

function lockHash() {
  const lock = path.join(root, 'package-lock.json');
  const source = existsSync(lock) ? lock : path.join(root, 'package.json');
  return createHash('sha256').update(readFileSync(source)).digest('hex');
}

/** True when what is installed is what the lock file asks for, and can run. */
function installed() {
  return privateNode() !== undefined && packagesInstalled();
}

function packagesInstalled() {
  if (existsSync(stampFile)) return readFileSync(stampFile, 'utf8').trim() === lockHash();
  // Somebody ran npm by hand: npm's own record of what it installed tells by its age.
  const record = path.join(modules, '.package-lock.json');
  const lock = path.join(root, 'package-lock.json');
  if (!existsSync(record)) return false;
  return !existsSync(lock) || statSync(record).mtimeMs >= statSync(lock).mtimeMs;
}

function run(command, args, options) {
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd: root, ...options });
    const relay = (signal) => child.kill(signal);
    for (const signal of SIGNALS) process.on(signal, relay);
    // npm passes a signal to the shell between it and us, and that shell dies without passing it on.
    const parent = process.ppid;
    const orphanWatch = setInterval(() => {
      if (process.ppid !== parent) child.kill('SIGTERM');
    }, 500);
    if (windows || process.env.npm_lifecycle_event === undefined) clearInterval(orphanWatch);
    const done = (code) => {
      clearInterval(orphanWatch);
      for (const signal of SIGNALS) process.off(signal, relay);
      resolve(code);
    };
    child.on('error', (error) => {
      say(`Could not start ${command}: ${error.message}`);
      done(127);
    });
    child.on('exit', (code, signal) => done(code ?? 128 + (constants.signals[signal] ?? 1)));
  });
}

/** npm as it was started, else npm from the PATH; its output goes to stderr. */
function npm(args) {
  const env = { ...process.env, ELECTRON_SKIP_BINARY_DOWNLOAD: '1', npm_config_loglevel: 'error' };
  // The flags of the npm command that started this (`--silent`, `--json` …) are not meant for the install.
  for (const name of ['npm_config_json', 'npm_config_dry_run', 'npm_config_production', 'npm_config_omit', 'NODE_ENV'])
    delete env[name];
  const stdio = ['ignore', 2, 2];
  const npmCli = process.env.npm_execpath;
  const npmNode = process.env.npm_node_execpath;
  if (npmCli && npmNode && /\.c?js$/.test(npmCli) && existsSync(npmCli) && !npmNode.startsWith(modules)) {
    return run(npmNode, [npmCli, ...args], { env, stdio });
  }
  return windows ? run('npm.cmd', args, { env, stdio, shell: true }) : run('npm', args, { env, stdio });
}

async function install() {
  say('Valvebook: installing what this copy needs; the first time takes a minute …');
  if (!packagesInstalled()) {
    const hasLock = existsSync(path.join(root, 'package-lock.json'));
    // On Windows a running node.exe cannot be deleted, and `npm ci` deletes node_modules first.
    const runsFromModules = windows && process.execPath.startsWith(modules);
    rmSync(stampFile, { force: true });
    // No install script of any package runs: they would compile what already comes as a binary, or download what is
    // not needed. The one exception is the package that fetches the private Node, below.
    const code = await npm([
      hasLock && !runsFromModules ? 'ci' : 'install',
      '--ignore-scripts',
      '--include=dev',
      '--no-audit',
      '--no-fund',
    ]);
    if (code !== 0) return code;
  }
  const code = await npm(['rebuild', 'node', '--ignore-scripts=false']);
  if (privateNode() === undefined) {
    say('Valvebook: its own Node could not be installed; what npm says is above. Check the network and try again.');
    return code || 1;
  }
  writeFileSync(stampFile, `${lockHash()}\n`);
  return 0;
}

function tryLock() {
  try {
    mkdirSync(lockDir);
    return true;
  } catch (error) {
    if (error.code === 'EEXIST') return false;
    throw error;
  }
}

function lockAge() {
  try {
    return Date.now() - statSync(lockDir).mtimeMs;
  } catch {
    return 0;
  }
}

/** One install at a time: a second start waits for the first and then finds everything there. */
async function ensureInstalled() {
  let told = false;
  while (!installed()) {
    let locked;
    try {
      locked = tryLock();
    } catch (error) {
      say(
        `Valvebook: cannot write to ${root} (${error.code}), so it cannot install what it needs. Copy it to a folder of yours.`,
      );
      return 1;
    }
    if (locked) {
      // The holder touches the lock while it lives; one that was killed stops touching it.
      const beat = setInterval(() => {
        const now = new Date();
        try {
          utimesSync(lockDir, now, now);
        } catch {
          // Deleted by hand: the install still ends well.
        }
      }, 5_000);
      try {
        return installed() ? 0 : await install();
      } finally {
        clearInterval(beat);
        rmSync(lockDir, { recursive: true, force: true });
      }
    }
    if (lockAge() > STALE_LOCK_MS) {
      rmSync(lockDir, { recursive: true, force: true });
      continue;
    }
    if (!told) say('Valvebook: another start is installing; waiting for it …');
    told = true;
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
  return 0;
}

async function main() {
  const [name, ...args] = process.argv.slice(2);
  const entry = Object.hasOwn(ENTRIES, name ?? '') ? ENTRIES[name] : undefined;
  if (entry === undefined) {
    say(`usage: node electron/bootstrap.mjs ${Object.keys(ENTRIES).join(' | ')} [arguments]`);
    return 2;
  }
  const code = await ensureInstalled();
  if (code !== 0) return code;
  const [file, ...fixed] = entry;
  // The caller's folder stays the working folder for relative paths; npm puts the root there and says where it came from.
  return run(privateNode(), [path.join(root, file), ...fixed, ...args], {
    stdio: 'inherit',
    cwd: process.cwd(),
    env: { ...process.env, VALVEBOOK_CALLER_DIR: process.env.INIT_CWD ?? process.cwd() },
  });
}

process.exitCode = await main();
