import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { WebContents } from 'electron';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Reply, Topic } from '../../core/contract/index.ts';
import type { CallOptions } from '../../core/desk.ts';
import { CHANNEL, type ToMain } from '../../electron/bridge.ts';
import { eventFrom, fakeContents, makeStandIn, type Recorded } from './stand-in.ts';

// main.ts itself runs here, on a stand-in of Electron and of the core.

interface FakeDesk {
  bookPath: string;
  calls: { name: string; input: unknown; signal: AbortSignal | undefined }[];
  listeners: ((topics: Topic[]) => void)[];
  closed: boolean;
  behave: (options: CallOptions) => Promise<Reply>;
}
let folder: string;
let standIn: Recorded;
let desks: FakeDesk[];
let openFails: string | undefined;

async function startShell(options: { firstInstance?: boolean; ready?: boolean } = {}): Promise<void> {
  standIn = makeStandIn({ firstInstance: options.firstInstance });
  vi.resetModules();
  vi.doMock('electron', () => ({ ...standIn.module, default: standIn.module }));
  vi.doMock('../../core/desk.ts', () => ({
    openDesk: async ({ bookPath }: { bookPath: string }) => {
      if (openFails !== undefined) {
        // The class as this run of main.ts knows it: modules are loaded afresh for each test.
        const { BookError } = await import('../../core/errors.ts');
        throw new BookError('book-unreadable', openFails);
      }
      const desk: FakeDesk = {
        bookPath,
        calls: [],
        listeners: [],
        closed: false,
        behave: async () => ({ ok: true, data: 'answer' }),
      };
      desks.push(desk);
      return {
        bookPath,
        call: (name: string, input: unknown, callOptions: CallOptions = {}) => {
          desk.calls.push({ name, input, signal: callOptions.signal });
          return desk.behave(callOptions);
        },
        onChange: (listener: (topics: Topic[]) => void) => {
          desk.listeners.push(listener);
          return () => undefined;
        },
        close: async () => {
          desk.closed = true;
        },
      };
    },
  }));
  vi.doMock('../../electron/places.ts', async (original) => ({
    ...(await original<typeof import('../../electron/places.ts')>()),
    dataFolder: () => path.join(folder, 'data'),
    rendererFolder: () => path.join(folder, 'site'),
    defaultBook: () => path.join(folder, 'company.valvebook'),
    writeLog: () => undefined,
  }));
  await import('../../electron/main.ts');
  if (options.ready === false) return;
  standIn.record.becomeReady();
  if (options.firstInstance !== false && openFails === undefined)
    await vi.waitFor(() => expect(standIn.record.windows).toHaveLength(1));
}

const window = () => standIn.record.windows[0]!;
const invoke = (message: ToMain | unknown, contents: WebContents = window().webContents, frame?: unknown) =>
  standIn.record.channels.get(CHANNEL)!(
    frame === undefined ? eventFrom(contents) : eventFrom(contents, frame),
    message,
  ) as Promise<Reply>;
const call = (name = 'client.list', callId = '1'): ToMain => ({ kind: 'call', callId, name, input: { search: 'x' } });

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'valvebook-shell-'));
  mkdirSync(path.join(folder, 'site', 'assets'), { recursive: true });
  writeFileSync(path.join(folder, 'site', 'index.html'), '<html><head></head></html>');
  writeFileSync(path.join(folder, 'secret.txt'), 'secret');
  desks = [];
  openFails = undefined;
});
afterEach(() => {
  vi.doUnmock('electron');
  vi.doUnmock('../../core/desk.ts');
  vi.doUnmock('../../electron/places.ts');
  rmSync(folder, { recursive: true, force: true });
});

