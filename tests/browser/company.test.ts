import { chmodSync, existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launchBrowser } from './chromium.ts';
import { serveEmptyBook } from './calendar-book.ts';
import type { ServedBook } from './serve-book.ts';
import { seriousFindings, sidewaysOverflow, smallTargets, targetCount } from './page-checks.ts';

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
});
afterEach(async () => {
  await page.context().close();
  await book.close();
});

const message = () => page.getByRole('region', { name: 'Messages' });
async function pick(
  field: RegExp | string,
  option: string | RegExp,
  within: Page | ReturnType<Page['getByRole']> = page,
): Promise<void> {
  await within.getByRole('button', { name: field }).click();
  await page.getByRole('option', { name: option }).click();
}
async function addRestriction(): Promise<string> {
  const id = ulid();
  await book.call('rules.save', {
    writeId: ulid(),
    restrictions: [
      {
        id,
        name: 'Tamsett Water',
        stages: [
          {
            title: 'Ordinary summer',
            dayRule: { kind: 'weekdays', oddAddress: [2, 4, 6], evenAddress: [1, 3, 5] },
            maxDaysPerWeek: 3,
            forbiddenHours: [{ from: '10:00', to: '18:00' }],
          },
          { title: 'Dry year', dayRule: { kind: 'no-watering' } },
        ],
      },
    ],
  });
  return id;
}
const NORMALS = Array.from({ length: 12 }, (_, month) => ({ tmaxF: 40 + month, tminF: 20 + month, rainInches: 1 }));

describe('settings', () => {
  beforeEach(async () => {
    page = await book.open(browser, '#/company');
    await page.getByRole('heading', { level: 1, name: 'Settings' }).waitFor();
  });

  it('keeps what was typed and not saved while another page is looked at, and says where it is', async () => {
    await page.getByLabel('Company name').fill('Tamsett Irrigation Care');
    await page.getByText('Changed, not saved yet.').waitFor();
    await page.getByRole('link', { name: 'The book' }).click();
    await page.getByRole('heading', { level: 1, name: 'The book' }).waitFor();
    await page.getByRole('link', { name: 'Office' }).click();
    await page.getByRole('link', { name: 'Company', exact: true }).click();
    await page.getByText('Changed, not saved yet.').waitFor();
    expect(await page.getByLabel('Company name').inputValue()).toBe('Tamsett Irrigation Care');
    expect((await book.call('settings.get', {})).companyName).toBe('My company');
    await page.getByRole('link', { name: 'Weather stations' }).click();
    await page.getByRole('link', { name: 'Settings not saved' }).click();
    await page.getByRole('button', { name: 'Put back' }).click();
    await expect.poll(() => page.getByLabel('Company name').inputValue(), SOON).toBe('My company');
    expect(await page.getByRole('link', { name: 'Settings', exact: true }).count()).toBe(1);
  });

  it('saves what was changed and takes it back', async () => {
    await page.getByLabel('Company name').fill('Tamsett Irrigation Care');
    await page.getByLabel('Battery life, months').fill('18');
    await pick(/Start-ups from/, 'Apr');
    await page.getByText('Changed, not saved yet.').waitFor();
    await page.getByRole('button', { name: 'Save settings' }).click();
    await message().getByText('Settings saved.').waitFor();
    expect(await book.call('settings.get', {})).toMatchObject({
      companyName: 'Tamsett Irrigation Care',
      batteryLifeMonths: 18,
      startUpFrom: '04-15',
    });
    await message().getByRole('button', { name: /^Undo/ }).click();
    await message().getByText('Settings are as before.').waitFor();
    expect(await book.call('settings.get', {})).toMatchObject({
      companyName: 'My company',
      batteryLifeMonths: 12,
      startUpFrom: '03-15',
    });
    await expect.poll(() => page.getByLabel('Company name').inputValue(), SOON).toBe('My company');
  });

  it('puts a refusal beside its field and saves nothing', async () => {
    await pick(/Start-ups until/, 'Feb');
    await page.getByRole('button', { name: 'Save settings' }).click();
    await page
      .getByRole('group', { name: 'Start-ups until' })
      .getByText('The start-up window must end after it begins.')
      .waitFor();
    expect((await book.call('settings.get', {})).startUpTo).toBe('05-31');
    await page.getByRole('button', { name: 'Put back' }).click();
    await page.getByText('The start-up window must end after it begins.').waitFor({ state: 'detached' });
  });

  it('keeps light or dark on this machine', async () => {
    await page.getByText('Dark', { exact: true }).click();
    await expect.poll(() => page.evaluate(() => document.documentElement.dataset['theme']), SOON).toBe('dark');
    await page.reload();
    await page.getByRole('radio', { name: 'Dark' }).waitFor();
    expect(await page.evaluate(() => document.documentElement.dataset['theme'])).toBe('dark');
  });
});

