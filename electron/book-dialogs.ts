import { existsSync } from 'node:fs';
import path from 'node:path';
import { dialog, shell, type BrowserWindow } from 'electron';
import { sayFailure, toFailure } from '../core/errors.ts';
import { say } from '../core/text/say.ts';
import { shellReader } from './shell-reader.ts';
import type { BookOpening } from './book-opening.ts';
import type { BookSession, WhileUpgrading } from './book-session.ts';
import type { MenuActions } from './menu.ts';
import { defaultBook, writeLog } from './places.ts';

const filters = () => [{ name: say(shellReader(), 'desktop.kindBook'), extensions: ['valvebook'] }];

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
        title: say(shellReader(), 'desktop.titleNew'),
        defaultPath: path.join(path.dirname(session.bookPath ?? defaultBook()), 'new.valvebook'),
        filters: filters(),
      });
      if (chosen.canceled || !chosen.filePath) return;
      // The system's dialog asks "replace?"; a book is never replaced by an empty one.
      if (existsSync(chosen.filePath))
        return void dialog.showErrorBox(
          say(shellReader(), 'desktop.fileExists'),
          say(shellReader(), 'desktop.ownName'),
        );
      await opening.change({ path: chosen.filePath, create: true });
    }),
    openBook: run(async () => {
      const file = await chooseBook();
      if (file !== undefined) await opening.change({ path: file, create: false });
    }),
    backUp: run(async () => {
      const reply = await session.call('book.backup', {});
      if (!reply.ok)
        return void dialog.showErrorBox(
          say(shellReader(), 'desktop.notBackedUp'),
          sayFailure(shellReader(), reply.error),
        );
      const saved = reply.data as { path: string };
      const answer = await dialog.showMessageBox({
        type: 'info',
        message: say(shellReader(), 'company.backedUpToast'),
        detail: saved.path,
        buttons: [say(shellReader(), 'desktop.ok'), say(shellReader(), 'desktop.showFile')],
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
  const chosen = await dialog.showOpenDialog({
    title: say(shellReader(), 'desktop.titleOpen'),
    properties: ['openFile'],
    filters: filters(),
  });
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
            message: say(shellReader(), 'desktop.upgrading', { name: path.basename(bookPath) }),
            detail: say(shellReader(), 'desktop.upgradingWhy'),
            buttons: [say(shellReader(), 'desktop.stop')],
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
    message: say(shellReader(), 'desktop.openOther', { name: bookName }),
    detail: say(shellReader(), 'desktop.openOtherWhy'),
    buttons: [say(shellReader(), 'desktop.stayWithBook'), say(shellReader(), 'desktop.openUnsaved')],
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
      message: say(shellReader(), 'desktop.unsaved'),
      detail: say(shellReader(), 'desktop.unsavedWhy'),
      buttons: [say(shellReader(), 'desktop.stay'), say(shellReader(), 'desktop.leave')],
      defaultId: 0,
      cancelId: 0,
    }) === 1
  );
}

/** Shows a failure as the sentence it carries. */
export function explain(error: unknown): void {
  const failure = toFailure(error);
  if (failure.code === 'internal') writeLog(error instanceof Error ? (error.stack ?? error.message) : String(error));
  dialog.showErrorBox(say(shellReader(), 'desktop.cannot'), sayFailure(shellReader(), failure));
}