describe('the window', () => {
  it("is sandboxed, isolated, without Node, and loads the app's own address", async () => {
    await startShell();
    expect(window().options.webPreferences).toMatchObject({
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      devTools: false,
    });
    expect(window().options.webPreferences?.preload).toMatch(/dist[\\/]electron[\\/]preload\.cjs$/);
    expect(window().loaded).toBe('app://valvebook/');
    expect(standIn.record.order.indexOf('sandbox')).toBeLessThan(standIn.record.order.indexOf('window'));
  });

  it('registers its scheme as secure before Electron is ready, with no way around the policy', async () => {
    await startShell({ ready: false });
    expect(standIn.record.schemes).toEqual([
      { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
    ]);
    expect(standIn.record.windows).toHaveLength(0);
  });

  it('opens no other window, leaves the app for no address and attaches no web view', async () => {
    await startShell();
    const contents = window().webContents as ReturnType<typeof fakeContents>;
    expect(contents.openHandler?.({ url: 'https://example.com' } as Electron.HandlerDetails)).toEqual({
      action: 'deny',
    });
    for (const name of ['will-navigate', 'will-frame-navigate', 'will-redirect']) {
      for (const [url, stopped] of [
        ['https://example.com/', true],
        ['file:///etc/passwd', true],
        ['app://elsewhere/', true],
        ['javascript:alert(1)', true],
        ['app://valvebook/#/field', false],
      ] as const) {
        const preventDefault = vi.fn();
        contents.emit(name, { url, preventDefault });
        expect(preventDefault.mock.calls.length, `${name} ${url}`).toBe(stopped ? 1 : 0);
      }
    }
    const preventDefault = vi.fn();
    contents.emit('will-attach-webview', { preventDefault });
    expect(preventDefault).toHaveBeenCalledOnce();
  });

  it('is granted no permission', async () => {
    await startShell();
    const answers: boolean[] = [];
    standIn.record.permissionRequest?.(window().webContents, 'media', (granted) => answers.push(granted), {} as never);
    expect(answers).toEqual([false]);
    expect(standIn.record.permissionCheck?.(window().webContents, 'geolocation', 'app://valvebook', {} as never)).toBe(
      false,
    );
    expect(standIn.record.devicePermission?.({} as never)).toBe(false);
  });
});

describe('the app:// protocol', () => {
  const ask = async (address: string, init?: RequestInit) =>
    standIn.record.protocols.get('app')!(new Request(address, init));

  it('serves the built renderer with the policy', async () => {
    await startShell();
    const response = await ask('app://valvebook/');
    expect(response.status).toBe(200);
    const policy = response.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("script-src 'self';");
    expect(policy).not.toContain('unsafe');
    expect(response.headers.get('x-content-type-options')).toBe('nosniff');
  });

  it('serves nothing outside its folder, under another name or by another method', async () => {
    await startShell();
    for (const address of [
      'app://valvebook/../secret.txt',
      'app://valvebook/%2e%2e/secret.txt',
      'app://valvebook/..%2fsecret.txt',
      'app://valvebook/assets/..%2f..%2fsecret.txt',
      'app://valvebook/..%5csecret.txt',
      'app://valvebook/%00',
      'app://valvebook//etc/passwd',
    ]) {
      const response = await ask(address);
      expect(response.status, address).toBe(404);
      expect(await response.text()).not.toContain('secret');
    }
    expect((await ask('app://elsewhere/index.html')).status).toBe(403);
    expect((await ask('app://valvebook/', { method: 'POST', body: 'x' })).status).toBe(403);
  });
});

describe('the channel', () => {
  it("answers our window's top frame", async () => {
    await startShell();
    expect([...standIn.record.channels.keys()]).toEqual([CHANNEL]);
    expect(await invoke(call())).toEqual({ ok: true, data: 'answer' });
    expect(desks[0]!.calls).toMatchObject([{ name: 'client.list', input: { search: 'x' } }]);
  });

  it('refuses other pages, inner frames, frames that are gone and foreign addresses', async () => {
    await startShell();
    const stranger = fakeContents();
    const foreign = fakeContents('https://example.com/');
    expect(await invoke(call(), stranger)).toMatchObject({ ok: false });
    expect(await invoke(call(), foreign)).toMatchObject({ ok: false });
    expect(await invoke(call(), window().webContents, { url: 'app://valvebook/' })).toMatchObject({ ok: false });
    expect(await invoke(call(), window().webContents, null)).toMatchObject({ ok: false });
    const top = window().webContents.mainFrame as { url: string };
    for (const url of ['https://example.com/', 'app://elsewhere/', 'file:///app://valvebook/', 'nonsense']) {
      top.url = url;
      expect(await invoke(call()), url).toMatchObject({ ok: false });
    }
    expect(desks[0]!.calls).toEqual([]);
  });

  it('refuses messages that are not requests', async () => {
    await startShell();
    for (const message of [
      null,
      'client.list',
      {},
      { kind: 'call' },
      { kind: 'call', callId: 1, name: 'a', input: {} },
      { kind: 'call', callId: '1', input: {} },
      { kind: 'other', callId: '1' },
      { kind: 'call', callId: 'x'.repeat(65), name: 'a', input: {} },
    ]) {
      expect(await invoke(message)).toMatchObject({ ok: false, error: { code: 'bad-input' } });
    }
    expect(desks[0]!.calls).toEqual([]);
  });

  it('sends progress to the page that asked and cancels by number', async () => {
    await startShell();
    desks[0]!.behave = ({ signal, onProgress }) =>
      new Promise((resolve) => {
        onProgress?.({ done: 1, total: 2, label: 'Looking' });
        signal?.addEventListener('abort', () =>
          resolve({ ok: false, error: { code: 'cancelled', message: 'Cancelled.' } }),
        );
      });
    const asked = invoke(call('program.reviewAll', '7'));
    const contents = window().webContents as ReturnType<typeof fakeContents>;
    await vi.waitFor(() =>
      expect(contents.sent).toEqual([
        { kind: 'progress', callId: '7', progress: { done: 1, total: 2, label: 'Looking' } },
      ]),
    );
    await invoke({ kind: 'cancel', callId: '8' });
    expect(desks[0]!.calls[0]!.signal?.aborted).toBe(false);
    await invoke({ kind: 'cancel', callId: '7' });
    expect(await asked).toMatchObject({ ok: false, error: { code: 'cancelled' } });
  });

  it('cancels what a page that is gone or reloaded had asked for', async () => {
    await startShell();
    desks[0]!.behave = ({ signal }) =>
      new Promise((resolve) => signal?.addEventListener('abort', () => resolve({ ok: true, data: null })));
    for (const end of ['did-navigate', 'destroyed']) {
      const asked = invoke(call('book.check', end));
      (window().webContents as ReturnType<typeof fakeContents>).emit(end);
      await asked;
    }
    expect(desks[0]!.calls.map(({ signal }) => signal?.aborted)).toEqual([true, true]);
  });

  it('pushes changes to the window', async () => {
    await startShell();
    desks[0]!.listeners[0]!(['client']);
    expect((window().webContents as ReturnType<typeof fakeContents>).sent).toEqual([
      { kind: 'changed', topics: ['client'] },
    ]);
  });
});

describe('starting and ending', () => {
  it('a second start makes no window and quits; the first one comes to the front', async () => {
    await startShell({ firstInstance: false });
    await Promise.resolve();
    expect(standIn.record.order).toContain('quit');
    expect(standIn.record.windows).toHaveLength(0);
    expect(desks).toHaveLength(0);

    await startShell();
    window().minimized = true;
    standIn.app.emit('second-instance');
    expect([window().restored, window().focused]).toEqual([1, 1]);
  });

  it('closes the book before it ends', async () => {
    await startShell();
    const preventDefault = vi.fn();
    standIn.app.emit('will-quit', { preventDefault });
    expect(preventDefault).toHaveBeenCalledOnce();
    await vi.waitFor(() => expect(standIn.record.order.at(-1)).toBe('quit'));
    expect(desks[0]!.closed).toBe(true);
    standIn.app.emit('will-quit', { preventDefault });
    expect(preventDefault).toHaveBeenCalledOnce();
  });

  it('says in one sentence why a book cannot be opened, and ends where no other is chosen', async () => {
    openFails = 'The book is damaged. Restore a backup of it.';
    await startShell();
    await vi.waitFor(() => expect(standIn.record.exitCode).toBe(1));
    expect(standIn.record.errorBoxes).toEqual(['The book is damaged. Restore a backup of it.']);
    expect(standIn.record.windows).toHaveLength(0);
  });

  it('has a menu for the book, with no developer tools in a packaged app', async () => {
    await startShell();
    const items = standIn.record.menu.flatMap((entry) => (Array.isArray(entry.submenu) ? entry.submenu : []));
    const labels = items.map((item) => item.label).filter(Boolean);
    expect(labels).toEqual(expect.arrayContaining(['&New book…', '&Open book…', '&Back up now']));
    expect(items.map((item) => item.role)).not.toContain('toggleDevTools');
    items.find((item) => item.label === '&Back up now')?.click?.({} as never, undefined, {} as never);
    await vi.waitFor(() => expect(desks[0]!.calls.map(({ name }) => name)).toEqual(['book.backup']));
  });
});
