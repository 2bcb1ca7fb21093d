import type { Browser, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launchBrowser } from './chromium.ts';
import { makeOfficeBook, OFFICE_TODAY, type OfficeBook } from './office-book.ts';
import { openWatched, seriousFindings, sidewaysOverflow } from './page-checks.ts';

let browser: Browser;
let book: OfficeBook;
let page: Page;
let problems: string[];

beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  book = await makeOfficeBook();
  page = await openPage();
});
afterEach(async () => {
  await page.context().close();
  await book.close();
  expect(problems).toEqual([]);
});

async function openPage(viewport?: { width: number; height: number }, colorScheme?: 'light' | 'dark'): Promise<Page> {
  problems = [];
  const opened = await openWatched(browser, book.host.newAddress(), problems, viewport, colorScheme);
  await opened.getByRole('option').first().waitFor();
  return opened;
}
const address = (hash: string) => `${book.host.origin}/${hash}`;
const button = (name: string | RegExp) => page.getByRole('button', { name });
const dialog = () => page.getByRole('dialog');
const section = (name: string) => page.getByRole('region', { name, exact: true });
async function openOurs(): Promise<void> {
  await page.goto(address(`#/office/property/${book.propertyId}`));
  await page.getByRole('heading', { level: 1, name: 'Zephyrine Quillbank' }).waitFor();
}
const property = () => book.call('property.open', { propertyId: book.propertyId });
const zoneOne = async () => (await property()).zones.find((zone) => zone.id === book.zoneIds[0]);
const cell = (row: number, column: number) => page.locator(`[data-cell="${row}:${column}"]`);

