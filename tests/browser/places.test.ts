import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { serveEmptyBook } from './calendar-book.ts';
import { launchBrowser } from './chromium.ts';
import { seriousFindings, sidewaysOverflow, smallTargets, targetCount } from './page-checks.ts';
import type { ServedBook } from './serve-book.ts';

const SOON = { timeout: 20_000 };
let browser: Browser;
let book: ServedBook;
let page: Page;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  book = await serveEmptyBook();
  mkdirSync(join(book.folder, 'Office disk', 'Old'), { recursive: true });
});
afterEach(async () => {
  await page.context().close();
  await book.close();
});

const open = async (options: Parameters<ServedBook['open']>[2] = {}) => {
  page = await book.open(browser, '#/company/book', options);
  await page.getByRole('heading', { level: 1, name: 'The book' }).waitFor();
};
const dialog = () => page.getByRole('dialog');
const choose = async (title: string) => {
  await page.getByRole('button', { name: `Choose… ${title}` }).click();
  await dialog().getByRole('listbox').waitFor();
};
const here = () => dialog().getByLabel('Folder', { exact: true });
/** The words of the row that has the focus. */
const focused = () => page.evaluate(() => document.activeElement?.closest('[role="option"]')?.textContent ?? '');

describe('the list of places in a browser', () => {
  it('is walked by keyboard alone, and the backup lies where it was chosen', async () => {
    await open();
    await choose('Back up to');
    expect(await here().inputValue()).toBe(book.folder);
    // The focus is in the list: into the first folder, into the one below, and up again.
    await expect.poll(focused, SOON).toContain('Office disk');
    await page.keyboard.press('Enter');
    await expect.poll(() => here().inputValue(), SOON).toBe(join(book.folder, 'Office disk'));
    await expect.poll(focused, SOON).toContain('Old');
    await page.keyboard.press('Enter');
    await expect.poll(() => here().inputValue(), SOON).toBe(join(book.folder, 'Office disk', 'Old'));
    await dialog().getByText('No folder and no .valvebook file in here.').waitFor();
    await page.keyboard.press('Backspace');
    await expect.poll(() => here().inputValue(), SOON).toBe(join(book.folder, 'Office disk'));
    expect(await dialog().getByLabel('File name').inputValue()).toMatch(/^book-\d{4}-\d\d-\d\d\.valvebook$/);
    await dialog().getByLabel('File name').fill('on the disk');
    await dialog().getByRole('button', { name: 'Use this place' }).click();
    await dialog().waitFor({ state: 'detached' });
    const chosen = join(book.folder, 'Office disk', 'on the disk.valvebook');
    expect(await page.getByLabel('To', { exact: true }).first().inputValue()).toBe(chosen);
    await page.getByRole('button', { name: 'Back up now' }).click();
    await page.getByText('Backed up to').waitFor();
    expect(existsSync(chosen)).toBe(true);
  });

  it('for a backup to restore it begins at the backups, with the newest first; Enter on the chosen one takes it', async () => {
    const made = await book.call('book.backup', {});
    writeFileSync(join(book.folder, 'backups', 'notes.txt'), 'x');
    await open();
    await choose('Restore from');
    expect(await here().inputValue()).toBe(join(book.folder, 'backups'));
    expect(await dialog().getByRole('option').count()).toBe(1);
    expect(await dialog().getByRole('option').innerText()).toMatch(
      /valvebook\s+\d+ KB\s+\w+ \d+, \d{4}, \d+:\d\d [ap]m/,
    );
    expect(await dialog().getByRole('button', { name: 'Use this backup' }).isDisabled()).toBe(true);
    await expect.poll(focused, SOON).toContain('.valvebook');
    await page.keyboard.press('Enter');
    await expect.poll(() => dialog().getByRole('option', { selected: true }).count(), SOON).toBe(1);
    await page.keyboard.press('Enter');
    await dialog().waitFor({ state: 'detached' });
    expect(await page.getByLabel('From', { exact: true }).inputValue()).toBe(made.path);
    // Opened again it stands where the field says, with that file chosen; a double click takes it as well.
    await page.getByLabel('From', { exact: true }).fill(made.path);
    await choose('Restore from');
    await expect.poll(() => dialog().getByRole('option', { selected: true }).count(), SOON).toBe(1);
    await dialog().getByRole('option').dblclick();
    await dialog().waitFor({ state: 'detached' });
    expect(await page.getByLabel('From', { exact: true }).inputValue()).toBe(made.path);
  });

  it('a path can be typed; what is not there is said beside it and the list stays', async () => {
    await open();
    await choose('Export to');
    await here().fill(join(book.folder, 'Nowhere'));
    await page.keyboard.press('Enter');
    await dialog()
      .getByText(`There is no folder ${join(book.folder, 'Nowhere')}.`, { exact: false })
      .waitFor();
    expect(
      await dialog()
        .getByRole('option', { name: /Office disk/ })
        .count(),
    ).toBe(1);
    await here().fill(join(book.folder, 'Office disk'));
    await dialog().getByRole('button', { name: 'Go' }).click();
    await dialog().getByRole('option', { name: /Old/ }).waitFor();
    await dialog().getByText('There is no folder', { exact: false }).waitFor({ state: 'detached' });
    await dialog().getByRole('button', { name: 'Up one folder' }).click();
    await dialog()
      .getByRole('option', { name: /Office disk/ })
      .waitFor();
    await dialog().getByRole('navigation', { name: 'Places' }).getByRole('button', { name: 'Home' }).click();
    await expect.poll(() => here().inputValue(), SOON).not.toBe(book.folder);
    await page.keyboard.press('Escape');
    await dialog().waitFor({ state: 'detached' });
    expect(await page.getByLabel('To', { exact: true }).nth(1).inputValue()).toBe('');
  });

  it('a name that is taken or no name is refused there', async () => {
    await open();
    await choose('Back up to');
    await dialog()
      .getByRole('option', { name: /book\.valvebook/ })
      .click();
    await dialog().getByText('book.valvebook is here already. Give another name.').waitFor();
    for (const [name, sentence] of [
      ['BOOK', 'BOOK.valvebook is here already. Give another name.'],
      ['', 'Give the file a name.'],
      ['../x', 'A name holds no /'],
    ] as const) {
      await dialog().getByLabel('File name').fill(name);
      await dialog().getByRole('button', { name: 'Use this place' }).click();
      await dialog().getByText(sentence, { exact: false }).waitFor();
    }
    expect(await dialog().count()).toBe(1);
  });

  it('has no serious finding of axe, 44 pixels for every finger, and nothing sideways', async () => {
    await book.call('book.backup', {});
    const findings: string[] = [];
    for (const options of [
      { width: 1440, height: 900, colorScheme: 'light' },
      { width: 390, height: 844, colorScheme: 'dark' },
    ] as const) {
      await open(options);
      for (const title of ['Back up to', 'Restore from']) {
        await choose(title);
        await dialog().getByRole('option').first().click();
        findings.push(...(await seriousFindings(page)));
        findings.push(...(await smallTargets(page, '.places-frame, .dialog-foot', 44)));
        expect(await targetCount(page, '.places-frame')).toBeGreaterThan(4);
        for (const option of await dialog().getByRole('option').all())
          expect((await option.boundingBox())!.height).toBeGreaterThanOrEqual(44);
        expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
        await page.keyboard.press('Escape');
        await dialog().waitFor({ state: 'detached' });
      }
      if (options.width === 1440) await page.context().close();
    }
    expect(findings).toEqual([]);
  });
});