describe('people', () => {
  it('teaches while empty, adds, changes and takes back', async () => {
    page = await book.open(browser, '#/company/people');
    await page.getByRole('heading', { name: 'No technician yet' }).waitFor();
    await page.getByRole('button', { name: 'Add technician' }).first().click();
    const form = page.getByRole('dialog', { name: 'Add technician' });
    await form.getByRole('button', { name: 'Add technician' }).click();
    await form.getByText('must not be empty', { exact: false }).waitFor();
    await form.getByLabel('Name').fill('Odalys Fenn');
    await form.getByText('Sat', { exact: true }).click();
    await form.getByText('Repair', { exact: true }).click();
    await form.getByRole('button', { name: 'Add technician' }).click();
    await form.waitFor({ state: 'detached' });
    const saved = async () => (await book.call('people.list', {})).technicians;
    expect(await saved()).toMatchObject([
      { name: 'Odalys Fenn', workWeekdays: [1, 2, 3, 4, 5, 6], skills: ['repair'], active: true },
    ]);
    await page
      .getByRole('row', { name: /Odalys Fenn.*Mon–Sat/ })
      .getByRole('button', { name: 'Change Odalys Fenn' })
      .click();
    const change = page.getByRole('dialog', { name: 'Odalys Fenn' });
    await change.getByText('Works for us').click();
    await change.getByRole('button', { name: 'Save technician' }).click();
    await page.getByText('(has left)').waitFor();
    expect((await saved())[0]?.active).toBe(false);
    await message().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(async () => (await saved())[0]?.active, SOON).toBe(true);
  });

  it('keeps trucks and routes', async () => {
    page = await book.open(browser, '#/company/people');
    await page.getByRole('button', { name: 'Add truck' }).click();
    const truck = page.getByRole('dialog', { name: 'Add truck' });
    await truck.getByLabel('Name').fill('Truck 1');
    await truck.getByLabel('Compressor, cfm').fill('185');
    await truck.getByRole('button', { name: 'Add truck' }).click();
    await truck.waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Add route' }).click();
    const route = page.getByRole('dialog', { name: 'Add route' });
    await route.getByLabel('Name').fill('North bench');
    await route.getByRole('button', { name: 'Add route' }).click();
    await page.getByRole('row', { name: /North bench/ }).waitFor();
    expect(await book.call('people.list', {})).toMatchObject({
      trucks: [{ name: 'Truck 1', compressorCfm: 185 }],
      routes: [{ name: 'North bench', technicianId: null }],
    });
    await page.getByText('Compressed air can injure people').waitFor();
  });
});