describe('the list', () => {
  it('finds a client while one types, and opens it with Enter', async () => {
    const search = page.getByRole('combobox', { name: /Find a client/ });
    expect(await search.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.type('quillb');
    await expect.poll(() => page.getByRole('option').count()).toBe(5);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Zephyrine Quillbank' }).waitFor();
    const second = await page.getByRole('option').nth(1).innerText();
    expect(second).toContain(
      await page
        .locator('.head-where')
        .innerText()
        .then((text) => text.split(' ·')[0] ?? ''),
    );
    // The keyboard is still with the search: the next caller can be typed at once.
    expect(await search.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press('Escape');
    await expect.poll(() => search.inputValue()).toBe('');
  });

  it('finds by street and by the digits of a phone however they are typed', async () => {
    await page.keyboard.type('22 ferrule');
    await expect.poll(() => page.getByRole('option').count()).toBe(1);
    await page.keyboard.press('Escape');
    await page.keyboard.type('9705550142');
    await expect
      .poll(() => page.getByRole('option').allInnerTexts())
      .toEqual(expect.arrayContaining([expect.stringContaining('Quillbank')]));
  });

  it('takes letters typed anywhere, and the slash', async () => {
    await openOurs();
    const search = page.getByRole('combobox', { name: /Find a client/ });
    await page.locator('#property-page').focus();
    await page.keyboard.press('/');
    expect(await search.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(await search.inputValue()).toBe('');
    await page.locator('#property-page').focus();
    await page.keyboard.type('bolt');
    await expect.poll(() => search.inputValue()).toBe('bolt');
  });

  it('reads only the rows in view, and keeps its place when something changes', async () => {
    for (let index = 0; index < 260; index += 1)
      await book.call('client.save', {
        writeId: ulid(),
        client: { id: ulid(), name: `Aardwin ${String(index).padStart(3, '0')}` },
      });
    const asked: number[] = [];
    page.on('request', (request) => {
      if (request.url().endsWith('/request/client.list'))
        asked.push((request.postDataJSON() as { offset?: number }).offset ?? 0);
    });
    await page.keyboard.type('aardwin');
    await expect.poll(() => page.getByRole('status').first().innerText()).toBe('260 found');
    expect(new Set(asked)).not.toContain(200);
    await page.getByRole('listbox', { name: 'Clients' }).evaluate((list) => list.scrollTo({ top: list.scrollHeight }));
    await page.getByText('Aardwin 259').waitFor();
    expect(new Set(asked)).toContain(200);
    const before = await page.getByRole('listbox', { name: 'Clients' }).evaluate((list) => list.scrollTop);
    await book.call('client.save', { writeId: ulid(), client: { id: ulid(), name: 'Aardwin 260' } });
    await expect.poll(() => page.getByRole('status').first().innerText()).toBe('261 found');
    expect(await page.getByRole('listbox', { name: 'Clients' }).evaluate((list) => list.scrollTop)).toBe(before);
    expect(await page.getByText('Aardwin 259').isVisible()).toBe(true);
  });

  it('leaves whoever scrolls while the answer is on its way where they are', async () => {
    for (let index = 0; index < 120; index += 1)
      await book.call('client.save', {
        writeId: ulid(),
        client: { id: ulid(), name: `Aardwin ${String(index).padStart(3, '0')}` },
      });
    await page.keyboard.type('aardwi');
    await expect.poll(() => page.getByRole('status').first().innerText()).toBe('120 found');
    let answer = () => {};
    const wait = new Promise<void>((resolve) => (answer = resolve));
    await page.route('**/request/client.list', async (route) => {
      await wait;
      await route.continue();
    });
    const list = page.getByRole('listbox', { name: 'Clients' });
    const answered = page.waitForResponse('**/request/client.list');
    await page.keyboard.type('n');
    await list.evaluate((element) => element.scrollTo({ top: element.scrollHeight }));
    const place = await list.evaluate((element) => element.scrollTop);
    expect(place).toBeGreaterThan(1000);
    // What scrolled tells it with the next frame, as a person's wheel does.
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
    answer();
    await (await answered).finished();
    await page.getByText('Aardwin 119').waitFor();
    await page.unroute('**/request/client.list');
    expect(await list.evaluate((element) => element.scrollTop)).toBe(place);
    // A new search of somebody who does not scroll begins at its top.
    await page.keyboard.press('Backspace');
    await expect.poll(() => list.evaluate((element) => element.scrollTop)).toBe(0);
  });

  it('narrows by what is due', async () => {
    const expected = (await book.call('client.list', { due: 'backflow-test' })).total;
    expect(expected).toBeGreaterThan(0);
    await button(/What is due$/).click();
    await page.getByRole('option', { name: 'Backflow test', exact: true }).click();
    await expect.poll(() => page.getByRole('status').first().innerText()).toMatch(new RegExp(`^${expected} found`));
  });
});

describe('the property page', () => {
  it("shows access, the week, and the client's other properties", async () => {
    await openOurs();
    expect(await section('Access and water').innerText()).toContain('8802*');
    expect(
      await page
        .getByRole('navigation', { name: /Other properties/ })
        .getByRole('link')
        .count(),
    ).toBe(4);
    const week = page.getByRole('img', { name: /^Water week/ });
    await week.waitFor();
    // Two zones on two days.
    expect(await week.locator('rect.run').count()).toBe(4);
    await page.getByRole('radio', { name: /Rose bed/ }).click();
    expect(await week.locator('g.faded rect.run').count()).toBe(2);
    await page.getByRole('radio', { name: /Rose bed/ }).click();
    expect(await week.locator('g.faded').count()).toBe(0);
    expect(
      await page
        .getByRole('table', { name: /^Water week/ })
        .getByRole('row')
        .count(),
    ).toBe(5);
  });

  it("saves a zone's cell in place by the keyboard, and takes it back", async () => {
    await openOurs();
    await cell(0, 4).click();
    await page.keyboard.type('9.5');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await zoneOne())?.flowGpm).toBe(9.5);
    expect((await zoneOne())?.flowKnown).toBe('measured');
    // Enter saved and went down.
    await expect.poll(() => cell(1, 4).evaluate((element) => element === document.activeElement)).toBe(true);
    await button(/^Undo/).click();
    await expect.poll(async () => (await zoneOne())?.flowGpm).toBe(8);
    await expect.poll(() => cell(0, 4).innerText()).toBe('8');
  });

  it('saves quick edits one after another without one losing the other', async () => {
    await openOurs();
    await cell(0, 1).click();
    await page.keyboard.type('Pear lawn');
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.type('11');
    await page.keyboard.press('Tab');
    await page.keyboard.type('812');
    await page.keyboard.press('Enter');
    await expect
      .poll(async () => {
        const zone = await zoneOne();
        return [zone?.name, zone?.flowGpm, zone?.areaFt2, zone?.areaKnown];
      })
      .toEqual(['Pear lawn', 11, 812, 'measured']);
    await page.keyboard.press('Control+z');
    await expect.poll(async () => (await zoneOne())?.areaFt2).toBe(700);
    expect((await zoneOne())?.name).toBe('Pear lawn');
  });

  it('refuses an impossible figure in words and changes nothing', async () => {
    await openOurs();
    await cell(0, 8).click();
    await page.keyboard.type('140');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.getByRole('alert').innerText()).toMatch(/Zone 1, Slope: must be 0 to 100 %/);
    expect((await zoneOne())?.slopePercent).toBe(0);
  });

  it('says so when somebody else saved first', async () => {
    await openOurs();
    const { property: seen, version } = await property();
    // The page is kept from hearing of the other save, as when both save in the same moment.
    await page.route('**/request/property.open', (route) => route.abort());
    await book.call('property.save', { writeId: ulid(), property: { ...seen, gateCode: '1111' }, version });
    // What they saved is no reason to refuse a figure that they left alone.
    await cell(0, 4).click();
    await page.keyboard.type('3');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await zoneOne())?.flowGpm).toBe(3);
    const { property: gated, version: later, zones } = await property();
    expect(gated.gateCode).toBe('1111');
    const zone = { ...zones.find((one) => one.id === book.zoneIds[0])!, flowGpm: 9 };
    await book.call('property.save', { writeId: ulid(), property: gated, version: later, zones: [zone] });
    await cell(0, 4).click();
    await page.keyboard.type('4');
    await page.keyboard.press('Enter');
    await expect
      .poll(() => page.getByRole('alert').first().innerText())
      .toContain('Somebody else changed the same thing');
    expect((await zoneOne())?.flowGpm).toBe(9);
    await page.unroute('**/request/property.open');
    await button('Show the newest').click();
    await expect.poll(() => section('Access and water').innerText()).toContain('1111');
  });

  it("reads and takes metric figures, and stores the book's own units", async () => {
    const settings = await book.call('settings.get', {});
    await book.call('settings.save', { writeId: ulid(), settings: { ...settings, units: 'metric' } });
    await openOurs();
    // 8 gpm × 3.785411784 L/gal.
    await expect.poll(() => cell(0, 4).innerText()).toBe('30.3');
    await cell(0, 4).click();
    await page.keyboard.type('37.85411784');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await zoneOne())?.flowGpm).toBeCloseTo(10, 6);
    expect(await page.getByRole('columnheader', { name: /Flow/ }).innerText()).toContain('L/min');
  });

  it('carries the seal of the book on paper, and only there', async () => {
    await openOurs();
    const { count, seal } = await book.call('book.seal', {});
    const digits = page.getByText(seal.replaceAll(/(.{8})(?=.)/g, '$1 '));
    expect(await digits.isVisible()).toBe(false);
    await page.emulateMedia({ media: 'print' });
    await expect.poll(() => digits.isVisible()).toBe(true);
    expect(await page.locator('.seal-line').textContent()).toContain(
      `over ${count.toLocaleString('en-US')} entries and program revisions`,
    );
    await page.emulateMedia({ media: null });
  });

  it('does not throw away a form that was typed in when Escape is pressed', async () => {
    await openOurs();
    await button('Edit access').click();
    await page.keyboard.press('Escape');
    await dialog().waitFor({ state: 'detached' });
    await button('Edit access').click();
    await dialog().getByRole('textbox', { name: 'Gate code' }).fill('9911');
    await page.keyboard.press('Escape');
    expect(await dialog().getByRole('textbox', { name: 'Gate code' }).inputValue()).toBe('9911');
    await expect
      .poll(() => button('Leave without saving').evaluate((element) => element === document.activeElement))
      .toBe(true);
    await page.keyboard.press('Enter');
    await dialog().waitFor({ state: 'detached' });
    expect((await property()).property.gateCode).toBe('8802*');
  });

  it('retires a zone with its history and takes it back into use', async () => {
    await openOurs();
    await button('Edit all of zone 2, Rose bed').click();
    await button('Retire zone').click();
    await dialog().waitFor({ state: 'detached' });
    const retired = async () => (await property()).zones.find((zone) => zone.id === book.zoneIds[1])?.retired;
    expect(await retired()).toBe(true);
    await page.getByText('1 retired zone').click();
    await button(/^Take back into use/).click();
    await expect.poll(retired).toBe(false);
  });

  it('revises a program with the week before and after in view, and takes it back', async () => {
    await openOurs();
    await button('Edit program A').click();
    // A revision renames nothing: the field says so instead of taking a name that would be lost.
    const name = dialog().getByRole('textbox', { name: 'Name', exact: true });
    expect(await name.inputValue()).toBe('A');
    expect(await name.isEditable()).toBe(false);
    await dialog().getByText('A revision changes how it waters, not what it is called.').waitFor();
    await dialog().getByRole('button', { name: 'Sun', exact: true }).click();
    const after = dialog().getByRole('img', { name: /^As changed/ });
    await expect.poll(() => after.locator('rect.run').count()).toBe(6);
    expect(await dialog().getByRole('img', { name: /^Now/ }).locator('rect.run').count()).toBe(4);
    const minutes = dialog().getByRole('textbox', { name: 'Minutes, zone 1 Apple lawn', exact: true });
    await minutes.fill('25');
    await minutes.press('Tab');
    await dialog().getByRole('textbox', { name: 'Reason' }).fill('client asked for Sundays');
    await dialog().getByRole('button', { name: 'Save as new revision' }).click();
    await dialog().waitFor({ state: 'detached' });
    const [revised] = (await property()).programs;
    expect(revised?.revisionCount).toBe(2);
    expect(revised?.revision.days).toEqual({ kind: 'weekdays', weekdays: [2, 5, 7] });
    expect(revised?.revision.runs.find((run) => run.zoneId === book.zoneIds[0])?.runMinutes).toBe(25);
    expect(revised?.revision.reason).toBe('client asked for Sundays');
    await button(/^Undo/).click();
    await expect
      .poll(async () => (await property()).programs[0]?.revision.days)
      .toEqual({ kind: 'weekdays', weekdays: [2, 5] });
    expect((await property()).programs[0]?.revisionCount).toBe(3);
    await button('3 revisions of program A').click();
    expect(await dialog().getByRole('listitem').filter({ hasText: 'client asked for Sundays' }).count()).toBe(1);
  });

  it('books a visit and takes it back; moves one; cancels one and brings it back', async () => {
    await openOurs();
    await button('Book visit').first().click();
    await button(/Visit$/)
      .first()
      .click();
    await page.getByRole('option', { name: 'Walk-through' }).click();
    await dialog().getByRole('textbox', { name: /^Day/ }).fill('2026-07-20');
    await dialog().getByRole('button', { name: 'Book visit' }).click();
    await dialog().waitFor({ state: 'detached' });
    const planned = async () =>
      (await property()).visits
        .filter((visit) => visit.state === 'planned')
        .map((visit) => `${visit.kind} ${visit.date}`);
    expect(await planned()).toEqual(['walk-through 2026-07-20']);
    await button(/^Undo/).click();
    await expect.poll(planned).toEqual([]);
    await book.call('visit.book', {
      writeId: ulid(),
      visitId: ulid(),
      propertyId: book.propertyId,
      kind: 'repair',
      date: '2026-07-21',
    });
    await button(/^Change Repair/).click();
    await page.getByRole('menuitem', { name: 'Move visit' }).click();
    await dialog().getByRole('textbox', { name: /^Day/ }).fill('2026-07-23');
    await dialog().getByRole('button', { name: 'Move visit' }).click();
    await expect.poll(planned).toEqual(['repair 2026-07-23']);
    await button(/^Change Repair of Thu, Jul 23/).click();
    await page.getByRole('menuitem', { name: 'Cancel visit' }).click();
    await expect.poll(planned).toEqual([]);
    await button(/^Undo/).last().click();
    await expect.poll(planned).toEqual(['repair 2026-07-23']);
  });

  it('corrects a ledger entry with a reason; the first version is one press away', async () => {
    await openOurs();
    expect((await property()).sensors[0]?.batteryDate).toBe('2026-06-03');
    await button(/^Correct Battery swap of Jun 3/).click();
    const save = dialog().getByRole('button', { name: 'Correct entry' });
    expect(await save.isDisabled()).toBe(true);
    await dialog().getByLabel('Done on').fill('2026-06-10');
    await dialog()
      .getByRole('textbox', { name: /Why is it corrected/ })
      .fill('wrong week on the day sheet');
    await save.click();
    await dialog().waitFor({ state: 'detached' });
    await expect.poll(async () => (await property()).sensors[0]?.batteryDate).toBe('2026-06-10');
    await button('corrected, show history').click();
    await expect.poll(() => dialog().innerText()).toContain('wrong week on the day sheet');
    expect(await dialog().getByRole('listitem').count()).toBe(2);
    await dialog().getByRole('button', { name: 'Close' }).click();
    await button(/^Correct Battery swap/).click();
    await page.getByText('It did not happen', { exact: true }).click();
    await dialog()
      .getByRole('textbox', { name: /Why is it corrected/ })
      .fill('another house');
    await dialog().getByRole('button', { name: 'Declare it did not happen' }).click();
    await expect.poll(async () => (await property()).sensors[0]?.batteryDate).toBe('2026-05-02');
  });

  it('logs work from the office', async () => {
    await openOurs();
    await button('Log work').first().click();
    await dialog().getByRole('button', { name: 'Repair', exact: true }).click();
    await dialog()
      .getByRole('textbox', { name: /What was repaired/ })
      .fill('Riser replaced');
    await dialog().getByRole('button', { name: 'Log work' }).click();
    await dialog().waitFor({ state: 'detached' });
    const [newest] = (await book.call('ledger.list', { propertyId: book.propertyId })).entries;
    expect(newest?.detail).toMatchObject({ kind: 'repair', what: 'Riser replaced' });
    expect(newest?.doneOn).toBe(OFFICE_TODAY);
    await section('Ledger').getByText('Riser replaced').waitFor();
  });
});

