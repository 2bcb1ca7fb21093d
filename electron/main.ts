import path from 'node:path';
import { parseArgs } from 'node:util';
import { app, ipcMain, Menu, protocol, session as electronSession, shell, type BrowserWindow } from 'electron';
import { APP_SCHEME_RIGHTS, serveApp } from './app-protocol.ts';
import { bookActions, chooseAndOpen, explain } from './book-dialogs.ts';
import { BookSession } from './book-session.ts';
import { CHANNEL, type ToWindow } from './bridge.ts';
import { serveRequests } from './ipc.ts';
import { menuTemplate } from './menu.ts';
import { dataFolder, defaultBook, fromCallersFolder, projectRoot, rendererFolder } from './places.ts';
import { outsideDoor } from './outside-links.ts';
import { createWindow, denyPermissions, guardContents } from './window.ts';

const book = new BookSession();
let window: BrowserWindow | undefined;
let closed = false;
const openOutside = outsideDoor((address) => shell.openExternal(address), explain);

app.setName('Valvebook');
app.setPath('userData', path.join(dataFolder(), 'window'));
// Before anything else that could make a page.
app.enableSandbox();
protocol.registerSchemesAsPrivileged([APP_SCHEME_RIGHTS]);
guardContents(app, openOutside);

if (app.requestSingleInstanceLock()) run();
else app.quit();

function run(): void {
  app.on('second-instance', () => {
    if (window === undefined) return;
    if (window.isMinimized()) window.restore();
    window.focus();
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
  serveRequests(ipcMain, book, (sender) => sender === window?.webContents);
  book.onChange((topics) => {
    const contents = window?.webContents;
    if (contents !== undefined && !contents.isDestroyed())
      contents.send(CHANNEL, { kind: 'changed', topics } satisfies ToWindow);
  });
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(
      menuTemplate(
        bookActions(book, () => window),
        { mac: process.platform === 'darwin', developerTools: !app.isPackaged },
      ),
    ),
  );
  if (!(await openFirstBook())) return app.exit(1);
  showWindow();
}

/** The named or usual book; where it cannot be opened the user may choose another, or give up. */
async function openFirstBook(): Promise<boolean> {
  try {
    await book.open(bookToOpen(process.argv), true);
    return true;
  } catch (error) {
    explain(error);
  }
  for (;;) {
    try {
      return await chooseAndOpen(book);
    } catch (error) {
      explain(error);
    }
  }
}

function bookToOpen(argv: string[]): string {
  const { values, positionals } = parseArgs({
    args: argv.slice(1),
    options: { book: { type: 'string' } },
    strict: false,
    allowPositionals: true,
  });
  // A book opened from the file manager comes as a bare path.
  const named = typeof values.book === 'string' ? values.book : positionals.find((text) => text.endsWith('.valvebook'));
  return named === undefined ? defaultBook() : fromCallersFolder(named);
}

function showWindow(): void {
  window = createWindow({
    preload: path.join(projectRoot(), 'dist', 'electron', 'preload.cjs'),
    developerTools: !app.isPackaged,
  });
  window.on('closed', () => {
    window = undefined;
  });
}