describe('watering rules', () => {
  it('changes the stage in force at once, with undo', async () => {
    await addRestriction();
    page = await book.open(browser, '#/company/rules');
    await pick(/Stage in force/, 'Dry year');
    await message().getByText('Tamsett Water: Dry year is in force.').waitFor();
    expect((await book.call('rules.list', {})).restrictions[0]?.currentStage).toBe(1);
    await message().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(async () => (await book.call('rules.list', {})).restrictions[0]?.currentStage, SOON).toBe(0);
  });

  it('edits days by house number and hours, and says at the hour what is wrong', async () => {
    await addRestriction();
    page = await book.open(browser, '#/company/rules');
    await page.getByRole('button', { name: 'Change Tamsett Water' }).click();
    const sheet = page.getByRole('dialog', { name: 'Tamsett Water' });
    await sheet.getByRole('checkbox', { name: 'Odd house numbers, Saturday' }).press('Space');
    await sheet.getByRole('checkbox', { name: 'Even house numbers, Sunday' }).press('Space');
    await sheet.getByLabel('Forbidden to, spell 1').fill('10:00');
    await sheet.getByRole('button', { name: 'Save restriction' }).click();
    await sheet.locator('.spell').getByText('must end at another time', { exact: false }).waitFor();
    await sheet.getByLabel('Forbidden to, spell 1').fill('19:30');
    await sheet.getByRole('button', { name: 'Move up Dry year' }).click();
    await sheet.getByRole('button', { name: 'Save restriction' }).click();
    await sheet.waitFor({ state: 'detached' });
    const [saved] = (await book.call('rules.list', {})).restrictions;
    expect(saved?.stages.map((stage) => stage.title)).toEqual(['Dry year', 'Ordinary summer']);
    // The stage in force is the same rule, though it stands second now.
    expect(saved?.currentStage).toBe(1);
    expect(saved?.stages[1]).toMatchObject({
      dayRule: { kind: 'weekdays', oddAddress: [2, 4], evenAddress: [1, 3, 5, 7] },
      forbiddenHours: [{ from: '10:00', to: '19:30' }],
    });
  });

  it('edits the rules of thumb in their table', async () => {
    page = await book.open(browser, '#/company/rules');
    const before = (await book.call('rules.list', {})).thumbRules;
    expect(before.length).toBeGreaterThan(1);
    await page.getByRole('textbox', { name: 'Minutes to, rule 1', exact: true }).fill('1');
    await page.getByRole('textbox', { name: 'Minutes from, rule 1', exact: true }).fill('5');
    await page.getByRole('button', { name: 'Save rules of thumb' }).click();
    await page.getByText('The upper minutes must not be below the lower ones.').waitFor();
    await page.getByRole('textbox', { name: 'Minutes to, rule 1', exact: true }).fill('12.5');
    await page.getByRole('button', { name: 'Remove rule 2', exact: true }).click();
    await page.getByRole('button', { name: 'Save rules of thumb' }).click();
    await message().getByText('Rules of thumb saved.').waitFor();
    const after = (await book.call('rules.list', {})).thumbRules;
    expect(after).toHaveLength(before.length - 1);
    expect(after[0]).toMatchObject({ minutesFrom: 5, minutesTo: 12.5 });
    await message().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(async () => (await book.call('rules.list', {})).thumbRules.length, SOON).toBe(before.length);
  });
});

describe('weather stations', () => {
  it('show when freezes come by chance, as a chart with its table, at thresholds that can be set', async () => {
    const id = ulid();
    await book.call('station.save', {
      writeId: ulid(),
      station: { id, name: 'Tamsett yard', latitudeDeg: 40, longitudeDeg: -105, elevationFt: 5000, normals: NORMALS },
    });
    // Twelve winters alike: 32 °F from 10 October to 20 April, 28 °F from 1 November to 1 April, so every chance has that day.
    const lines = ['Date,TMin F'];
    for (let at = Date.parse('2010-01-01'); at <= Date.parse('2021-12-31'); at += 86_400_000) {
      const date = new Date(at).toISOString().slice(0, 10);
      const day = date.slice(5);
      const low = day >= '11-01' || day <= '04-01' ? 28 : day >= '10-10' || day <= '04-20' ? 32 : 60;
      lines.push(`${date},${low}`);
    }
    const bytesBase64 = Buffer.from(lines.join('\n')).toString('base64');
    await book.call('import.apply', { target: 'weather', stationId: id, bytesBase64 });
    for (const options of [
      { width: 1440, colorScheme: 'light' },
      { width: 390, colorScheme: 'dark' },
    ] as const) {
      page = await book.open(browser, '#/company/weather', options);
      const chart = page.getByRole('figure', { name: 'Freeze dates, Tamsett yard' });
      await chart
        .getByRole('img', { name: /32 °F: even chance by Oct 10 in autumn and of one later than Apr 20/ })
        .waitFor();
      await chart.getByRole('button', { name: /table/i }).click();
      const row = chart.getByRole('row', { name: /^First of autumn, come by 10 %/ });
      expect(await row.getByRole('cell').allTextContents()).toEqual([
        'First of autumn, come by',
        '10 %',
        'Oct 10',
        'Oct 10',
        'Nov 1',
      ]);
      expect(await seriousFindings(page)).toEqual([]);
      expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
      if (options.width === 1440) await page.context().close();
    }
    await page.getByRole('textbox', { name: 'Threshold 2, °F' }).fill('30');
    await page.getByRole('textbox', { name: 'Threshold 2, °F' }).press('Tab');
    await page.getByRole('img', { name: /30 °F: even chance by Nov 1 in autumn/ }).waitFor();
  });

  it('takes normals typed in the reader’s units and pasted from a spreadsheet', async () => {
    const id = ulid();
    await book.call('station.save', {
      writeId: ulid(),
      station: { id, name: 'Tamsett yard', latitudeDeg: 40, longitudeDeg: -105, elevationFt: 5000, normals: NORMALS },
    });
    const settings = await book.call('settings.get', {});
    await book.call('settings.save', { writeId: ulid(), settings: { ...settings, units: 'metric' } });
    page = await book.open(browser, '#/company/weather');
    await page.getByRole('button', { name: 'Change Tamsett yard' }).click();
    const sheet = page.getByRole('dialog', { name: 'Tamsett yard' });
    expect(await sheet.getByRole('textbox', { name: 'January, highest', exact: true }).inputValue()).toBe('4.4');
    await sheet.getByRole('textbox', { name: 'February, highest', exact: true }).fill('10');
    // Left and entered without a change: what is in the book must not drift.
    await sheet.getByRole('textbox', { name: 'March, highest', exact: true }).focus();
    await sheet.getByRole('textbox', { name: 'June, lowest', exact: true }).focus();
    await page.evaluate(() => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', '7\t25\r\n7,5\t50,8\r\n');
      document.activeElement?.dispatchEvent(
        new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }),
      );
    });
    await sheet.getByRole('button', { name: 'Save station' }).click();
    await sheet.waitFor({ state: 'detached' });
    const { normals } = (await book.call('station.list', {})).stations[0] ?? { normals: [] };
    expect(normals[0]?.tmaxF).toBe(40);
    expect(normals[1]?.tmaxF).toBe(50);
    expect(normals[2]?.tmaxF).toBe(42);
    expect(normals[5]?.tminF).toBeCloseTo(44.6, 6);
    expect(normals[5]?.rainInches).toBeCloseTo(25 / 25.4, 3);
    expect(normals[6]?.tminF).toBeCloseTo(45.5, 6);
    expect(normals[6]?.rainInches).toBeCloseTo(2, 6);
  });

  it('says in its cell that a lowest stands above a highest', async () => {
    page = await book.open(browser, '#/company/weather');
    await page.getByRole('heading', { name: 'No weather station yet' }).waitFor();
    await page.getByRole('button', { name: 'Add station' }).first().click();
    const sheet = page.getByRole('dialog', { name: 'Add weather station' });
    await sheet.getByLabel('Name').fill('Tamsett yard');
    await sheet.getByRole('textbox', { name: 'April, lowest', exact: true }).fill('99');
    await sheet.getByRole('button', { name: 'Add station' }).click();
    await sheet
      .locator('td[data-month="3"]')
      .getByText('must not be above the mean maximum', { exact: false })
      .waitFor();
    expect((await book.call('station.list', {})).stations).toEqual([]);
  });
});

