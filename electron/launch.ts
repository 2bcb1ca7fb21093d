import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { constants, homedir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { openDesk, type Desk } from '../core/desk/desk.ts';
import { toFailure } from '../core/errors.ts';
import { ensureBuilt } from './build.ts';
import { draftKeyOf, type DraftKey } from './draft-key.ts';
import { findElectron, hasDisplay } from './electron-binary.ts';
import { KEY_LIFE_MS } from './loopback-door.ts';
import { sayingHowFar } from './how-far.ts';
import { startLoopback, type LoopbackOptions } from './loopback.ts';
import { makeOpeningPage, openInBrowser } from './open-browser.ts';
import {
  dataFolder,
  defaultBook,
  demoBook,
  fromCallersFolder,
  keepToOwner,
  makeFolderFor,
  projectRoot,
  rendererFolder,
  writeLog,
} from './places.ts';

// npm start: picks the host and gets everything ready for it.

const USAGE = `npm start -- [--demo] [--book FILE] [--port N] [--no-open]

  --demo        opens the invented demo company; makes it the first time
  --book FILE   the book to open (else VALVEBOOK_BOOK, else ~/Valvebook/company.valvebook); made where there is none
  --port N      the port of the address in a browser (else the book's own, or any free one)
  --no-open     prints the address and opens no browser
  --browser     uses the browser even where Electron is there
`;

interface Choice {
  demo: boolean;
  bookPath: string;
  port: number;
  open: boolean;
  browser: boolean;
}

function readArguments(args: string[]): Choice | string {
  let values;
  try {
    values = parseArgs({
      args,
      options: {
        demo: { type: 'boolean', default: false },
        book: { type: 'string' },
        port: { type: 'string', default: '0' },
        'no-open': { type: 'boolean', default: false },
        browser: { type: 'boolean', default: false },
        help: { type: 'boolean', short: 'h', default: false },
      },
    }).values;
  } catch (error) {
    return `${error instanceof Error ? error.message : String(error)}\n\n${USAGE}`;
  }
  if (values.help) return USAGE;
  const port = Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    return `--port is a whole number from 0 to 65535.\n\n${USAGE}`;
  const bookPath =
    values.book === undefined ? (values.demo ? demoBook() : defaultBook()) : fromCallersFolder(values.book);
  return { demo: values.demo, bookPath, port, open: !values['no-open'], browser: values.browser };
}

async function start(choice: Choice): Promise<number> {
  const electron = choice.browser ? undefined : findElectron();
  const display = hasDisplay();
  await ensureBuilt({ shell: electron !== undefined && display, say: (text) => console.log(text) });
  // What was built may be shared by those who share the checkout; everything from here on is this user's alone.
  keepToOwner();
  if (choice.demo && !existsSync(choice.bookPath)) {
    console.log('Making the demo company …');
    const { makeDemo } = await import('./demo.ts');
    await makeDemo({ path: choice.bookPath });
  }
  if (electron !== undefined && display) return await runElectron(electron, choice.bookPath);
  if (choice.browser) console.log('Valvebook runs in your browser, as asked.');
  else if (electron === undefined) console.log('Electron is not on this machine, so Valvebook runs in your browser.');
  else console.log('There is no display here for Electron, so Valvebook runs in a browser.');
  return await runLoopback(choice, display);
}

function runElectron(program: string, bookPath: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, [projectRoot(), '--book', bookPath], { stdio: 'inherit' });
    const relay = (signal: NodeJS.Signals) => void child.kill(signal);
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, relay);
    child.on('error', reject);
    child.on('exit', (code, signal) => resolve(code ?? 128 + (signal === null ? 1 : constants.signals[signal])));
  });
}

