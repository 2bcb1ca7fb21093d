import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

/** A book somebody asked for: by `--book`, by a double click, by a second start. */
export interface AskedBook {
  path: string;
  /** Named by `--book`: made where there is none. A double-clicked file is there, or it is a mistake. */
  create: boolean;
}

/** The book a command line names, if it names one. Windows and Linux pass a double-clicked file as a bare path or a file: address. */
export function askedBook(args: string[], folder: string): AskedBook | undefined {
  const { values, positionals } = parseArgs({
    args,
    options: { book: { type: 'string' } },
    // Chromium puts switches of its own among them.
    strict: false,
    allowPositionals: true,
  });
  if (typeof values.book === 'string' && values.book !== '')
    return { path: path.resolve(folder, values.book), create: true };
  for (const text of positionals) {
    const file = asPath(text);
    if (file !== undefined && /\.valvebook$/i.test(file)) return { path: path.resolve(folder, file), create: false };
  }
  return undefined;
}

function asPath(text: string): string | undefined {
  try {
    const file = /^file:/i.test(text) ? fileURLToPath(text) : text;
    return file.includes('\0') ? undefined : file;
  } catch {
    // A file of another machine, or no address at all.
    return undefined;
  }
}

/**
 * The book a second start asked for: what it resolved itself, in its own folder; its command line only where that did
 * not come along, since Chromium may reorder it. Another process sent it, so nothing is taken on trust.
 */
export function askedBySecondStart(data: unknown, argv: string[], folder: string): AskedBook | undefined {
  const asked = typeof data === 'object' && data !== null && 'asked' in data ? data.asked : undefined;
  if (asked === null) return undefined;
  if (typeof asked === 'object' && 'path' in asked && 'create' in asked) {
    const { path: file, create } = asked;
    if (typeof file === 'string' && path.isAbsolute(file) && !file.includes('\0') && file.length <= 4000)
      return { path: file, create: create === true };
    return undefined;
  }
  return askedBook(argv.slice(1), folder);
}
