import {
  chmodSync,
  createReadStream,
  createWriteStream,
  existsSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { homedir, tmpdir } from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { setTimeout as sleep } from 'node:timers/promises';
import { createBrotliDecompress } from 'node:zlib';
import { chromium, type Browser } from 'playwright-core';

/** Switches that keep the browser off the network's back and out of the machine's graphics. */
const ARGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-dev-shm-usage',
  '--font-render-hinting=none',
  '--hide-scrollbars',
];

const SYSTEM_BROWSERS: Record<string, string[]> = {
  linux: [
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    '/usr/bin/google-chrome-stable',
    '/snap/bin/chromium',
    '/opt/google/chrome/chrome',
  ],
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
  ],
};

interface Found {
  executablePath: string;
  env: Record<string, string>;
}

/**
 * Starts a headless Chromium: CHROMIUM_PATH, else one installed on the machine, else the one that
 * comes inside @sparticuz/chromium (Linux x64), unpacked once into a cache folder.
 */
export async function launchBrowser(): Promise<Browser> {
  const tried: string[] = [];
  for (const find of [fromEnvironment, fromSystem, fromPackage]) {
    const found = await find();
    if (found === undefined) continue;
    try {
      return await chromium.launch({
        executablePath: found.executablePath,
        args: ARGS,
        env: { ...definedEnvironment(), ...found.env },
        timeout: 120_000,
      });
    } catch (error) {
      tried.push(
        `${found.executablePath}: ${error instanceof Error ? error.message.split('\n').slice(0, 12).join('\n') : String(error)}`,
      );
      // A path that was asked for by name is meant; falling through to another browser would hide the mistake.
      if (find === fromEnvironment) break;
    }
  }
  throw new Error(`No Chromium could be started. Set CHROMIUM_PATH to one.\n${tried.join('\n')}`);
}

async function fromEnvironment(): Promise<Found | undefined> {
  const asked = process.env.CHROMIUM_PATH;
  return asked ? { executablePath: asked, env: {} } : undefined;
}

async function fromSystem(): Promise<Found | undefined> {
  const executablePath = (SYSTEM_BROWSERS[process.platform] ?? []).find((file) => existsSync(file));
  return executablePath === undefined ? undefined : { executablePath, env: {} };
}

async function fromPackage(): Promise<Found | undefined> {
  if (process.platform !== 'linux' || process.arch !== 'x64') return undefined;
  const require = createRequire(import.meta.url);
  const bin = path.join(path.dirname(require.resolve('@sparticuz/chromium')), '..', 'bin');
  const size = statSync(path.join(bin, 'chromium.br')).size;
  const home = path.join(cacheFolder(), `chromium-${size}`);
  await unpackOnce(bin, home);
  const libraries = [path.join(home, 'lib'), home, process.env.LD_LIBRARY_PATH].filter(
    (entry) => entry !== undefined && entry !== '',
  );
  return {
    executablePath: path.join(home, 'chromium'),
    env: { LD_LIBRARY_PATH: libraries.join(':'), FONTCONFIG_FILE: path.join(home, 'fonts.conf') },
  };
}

function cacheFolder(): string {
  const base = process.env.XDG_CACHE_HOME || path.join(homedir(), '.cache');
  try {
    mkdirSync(path.join(base, 'valvebook-tests'), { recursive: true });
    return path.join(base, 'valvebook-tests');
  } catch {
    return path.join(tmpdir(), 'valvebook-tests');
  }
}

/** Unpacks into a folder of its own and renames it into place, so that two test runs cannot meet half a browser. */
async function unpackOnce(bin: string, home: string): Promise<void> {
  if (existsSync(path.join(home, 'complete'))) return;
  const work = `${home}.${process.pid}.${Date.now()}`;
  mkdirSync(work, { recursive: true });
  try {
    await pipeline(
      createReadStream(path.join(bin, 'chromium.br')),
      createBrotliDecompress(),
      createWriteStream(path.join(work, 'chromium'), { mode: 0o755 }),
    );
    chmodSync(path.join(work, 'chromium'), 0o755);
    await untar(path.join(bin, 'al2023.tar.br'), work);
    await untar(path.join(bin, 'swiftshader.tar.br'), work);
    await untar(path.join(bin, 'fonts.tar.br'), path.join(work, 'fonts'));
    writeFileSync(path.join(work, 'fonts.conf'), fontsConfiguration(home));
    writeFileSync(path.join(work, 'complete'), `${new Date().toISOString()}\n`);
    try {
      renameSync(work, home);
    } catch (error) {
      // Another run was first.
      for (let wait = 0; !existsSync(path.join(home, 'complete')); wait += 1) {
        if (wait > 20) throw error;
        await sleep(250);
      }
    }
  } finally {
    rmSync(work, { recursive: true, force: true });
  }
}

function fontsConfiguration(home: string): string {
  const folders = [
    path.join(home, 'fonts'),
    '/usr/share/fonts',
    '/usr/local/share/fonts',
    path.join(homedir(), '.fonts'),
  ];
  return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
${folders.map((folder) => `  <dir>${folder}</dir>`).join('\n')}
  <cachedir>${path.join(home, 'fontcache')}</cachedir>
</fontconfig>
`;
}

/** The few tar features these archives use: files, folders, symbolic links; anything else is refused. */
async function untar(archive: string, target: string): Promise<void> {
  const chunks: Buffer[] = [];
  await pipeline(
    createReadStream(archive),
    createBrotliDecompress(),
    async function collect(source: AsyncIterable<Buffer>) {
      for await (const chunk of source) chunks.push(chunk);
    },
  );
  const bytes = Buffer.concat(chunks);
  const text = (from: number, length: number) =>
    bytes
      .toString('utf8', from, from + length)
      .replace(/\0.*$/s, '')
      .trim();
  for (let at = 0; at + 512 <= bytes.length;) {
    const name = [text(at + 345, 155), text(at, 100)].filter((part) => part !== '').join('/');
    if (name === '') break;
    const size = Number.parseInt(text(at + 124, 12) || '0', 8);
    const type = text(at + 156, 1) || '0';
    const out = path.join(target, path.normalize(`/${name}`));
    if (type === '5') mkdirSync(out, { recursive: true });
    else if (type === '2') {
      mkdirSync(path.dirname(out), { recursive: true });
      symlinkSync(text(at + 157, 100), out);
    } else if (type === '0') {
      mkdirSync(path.dirname(out), { recursive: true });
      await pipeline(
        Readable.from([bytes.subarray(at + 512, at + 512 + size)]),
        createWriteStream(out, { mode: 0o755 }),
      );
    } else if (type !== 'x' && type !== 'g')
      throw new Error(`${archive} holds an entry of type ${type}, which is not understood`);
    at += 512 + Math.ceil(size / 512) * 512;
  }
  if (readdirSync(target).length === 0) throw new Error(`${archive} was empty`);
}

function definedEnvironment(): Record<string, string> {
  return Object.fromEntries(
    Object.entries(process.env).filter((entry): entry is [string, string] => entry[1] !== undefined),
  );
}