describe('in the desktop window', () => {
  it('the system’s dialog is asked instead, with what stands in the field', async () => {
    page = await book.open(browser, '#/company/book');
    const asked: string[][] = [];
    const answers = [
      { ok: true, data: '/disk/chosen.valvebook' },
      { ok: true, data: null },
      { ok: false, error: { code: 'conflict', message: 'A dialog for a path is open already.' } },
    ];
    await page.exposeFunction('deskCall', (name: string, input: unknown) => book.desk.call(name, input));
    await page.exposeFunction('systemDialog', (choice: string, from: string) => {
      asked.push([choice, from]);
      return answers[asked.length - 1];
    });
    // What the preload hands to the page, with the test's own desk and dialog behind it.
    await page.addInitScript(() => {
      const test = window as unknown as Record<'deskCall' | 'systemDialog', (...given: unknown[]) => Promise<never>>;
      window.valvebook = {
        call: (name, input) => test.deskCall(name, input),
        cancel: () => undefined,
        unsaved: () => undefined,
        reader: () => undefined,
        choosePath: (choice, from) => test.systemDialog(choice, from),
        onChange: () => () => undefined,
      };
    });
    await page.reload();
    const button = page.getByRole('button', { name: 'Choose… Back up to' });
    const to = page.getByLabel('To', { exact: true }).first();
    await button.click();
    await expect.poll(() => to.inputValue(), SOON).toBe('/disk/chosen.valvebook');
    await button.click();
    await expect.poll(() => asked.length, SOON).toBe(2);
    expect(await to.inputValue()).toBe('/disk/chosen.valvebook');
    await button.click();
    await page.getByRole('region', { name: 'Messages' }).getByText('A dialog for a path is open already.').waitFor();
    expect(asked).toEqual([
      ['backup-to', ''],
      ['backup-to', '/disk/chosen.valvebook'],
      ['backup-to', '/disk/chosen.valvebook'],
    ]);
    expect(await dialog().count()).toBe(0);
  });
});
