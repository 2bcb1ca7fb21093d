import { statSync } from 'node:fs';
import path from 'node:path';
import { dialog, type BrowserWindow, type OpenDialogOptions, type SaveDialogOptions } from 'electron';
import { todayIn } from '../core/dates.ts';
import { say } from '../core/text/say.ts';
import { shellReader } from './shell-reader.ts';
import {
  PATH_CHOICES,
  suggestedName,
  withEnding,
  type PathChoice,
  type PathChoiceName,
} from '../core/contract/places.ts';

const KINDS = { valvebook: 'desktop.kindBook', zip: 'desktop.kindZip' } as const;

/** Asks for one of the paths the app needs, by the system's own dialog; null where none was chosen. */
export async function choosePath(
  window: BrowserWindow | undefined,
  choiceName: PathChoiceName,
  from: string,
  bookPath: string,
): Promise<string | null> {
  const choice: PathChoice = PATH_CHOICES[choiceName];
  const options = {
    title: say(shellReader(), `places.title.${choiceName}`),
    buttonLabel: say(shellReader(), `places.take.${choiceName}`),
    defaultPath: startOf(choice, from, bookPath),
    ...(choice.want === 'folder'
      ? {}
      : { filters: [{ name: say(shellReader(), KINDS[choice.extension]), extensions: [choice.extension] }] }),
  };
  if (choice.want === 'save') {
    const asked: SaveDialogOptions = { ...options, properties: ['createDirectory'] };
    const chosen = await (window === undefined ? dialog.showSaveDialog(asked) : dialog.showSaveDialog(window, asked));
    if (chosen.canceled || chosen.filePath === '') return null;
    // Not every system's dialog adds the ending.
    return path.join(path.dirname(chosen.filePath), withEnding(path.basename(chosen.filePath), choice.extension));
  }
  const asked: OpenDialogOptions = {
    ...options,
    properties: choice.want === 'folder' ? ['openDirectory', 'createDirectory'] : ['openFile'],
  };
  const chosen = await (window === undefined ? dialog.showOpenDialog(asked) : dialog.showOpenDialog(window, asked));
  return chosen.canceled ? null : (chosen.filePaths[0] ?? null);
}

/** Where the dialog begins: at what stands in the field, as far as it is there, else beside the book. */
function startOf(choice: PathChoice, from: string, bookPath: string): string {
  const typed = from.trim();
  if (path.isAbsolute(typed) && (exists(typed) || (choice.want === 'save' && exists(path.dirname(typed)))))
    return typed;
  const beside = path.dirname(bookPath);
  if (choice.want === 'save') return path.join(beside, suggestedName(choice, bookPath, todayIn()));
  const backups = path.join(beside, 'backups');
  return choice.want === 'open' && exists(backups) ? backups : beside;
}

function exists(file: string): boolean {
  try {
    return statSync(file, { throwIfNoEntry: false }) !== undefined;
  } catch {
    // A path with a NUL in it, or below a file.
    return false;
  }
}
