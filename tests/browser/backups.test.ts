import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { stampOf } from '../../core/book/files.ts';
import { launchBrowser } from './chromium.ts';
import { serveEmptyBook } from './calendar-book.ts';
import { seriousFindings, sidewaysOverflow } from './page-checks.ts';
import type { ServedBook } from './serve-book.ts';

// Backups on the Book page, and the word about them on the home page.

const DAY_MS = 24 * 60 * 60_000;
let browser: Browser;
let book: ServedBook;
let page: Page;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  book = await serveEmptyBook();
});
afterEach(async () => {
  await page.context().close();
  await book.close();
});

const addClient = (name: string) => book.call('client.save', { writeId: ulid(), client: { id: ulid(), name } });
function plant(daysAgo: number, kind = 'auto-'): void {
  const folder = join(book.folder, 'backups');
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, `book-${kind}${stampOf(new Date(Date.now() - daysAgo * DAY_MS))}.valvebook`), 'x');
}

it('after three days of changes in no backup the home page says so, and not before', async () => {
  plant(2);
  await addClient('First');
  page = await book.open(browser, '#/office/today');
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.getByText('Nothing is due that is not booked.').waitFor();
  expect(await page.getByText('are in no backup').count()).toBe(0);
  await page.context().close();
  await book.close();
  book = await serveEmptyBook();
  plant(5);
  await addClient('First');
  page = await book.open(browser, '#/office/today');
  await page.getByText('5 days of changes are in no backup.').waitFor();
  expect(await seriousFindings(page)).toEqual([]);
  expect(await sidewaysOverflow(page)).toBe(0);
  await page.getByRole('link', { name: 'See to it' }).click();
  await page.getByRole('heading', { name: 'The book' }).waitFor();
  await page.getByText(/; 5 days of changes are in no backup/).waitFor();
  await page.getByRole('button', { name: 'Back up now' }).click();
  await page.getByText(/The last good backup is from [^;]+\./).waitFor();
  await page.goto(`${book.host.origin}/#/office/today`);
  await page.getByText('Nothing is due that is not booked.').waitFor();
  await expect.poll(() => page.getByText('are in no backup').count()).toBe(0);
});

it('a row of the list is a way back, and what is chosen is kept', async () => {
  await addClient('First');
  await book.call('book.backup', {});
  await addClient('Second');
  plant(40, 'before-restore-');
  page = await book.open(browser, '#/company/book');
  const rows = page.getByRole('table', { name: 'Backups, newest first' }).getByRole('row');
  await expect.poll(() => rows.count(), { timeout: 20_000 }).toBe(3);
  expect(await rows.nth(2).textContent()).toMatch(/before a restore \(kept as the book was\)/);

  await page.getByRole('textbox', { name: 'days', exact: true }).fill('14');
  await page.getByRole('textbox', { name: 'Second place' }).fill('share');
  await page.getByRole('button', { name: 'Save choices' }).click();
  await page.getByText(/must be a full path/).waitFor();
  await page.getByRole('textbox', { name: 'Second place' }).fill(join(book.folder, 'gone'));
  await page.getByRole('button', { name: 'Save choices' }).click();
  await page.getByText('Choices about backups saved.').waitFor();
  expect((await book.call('settings.get', {})).backups).toMatchObject({
    keepDays: 14,
    secondFolder: join(book.folder, 'gone'),
  });
  await page.getByText(/gone is not there now/).waitFor();

  await rows
    .nth(1)
    .getByRole('button', { name: /^Restore the backup of/ })
    .click();
  await page
    .getByRole('dialog', { name: 'Restore this backup?' })
    .getByRole('button', { name: 'Restore backup' })
    .click();
  await page.getByText(/^Restored from/).waitFor();
  expect((await book.call('book.info', {})).counts.client).toBe(1);
});

it.each([
  [1440, 900, 'light'],
  [1024, 768, 'dark'],
  [390, 844, 'light'],
] as const)('the Book page is whole at %d by %d, %s', async (width, height, colorScheme) => {
  await addClient('First');
  await book.call('book.backup', {});
  plant(40, 'before-restore-');
  page = await book.open(browser, '#/company/book', { width, height, colorScheme });
  await page.getByRole('table', { name: 'Backups, newest first' }).waitFor();
  expect(await seriousFindings(page)).toEqual([]);
  expect(await sidewaysOverflow(page)).toBe(0);
});
