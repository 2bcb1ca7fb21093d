import type { Stats } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { homedir, userInfo } from 'node:os';
import path from 'node:path';
import type { Handler } from '../context.ts';
import type { OutputOf } from '../contract/index.ts';
import { LONGEST_LISTING } from '../contract/places.ts';
import { BookError } from '../errors.ts';
import { codeOf } from '../store/fault.ts';
import { fact, type Fact } from '../text/say.ts';

// What there is to choose from on this machine, one folder at a time: names, sizes, dates; never a content.

type Listing = OutputOf<'place.list'>;
type Entry = Listing['entries'][number];
type Place = Listing['places'][number];

/** What differs from machine to machine. */
export interface Machine {
  home: string;
  /** Folders that disks and shares are put into: each of their folders that lies on another disk is a place. */
  mountFolders: string[];
  /** Tops of disks where a system gives them letters. */
  drives: string[];
  /** Another home of Documents and Desktop, where a system keeps a copy of them elsewhere. */
  secondHome: string | undefined;
  /** How long a disk or a share may take to answer, ms. */
  patienceMs: number;
  disk: { stat(file: string): Promise<Stats>; readdir(folder: string): Promise<string[]> };
}

/** The machine this runs on. */
export function thisMachine(): Machine {
  const windows = process.platform === 'win32';
  const user = userName();
  return {
    home: homedir(),
    mountFolders: windows ? [] : ['/media', `/media/${user}`, `/run/media/${user}`, '/mnt', '/Volumes'],
    // A and B are floppy drives, which take their time to say that they are empty.
    drives: windows ? [...'CDEFGHIJKLMNOPQRSTUVWXYZ'].map((letter) => `${letter}:\\`) : ['/'],
    secondHome: process.env.OneDrive,
    patienceMs: 5000,
    disk: { stat, readdir },
  };
}

function userName(): string {
  try {
    return userInfo().username;
  } catch {
    // An account without an entry in the system's list.
    return process.env.USER ?? '';
  }
}

export const listPlace: Handler<'place.list'> = (context, input) => listFolder(context.bookPath, input, thisMachine());

/**
 * One folder and the usual places. A file's path means the folder it lies in. Throws BookError not-found where there
 * is no such folder, bad-input where the path is none of this machine's, disk where it may not be looked into.
 */
export async function listFolder(
  bookPath: string,
  input: { path: string | null; want: 'file' | 'folder'; extensions: string[] },
  machine: Machine,
): Promise<Listing> {
  const asked = input.path ?? path.dirname(bookPath);
  if (!path.isAbsolute(asked)) throw new BookError('bad-input', fact('errors.notFullHere', { path: asked }), 'path');
  const [folder, places] = await Promise.all([
    inTime(() => folderOf(path.resolve(asked), machine), machine, asked),
    usualPlaces(bookPath, machine),
  ]);
  const names = (
    await inTime(() => machine.disk.readdir(folder), machine, folder).catch((error: unknown) => refuse(error, folder))
  ).filter((name) => !isHidden(name));
  const looked = await lookAtAll(folder, names, machine);
  const matching = looked.filter((entry): entry is Entry => entry !== undefined && fits(entry, input));
  const folders = matching.filter(({ kind }) => kind === 'folder').toSorted(byName);
  const files = matching.filter(({ kind }) => kind === 'file').toSorted(newestFirst);
  const entries = [...folders, ...files];
  const parent = path.dirname(folder);
  return {
    path: folder,
    parent: parent === folder ? null : parent,
    separator: path.sep,
    entries: entries.slice(0, LONGEST_LISTING),
    more: Math.max(0, entries.length - LONGEST_LISTING),
    places,
  };
}

async function folderOf(asked: string, machine: Machine): Promise<string> {
  try {
    return (await machine.disk.stat(asked)).isDirectory() ? asked : path.dirname(asked);
  } catch (error) {
    return refuse(error, asked);
  }
}

/** All of a folder's names; one that leads to a share that does not answer is left out, and the others are shown. */
async function lookAtAll(folder: string, names: string[], machine: Machine): Promise<(Entry | undefined)[]> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), machine.patienceMs);
  });
  try {
    return await Promise.all(names.map((name) => Promise.race([lookAt(folder, name, machine), late])));
  } finally {
    clearTimeout(timer);
  }
}

/** What stands behind a name, links followed; undefined for what is neither folder nor file, or leads nowhere. */
async function lookAt(folder: string, name: string, machine: Machine): Promise<Entry | undefined> {
  const full = path.join(folder, name);
  try {
    const found = await machine.disk.stat(full);
    if (!found.isDirectory() && !found.isFile()) return undefined;
    return {
      name,
      path: full,
      kind: found.isDirectory() ? 'folder' : 'file',
      bytes: found.isDirectory() ? null : found.size,
      modifiedAt: found.mtime.toISOString(),
    };
  } catch {
    return undefined;
  }
}

/** Names that systems keep to themselves. */
function isHidden(name: string): boolean {
  return /^[.$~]/.test(name) || /^(System Volume Information|lost\+found|desktop\.ini|Thumbs\.db)$/i.test(name);
}