describe('clients and what today needs', () => {
  it('adds a client and their first property, naming what is missing', async () => {
    await button('Add client').click();
    await dialog()
      .getByRole('textbox', { name: /E-mail/ })
      .fill('not an address');
    await dialog().getByRole('textbox', { name: /^Name/ }).fill('Oriel Tannerby');
    await dialog().getByRole('button', { name: 'Add client' }).click();
    await dialog()
      .getByText(/must be an e-mail address/)
      .first()
      .waitFor();
    expect((await book.call('client.list', { search: 'Tannerby' })).total).toBe(0);
    await dialog()
      .getByRole('textbox', { name: /E-mail/ })
      .fill('oriel@example.com');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Oriel Tannerby' }).waitFor();
    await button('Add property').first().click();
    await dialog()
      .getByRole('textbox', { name: /^Street/ })
      .fill('3 Sluice Row');
    await dialog().getByRole('button', { name: 'Add property' }).click();
    await page.getByText('No controller yet').waitFor();
    expect((await book.call('client.list', { search: '3 Sluice Row' })).total).toBe(1);
  });

  it('lists what is due by kind and books from the row', async () => {
    await page.goto(address('#/office/today'));
    const counts = (await book.call('due.list', { horizonDays: 14 })).counts;
    const kind = counts['sensor-check'] > 0 ? 'sensor-check' : 'battery';
    const word = kind === 'battery' ? 'Batteries' : 'Sensor checks';
    expect(counts[kind]).toBeGreaterThan(0);
    await expect
      .poll(() =>
        page.getByRole('list', { name: 'What is due, by kind' }).getByRole('button', { name: word }).innerText(),
      )
      .toContain(String(counts[kind]));
    await section(word).getByRole('button', { name: /^Book/ }).first().click();
    await dialog().getByRole('button', { name: 'Book visit' }).click();
    await dialog().waitFor({ state: 'detached' });
    await expect
      .poll(async () => (await book.call('due.list', { horizonDays: 14 })).counts[kind])
      .toBeLessThan(counts[kind]);
  });

  it('teaches when the book is empty', async () => {
    const empty = await makeOfficeBook({ empty: true });
    try {
      const other = await page.context().newPage();
      await other.goto(empty.host.newAddress());
      await other.getByRole('heading', { name: 'The book is empty' }).waitFor();
      expect(await other.getByRole('link', { name: 'Import your client list' }).getAttribute('href')).toBe(
        '#/office/import',
      );
      expect(await seriousFindings(other)).toEqual([]);
      await other.close();
    } finally {
      await empty.close();
    }
  });
});

