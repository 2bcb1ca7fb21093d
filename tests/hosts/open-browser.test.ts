import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { spawn } from 'node:child_process';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { draftKeyOf } from '../../electron/draft-key.ts';
import { makeOpeningPage } from '../../electron/open-browser.ts';
import { launchBrowser } from '../browser/chromium.ts';
import { makeCheckout } from './temp-checkout.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'valvebook-open-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});
const modeOf = (file: string) => statSync(file).mode & 0o777;
const POSIX = process.platform !== 'win32';

describe('the page a browser is opened with', () => {
  it('is for its owner only, leads to the address, and is gone after use or when its time is over', async () => {
    const address = 'http://127.0.0.1:50000/#key=abc-_9"<>&';
    const page = makeOpeningPage(address, folder, 60_000);
    if (POSIX) expect([modeOf(page.file), modeOf(path.dirname(page.file))]).toEqual([0o600, 0o700]);
    expect(readFileSync(page.file, 'utf8')).toContain('url=http://127.0.0.1:50000/#key=abc-_9&#34;&#60;&#62;&#38;"');
    page.remove();
    expect(readdirSync(folder)).toEqual([]);
    makeOpeningPage(address, folder, 20);
    await expect.poll(() => readdirSync(folder), { timeout: 10_000 }).toEqual([]);
  });

  it('of a start that was killed is swept up by the next; other folders stay', () => {
    const old = new Date(Date.now() - 200_000);
    for (const name of ['opening-AbC123', 'opening-remarks', 'backups']) {
      mkdirSync(path.join(folder, name));
      writeFileSync(path.join(folder, name, 'x.html'), 'x');
      utimesSync(path.join(folder, name), old, old);
    }
    const page = makeOpeningPage('http://127.0.0.1:50000/', folder, 120_000);
    expect(readdirSync(folder).sort()).toEqual(
      [path.basename(path.dirname(page.file)), 'backups', 'opening-remarks'].sort(),
    );
    page.remove();
  });

  it('leads a real browser from the file to the address', async () => {
    const { createServer } = await import('node:http');
    const server = createServer((_request, response) => {
      response.setHeader('content-type', 'text/html').end('<title>arrived</title>');
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const port = (server.address() as { port: number }).port;
    const browser = await launchBrowser();
    try {
      const page = await browser.newPage();
      const opening = makeOpeningPage(`http://127.0.0.1:${port}/#key=abc`, folder, 60_000);
      await page.goto(`file://${opening.file}`);
      await page.waitForURL(`http://127.0.0.1:${port}/#key=abc`);
      expect(await page.title()).toBe('arrived');
    } finally {
      await browser.close();
      server.close();
      server.closeAllConnections();
    }
  });

  it.runIf(process.platform === 'linux')(
    'npm start gives the browser a file: the key is not among the arguments every user can read',
    async () => {
      const root = makeCheckout();
      const bin = path.join(folder, 'bin');
      mkdirSync(bin);
      // Stands for the desktop's opener: notes what it was given and what it finds there.
      const noted = path.join(folder, 'noted');
      writeFileSync(
        path.join(bin, 'xdg-open'),
        `#!/bin/sh\n{ echo "$@"; cat "$1"; } > "${noted}.part"; mv "${noted}.part" "${noted}"\n`,
      );
      chmodSync(path.join(bin, 'xdg-open'), 0o755);
      const { VALVEBOOK_BOOK: _book, ...env } = process.env;
      const child = spawn(
        process.execPath,
        [path.join(root, 'electron/launch.ts'), '--browser', '--book', 'b.valvebook'],
        {
          cwd: root,
          stdio: ['ignore', 'pipe', 'inherit'],
          env: {
            ...env,
            HOME: folder,
            XDG_DATA_HOME: folder,
            VALVEBOOK_CALLER_DIR: folder,
            DISPLAY: ':99',
            PATH: `${bin}:${env.PATH}`,
          },
        },
      );
      try {
        await expect.poll(() => existsSync(noted), { timeout: 60_000, interval: 100 }).toBe(true);
        const [argument = '', ...page] = readFileSync(noted, 'utf8').split('\n');
        expect(argument).toMatch(/\/Valvebook\/opening-\w+\/valvebook\.html$/);
        expect(argument).not.toContain('key');
        const address = /url=(http:[^"]+)/.exec(page.join('\n'))?.[1] ?? '';
        const { origin, hash } = new URL(address);
        const answer = await fetch(`${origin}/session`, {
          method: 'POST',
          headers: { origin, 'content-type': 'application/json' },
          body: JSON.stringify({ key: hash.slice('#key='.length), secret: 'S'.repeat(43) }),
        });
        expect(answer.status).toBe(200);
        // Used: the page is gone at once.
        await expect.poll(() => existsSync(argument)).toBe(false);
      } finally {
        const ended = new Promise((resolve) => child.on('close', resolve));
        child.kill('SIGTERM');
        await ended;
        rmSync(root, { recursive: true, force: true });
      }
    },
  );
});

describe('the key of drafts', () => {
  it('is made once for a book on this machine, for its owner only, and stays', () => {
    const keys = path.join(folder, 'keys');
    const first = draftKeyOf('/home/office/a.valvebook', keys);
    expect(first).toEqual({ key: expect.stringMatching(/^[\w-]{43}$/), takesPlain: true });
    expect(draftKeyOf('/home/office/a.valvebook', keys)).toEqual(first);
    expect(draftKeyOf('/home/office/b.valvebook', keys).key).not.toBe(first.key);
    const [file = ''] = readdirSync(keys);
    if (POSIX) expect([modeOf(keys), modeOf(path.join(keys, file))]).toEqual([0o700, 0o600]);
    expect(readdirSync(keys)).toHaveLength(2);
    // After a month whatever lies unsealed in the browser is not taken for ours.
    expect(draftKeyOf('/home/office/a.valvebook', keys, Date.now() + 31 * 86_400_000)).toEqual({
      ...first,
      takesPlain: false,
    });
  });

  it('is made anew where its file is no key', async () => {
    draftKeyOf('/x.valvebook', folder);
    const [file = ''] = readdirSync(folder);
    writeFileSync(path.join(folder, file), '');
    await sleep(1);
    expect(draftKeyOf('/x.valvebook', folder).key).toMatch(/^[\w-]{43}$/);
    expect(readdirSync(folder)).toEqual([file]);
  });
});
