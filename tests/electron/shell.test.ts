import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CHANNEL } from '../../electron/bridge.ts';
import { call, makeShell, type Shell } from './run-shell.ts';
import { fakeContents } from './stand-in.ts';

let shell: Shell;
beforeEach(() => {
  shell = makeShell();
});
afterEach(() => shell.end());

describe('the window', () => {
  it("is sandboxed, isolated, without Node, and loads the app's own address", async () => {
    await shell.start();
    expect(shell.window().options.webPreferences).toMatchObject({
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
    expect(shell.window().options.webPreferences?.preload).toMatch(/dist[\\/]electron[\\/]preload\.cjs$/);
    expect(shell.window().loaded).toBe('app://valvebook/');
    expect(shell.standIn.record.order.indexOf('sandbox')).toBeLessThan(shell.standIn.record.order.indexOf('window'));
  });

  it('registers its scheme as secure before Electron is ready, with no way around the policy', async () => {
    await shell.start({ ready: false });
    expect(shell.standIn.record.schemes).toEqual([
      { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
    ]);
    expect(shell.standIn.record.windows).toHaveLength(0);
  });

  it('opens no other window, leaves the app for no address and attaches no web view', async () => {
    await shell.start();
    const contents = shell.contents();
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
    await shell.start();
    const answers: boolean[] = [];
    shell.standIn.record.permissionRequest?.(
      shell.window().webContents,
      'media',
      (granted) => answers.push(granted),
      {} as never,
    );
    expect(answers).toEqual([false]);
    expect(
      shell.standIn.record.permissionCheck?.(shell.window().webContents, 'geolocation', 'app://valvebook', {} as never),
    ).toBe(false);
    expect(shell.standIn.record.devicePermission?.({} as never)).toBe(false);
  });
});

describe('the app:// protocol', () => {
  const ask = async (address: string, init?: RequestInit) =>
    shell.standIn.record.protocols.get('app')!(new Request(address, init));

  it('serves the built renderer with the policy', async () => {
    await shell.start();
    const response = await ask('app://valvebook/');
    expect(response.status).toBe(200);
    const policy = response.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("script-src 'self';");
    expect(policy).not.toContain('unsafe');
    expect(response.headers.get('x-content-type-options')).toBe('nosniff');
  });

  it('serves nothing outside its folder, under another name or by another method', async () => {
    await shell.start();
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
    await shell.start();
    expect([...shell.standIn.record.channels.keys()]).toEqual([CHANNEL]);
    expect(await shell.invoke(call())).toEqual({ ok: true, data: 'answer' });
    expect(shell.desks[0]!.calls).toMatchObject([{ name: 'client.list', input: { search: 'x' } }]);
  });

  it('refuses other pages, inner frames, frames that are gone and foreign addresses', async () => {
    await shell.start();
    const stranger = fakeContents();
    const foreign = fakeContents('https://example.com/');
    expect(await shell.invoke(call(), stranger)).toMatchObject({ ok: false });
    expect(await shell.invoke(call(), foreign)).toMatchObject({ ok: false });
    expect(await shell.invoke(call(), shell.window().webContents, { url: 'app://valvebook/' })).toMatchObject({
      ok: false,
    });
    expect(await shell.invoke(call(), shell.window().webContents, null)).toMatchObject({ ok: false });
    const top = shell.window().webContents.mainFrame as { url: string };
    for (const url of ['https://example.com/', 'app://elsewhere/', 'file:///app://valvebook/', 'nonsense']) {
      top.url = url;
      expect(await shell.invoke(call()), url).toMatchObject({ ok: false });
    }
    expect(shell.desks[0]!.calls).toEqual([]);
  });

  it('refuses messages that are not requests', async () => {
    await shell.start();
    for (const message of [
      null,
      'client.list',
      {},
      { kind: 'call' },
      { kind: 'call', callId: 1, name: 'a', input: {} },
      { kind: 'call', callId: '1', input: {} },
      { kind: 'other', callId: '1' },
      { kind: 'unsaved', callId: '1' },
      { kind: 'choose', callId: '1', choice: 'backup-to' },
      { kind: 'choose', callId: '1', choice: 'any-file', from: '' },
      { kind: 'choose', callId: '1', choice: 'toString', from: '' },
      { kind: 'choose', callId: '1', choice: 'backup-to', from: 'x'.repeat(4001) },
      { kind: 'unsaved', callId: '1', holds: 'yes' },
      { kind: 'call', callId: 'x'.repeat(65), name: 'a', input: {} },
    ]) {
      expect(await shell.invoke(message)).toMatchObject({ ok: false, error: { code: 'bad-input' } });
    }
    expect(shell.desks[0]!.calls).toEqual([]);
  });

  it('sends progress to the page that asked and cancels by number', async () => {
    await shell.start();
    shell.desks[0]!.behave = ({ signal, onProgress }) =>
      new Promise((resolve) => {
        onProgress?.({ done: 1, total: 2, label: 'Looking' });
        signal?.addEventListener('abort', () =>
          resolve({ ok: false, error: { code: 'cancelled', message: 'Cancelled.' } }),
        );
      });
    const asked = shell.invoke(call('program.reviewAll', '7'));
    const contents = shell.contents();
    await vi.waitFor(() =>
      expect(contents.sent).toEqual([
        { kind: 'progress', callId: '7', progress: { done: 1, total: 2, label: 'Looking' } },
      ]),
    );
    await shell.invoke({ kind: 'cancel', callId: '8' });
    expect(shell.desks[0]!.calls[0]!.signal?.aborted).toBe(false);
    await shell.invoke({ kind: 'cancel', callId: '7' });
    expect(await asked).toMatchObject({ ok: false, error: { code: 'cancelled' } });
  });

  it('cancels what a page that is gone or reloaded had asked for', async () => {
    await shell.start();
    shell.desks[0]!.behave = ({ signal }) =>
      new Promise((resolve) => signal?.addEventListener('abort', () => resolve({ ok: true, data: null })));
    for (const end of ['did-navigate', 'destroyed']) {
      const asked = shell.invoke(call('book.check', end));
      shell.contents().emit(end);
      await asked;
    }
    expect(shell.desks[0]!.calls.map(({ signal }) => signal?.aborted)).toEqual([true, true]);
  });

  it('pushes changes to the window', async () => {
    await shell.start();
    shell.desks[0]!.listeners[0]!(['client']);
    expect(shell.contents().sent).toEqual([{ kind: 'changed', topics: ['client'] }]);
  });
});

describe('starting and ending', () => {
  it('a second start makes no window and quits; the first one comes to the front', async () => {
    await shell.start({ firstInstance: false });
    await Promise.resolve();
    expect(shell.standIn.record.order).toContain('quit');
    expect(shell.standIn.record.windows).toHaveLength(0);
    expect(shell.desks).toHaveLength(0);

    await shell.start();
    shell.window().minimized = true;
    shell.standIn.app.emit('second-instance', {}, ['app'], shell.folder, { asked: null });
    expect([shell.window().restored, shell.window().focused]).toEqual([1, 1]);
  });

  it('closes the book before it ends', async () => {
    await shell.start();
    const preventDefault = vi.fn();
    shell.standIn.app.emit('will-quit', { preventDefault });
    expect(preventDefault).toHaveBeenCalledOnce();
    await vi.waitFor(() => expect(shell.standIn.record.order.at(-1)).toBe('quit'));
    expect(shell.desks[0]!.closed).toBe(true);
    shell.standIn.app.emit('will-quit', { preventDefault });
    expect(preventDefault).toHaveBeenCalledOnce();
  });

  it('says in one sentence why a book cannot be opened, and ends where no other is chosen', async () => {
    shell.refused.set('*', 'The book is damaged. Restore a backup of it.');
    await shell.start();
    await vi.waitFor(() => expect(shell.standIn.record.exitCode).toBe(1));
    expect(shell.standIn.record.errorBoxes).toEqual(['The book is damaged. Restore a backup of it.']);
    expect(shell.standIn.record.windows).toHaveLength(0);
  });

  it('has a menu for the book, with no developer tools in a packaged app', async () => {
    await shell.start();
    const items = shell.standIn.record.menu.flatMap((entry) => (Array.isArray(entry.submenu) ? entry.submenu : []));
    const labels = items.map((item) => item.label).filter(Boolean);
    expect(labels).toEqual(expect.arrayContaining(['&New book…', '&Open book…', '&Back up now']));
    expect(items.map((item) => item.role)).not.toContain('toggleDevTools');
    items.find((item) => item.label === '&Back up now')?.click?.({} as never, undefined, {} as never);
    await vi.waitFor(() => expect(shell.desks[0]!.calls.map(({ name }) => name)).toEqual(['book.backup']));
  });
});

describe('the language of the menu and the boxes', () => {
  const labels = () =>
    shell.standIn.record.menu.flatMap((entry) => [
      entry.label,
      ...(Array.isArray(entry.submenu) ? entry.submenu.map((item) => item.label) : []),
    ]);
  const tell = (language: unknown, units: unknown = 'us') =>
    shell.invoke({ kind: 'reader', callId: 'reader', language, units });

  it('is what the page tells, at once and back again', async () => {
    await shell.start();
    expect(labels()).toContain('&Open book…');
    expect(await tell('es', 'metric')).toEqual({ ok: true, data: null });
    expect(labels()).toEqual(
      expect.arrayContaining(['&Libro', '&Abrir libro…', '&Respaldar ahora', '&Deshacer', 'Ve&ntana']),
    );
    expect(labels().filter((label) => label !== undefined && /Book\b|Open|Edit\b|View/.test(label))).toEqual([]);
    shell.window().webContents.emit('will-prevent-unload', { preventDefault: () => undefined });
    expect(shell.standIn.record.questions).toEqual(['Algo cambió y aún no se guardó.']);
    await tell('en');
    expect(labels()).toContain('&Open book…');
  });

  it('gives every entry of the menu a name of ours: Electron itself has English ones', async () => {
    await shell.start();
    const items = shell.standIn.record.menu.flatMap((entry) => (Array.isArray(entry.submenu) ? entry.submenu : []));
    expect(items.length).toBeGreaterThan(20);
    expect(items.filter((item) => item.type !== 'separator' && !item.label)).toEqual([]);
  });

  it('is no other than those there are', async () => {
    await shell.start();
    for (const [language, units] of [
      ['fr', 'us'],
      ['es', 'furlongs'],
      [null, 'us'],
    ])
      expect(await tell(language, units)).toMatchObject({ ok: false, error: { code: 'bad-input' } });
    expect(labels()).toContain('&Open book…');
  });
});
