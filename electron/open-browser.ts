import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

// Every user of a machine can read the arguments of every program, so the address with its key is no argument: the browser is
// given a page that only this user can read, and the page leads to the address.

const PREFIX = 'opening-';

/** A page in a folder of its own, both for the owner only, that leads to `address`; `remove` takes both away. */
export function makeOpeningPage(
  address: string,
  inFolder: string,
  lifeMs: number,
): { file: string; remove: () => void } {
  mkdirSync(inFolder, { recursive: true, mode: 0o700 });
  sweepOpeningPages(inFolder, lifeMs);
  const folder = mkdtempSync(path.join(inFolder, PREFIX));
  const file = path.join(folder, 'valvebook.html');
  const shown = address.replace(/[&"<>]/g, (sign) => `&#${sign.charCodeAt(0)};`);
  writeFileSync(
    file,
    `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="referrer" content="no-referrer">
<meta http-equiv="refresh" content="0;url=${shown}"><title>Valvebook</title>
<p><a href="${shown}">Open Valvebook</a> (this works once, within two minutes)</p></html>
`,
    { mode: 0o600, flag: 'wx' },
  );
  const remove = () => {
    clearTimeout(timer);
    try {
      rmSync(folder, { recursive: true, force: true });
    } catch {
      // The next start sweeps it up; its key is dead by then.
    }
  };
  const timer = setTimeout(remove, lifeMs).unref();
  return { file, remove };
}

/** Removes pages a killed start left behind. */
function sweepOpeningPages(inFolder: string, lifeMs: number): void {
  for (const name of readdirSync(inFolder)) {
    if (!/^opening-\w{6}$/.test(name)) continue;
    const folder = path.join(inFolder, name);
    const made = statSync(folder, { throwIfNoEntry: false })?.mtimeMs;
    if (made !== undefined && Date.now() - made > lifeMs) rmSync(folder, { recursive: true, force: true });
  }
}

/** Opens a file with the program this machine opens web pages with. A machine without one loses nothing: the address is printed too. */
export function openInBrowser(file: string): void {
  const [program, args] =
    process.platform === 'darwin'
      ? (['open', [file]] as const)
      : process.platform === 'win32'
        ? (['rundll32', ['url.dll,FileProtocolHandler', file]] as const)
        : (['xdg-open', [file]] as const);
  const child = spawn(program, args, { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
}
