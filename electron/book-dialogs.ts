import { existsSync } from 'node:fs';
import path from 'node:path';
import { dialog, shell, type BrowserWindow } from 'electron';
import { toFailure } from '../core/errors.ts';
import type { BookSession } from './book-session.ts';
import type { MenuActions } from './menu.ts';
import { defaultBook, writeLog } from './places.ts';

const FILTERS = [{ name: 'Valvebook book', extensions: ['valvebook'] }];

/** What the menu does with the book; every failure is one sentence in a box. */
export function bookActions(session: BookSession, window: () => BrowserWindow | undefined): MenuActions {
  const run = (work: () => Promise<void>) => () => {
    work().catch((error: unknown) => explain(error));
  };
  return {
    newBook: run(async () => {
      const chosen = await dialog.showSaveDialog({
        title: 'New book',
        defaultPath: path.join(path.dirname(session.bookPath ?? defaultBook()), 'new.valvebook'),
        filters: FILTERS,
      });
      if (chosen.canceled || !chosen.filePath) return;
      // The system's dialog asks "replace?"; a book is never replaced by an empty one.
      if (existsSync(chosen.filePath))
        return void dialog.showErrorBox('That file exists', 'A new book needs a name of its own. Nothing was changed.');
      await session.open(chosen.filePath, true);
      window()?.reload();
    }),
    openBook: run(async () => {
      if (await chooseAndOpen(session)) window()?.reload();
    }),
    backUp: run(async () => {
      const reply = await session.call('book.backup', {});
      if (!reply.ok) return void dialog.showErrorBox('The book was not backed up', reply.error.message);
      const saved = reply.data as { path: string };
      const answer = await dialog.showMessageBox({
        type: 'info',
        message: 'The book is backed up.',
        detail: saved.path,
        buttons: ['OK', 'Show the file'],
        defaultId: 0,
        cancelId: 0,
      });
      if (answer.response === 1) shell.showItemInFolder(saved.path);
    }),
    showBook: () => {
      if (session.bookPath !== undefined) shell.showItemInFolder(session.bookPath);
    },
    print: () => window()?.webContents.print(),
  };
}

/** Lets the user choose a book and opens it. False when they chose none. */
export async function chooseAndOpen(session: BookSession): Promise<boolean> {
  const chosen = await dialog.showOpenDialog({ title: 'Open book', properties: ['openFile'], filters: FILTERS });
  const [file] = chosen.filePaths;
  if (chosen.canceled || file === undefined) return false;
  await session.open(file, false);
  return true;
}

/** Shows a failure as the sentence it carries. */
export function explain(error: unknown): void {
  const failure = toFailure(error);
  if (failure.code === 'internal') writeLog(error instanceof Error ? (error.stack ?? error.message) : String(error));
  dialog.showErrorBox('Valvebook cannot do that', failure.message);
}
