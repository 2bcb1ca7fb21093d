import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { constants, homedir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { openDesk, type Desk } from '../core/desk/desk.ts';
import { sayFailure, toFailure } from '../core/errors.ts';
import { fact, say, sayFact, type Fact, type GivenOf, type Reader, type TextKey } from '../core/text/say.ts';
import { ensureBuilt } from './build.ts';
import { draftKeyOf, type DraftKey } from './draft-key.ts';
import { findElectron, hasDisplay } from './electron-binary.ts';
import { KEY_LIFE_MS } from './loopback-door.ts';
import { sayingHowFar } from './how-far.ts';
import { startLoopback, type LoopbackOptions } from './loopback.ts';
import { argumentTrouble, readerOf } from './terminal-reader.ts';
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

interface Choice {
  reader: Reader;
  demo: boolean;
  bookPath: string;
  port: number;
  open: boolean;
  browser: boolean;
}

/** What was asked for, or what to print in place of starting. */
function readArguments(args: string[]): Choice | { said: string; asked: boolean } {
  const { reader, rest, refused } = readerOf(args);
  const help = say(reader, 'terminal.startHelp');
  const refusal = (why: Fact) => ({ said: `${sayFact(reader, why)}\n\n${help}`, asked: false });
  if (refused) return refusal(fact('terminal.languageHow'));
  let values;
  try {
    values = parseArgs({
      args: rest,
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
    return refusal(argumentTrouble(error));
  }
  if (values.help) return { said: help, asked: true };
  const port = Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    return refusal(fact('terminal.wholeNumber', { option: 'port', least: 0, most: 65_535 }));
  const bookPath =
    values.book === undefined ? (values.demo ? demoBook() : defaultBook()) : fromCallersFolder(values.book);
  return { reader, demo: values.demo, bookPath, port, open: !values['no-open'], browser: values.browser };
}

async function start(choice: Choice): Promise<number> {
  const electron = choice.browser ? undefined : findElectron();
  const display = hasDisplay();
  await ensureBuilt({ shell: electron !== undefined && display, say: (text) => console.log(text) });
  // What was built may be shared by those who share the checkout; everything from here on is this user's alone.
  keepToOwner();
  if (choice.demo && !existsSync(choice.bookPath)) {
    tell(choice.reader, 'terminal.makingDemo');
    const { makeDemo } = await import('./demo.ts');
    await makeDemo({ path: choice.bookPath });
  }
  if (electron !== undefined && display) return await runElectron(electron, choice.bookPath);
  if (choice.browser) tell(choice.reader, 'terminal.browserAsked');
  else if (electron === undefined) tell(choice.reader, 'terminal.noElectron');
  else tell(choice.reader, 'terminal.noDisplay');
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
  const { reader } = choice;
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
    upgrading: { progress: sayingHowFar((text) => console.log(text), reader), signal: stopping.signal },
  });
  let page: { file: string; remove: () => void } | undefined;
  try {
    const host = await startHost(desk, choice.port, reader, {
      onLetIn: () => page?.remove(),
      onSessionEnd: (why) => console.log(`${sayFact(reader, why)} ${newAddressHint(reader)}`),
    });
    tell(reader, 'terminal.book', { path: desk.bookPath });
    tell(reader, 'terminal.address', { address: host.newAddress() });
    tell(reader, process.stdin.isTTY ? 'terminal.enterOrStop' : 'terminal.stop');
    if (choice.open && display) {
      // Browsers that run confined see neither hidden folders nor the machine's temporary one (from memory), so it lies here.
      page = makeOpeningPage(host.newAddress(), path.join(homedir(), 'Valvebook'), KEY_LIFE_MS);
      openInBrowser(page.file);
    }
    if (process.stdin.isTTY)
      process.stdin.on('data', () => tell(reader, 'terminal.address', { address: host.newAddress() })).unref();
    await stopped;
    await host.close();
  } finally {
    page?.remove();
    await desk.close();
  }
  return 0;
}

/** A line for whoever reads this terminal. */
function tell<K extends TextKey>(
  reader: Reader,
  key: K,
  ...given: GivenOf<K> extends undefined ? [] : [given: GivenOf<K>]
): void {
  console.log(say(reader, key, ...given));
}
const newAddressHint = (reader: Reader) =>
  say(reader, process.stdin.isTTY ? 'terminal.enterForNew' : 'terminal.startForNew');

/**
 * What a browser keeps for a page (a technician's unsaved work) it keeps by address, port included. So a book that is opened
 * again gets the port it had, if nobody else has taken it meanwhile. Anybody can work out that port and listen there while
 * Valvebook is closed; what they find is sealed, and the key is in this user's own folder.
 */
async function startHost(
  desk: Desk,
  port: number,
  reader: Reader,
  told: Pick<LoopbackOptions, 'onLetIn' | 'onSessionEnd'>,
): Promise<Awaited<ReturnType<typeof startLoopback>>> {
  const options = { desk, rendererDir: rendererFolder(), draftKey: keptDraftKey(desk.bookPath, reader), ...told };
  if (port !== 0) return startLoopback({ ...options, port });
  const own = portOfBook(desk.bookPath);
  try {
    return await startLoopback({ ...options, port: own });
  } catch {
    tell(reader, 'terminal.portOfBookTaken', { port: own });
    return startLoopback(options);
  }
}

function keptDraftKey(bookPath: string, reader: Reader): DraftKey | undefined {
  try {
    return draftKeyOf(bookPath, path.join(dataFolder(), 'draft-keys'));
  } catch (error) {
    writeLog(String(error));
    tell(reader, 'terminal.noDraftKey', { folder: dataFolder() });
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
  if ('said' in choice) {
    console.error(choice.said);
    process.exitCode = choice.asked ? 0 : 2;
  } else {
    try {
      process.exitCode = await start(choice);
    } catch (error) {
      const failure = toFailure(error);
      // A fault of ours while starting has no window to show it in: the cause helps whoever reads the terminal.
      if (failure.code === 'internal') console.error(error);
      console.error(sayFailure(choice.reader, failure));
      process.exitCode = 1;
    }
  }
}
