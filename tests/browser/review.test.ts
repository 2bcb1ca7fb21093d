import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import type { OutputOf } from '../../core/contract/index.ts';
import { makeDemo } from '../../electron/demo.ts';
import { startLoopback, type Loopback } from '../../electron/loopback.ts';
import { launchBrowser } from './chromium.ts';
import { TODAY } from './field-book.ts';
import { builtRenderer } from './serve-book.ts';
import { seriousFindings, sidewaysOverflow } from './page-checks.ts';

let browser: Browser;
let folder: string;
let desk: Desk;
let host: Loopback;

beforeAll(async () => {
  browser = await launchBrowser();
  folder = mkdtempSync(join(tmpdir(), 'valvebook-review-'));
  await makeDemo({ path: join(folder, 'demo.valvebook'), properties: 30, seed: 5, today: TODAY });
  desk = await openDesk({ bookPath: join(folder, 'demo.valvebook'), today: () => TODAY });
  host = await startLoopback({ desk, rendererDir: builtRenderer() });
});
afterAll(async () => {
  await browser.close();
  await host.close();
  await desk.close();
  rmSync(folder, { recursive: true, force: true });
});

async function openReview(
  options: { width?: number; colorScheme?: 'light' | 'dark'; at?: Loopback } = {},
): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1440, height: 900 },
    colorScheme: options.colorScheme ?? 'light',
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const at = options.at ?? host;
  await page.goto(at.newAddress());
  await page.goto(`${at.origin}/#/owner`);
  await page.getByRole('heading', { level: 1, name: /Season and work/ }).waitFor();
  return page;
}
async function summary(year: number): Promise<OutputOf<'work.summary'>> {
  const reply = await desk.call('work.summary', { year });
  if (!reply.ok) throw new Error(reply.error.message);
  return reply.data as OutputOf<'work.summary'>;
}
const figures = async (page: Page) =>
  (await page.locator('.rv-figure').allInnerTexts()).map((text) => Number(text.replaceAll(',', '')));

describe('the review of season and work', () => {
  it('shows the counts of the book', async () => {
    const page = await openReview();
    await page.getByRole('figure', { name: 'Work by kind and month, 2026' }).waitFor();
    const counts = await summary(2026);
    const entries = counts.byMonth.reduce((sum, row) => sum + row.count, 0);
    const done = counts.visitsByMonth.reduce((sum, month) => sum + month.done, 0);
    expect(entries).toBeGreaterThan(100);
    expect(await figures(page)).toEqual([
      counts.properties.startUp.done,
      counts.properties.winterization.done,
      entries,
      counts.corrections,
      done,
    ]);
    expect(await page.getByText('nothing is estimated', { exact: false }).innerText()).toContain('as an estimate');
    await page.context().close();
  });

  it('opens the table behind a drawing, with the same figures', async () => {
    const page = await openReview();
    const chart = page.getByRole('figure', { name: 'Visits by month, 2026' });
    await chart.getByRole('button', { name: 'Show table' }).click();
    const rows = await chart.getByRole('row').allInnerTexts();
    const counts = await summary(2026);
    expect(rows.slice(1).map((row) => row.split(/\s+/).slice(1).map(Number))).toEqual(
      counts.visitsByMonth.map((month) => [month.done, month.planned, month.cancelled]),
    );
    const kinds = page.getByRole('figure', { name: 'Work by kind and month, 2026' });
    expect(await kinds.locator('.rv-multiples > li').count()).toBe(new Set(counts.byMonth.map((row) => row.kind)).size);
    const drawings = page.locator('.recharts-wrapper > svg');
    const shown = await drawings.count();
    expect(shown).toBe(new Set(counts.byMonth.map((row) => row.kind)).size + 4);
    for (const part of ['title', 'desc'])
      expect(
        (await drawings.locator(`xpath=./*[local-name()="${part}"]`).allTextContents()).filter((text) => text !== ''),
      ).toHaveLength(shown);
    await page.context().close();
  });

  it('looks at another year', async () => {
    const page = await openReview();
    await page.getByRole('button', { name: 'Year before, 2025' }).click();
    await page.getByRole('heading', { level: 1, name: 'Season and work, 2025' }).waitFor();
    const counts = await summary(2025);
    await expect
      .poll(async () => (await figures(page))[2])
      .toBe(counts.byMonth.reduce((sum, row) => sum + row.count, 0));
    expect(await page.getByText('never marked as winterized that season', { exact: false }).count()).toBe(
      counts.properties.winterization.notBooked > 0 ? 1 : 0,
    );
    await page.context().close();
  });

  it('follows the ledger as work is corrected', async () => {
    const page = await openReview();
    await page.getByRole('figure', { name: 'Work by kind and month, 2026' }).waitFor();
    const before = await figures(page);
    const reply = await desk.call('ledger.list', { limit: 1, kinds: ['note'], fromDate: '2026-01-01' });
    if (!reply.ok) throw new Error(reply.error.message);
    const entry = (reply.data as OutputOf<'ledger.list'>).entries[0];
    const voided = await desk.call('ledger.correct', {
      writeId: '01ARZ3NDEKTSV4RRFFQ69G5FA1',
      id: '01ARZ3NDEKTSV4RRFFQ69G5FA2',
      correctsId: entry?.id,
      correction: 'void',
      reason: 'written for another property',
    });
    expect(voided.ok).toBe(true);
    await expect
      .poll(async () => (await figures(page)).slice(2, 4), { timeout: 20_000 })
      .toEqual([(before[2] ?? 0) - 1, (before[3] ?? 0) + 1]);
    await page.context().close();
  });

  it('leads on to the programs furthest from need', async () => {
    const page = await openReview();
    const link = page.getByRole('link', { name: 'Open programs furthest from need' });
    expect(await link.getAttribute('href')).toBe('#/owner/programs');
    await page.context().close();
  });

  it('has nothing sideways and nothing serious for axe, at 390 and 1440, light and dark', async () => {
    for (const [width, colorScheme] of [
      [390, 'light'],
      [1440, 'dark'],
      [1440, 'light'],
    ] as const) {
      const page = await openReview({ width, colorScheme });
      await page.getByRole('figure', { name: 'Work by kind and month, 2026' }).waitFor();
      expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
      expect(await seriousFindings(page)).toEqual([]);
      await page.context().close();
    }
  });

  it('teaches when the book is empty', async () => {
    const empty = await openDesk({ bookPath: join(folder, 'empty.valvebook'), create: true, today: () => TODAY });
    const emptyHost = await startLoopback({ desk: empty, rendererDir: builtRenderer() });
    const page = await openReview({ at: emptyHost });
    await page.getByText('Nothing to count yet').waitFor();
    expect(await page.getByRole('link', { name: 'Import a client list' }).getAttribute('href')).toBe('#/office/import');
    await page.context().close();
    await emptyHost.close();
    await empty.close();
  });
});
