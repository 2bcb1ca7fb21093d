import { win32 } from 'node:path';
import * as path from 'node:path';
import { BookError } from './errors.ts';
import { fact, type Fact } from './text/say.ts';

// Which names a system lets a file have. Windows answers some of them with a device, another file or silence, so they
// are refused here, in words, before anything is opened.

/** Room for what is appended to a book's name: its lock file is SQLite's too, “-lock-journal”. */
const APPENDED = 13;
/** Room for the longest name we write beside a file before it takes its place: “.NAME.1234567-mabcdefg.restoring”. */
const ASIDE = 40;
/** A name in a folder: bytes, or UTF-16 units on Windows (NTFS and most file systems elsewhere). */
const LONGEST_NAME = 255;
/** A path in UTF-8 bytes, appended part included: what SQLite's own layer takes on each system (tried out: one more fails). */
const LONGEST_PLACE = { windows: 1036, elsewhere: 512 };

/**
 * Windows' own rules for names, in any folder of a path and whatever the extension is.
 * Source: Microsoft Learn, “Naming Files, Paths, and Namespaces” (reserved names and characters, last dot or blank);
 * CONIN$ and CONOUT$: “Console Handles” there. From memory, compared with what Windows' own Node does under Wine.
 */
const DEVICE = /^(CON|PRN|AUX|NUL|COM[0-9¹²³]|LPT[0-9¹²³]|CONIN\$|CONOUT\$) *([.:].*)?$/i;

/**
 * The place a path means, fit to be opened.
 * @param field the input field the path came from
 * @throws BookError 'bad-input' with a sentence where this system cannot have a file of that name
 */
export function placeOf(named: string, field: string, system: NodeJS.Platform = process.platform): string {
  return fit(named, field, system, APPENDED);
}

/**
 * The place a full path means. The contract takes the full paths of every system, this takes those of the one it runs on:
 * elsewhere `C:\backups` would be a name in whatever folder the program was started in, and on Windows `\backups` is on
 * whatever drive that folder is.
 * @throws BookError 'bad-input'
 */
export function fullPlaceOf(named: string, field: string, system: NodeJS.Platform = process.platform): string {
  const full = system === 'win32' ? /^([A-Za-z]:[\\/]|[\\/]{2})/.test(named) : named.startsWith('/');
  if (!full)
    throw new BookError(
      'bad-input',
      system === 'win32' ? fact('errors.needsDrive', { path: named }) : fact('errors.needsSlash', { path: named }),
      field,
    );
  return fit(named, field, system, ASIDE);
}

/** What SQLite, and our lock, put after a book's name for the files they keep beside it. */
const BESIDE = /-(journal|wal|shm|lock)$/i;

/**
 * Refuses to make a file under a name that belongs to the files beside a book: SQLite takes whatever lies there for its own,
 * and the book before it does not open any more.
 * @throws BookError 'bad-input'
 */
export function assertOwnName(place: string, field: string): void {
  const name = path.basename(place);
  const end = BESIDE.exec(name)?.[0];
  if (end !== undefined) throw new BookError('bad-input', fact('errors.besideName', { name, end }), field);
}

/** The path as SQLite has to be told it: Windows takes more than 260 characters only where a path says so itself. */
export function sqlitePlace(place: string): string {
  return process.platform === 'win32' && place.length > 200 ? win32.toNamespacedPath(place) : place;
}

function fit(named: string, field: string, system: NodeJS.Platform, room: number): string {
  const windows = system === 'win32';
  const rules = windows ? win32 : path;
  const place = rules.resolve(named);
  const name = rules.basename(place);
  const fault = windows ? windowsFault(place) : null;
  if (fault !== null) throw new BookError('bad-input', fault, field);
  if ((windows ? name.length : Buffer.byteLength(name)) + room > LONGEST_NAME)
    throw new BookError('bad-input', fact('errors.longName', { name: name.slice(0, 30) }), field);
  if (Buffer.byteLength(place) + room > (windows ? LONGEST_PLACE.windows : LONGEST_PLACE.elsewhere))
    throw new BookError('bad-input', fact('errors.tooDeep', { folder: rules.dirname(place) }), field);
  return place;
}

/** Whether Windows keeps this name for a device, with or without an extension. */
export function isDeviceName(name: string): boolean {
  return DEVICE.test(name);
}

/** What is wrong with a resolved Windows path, as a sentence; null where nothing is. */
function windowsFault(place: string): Fact | null {
  if (place.startsWith('\\\\.\\')) return fact('errors.isDevice', { place });
  const below = place.replace(/^\\\\\?\\(UNC\\)?/, '').replace(/^[A-Za-z]:/, '');
  const names = below.split('\\').filter((name) => name !== '');
  for (const name of names) {
    if (isDeviceName(name)) return fact('errors.deviceName', { device: name.split(/[ .:]/)[0]!, name });
    if (/[. ]$/.test(name)) return fact('errors.dropsEnd', { name });
    const character = /[<>:"|?*\u0000-\u001f]/.exec(name)?.[0];
    if (character !== undefined)
      return character < ' '
        ? fact('errors.controlCharacter', { name: name.replace(/[\u0000-\u001f]/g, '·') })
        : fact('errors.badCharacter', { character, name });
  }
  return null;
}