describe('the book', () => {
  it('is backed up, checked, exported and restored, and asks only before restoring', async () => {
    page = await book.open(browser, '#/company/book');
    await page.getByText(book.desk.bookPath).waitFor();
    const copy = join(book.folder, 'copy.valvebook');
    await page.getByRole('textbox', { name: 'To' }).first().fill(copy);
    await page.getByRole('button', { name: 'Back up now' }).click();
    await page.getByText('Backed up to').waitFor();
    expect(statSync(copy).size).toBeGreaterThan(10_000);
    await page.getByRole('button', { name: 'Check the book' }).click();
    await page.getByText('The book is sound.').waitFor();
    expect(await page.locator('.checks > li').count()).toBeGreaterThan(3);
    const zip = join(book.folder, 'everything.zip');
    await page.getByRole('textbox', { name: 'To' }).last().fill(zip);
    await page.getByRole('button', { name: 'Export everything' }).click();
    await page.getByText('Exported to').waitFor();
    expect(existsSync(zip)).toBe(true);

    const settings = await book.call('settings.get', {});
    await book.call('settings.save', { writeId: ulid(), settings: { ...settings, companyName: 'Changed since' } });
    expect(await page.getByRole('textbox', { name: 'From' }).inputValue()).toBe(copy);
    await page.getByRole('button', { name: 'Restore…' }).click();
    const sure = page.getByRole('dialog', { name: 'Restore this backup?' });
    await sure.getByRole('button', { name: 'Keep the book as it is' }).click();
    expect((await book.call('settings.get', {})).companyName).toBe('Changed since');
    await page.getByRole('button', { name: 'Restore…' }).click();
    await sure.getByRole('button', { name: 'Restore backup' }).click();
    await page.getByText('Restored from').waitFor();
    expect((await book.call('settings.get', {})).companyName).toBe('My company');
  });

  it.skipIf(process.platform === 'win32')('open to others is said so, and closed at one press', async () => {
    const { bookPath } = book.desk;
    chmodSync(book.folder, 0o755);
    chmodSync(bookPath, 0o644);
    page = await book.open(browser, '#/company/book');
    await page.getByText('others may read it (mode 0644)').first().waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    expect(await sidewaysOverflow(page)).toBe(0);
    await page.getByRole('button', { name: 'Make it private' }).click();
    await page.getByText('Other users of this machine can reach the book.').waitFor({ state: 'detached' });
    expect(statSync(bookPath).mode & 0o777).toBe(0o600);
    await message().getByText('The book is yours alone on this machine.').waitFor();
  });

  it('shows the seal of the book, and whether one noted earlier still holds', async () => {
    page = await book.open(browser, '#/company/book');
    const { count, seal } = await book.call('book.seal', {});
    const section = page.getByRole('region', { name: 'Seal' });
    await section.getByText(seal.replaceAll(/(.{8})(?=.)/g, '$1 ')).waitFor();
    await section.getByRole('textbox', { name: 'Entries it counts' }).fill('many');
    await section.getByRole('textbox', { name: 'A seal noted earlier' }).fill(seal.slice(0, 16).toUpperCase());
    await section.getByRole('button', { name: 'Check this seal' }).click();
    await section.getByText('must be the whole number that stands beside the seal').waitFor();
    await section.getByRole('textbox', { name: 'Entries it counts' }).fill(String(count));
    await section.getByRole('button', { name: 'Check this seal' }).click();
    await section.getByText('The book is sound.').waitFor();
    await section.getByText('Seals noted earlier are found again').waitFor();
    const other = `${seal[0] === '0' ? '1' : '0'}${seal.slice(1)}`;
    await section.getByRole('textbox', { name: 'A seal noted earlier' }).fill(other);
    await section.getByRole('button', { name: 'Check this seal' }).click();
    await section.getByText('something recorded until then was changed since').waitFor();
    expect(await section.getByText('The book is sound.').count()).toBe(0);
    await section.getByRole('textbox', { name: 'A seal noted earlier' }).fill('not a seal');
    await section.getByRole('button', { name: 'Check this seal' }).click();
    await section.getByText(/must be the digits 0 to 9 and a to f of a seal/).waitFor();
  });

  it('says what is wrong with a path beside it', async () => {
    page = await book.open(browser, '#/company/book');
    await page.getByRole('textbox', { name: 'From' }).fill(join(book.folder, 'nothing-here.valvebook'));
    await page.getByRole('button', { name: 'Restore…' }).click();
    await page.getByRole('button', { name: 'Restore backup' }).click();
    const error = page.locator('.book-act .field-error');
    await error.waitFor();
    expect(await error.innerText()).toContain('There is no book at');
    await page.getByText(book.desk.bookPath).waitFor();
  });
});