function fits(entry: Entry, input: { want: 'file' | 'folder'; extensions: string[] }): boolean {
  if (entry.kind === 'folder') return true;
  if (input.want === 'folder') return false;
  return (
    input.extensions.length === 0 ||
    input.extensions.some((extension) => entry.name.toLowerCase().endsWith(`.${extension}`))
  );
}

const nameOrder = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });
const byName = (one: Entry, other: Entry) => nameOrder.compare(one.name, other.name);
const newestFirst = (one: Entry, other: Entry) =>
  one.modifiedAt === other.modifiedAt ? byName(one, other) : one.modifiedAt < other.modifiedAt ? 1 : -1;

/** The places one usually starts at: those of them that are there and answer in time, each once. */
async function usualPlaces(bookPath: string, machine: Machine): Promise<Place[]> {
  const bookFolder = path.dirname(bookPath);
  const fixed: Place[] = [
    { kind: 'book', name: '', path: bookFolder },
    { kind: 'backups', name: '', path: path.join(bookFolder, 'backups') },
    { kind: 'home', name: '', path: machine.home },
    { kind: 'documents', name: '', path: path.join(machine.home, 'Documents') },
    { kind: 'desktop', name: '', path: path.join(machine.home, 'Desktop') },
    { kind: 'downloads', name: '', path: path.join(machine.home, 'Downloads') },
  ];
  if (machine.secondHome !== undefined && path.isAbsolute(machine.secondHome)) {
    for (const [kind, name] of [
      ['documents', 'Documents'],
      ['desktop', 'Desktop'],
    ] as const) {
      const there = path.join(machine.secondHome, name);
      fixed.push({ kind, name: path.basename(machine.secondHome), path: there });
    }
  }
  for (const drive of machine.drives)
    fixed.push(
      drive === '/' ? { kind: 'computer', name: '', path: drive } : { kind: 'drive', name: drive, path: drive },
    );
  const [there, mounted] = await Promise.all([
    Promise.all(fixed.map((place) => isFolder(place.path, machine).then((yes) => (yes ? place : undefined)))),
    Promise.all(machine.mountFolders.map((folder) => mountsIn(folder, machine))),
  ]);
  const seen = new Set<string>();
  return [...there, ...mounted.flat()].filter((place): place is Place => {
    if (place === undefined || seen.has(place.path)) return false;
    seen.add(place.path);
    return true;
  });
}

async function isFolder(folder: string, machine: Machine): Promise<boolean> {
  return inTime(() => machine.disk.stat(folder), machine, folder).then(
    (found) => found.isDirectory(),
    () => false,
  );
}

/** Folders in `folder` that lie on another disk than it does: an empty folder where a disk could be is no disk. */
async function mountsIn(folder: string, machine: Machine): Promise<Place[]> {
  try {
    const [own, names] = await inTime(
      () => Promise.all([machine.disk.stat(folder), machine.disk.readdir(folder)]),
      machine,
      folder,
    );
    const looked = await Promise.all(
      names
        .filter((name) => !isHidden(name))
        .map(async (name): Promise<Place | undefined> => {
          const full = path.join(folder, name);
          const found = await inTime(() => machine.disk.stat(full), machine, full).catch(() => undefined);
          return found?.isDirectory() === true && found.dev !== own.dev
            ? { kind: 'drive', name, path: full }
            : undefined;
        }),
    );
    return looked.filter((place): place is Place => place !== undefined);
  } catch {
    // Not there, or not ours to look into.
    return [];
  }
}

const SILENT_MS = 60_000;
/** What did not answer, and when. Each question left open holds a thread, so it is not asked again at once. */
const silent = new Map<string, number>();

/** A share whose server is gone may never answer. */
async function inTime<T>(work: () => Promise<T>, machine: Machine, what: string): Promise<T> {
  const late = () => new BookError('disk', fact('errors.noAnswerFrom', { place: what }), 'path');
  if (Date.now() - (silent.get(what) ?? -Infinity) < SILENT_MS) throw late();
  let timer: NodeJS.Timeout | undefined;
  const patience = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => {
      silent.set(what, Date.now());
      reject(late());
    }, machine.patienceMs);
  });
  try {
    return await Promise.race([work(), patience]);
  } finally {
    clearTimeout(timer);
  }
}

function refuse(error: unknown, folder: string): never {
  if (error instanceof BookError) throw error;
  const code = codeOf(error);
  const say = (kind: 'not-found' | 'disk', what: Fact): never => {
    throw new BookError(kind, what, 'path', { cause: error });
  };
  if (code === 'ENOENT' || code === 'ENOTDIR') say('not-found', fact('errors.noFolderThere', { folder }));
  if (code === 'EACCES' || code === 'EPERM') say('disk', fact('errors.mayNotLook', { folder }));
  if (code === 'ELOOP') say('disk', fact('errors.linkToItself', { path: folder }));
  if (code === 'ENAMETOOLONG') say('not-found', fact('errors.pathTooLong'));
  return say('disk', fact('errors.cannotLook', { folder, code }));
}
