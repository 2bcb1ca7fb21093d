import { BrowserWindow, nativeTheme, type App, type Session, type WebContents } from 'electron';
import { APP_ORIGIN } from './bridge.ts';
import { isAppAddress } from './ipc.ts';

/** The one window: a sandboxed page without Node, shown once it has something to show. */
export function createWindow(options: {
  preload: string;
  developerTools: boolean;
  /** The page holds unsaved changes and is about to go: may it? Without an answer Electron stays where it is and says nothing. */
  mayLeave: (window: BrowserWindow) => boolean;
}): BrowserWindow {
  const window = new BrowserWindow({
    width: 1440,
    height: 900,
    minWidth: 380,
    minHeight: 560,
    show: false,
    title: 'Valvebook',
    backgroundColor: nativeTheme.shouldUseDarkColors ? '#15191c' : '#fbfaf7',
    webPreferences: {
      preload: options.preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
      devTools: options.developerTools,
    },
  });
  window.once('ready-to-show', () => window.show());
  window.webContents.on('will-prevent-unload', (event) => {
    if (options.mayLeave(window)) event.preventDefault();
  });
  void window.loadURL(`${APP_ORIGIN}/`);
  return window;
}

/** Loads the app from its first screen; resolves as soon as the page before is gone, so before the new one asks for anything. */
export function loadAfresh(window: BrowserWindow): Promise<void> {
  return new Promise((resolve, reject) => {
    window.webContents.once('did-navigate', () => resolve());
    window.loadURL(`${APP_ORIGIN}/`).then(resolve, reject);
  });
}

/**
 * Guards every page Electron ever makes, however it came to be: it stays on the app and opens nothing. A link to a
 * phone number or a mail address goes to `openOutside`, which decides; every other way out ends here.
 */
export function guardContents(app: Pick<App, 'on'>, openOutside: (address: string) => void): void {
  app.on('web-contents-created', (_event, contents: WebContents) => {
    contents.setWindowOpenHandler(({ url }) => {
      openOutside(url);
      return { action: 'deny' };
    });
    contents.on('will-navigate', (event) => {
      if (isAppAddress(event.url)) return;
      event.preventDefault();
      openOutside(event.url);
    });
    contents.on('will-frame-navigate', (event) => {
      if (isAppAddress(event.url)) return;
      event.preventDefault();
      if (event.isMainFrame) openOutside(event.url);
    });
    contents.on('will-redirect', (event) => {
      if (!isAppAddress(event.url)) event.preventDefault();
    });
    contents.on('will-attach-webview', (event) => event.preventDefault());
  });
}

/** No camera, place, device or notification is ever needed, so none is ever granted. */
export function denyPermissions(
  session: Pick<Session, 'setPermissionRequestHandler' | 'setPermissionCheckHandler' | 'setDevicePermissionHandler'>,
  openOutside: (address: string) => void,
): void {
  session.setPermissionRequestHandler((_contents, permission, callback, details) => {
    // A link out of the app may come as this question in place of a navigation. It is not granted either: what may
    // be opened, we open ourselves, by our own list.
    if (permission === 'openExternal' && 'externalURL' in details && details.isMainFrame)
      openOutside(details.externalURL ?? '');
    callback(false);
  });
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
}