async function runLoopback(choice: Choice, display: boolean): Promise<number> {
  // Listened for from the start, so that a stop in the middle of opening still closes the book in order.
  const stopped = stopSignal();
  makeFolderFor(choice.bookPath);
  const stopping = new AbortController();
  void stopped.then(() => stopping.abort());
  const desk = await openDesk({
    bookPath: choice.bookPath,
    create: true,
    log: writeLog,
    automaticBackups: true,
    readsInThread: true,
    upgrading: { progress: sayingHowFar((text) => console.log(text)), signal: stopping.signal },
  });
  let page: { file: string; remove: () => void } | undefined;
  try {
    const host = await startHost(desk, choice.port, {
      onLetIn: () => page?.remove(),
      onSessionEnd: (message) => console.log(`${message} ${newAddressHint()}`),
    });
    console.log(`Book: ${desk.bookPath}`);
    printAddress(host.newAddress());
    console.log(process.stdin.isTTY ? 'Press Enter for a new address, Ctrl-C to stop.' : 'Ctrl-C stops it.');
    if (choice.open && display) {
      // Browsers that run confined see neither hidden folders nor the machine's temporary one (from memory), so it lies here.
      page = makeOpeningPage(host.newAddress(), path.join(homedir(), 'Valvebook'), KEY_LIFE_MS);
      openInBrowser(page.file);
    }
    if (process.stdin.isTTY) process.stdin.on('data', () => printAddress(host.newAddress())).unref();
    await stopped;
    await host.close();
  } finally {
    page?.remove();
    await desk.close();
  }
  return 0;
}

function printAddress(address: string): void {
  console.log(`Open this address in a browser on this machine (it works once, within two minutes): ${address}`);
}
const newAddressHint = () =>
  process.stdin.isTTY ? 'Press Enter for a new address.' : 'For a new address, start it again.';

/**
 * What a browser keeps for a page (a technician's unsaved work) it keeps by address, port included. So a book that is opened
 * again gets the port it had, if nobody else has taken it meanwhile. Anybody can work out that port and listen there while
 * Valvebook is closed; what they find is sealed, and the key is in this user's own folder.
 */
async function startHost(
  desk: Desk,
  port: number,
  told: Pick<LoopbackOptions, 'onLetIn' | 'onSessionEnd'>,
): Promise<Awaited<ReturnType<typeof startLoopback>>> {
  const options = { desk, rendererDir: rendererFolder(), draftKey: keptDraftKey(desk.bookPath), ...told };
  if (port !== 0) return startLoopback({ ...options, port });
  const own = portOfBook(desk.bookPath);
  try {
    return await startLoopback({ ...options, port: own });
  } catch {
    console.log(
      `Another program uses port ${own}, where this book is usually found. Work a browser keeps for it unsaved shows again when Valvebook gets that port back.`,
    );
    return startLoopback(options);
  }
}

function keptDraftKey(bookPath: string): DraftKey | undefined {
  try {
    return draftKeyOf(bookPath, path.join(dataFolder(), 'draft-keys'));
  } catch (error) {
    writeLog(String(error));
    console.log(
      `The folder ${dataFolder()} cannot be written, so work typed in the browser but not saved lasts only until Valvebook is closed.`,
    );
    return undefined;
  }
}

/** A port of the dynamic range (RFC 6335: 49152 to 65535), the same for the same book. */
export function portOfBook(bookPath: string): number {
  return 49152 + (createHash('sha256').update(bookPath).digest().readUInt32BE(0) % (65535 - 49152 + 1));
}

function stopSignal(): Promise<void> {
  return new Promise((resolve) => {
    // Kept on: npm, the bootstrap and the terminal may each pass the same Ctrl-C on.
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => resolve());
  });
}

if (import.meta.main) {
  const choice = readArguments(process.argv.slice(2));
  if (typeof choice === 'string') {
    console.error(choice);
    process.exitCode = choice === USAGE ? 0 : 2;
  } else {
    try {
      process.exitCode = await start(choice);
    } catch (error) {
      const failure = toFailure(error);
      // A fault of ours while starting has no window to show it in: the cause helps whoever reads the terminal.
      if (failure.code === 'internal') console.error(error);
      console.error(failure.message);
      process.exitCode = 1;
    }
  }
}
