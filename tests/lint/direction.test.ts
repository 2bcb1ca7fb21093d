import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { AREAS, checkFile, checkTree, circlesOf, importsOf } from './direction.ts';

const root = path.resolve(import.meta.dirname, '../..');

describe('the direction of dependencies', () => {
  it('holds in this checkout', () => {
    const { files, violations, circles } = checkTree(root);
    expect(violations.map(({ file, line, target, why }) => `${file}:${line} imports ${target}: ${why}`)).toEqual([]);
    expect(circles).toEqual([]);
    expect(files).toBeGreaterThan(20);
  });

  it('names every area, and no folder of core is neither area nor base', () => {
    const folders = readdirSync(path.join(root, 'core'), { withFileTypes: true }).filter((entry) =>
      entry.isDirectory(),
    );
    expect(
      folders
        .map(({ name }) => name)
        .filter((name) => !AREAS.includes(name))
        .sort(),
    ).toEqual(['contract', 'desk', 'store', 'text']);
    expect(AREAS.filter((area) => !existsSync(path.join(root, 'core', area)))).toEqual([]);
  });

  it('finds a circle, and none where two ways lead to one area', () => {
    const uses = (pairs: [string, string[]][]) => new Map(pairs.map(([area, used]) => [area, new Set(used)]));
    expect(
      circlesOf(
        uses([
          ['a', ['b', 'c']],
          ['b', ['d']],
          ['c', ['d']],
          ['d', []],
        ]),
      ),
    ).toEqual([]);
    expect(
      circlesOf(
        uses([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['b']],
        ]),
      ),
    ).toEqual([['b', 'c', 'b']]);
  });

  it.each([
    ['core/visits/requests.ts', "import { app } from 'electron';"],
    ['core/visits/requests.ts', "import { useState } from 'react';"],
    ['core/visits/requests.ts', "import type { Bridge } from '../../renderer/state/transport.ts';"],
    ['core/desk/desk.ts', "export * from '../../electron/ipc.ts';"],
    ['renderer/office/list/row.tsx', "import { openDesk } from '../../../core/desk/desk.ts';"],
    ['renderer/office/list/row.tsx', "import { readVisit } from '../../../core/visits/queries.ts';"],
    ['renderer/office/list/row.tsx', "import { balance } from '../../../core/agronomy/index.ts';"],
    ['renderer/app.tsx', "const store = await import('../core/store/sqlite.ts');"],
    ['renderer/app.tsx', "import { readFileSync } from 'node:fs';"],
    ['renderer/app.tsx', "import { ipcRenderer } from 'electron';"],
    ['electron/main.ts', "import { App } from '../renderer/app.tsx';"],
    ['electron/cli.ts', "import Database from 'better-sqlite3';"],
    ['core/agronomy/eto.ts', "import { upsert } from '../store/rows.ts';"],
    ['core/desk/open-book.ts', "import { connect } from '../store/sqlite.ts';"],
    ['core/book/rescue.ts', "import { lockBook } from '../store/book-lock.ts';"],
    ['core/programs/week.ts', "import { Kysely } from 'kysely';"],
    ['core/programs/week.ts', "import { readFile } from 'node:fs/promises';"],
    ['core/ledger/requests.ts', "import { sql } from 'kysely';"],
    ['core/store/tables.ts', "import { readVisit } from '../visits/index.ts';"],
    ['core/contract/parts.ts', "import { todo } from '../visits/todo.ts';"],
    ['core/visits/contract.ts', "import { todo } from './todo.ts';"],
    ['core/visits/contract.ts', "import { readFile } from 'node:fs';"],
    ['core/visits/requests.ts', "import { recordWork } from '../recording/record.ts';"],
    ['core/desk/desk.ts', "import { readSettings } from '../settings/queries.ts';"],
    ['core/visits/requests.ts', "import { programsHandlers } from '../programs/requests.ts';"],
    ['core/store/sqlite.ts', "import { week } from '../programs/week.ts';"],
    ['core/visits/jobs.ts', "new Worker(new URL('../../electron/build.ts', import.meta.url));"],
  ])('catches a planted violation in %s: %s', (file, text) => {
    expect(checkFile(file, text)).toHaveLength(1);
  });

  it.each([
    ['core/programs/requests.ts', "import { readProgram } from './queries.ts';"],
    ['core/programs/queries.ts', "import { sql } from 'kysely';"],
    ['core/clients/requests.ts', "import { readPrograms } from '../programs/index.ts';"],
    ['core/clients/contract.ts', "import { programSchema } from '../programs/contract.ts';"],
    ['core/store/tables.ts', "import type { Visit } from '../visits/contract.ts';"],
    ['core/desk/handlers.ts', "import { visitsHandlers } from '../visits/requests.ts';"],
    ['renderer/office/list/row.tsx', "import type { Visit } from '../../../core/visits/contract.ts';"],
    ['core/store/sqlite.ts', "import { Kysely } from 'kysely';"],
    ['renderer/office/list/row.tsx', "import type { OutputOf } from '../../../core/contract/index.ts';"],
    ['electron/launch.ts', "import { openDesk } from '../core/desk/desk.ts';"],
    ['core/desk/open-book.ts', "import { engine } from '../store/book-engine.ts';"],
    ['core/agronomy/eto.ts', "// import { connect } from '../store/sqlite.ts';"],
  ])('lets pass what is allowed in %s: %s', (file, text) => {
    expect(checkFile(file, text)).toEqual([]);
  });

  it('reads imports over several lines, re-exports and side-effect imports, with their line', () => {
    const text =
      "import {\n  a,\n  type B,\n} from './a.ts';\nimport './b.css';\nexport { c } from './c.ts';\nimport D, { e } from 'd';\n";
    expect(importsOf(text)).toEqual([
      { specifier: './a.ts', line: 4 },
      { specifier: './b.css', line: 5 },
      { specifier: './c.ts', line: 6 },
      { specifier: 'd', line: 7 },
    ]);
  });

  it('finds a violation planted in a tree on disk', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-direction-'));
    try {
      for (const part of ['core/agronomy', 'electron', 'renderer', 'migrations'])
        mkdirSync(path.join(folder, part), { recursive: true });
      writeFileSync(path.join(folder, 'core/agronomy/eto.ts'), "\nimport fs from 'node:fs';\n");
      expect(checkTree(folder)).toMatchObject({
        files: 1,
        violations: [{ file: 'core/agronomy/eto.ts', line: 2, target: 'node:fs' }],
      });
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