describe('every page of the desk', () => {
  it('has no serious finding of axe, in light, dark and narrow, with its form open', async () => {
    await addRestriction();
    await book.call('people.save', {
      writeId: ulid(),
      technicians: [{ id: ulid(), name: 'Odalys Fenn' }],
      trucks: [{ id: ulid(), name: 'Truck 1' }],
      routes: [{ id: ulid(), name: 'North bench' }],
    });
    await book.call('station.save', {
      writeId: ulid(),
      station: {
        id: ulid(),
        name: 'Tamsett yard',
        latitudeDeg: 40,
        longitudeDeg: -105,
        elevationFt: 5000,
        normals: NORMALS,
      },
    });
    const findings: string[] = [];
    for (const options of [
      { width: 1440, colorScheme: 'light' },
      { width: 390, colorScheme: 'dark' },
    ] as const) {
      page = await book.open(browser, '#/company', options);
      for (const [hash, heading, form] of [
        ['', 'Settings', null],
        ['/people', 'People, trucks, routes', 'Change Odalys Fenn'],
        ['/rules', 'Watering rules', 'Change Tamsett Water'],
        ['/weather', 'Weather stations', 'Change Tamsett yard'],
        ['/book', 'The book', null],
      ] as const) {
        await page.goto(`${book.host.origin}/#/company${hash}`);
        await page.getByRole('heading', { level: 1, name: heading }).waitFor();
        if (form !== null) await page.getByRole('button', { name: form }).waitFor();
        findings.push(...(await seriousFindings(page)), ...(await smallTargets(page, '.company-desk', 24)));
        expect(await targetCount(page, '.company-desk')).toBeGreaterThan(5);
        expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
        if (form === null) continue;
        await page.getByRole('button', { name: form }).click();
        await page.getByRole('dialog').waitFor();
        findings.push(...(await seriousFindings(page)));
        await page.keyboard.press('Escape');
        await page.getByRole('dialog').waitFor({ state: 'detached' });
      }
      if (options.width === 1440) await page.context().close();
    }
    expect(findings).toEqual([]);
  });
});
