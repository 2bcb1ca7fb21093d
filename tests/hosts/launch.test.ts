import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchBrowser } from '../browser/chromium.ts';
import { makeCheckout } from './temp-checkout.ts';

// npm start itself (past the bootstrap): a process that is started, asked and stopped.

let root: string;
let home: string;

beforeAll(() => {
  root = makeCheckout();
  home = mkdtempSync(path.join(tmpdir(), 'valvebook-home-'));
});
afterAll(() => {
  for (const folder of [root, home]) rmSync(folder, { recursive: true, force: true });
});

interface Running {
  address: string;
  output: () => string;
  stop(): Promise<number | null>;
}
interface Ended {
  code: number | null;
  output: string;
}

function launch(args: string[]) {
  const env: NodeJS.ProcessEnv = {
    ...process.env,
    HOME: home,
    USERPROFILE: home,
    APPDATA: home,
    XDG_DATA_HOME: home,
    VALVEBOOK_CALLER_DIR: home,
    LC_ALL: 'C',
  };
  for (const name of ['VALVEBOOK_BOOK', 'DISPLAY', 'WAYLAND_DISPLAY']) delete env[name];
  const child = spawn(process.execPath, [path.join(root, 'electron/launch.ts'), '--no-open', '--browser', ...args], {
    cwd: root,
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  child.stdout.on('data', (chunk: Buffer) => (output += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (output += chunk.toString()));
  const ended = new Promise<Ended>((resolve) => child.on('close', (code) => resolve({ code, output })));
  const address = new Promise<string>((resolve) => {
    child.stdout.on('data', () => {
      const found = /http:\/\/127\.0\.0\.1:\d+\/#key=[\w-]+/.exec(output)?.[0];
      if (found !== undefined) resolve(found);
    });
  });
  return { child, ended, address, output: () => output };
}
async function started(args: string[]): Promise<Running> {
  const { child, ended, address, output } = launch(args);
  const first = await Promise.race([address, ended]);
  if (typeof first !== 'string') throw new Error(`did not start: ${first.output}`);
  return {
    address: first,
    output,
    async stop() {
      child.kill('SIGTERM');
      return (await ended).code;
    },
  };
}

describe('npm start in a browser', () => {
  it('makes the usual book, says where it runs, serves it to a browser and stops in order', async () => {
    const running = await started([]);
    const book = path.join(home, 'Valvebook', 'company.valvebook');
    expect(running.output()).toContain(`Book: ${book}`);
    expect(running.output()).toContain('it works once, within two minutes');
    expect(existsSync(book)).toBe(true);
    const browser = await launchBrowser();
    try {
      const page = await browser.newPage();
      const complaints: string[] = [];
      page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()));
      page.on('pageerror', (error) => complaints.push(error.message));
      await page.goto(running.address);
      await page.waitForFunction(() => document.body.textContent === 'one');
      // The one-line renderer here does not let itself in: the test does as the real one would.
      const [key, secret] = [/#key=(.+)$/.exec(running.address)?.[1] ?? '', 'S'.repeat(43)];
      const ask = (target: string, body: unknown, session = '') =>
        page.evaluate(
          async ([address, text, header]) => {
            const headers = { 'content-type': 'application/json', 'valvebook-session': header };
            return (await fetch(address, { method: 'POST', headers, body: text })).json() as unknown;
          },
          [target, JSON.stringify(body), session] as const,
        );
      expect(await ask('/session', { key, secret })).toMatchObject({ ok: true });
      expect(await ask('/request/book.info', {}, secret)).toMatchObject({ ok: true, data: { path: book } });
      // The policy holds in a real browser: a script written into the page does not run.
      await page.evaluate(() => {
        const script = document.createElement('script');
        script.textContent = 'globalThis.intruder = true';
        document.body.append(script);
      });
      expect(await page.evaluate(() => 'intruder' in globalThis)).toBe(false);
      expect(complaints.filter((text) => !/content security policy/i.test(text))).toEqual([]);
      // Who uses the same address again stays outside, and the first window is closed to be safe.
      expect(await ask('/session', { key, secret: 'T'.repeat(43) })).toMatchObject({ ok: false });
      expect(await ask('/request/book.info', {}, secret)).toMatchObject({ ok: false });
      expect(running.output()).toContain('was used a second time');
    } finally {
      await browser.close();
    }
    expect(await running.stop()).toBe(0);
    expect(existsSync(`${book}-wal`) && statSync(`${book}-wal`).size > 0).toBe(false);
  });

  it("opens the demo company, made the first time only, apart from the company's book", async () => {
    const first = await started(['--demo']);
    expect(first.output()).toContain('Making the demo company');
    const book = /^Book: (.+)$/m.exec(first.output())?.[1] ?? '';
    expect(path.basename(book)).toBe('demo.valvebook');
    expect(book).not.toContain('company');
    expect(await first.stop()).toBe(0);
    const second = await started(['--demo']);
    expect(second.output()).not.toContain('Making');
    expect(second.output()).toContain(book);
    expect(await second.stop()).toBe(0);
  });

  it('takes a book by a path from where the user is', async () => {
    const running = await started(['--book', 'mine.valvebook']);
    expect(running.output()).toContain(`Book: ${path.join(home, 'mine.valvebook')}`);
    expect(await running.stop()).toBe(0);
  });
});

describe('npm start that cannot', () => {
  it('says in one sentence what is wrong with a book, changes nothing and ends with 1', async () => {
    const file = path.join(home, 'letter.valvebook');
    writeFileSync(file, 'Dear Sir or Madam, this has never been a book.'.repeat(20));
    const before = readFileSync(file);
    const { code, output } = await launch(['--book', file]).ended;
    expect(code).toBe(1);
    expect(output).toContain('is not a Valvebook book');
    expect(output).not.toMatch(/\n\s+at /);
    expect(readFileSync(file)).toEqual(before);
  });

  it('does not open a book twice', async () => {
    const running = await started(['--book', 'once.valvebook']);
    const { code, output } = await launch(['--book', 'once.valvebook']).ended;
    expect(code).toBe(1);
    expect(output).toContain('already open in another Valvebook');
    expect(await running.stop()).toBe(0);
  });

  it('explains arguments it does not know with 2', async () => {
    for (const args of [['--port', 'x'], ['--port', '70000'], ['--dmeo']]) {
      const { code, output } = await launch(args).ended;
      expect(code).toBe(2);
      expect(output).toContain('--book FILE');
    }
  });
});
