import { EventEmitter } from 'node:events';
import type {
  BrowserWindowConstructorOptions,
  IpcMainInvokeEvent,
  MenuItemConstructorOptions,
  WebContents,
} from 'electron';

// A stand-in of Electron's module: only what the shell uses, typed by Electron's own definitions, and it remembers
// what it was told. Tests assert on that memory.

type Electron = typeof import('electron');
export type Recorded = ReturnType<typeof makeStandIn>;

export function makeStandIn(options: { firstInstance?: boolean } = {}) {
  const order: string[] = [];
  const windows: FakeWindow[] = [];
  const record = {
    order,
    windows,
    schemes: [] as Electron.CustomScheme[],
    protocols: new Map<string, (request: Request) => Response | Promise<Response>>(),
    channels: new Map<string, (event: IpcMainInvokeEvent, ...args: unknown[]) => unknown>(),
    menu: [] as MenuItemConstructorOptions[],
    errorBoxes: [] as string[],
    permissionRequest: undefined as Parameters<Electron.Session['setPermissionRequestHandler']>[0] | undefined,
    permissionCheck: undefined as Parameters<Electron.Session['setPermissionCheckHandler']>[0] | undefined,
    devicePermission: undefined as Parameters<Electron.Session['setDevicePermissionHandler']>[0] | undefined,
    openedOutside: [] as string[],
    outsideFails: false,
    lockData: undefined as Record<string, unknown> | undefined,
    /** The button that is pressed in every box that asks. */
    answer: 0,
    questions: [] as string[],
    exitCode: undefined as number | undefined,
    openAsked: [] as (Electron.OpenDialogOptions & { over: boolean })[],
    saveAsked: [] as (Electron.SaveDialogOptions & { over: boolean })[],
    saveDialog: { canceled: true, filePath: '' } as Electron.SaveDialogReturnValue,
    openDialog: { canceled: true, filePaths: [] } as Electron.OpenDialogReturnValue,
    becomeReady: () => undefined as void,
  };
  const ready = new Promise<void>((resolve) => {
    record.becomeReady = () => resolve();
  });

  const appEvents = new EventEmitter();
  const app = Object.assign(appEvents, {
    isPackaged: true,
    setName: () => undefined,
    setPath: () => undefined,
    enableSandbox: () => void order.push('sandbox'),
    requestSingleInstanceLock: (data?: Record<string, unknown>) => {
      record.lockData = data;
      return options.firstInstance ?? true;
    },
    whenReady: () => ready,
    quit: () => void order.push('quit'),
    exit: (code?: number) => {
      record.exitCode = code;
    },
  } satisfies Partial<Record<keyof Electron.App, unknown>>);

  class FakeWindow extends EventEmitter {
    readonly options: BrowserWindowConstructorOptions;
    readonly webContents: WebContents & EventEmitter;
    loaded = '';
    loads = 0;
    holdsChanges = false;
    focused = 0;
    restored = 0;
    minimized = false;
    constructor(windowOptions: BrowserWindowConstructorOptions = {}) {
      super();
      order.push('window');
      this.options = windowOptions;
      this.webContents = fakeContents();
      windows.push(this);
      appEvents.emit('web-contents-created', {}, this.webContents);
    }
    loadURL(url: string): Promise<void> {
      this.loaded = url;
      this.loads += 1;
      // A page that holds changes asks before it goes, as Electron does for `beforeunload`.
      let kept = this.holdsChanges;
      if (kept) this.webContents.emit('will-prevent-unload', { preventDefault: () => (kept = false) });
      if (kept) return Promise.reject(new Error('ERR_ABORTED (-3)'));
      this.webContents.emit('did-navigate');
      return Promise.resolve();
    }
    isMinimized = () => this.minimized;
    restore = () => void (this.restored += 1);
    focus = () => void (this.focused += 1);
    show = () => undefined;
  }

  const module = {
    app,
    BrowserWindow: FakeWindow,
    nativeTheme: { shouldUseDarkColors: false },
    protocol: {
      registerSchemesAsPrivileged: (schemes: Electron.CustomScheme[]) => {
        order.push('schemes');
        record.schemes.push(...schemes);
      },
      handle: (scheme: string, handler: (request: Request) => Response | Promise<Response>) =>
        void record.protocols.set(scheme, handler),
    },
    session: {
      defaultSession: {
        setPermissionRequestHandler: (handler: typeof record.permissionRequest) =>
          void (record.permissionRequest = handler),
        setPermissionCheckHandler: (handler: typeof record.permissionCheck) => void (record.permissionCheck = handler),
        setDevicePermissionHandler: (handler: typeof record.devicePermission) =>
          void (record.devicePermission = handler),
      },
    },
    ipcMain: {
      handle: (channel: string, listener: (event: IpcMainInvokeEvent, ...args: unknown[]) => unknown) =>
        void record.channels.set(channel, listener),
    },
    Menu: {
      buildFromTemplate: (template: MenuItemConstructorOptions[]) => template,
      setApplicationMenu: (menu: MenuItemConstructorOptions[]) => void (record.menu = menu),
    },
    dialog: {
      showErrorBox: (_title: string, content: string) => void record.errorBoxes.push(content),
      // With a window before them or without, as Electron takes them.
      showOpenDialog: (...asked: unknown[]) => {
        record.openAsked.push({ over: asked.length > 1, ...(asked.at(-1) as Electron.OpenDialogOptions) });
        return Promise.resolve(record.openDialog);
      },
      showSaveDialog: (...asked: unknown[]) => {
        record.saveAsked.push({ over: asked.length > 1, ...(asked.at(-1) as Electron.SaveDialogOptions) });
        return Promise.resolve(record.saveDialog);
      },
      showMessageBox: (...asked: unknown[]) => {
        record.questions.push((asked.at(-1) as Electron.MessageBoxOptions).message);
        return Promise.resolve({ response: record.answer, checkboxChecked: false });
      },
      showMessageBoxSync: (...asked: unknown[]) => {
        record.questions.push((asked.at(-1) as Electron.MessageBoxSyncOptions).message);
        return record.answer;
      },
    },
    shell: {
      showItemInFolder: () => undefined,
      openExternal: (address: string) => {
        record.openedOutside.push(address);
        return record.outsideFails ? Promise.reject(new Error('no program')) : Promise.resolve();
      },
    },
  } satisfies Partial<Record<keyof Electron, unknown>>;
  return { module, app, record };
}

let lastId = 0;

/** A page's contents as the guards and the channel use them. */
export function fakeContents(
  address = 'app://valvebook/',
): WebContents &
  EventEmitter & { sent: unknown[]; openHandler: Parameters<WebContents['setWindowOpenHandler']>[0] | undefined } {
  lastId += 1;
  const frame = { url: address };
  const contents = Object.assign(new EventEmitter(), {
    id: lastId,
    mainFrame: frame,
    sent: [] as unknown[],
    openHandler: undefined as Parameters<WebContents['setWindowOpenHandler']>[0] | undefined,
    isDestroyed: () => false,
    send: (_channel: string, message: unknown) => void contents.sent.push(message),
    print: () => undefined,
    setWindowOpenHandler: (handler: Parameters<WebContents['setWindowOpenHandler']>[0]) =>
      void (contents.openHandler = handler),
  });
  return contents as unknown as ReturnType<typeof fakeContents>;
}

/** An invoke event from a page's top frame, or from another frame when one is given. */
export function eventFrom(contents: WebContents, frame: unknown = contents.mainFrame): IpcMainInvokeEvent {
  return { sender: contents, senderFrame: frame } as unknown as IpcMainInvokeEvent;
}
