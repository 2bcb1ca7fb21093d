import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

// Opening and closing the file of an open book drops this process's locks on it (see core/store/open-files.ts). So no code
// of core or the hosts opens files by itself: core/store/book-file.ts does, and refuses a book that is open.

const root = path.resolve(import.meta.dirname, '../..');
const ONE_PLACE = 'core/store/book-file.ts';

/** What touches names and figures of files, or descriptors that somebody else opened, but opens no file. */
const OPENS_NOTHING = new Set(
  `existsSync statSync lstatSync fstatSync statfsSync mkdirSync mkdtempSync readdirSync readlinkSync realpathSync renameSync
   rmSync rmdirSync unlinkSync linkSync symlinkSync chmodSync chownSync utimesSync watch closeSync readSync writeSync fsyncSync
   stat lstat mkdir mkdtemp readdir readlink realpath rename rm unlink chmod accessSync access constants`.split(/\s+/),
);

/** Files of the hosts that open files which cannot be a book, and why not. */
const NEVER_A_BOOK: Record<string, string> = {
  'electron/bootstrap.mjs': "the checkout's own files",
  'electron/build.ts': "the checkout's own files",
  'electron/electron-binary.ts': "the file in which Electron's package names its binary",
  'electron/static-files.ts': 'the built renderer, below one folder',
  'electron/places.ts': 'the log',
  'electron/draft-key.ts': "a key in this user's folder",
  'electron/open-browser.ts': 'a new page in a new folder',
};

/** Names that a text imports from Node's file modules and that open files; `*` for the whole module. */
function opensFiles(text: string): string[] {
  const found: string[] = [];
  const whole =
    /\bimport\s+(?:type\s+)?([\w$]+|\*\s+as\s+[\w$]+)\s*(?:,\s*\{[^}]*\})?\s*from\s+['"](?:node:)?fs(?:\/promises)?['"]/g;
  for (const [match] of text.matchAll(whole)) if (!/^import\s+type\b/.test(match)) found.push('*');
  for (const _ of text.matchAll(/\b(?:import|require|getBuiltinModule)\s*\(\s*['"](?:node:)?fs(?:\/promises)?['"]/g))
    found.push('*');
  const named =
    /\b(import|export)\s+(type\s+)?(?:[\w$]+\s*,\s*)?\{([^}]*)\}\s*from\s+['"](?:node:)?fs(?:\/promises)?['"]/g;
  for (const [, , type, names] of text.matchAll(named)) {
    if (type !== undefined) continue;
    for (const one of names!.split(',')) {
      const name = one
        .trim()
        .split(/\s+as\s+/)[0]!
        .trim();
      if (name !== '' && !name.startsWith('type ') && !OPENS_NOTHING.has(name)) found.push(name);
    }
  }
  return found;
}

describe('only one module opens the files of books', () => {
  it('holds in this checkout', () => {
    const found: string[] = [];
    let files = 0;
    for (const folder of ['core', 'electron', 'migrations']) {
      for (const entry of readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })) {
        if (!entry.isFile() || !/\.(ts|mjs)$/.test(entry.name)) continue;
        const full = path.join(entry.parentPath, entry.name);
        const file = path.relative(root, full).split(path.sep).join('/');
        files += 1;
        if (file === ONE_PLACE || file in NEVER_A_BOOK) continue;
        for (const name of opensFiles(readFileSync(full, 'utf8'))) found.push(`${file} opens files itself: ${name}`);
      }
    }
    expect(found).toEqual([]);
    expect(files).toBeGreaterThan(100);
  });

  it('the one place and the exceptions are there and do open files', () => {
    for (const file of [ONE_PLACE, ...Object.keys(NEVER_A_BOOK)])
      expect(opensFiles(readFileSync(path.join(root, file), 'utf8')), file).not.toEqual([]);
  });

  it.each([
    ["import { copyFileSync, existsSync } from 'node:fs';", ['copyFileSync']],
    ["import {\n  openSync as open,\n  statSync,\n} from 'node:fs';", ['openSync']],
    ["import { readFile } from 'node:fs/promises';", ['readFile']],
    ["import * as fs from 'fs';", ['*']],
    ["import fs from 'node:fs';", ['*']],
    ["const { readFileSync } = await import('node:fs');", ['*']],
    ["const fs = require('fs');", ['*']],
    ["export { openSync } from 'node:fs';", ['openSync']],
    ["import { existsSync, statSync, type Stats } from 'node:fs';", []],
    ["import type { Stats } from 'node:fs';", []],
    ["import path from 'node:path';", []],
  ])('reads %j', (text, names) => {
    expect(opensFiles(text)).toEqual(names);
  });
});
