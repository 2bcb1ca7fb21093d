import { randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';
import { rendererFolder } from '../../electron/places.ts';
import { startLoopback, type Loopback } from '../../electron/loopback.ts';

/** The built renderer; VALVEBOOK_TEST_RENDERER names another build while working on one desk. */
export function builtRenderer(): string {
  return process.env.VALVEBOOK_TEST_RENDERER ?? rendererFolder();
}

export interface ServedBook {
  desk: Desk;
  host: Loopback;
  /** Of the drafts in the browser, to start another host for the same book with. */
  draftKey: string;
  folder: string;
  call<N extends RequestName>(name: N, input: InputOf<N>): Promise<OutputOf<N>>;
  /** A page of this book in a browser window of its own. */
  open(
    browser: Browser,
    hash: string,
    options?: { width?: number; height?: number; colorScheme?: 'light' | 'dark' },
  ): Promise<Page>;
  close(): Promise<void>;
}

/** A book in a folder of its own, served on this machine; `make` may put a file there first. Empty where it does not. */
export async function serveBook(today: string, make?: (bookPath: string) => Promise<unknown>): Promise<ServedBook> {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-browser-'));
  const bookPath = join(folder, 'book.valvebook');
  await make?.(bookPath);
  const desk = await openDesk({ bookPath, create: true, today: () => today, readsInThread: true });
  const draftKey = randomBytes(32).toString('base64url');
  const host = await startLoopback({
    desk,
    rendererDir: builtRenderer(),
    draftKey: { key: draftKey, takesPlain: false },
  });
  return {
    desk,
    host,
    draftKey,
    folder,
    async call(name, input) {
      const reply = await desk.call(name, input);
      if (!reply.ok)
        throw new Error(`${name} failed: ${reply.error.code}: ${reply.error.message} (${reply.error.field})`);
      return reply.data as never;
    },
    async open(browser, hash, options = {}) {
      const context = await browser.newContext({
        viewport: { width: options.width ?? 1440, height: options.height ?? 900 },
        colorScheme: options.colorScheme ?? 'light',
        reducedMotion: 'reduce',
        acceptDownloads: true,
      });
      const page = await context.newPage();
      page.setDefaultTimeout(20_000);
      await page.goto(host.newAddress());
      await page.goto(`${host.origin}/${hash}`);
      return page;
    },
    async close() {
      await host.close();
      await desk.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
