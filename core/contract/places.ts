import { z } from 'zod';
import { defineRequest } from './define-request.ts';
import { fullPathSchema } from './parts.ts';

// Choosing a file or a folder on this machine: what there is to choose from, and the four questions the app asks.

/** Entries of one answer at most; a folder that holds more says how many were left out. */
export const LONGEST_LISTING = 500;

export const placeList = defineRequest({
  name: 'place.list',
  kind: 'read',
  title:
    'One folder of this machine to choose from: names, sizes and dates of its folders and matching files, and the places one usually starts at.',
  topics: [],
  input: z.object({
    /** A folder, or a file in it; left out: the book’s own folder. */
    path: fullPathSchema.nullable().default(null),
    want: z.enum(['file', 'folder']).default('file'),
    /** Only files that end so, in any case, without the dot; none: every file. */
    extensions: z
      .array(z.string().regex(/^[a-z0-9]{1,12}$/, 'must be an ending without its dot'))
      .max(8)
      .default([]),
  }),
  output: z.object({
    path: z.string(),
    /** Null at the top of a disk. */
    parent: z.string().nullable(),
    separator: z.enum(['/', '\\']),
    /** Folders by name, then files with the newest first. */
    entries: z.array(
      z.object({
        name: z.string(),
        path: z.string(),
        kind: z.enum(['folder', 'file']),
        /** Null for a folder. */
        bytes: z.number().nullable(),
        modifiedAt: z.string(),
      }),
    ),
    /** How many more there are than are listed. */
    more: z.int(),
    places: z.array(
      z.object({
        kind: z.enum(['book', 'backups', 'home', 'documents', 'desktop', 'downloads', 'computer', 'drive']),
        /** A drive's own name; of another copy of Documents or Desktop, the folder it is kept in; else empty. */
        name: z.string(),
        path: z.string(),
      }),
    ),
  }),
});

export interface PathChoice {
  want: 'open' | 'save' | 'folder';
  /** Without the dot. */
  extension: 'valvebook' | 'zip';
}

/** Everything a path is asked for. The window can ask the system for these dialogs and for no others. */
export const PATH_CHOICES = {
  'backup-to': { want: 'save', extension: 'valvebook' },
  'backup-folder': { want: 'folder', extension: 'valvebook' },
  'restore-from': { want: 'open', extension: 'valvebook' },
  'export-to': { want: 'save', extension: 'zip' },
} as const satisfies Record<string, PathChoice>;
export type PathChoiceName = keyof typeof PATH_CHOICES;

export function isPathChoice(name: unknown): name is PathChoiceName {
  return typeof name === 'string' && Object.hasOwn(PATH_CHOICES, name);
}

/** A name for a file about to be made: the book’s name and the day, as the app names them itself. */
export function suggestedName(choice: PathChoice, bookPath: string, date: string): string {
  const file = bookPath.split(/[\\/]/).at(-1) ?? '';
  return `${file.replace(/\.[^.]*$/, '') || 'book'}-${date}.${choice.extension}`;
}

/** Is it a name and not a path or nothing? What else a system does not take as a name, it says itself. */
export function faultOfName(name: string): 'missing' | 'is-path' | null {
  if (name.trim() === '') return 'missing';
  return /[\\/]/.test(name) ? 'is-path' : null;
}

/** A name with the ending it needs. */
export function withEnding(name: string, extension: string): string {
  const text = name.trim();
  return text.toLowerCase().endsWith(`.${extension}`) ? text : `${text}.${extension}`;
}
