import { existsSync } from 'node:fs';
import path from 'node:path';
import { dialog, shell, type BrowserWindow } from 'electron';
import { toFailure } from '../core/errors.ts';
import type { BookOpening } from './book-opening.ts';
import type { BookSession, WhileUpgrading } from './book-session.ts';
import type { MenuActions } from './menu.ts';
import { defaultBook, writeLog } from './places.ts';

const FILTERS = [{ name: 'Valvebook book', extensions: ['valvebook'] }];

/** What the menu does with the book; every failure is one sentence in a box. */
export function bookActions(
  session: BookSession,
  opening: BookOpening,
  window: () => BrowserWindow | undefined,
): MenuActions {
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
      await opening.change({ path: chosen.filePath, create: true });
    }),
    openBook: run(async () => {
      const file = await chooseBook();
      if (file !== undefined) await opening.change({ path: file, create: false });
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

/** Lets the user choose a book; undefined where they chose none. */
export async function chooseBook(): Promise<string | undefined> {
  const chosen = await dialog.showOpenDialog({ title: 'Open book', properties: ['openFile'], filters: FILTERS });
  return chosen.canceled ? undefined : chosen.filePaths[0];
}

/** A book that is up to date, or nearly, opens before anybody could read the box. */
const SHOWN_AFTER_MS = 1000;

/** A box while an older book is brought up to date; it goes by itself, and its one button stops the work. */
export const whileUpgrading: WhileUpgrading = async (bookPath, work) => {
  const stopping = new AbortController();
  const shown = new AbortController();
  let begunAt: number | null = null;
  let isShown = false;
  try {
    return await work({
      signal: stopping.signal,
      progress() {
        begunAt ??= performance.now();
        if (isShown || performance.now() - begunAt < SHOWN_AFTER_MS) return;
        isShown = true;
        void dialog
          .showMessageBox({
            type: 'info',
            message: `${path.basename(bookPath)} is being brought up to date.`,
            detail:
              'It was made by an older Valvebook. A large book takes some minutes. A copy as it was is kept beside it.',
            buttons: ['Stop'],
            signal: shown.signal,
          })
          .then(() => {
            if (!shown.signal.aborted) stopping.abort();
          });
      },
    });
  } finally {
    shown.abort();
  }
};

/** May what is typed and not saved be lost for another book? Staying is what Enter and Escape do. */
export async function askToLeave(window: BrowserWindow | undefined, bookName: string): Promise<boolean> {
  const question = {
    type: 'question' as const,
    message: `Open ${bookName}?`,
    detail:
      'Something on this screen is changed and not saved yet. It is lost when another book is opened. Field work is kept for when this book is open again.',
    buttons: ['Stay with this book', 'Open without saving'],
    defaultId: 0,
    cancelId: 0,
  };
  const answer = await (window === undefined
    ? dialog.showMessageBox(question)
    : dialog.showMessageBox(window, question));
  return answer.response === 1;
}

/** The page holds changes and is about to close or load again: may they be lost? Electron itself would only do nothing, in silence. */
export function mayLoseChanges(window: BrowserWindow): boolean {
  return (
    dialog.showMessageBoxSync(window, {
      type: 'question',
      message: 'Something is changed and not saved yet.',
      detail: 'It is lost when this window closes or loads again.',
      buttons: ['Stay', 'Leave without saving'],
      defaultId: 0,
      cancelId: 0,
    }) === 1
  );
}

/** Shows a failure as the sentence it carries. */
export function explain(error: unknown): void {
  const failure = toFailure(error);
  if (failure.code === 'internal') writeLog(error instanceof Error ? (error.stack ?? error.message) : String(error));
  dialog.showErrorBox('Valvebook cannot do that', failure.message);
}
