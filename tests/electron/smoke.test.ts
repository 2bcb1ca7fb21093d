import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { _electron } from 'playwright-core';
import { expect, it } from 'vitest';
import { ensureBuilt } from '../../electron/build.ts';
import { findElectron, hasDisplay } from '../../electron/electron-binary.ts';

const root = path.resolve(import.meta.dirname, '../..');
const program = findElectron();
const reason =
  program === undefined ? 'skipped: no Electron binary' : hasDisplay() ? undefined : 'skipped: no display for Electron';
if (reason !== undefined) console.log(reason);

it.skipIf(reason !== undefined)(
  `the real window opens a new book${reason === undefined ? '' : ` (${reason})`}`,
  async () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-electron-'));
    const bookPath = path.join(folder, 'new.valvebook');
    await ensureBuilt({ shell: true, root });
    const app = await _electron.launch({
      executablePath: program,
      args: [root, '--no-sandbox', '--book', bookPath],
      env: { ...process.env, XDG_DATA_HOME: folder, APPDATA: folder } as Record<string, string>,
    });
    try {
      const page = await app.firstWindow();
      await page.waitForFunction(() => document.querySelector('main, [role="main"]') !== null);
      expect(page.url()).toMatch(/^app:\/\/valvebook\//);
      expect(await page.evaluate(() => 'require' in globalThis || 'process' in globalThis)).toBe(false);
      expect(await page.evaluate(() => window.valvebook?.call('book.info', {}, 'smoke'))).toMatchObject({ ok: true });
      expect(existsSync(bookPath)).toBe(true);
    } finally {
      await app.close();
      rmSync(folder, { recursive: true, force: true });
    }
  },
);
