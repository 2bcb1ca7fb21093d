import path from 'node:path';
import { app, ipcMain, Menu, protocol, session as electronSession, shell, type BrowserWindow } from 'electron';
import { APP_SCHEME_RIGHTS, serveApp } from './app-protocol.ts';
import { askedBook, askedBySecondStart, type AskedBook } from './asked-book.ts';
import { askToLeave, bookActions, chooseBook, explain, mayLoseChanges, whileUpgrading } from './book-dialogs.ts';
import { BookOpening } from './book-opening.ts';
import { BookSession } from './book-session.ts';
import { CHANNEL, type ToWindow } from './bridge.ts';
import { serveRequests } from './ipc.ts';
import { menuTemplate } from './menu.ts';
import { outsideDoor } from './outside-links.ts';
import { choosePath } from './path-dialogs.ts';
import { callersFolder, dataFolder, defaultBook, keepToOwner, projectRoot, rendererFolder } from './places.ts';
import { setShellReader, shellReader } from './shell-reader.ts';
import { createWindow, denyPermissions, guardContents, loadAfresh } from './window.ts';

keepToOwner();
const book = new BookSession(whileUpgrading);
const opening = new BookOpening(book, {
  show: showWindow,
  startAfresh,
  holdsUnsaved: () => unsaved,
  askToLeave: (name) => askToLeave(window, name),
});
const openOutside = outsideDoor((address) => shell.openExternal(address), explain);
let asked = askedBook(process.argv.slice(1), callersFolder());
let window: BrowserWindow | undefined;
/** The first book is open or given up; until then a file that is opened is the first book. */
let started = false;
let unsaved = false;
/** Leaving has been agreed to already. */
let leaving = false;
let closed = false;

app.setName('Valvebook');
app.setPath('userData', path.join(dataFolder(), 'window'));
// Before anything else that could make a page.
app.enableSandbox();
protocol.registerSchemesAsPrivileged([APP_SCHEME_RIGHTS]);
guardContents(app, openOutside);

if (app.requestSingleInstanceLock({ asked: asked ?? null })) run();
else app.quit();

function run(): void {
  app.on('second-instance', (_event, argv, folder, data) => {
    const wanted = askedBySecondStart(data, argv, folder);
    if (wanted !== undefined) openAsked(wanted);
    else if (window !== undefined || book.bookPath !== undefined) showWindow();
  });
  // macOS tells of a double-clicked book this way, and may do so before anything is ready.
  app.on('open-file', (event, file) => {
    event.preventDefault();
    if (started) openAsked({ path: file, create: false });
    else asked = { path: file, create: false };
  });
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  app.on('activate', () => {
    if (window === undefined && book.bookPath !== undefined) showWindow();
  });
  // The book is closed in order before the process ends; quitting waits for it once.
  app.on('will-quit', (event) => {
    if (closed) return;
    event.preventDefault();
    void book.close().finally(() => {
      closed = true;
      app.quit();
    });
  });
  app
    .whenReady()
    .then(ready)
    .catch((error: unknown) => {
      explain(error);
      app.exit(1);
    });
}

async function ready(): Promise<void> {
  denyPermissions(electronSession.defaultSession, openOutside);
  serveApp(protocol, rendererFolder());
  serveRequests(ipcMain, opening, (sender) => sender === window?.webContents, {
    unsaved: (holds) => (unsaved = holds),
    reader: (reader) => {
      if (setShellReader(reader)) makeMenu();
    },
    choosePath: (choice, from) => choosePath(window, choice, from, book.bookPath ?? defaultBook()),
  });
  book.onChange((topics) => {
    const contents = window?.webContents;
    if (contents !== undefined && !contents.isDestroyed())
      contents.send(CHANNEL, { kind: 'changed', topics } satisfies ToWindow);
  });
  makeMenu();
  // Whatever is asked for meanwhile is opened after it.
  if (!(await opening.inTurn(openFirstBook))) return app.exit(1);
  showWindow();
}

/** The menu in its reader's language. */
function makeMenu(): void {
  const actions = bookActions(book, opening, () => window);
  const options = { mac: process.platform === 'darwin', developerTools: !app.isPackaged, reader: shellReader() };
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(actions, options)));
}

/** The named or usual book; where it cannot be opened the user may choose another, or give up. */
async function openFirstBook(): Promise<boolean> {
  const first = asked ?? { path: defaultBook(), create: true };
  started = true;
  try {
    await book.open(first.path, first.create);
    return true;
  } catch (error) {
    explain(error);
  }
  for (;;) {
    try {
      const file = await chooseBook();
      if (file === undefined) return false;
      await book.open(file, false);
      return true;
    } catch (error) {
      explain(error);
    }
  }
}

function openAsked(wanted: AskedBook): void {
  opening.change(wanted).catch((error: unknown) => {
    if (window !== undefined) showWindow();
    explain(error);
  });
}

/** Brings the window to the front; makes it where there is none. */
function showWindow(): void {
  if (window !== undefined) {
    if (window.isMinimized()) window.restore();
    window.focus();
    return;
  }
  const made = createWindow({
    preload: path.join(projectRoot(), 'dist', 'electron', 'preload.cjs'),
    developerTools: !app.isPackaged,
    mayLeave: (asking) => leaving || mayLoseChanges(asking),
  });
  window = made;
  // A fresh page holds nothing.
  made.webContents.on('did-navigate', () => (unsaved = false));
  made.on('closed', () => {
    window = undefined;
    unsaved = false;
  });
}

async function startAfresh(): Promise<void> {
  if (window === undefined) return;
  leaving = true;
  try {
    await loadAfresh(window);
  } finally {
    leaving = false;
  }
}