describe.each(['light', 'dark'] as const)('in %s', (scheme) => {
  it('axe finds nothing serious, and nothing runs off the side', async () => {
    await page.context().close();
    page = await openPage({ width: 1440, height: 900 }, scheme);
    for (const hash of [
      '#/office',
      `#/office/property/${book.propertyId}`,
      `#/office/client/${book.clientId}`,
      '#/office/today',
    ]) {
      await page.goto(address(hash));
      await page.locator('h1').first().waitFor();
      await page.waitForTimeout(300);
      expect(await seriousFindings(page), hash).toEqual([]);
    }
    await openOurs();
    for (const [open, close] of [
      ['Edit program A', 'Keep it as it is'],
      ['Book visit', 'Leave without saving'],
      ['Log work', 'Leave without saving'],
      ['Edit access', 'Leave without saving'],
      ['Edit all of zone 1, Apple lawn', 'Leave without saving'],
    ] as const) {
      await button(open).first().click();
      await dialog().waitFor();
      await page.waitForTimeout(300);
      expect(await seriousFindings(page), open).toEqual([]);
      await button(close).click();
      await dialog().waitFor({ state: 'detached' });
    }
    await page.setViewportSize({ width: 390, height: 844 });
    for (const hash of ['#/office', `#/office/property/${book.propertyId}`, '#/office/today']) {
      await page.goto(address(hash));
      await page.waitForTimeout(400);
      expect(await sidewaysOverflow(page), `${hash} at 390 px`).toBeLessThanOrEqual(0);
      expect(
        await page.evaluate(() =>
          Math.max(
            0,
            ...[...document.querySelectorAll('.detail-pane, .list-scroll')].map(
              (element) => element.scrollWidth - element.clientWidth,
            ),
          ),
        ),
        `${hash} at 390 px`,
      ).toBe(0);
    }
  });
});
