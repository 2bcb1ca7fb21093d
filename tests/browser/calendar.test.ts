import type { Browser, Locator, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { VisitRow } from '../../core/visits/contract.ts';
import { launchBrowser } from './chromium.ts';
import { makeCalendarBook, THURSDAY, TODAY, WEDNESDAY, type CalendarBook } from './calendar-book.ts';
import { seriousFindings, sidewaysOverflow, smallTargets, targetCount } from './page-checks.ts';

let browser: Browser;
let book: CalendarBook;
let page: Page;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  book = await makeCalendarBook();
  page = await book.open(browser, `#/office/calendar/${TODAY}`);
});
afterEach(async () => {
  await page.context().close();
  await book.close();
});

const SOON = { timeout: 15_000 };
const day = (who: string, date: 'Wednesday, October 7' | 'Thursday, October 8' | 'Friday, October 9'): Locator =>
  page.getByRole('grid', { name: `${who}, ${date}`, exact: true });
const streets = (cell: Locator) => cell.locator('.visit-street').allTextContents();
const card = (street: string) => page.locator('.visit-card', { hasText: street });
const message = () => page.getByRole('region', { name: 'Messages' });
/** The day as the book has it. */
async function inBook(date: string, states: VisitRow['state'][] = ['planned']): Promise<string[]> {
  const { visits } = await book.call('visit.list', { fromDate: date, toDate: date, states });
  return visits.map(
    (visit) =>
      `${visit.street} ${visit.technicianId === book.odalys ? 'Odalys' : visit.technicianId === book.bram ? 'Bram' : 'nobody'} ${visit.orderInDay}`,
  );
}
/** Drags with the mouse as a hand does, in small steps. */
async function drag(from: Locator, to: Locator, at: { x: number; y: number }): Promise<void> {
  const start = await from.boundingBox();
  const end = await to.boundingBox();
  if (start === null || end === null) throw new Error('nothing to drag');
  await page.mouse.move(start.x + 40, start.y + 14);
  await page.mouse.down();
  await page.mouse.move(start.x + 52, start.y + 20, { steps: 4 });
  await page.mouse.move(end.x + at.x, end.y + at.y, { steps: 14 });
  await page.mouse.up();
}

describe('the booking calendar', () => {
  it('shows each day with its visits in order and how full it is', async () => {
    await expect.poll(() => streets(day('Odalys Fenn', 'Wednesday, October 7')), SOON).toEqual(book.wednesday);
    // Two hours of work in a day: 90 of 120 minutes on Wednesday, all of it on Thursday.
    const cell = (date: 'Wednesday, October 7' | 'Thursday, October 8') =>
      page.locator('.day-cell', { has: day('Odalys Fenn', date) }).locator('.load');
    expect(await cell('Wednesday, October 7').innerText()).toContain('30 min left');
    expect(await cell('Thursday, October 8').innerText()).toContain('full');
    expect(await cell('Thursday, October 8').locator('.load-sign').innerText()).toBe('■');
    expect(await card('2200 Cobbleway').innerText()).toMatch(/Repair\s+30 min/);
    expect(await card('5 Mill Race').innerText()).toContain('locked');
  });

  it('shows no day before its visits: what is drawn first would move under a drag', async () => {
    let answer = () => {};
    const wait = new Promise<void>((resolve) => (answer = resolve));
    await page.route('**/request/visit.list', async (route) => {
      await wait;
      await route.continue();
    });
    await page.reload();
    await page.locator('.due-card').first().waitFor();
    await page.getByText('Reading the week').waitFor();
    expect(await page.locator('.day-cell').count()).toBe(0);
    answer();
    await day('Bram Achterberg', 'Friday, October 9').waitFor();
    expect(await streets(page.locator('.week'))).toHaveLength(5);
  });

  it('moves a visit by dragging it before another, and takes it back', async () => {
    await drag(card('2200 Cobbleway'), card('12 Alder Lane'), { x: 40, y: 3 });
    await message().getByText('Moved 2200 Cobbleway to Thursday, October 8, Odalys Fenn.').waitFor();
    expect(await inBook(THURSDAY)).toEqual([
      '70 Heron Way Odalys 1',
      '2200 Cobbleway Odalys 2',
      '12 Alder Lane Odalys 3',
    ]);
    expect(await inBook(WEDNESDAY)).toEqual(['18 Quarry Lane Odalys 1', '5 Mill Race Odalys 2']);
    await expect
      .poll(() => streets(day('Odalys Fenn', 'Thursday, October 8')), SOON)
      .toEqual(['70 Heron Way', '2200 Cobbleway', '12 Alder Lane']);
    // The day is 30 minutes over its hours now, and says so in a word.
    await expect
      .poll(
        () =>
          page
            .locator('.day-cell', { has: day('Odalys Fenn', 'Thursday, October 8') })
            .locator('.load')
            .innerText(),
        SOON,
      )
      .toContain('over by 30 min');
    await message().getByRole('button', { name: /^Undo/ }).click();
    await message().getByText('Back on Wednesday, October 7, Odalys Fenn.').waitFor();
    expect(await inBook(WEDNESDAY)).toEqual(book.wednesday.map((street, index) => `${street} Odalys ${index + 1}`));
  });

  it('orders a day by dragging and gives a visit to somebody else', async () => {
    await drag(card('18 Quarry Lane'), card('2200 Cobbleway'), { x: 40, y: 36 });
    await expect
      .poll(() => inBook(WEDNESDAY), SOON)
      .toEqual(['2200 Cobbleway Odalys 1', '18 Quarry Lane Odalys 2', '5 Mill Race Odalys 3']);
    await drag(card('70 Heron Way'), day('Bram Achterberg', 'Thursday, October 8'), { x: 40, y: 30 });
    await expect
      .poll(() => inBook(THURSDAY), SOON)
      .toEqual(expect.arrayContaining(['12 Alder Lane Odalys 1', '70 Heron Way Bram 1']));
    await page.getByRole('button', { name: /^Take back: Moved 70 Heron Way/ }).click();
    await expect.poll(() => inBook(THURSDAY), SOON).toEqual(['70 Heron Way Odalys 1', '12 Alder Lane Odalys 2']);
    await page.getByRole('button', { name: /^Take back: 18 Quarry Lane is now stop 2/ }).click();
    await expect
      .poll(() => inBook(WEDNESDAY), SOON)
      .toEqual(book.wednesday.map((street, index) => `${street} Odalys ${index + 1}`));
  });

  it('does not lift a locked visit', async () => {
    await drag(card('5 Mill Race'), card('70 Heron Way'), { x: 40, y: 3 });
    expect(await card('5 Mill Race').getByRole('button', { name: 'Pick up 5 Mill Race' }).count()).toBe(0);
    // A drag that is allowed, made after it, proves that the first one had its time.
    await drag(card('2200 Cobbleway'), card('70 Heron Way'), { x: 40, y: 3 });
    await expect
      .poll(() => inBook(THURSDAY), SOON)
      .toEqual(['2200 Cobbleway Odalys 1', '70 Heron Way Odalys 2', '12 Alder Lane Odalys 3']);
    expect(await inBook(WEDNESDAY)).toEqual(['18 Quarry Lane Odalys 1', '5 Mill Race Odalys 2']);
  });

  it('moves by the keyboard alone: the grip picks up, Tab chooses the day, Enter puts down', async () => {
    await card('18 Quarry Lane').focus();
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      'Pick up 18 Quarry Lane',
    );
    await page.keyboard.press('Enter');
    // What a screen reader says of the place in focus.
    const target = () =>
      page.evaluate(() => {
        const element = document.activeElement;
        const named = (element?.getAttribute('aria-labelledby') ?? '')
          .split(' ')
          .map((id) => document.getElementById(id)?.getAttribute('aria-label') ?? '');
        return named.some((name) => name !== '') ? named.join(' ') : (element?.getAttribute('aria-label') ?? '');
      });
    await expect.poll(target, SOON).toMatch(/^Insert/);
    await page.keyboard.press('Tab');
    expect(await target()).toBe('Drop on Odalys Fenn, Thursday, October 8');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    expect(await target()).toMatch(/^Insert between 70 Heron Way.* and 12 Alder Lane/);
    await page.keyboard.press('Enter');
    await expect
      .poll(() => inBook(THURSDAY), SOON)
      .toEqual(['70 Heron Way Odalys 1', '18 Quarry Lane Odalys 2', '12 Alder Lane Odalys 3']);
    await message().getByText('Moved 18 Quarry Lane to Thursday, October 8, Odalys Fenn.').waitFor();
    await page.keyboard.press('Control+z');
    await expect
      .poll(() => inBook(WEDNESDAY), SOON)
      .toEqual(book.wednesday.map((street, index) => `${street} Odalys ${index + 1}`));
  });

  it('moves by the form, with a window and a place in the day', async () => {
    await card('2200 Cobbleway').focus();
    await page.keyboard.press('Enter');
    const form = page.getByRole('dialog', { name: '2200 Cobbleway' });
    await form.getByLabel('Day', { exact: false }).first().fill(THURSDAY);
    await form.getByRole('button', { name: /Place in the day/ }).click();
    await page.getByRole('option', { name: 'First, before 70 Heron Way' }).click();
    await form.getByLabel('Not before').fill('08:30');
    await form.getByRole('button', { name: 'Move visit' }).click();
    await form.waitFor({ state: 'detached' });
    expect(await inBook(THURSDAY)).toEqual([
      '2200 Cobbleway Odalys 1',
      '70 Heron Way Odalys 2',
      '12 Alder Lane Odalys 3',
    ]);
    const { visits } = await book.call('visit.list', { fromDate: THURSDAY, toDate: THURSDAY });
    expect(visits[0]).toMatchObject({ street: '2200 Cobbleway', windowFrom: '08:30', windowTo: null });
    await expect.poll(() => card('2200 Cobbleway').innerText(), SOON).toContain('from 8:30 am');
  });

  it('cancels with a reason and books again', async () => {
    await card('70 Heron Way').click();
    const form = page.getByRole('dialog', { name: '70 Heron Way' });
    await form.getByRole('button', { name: 'Cancel this visit…' }).click();
    await form.getByLabel('Why is it cancelled?').fill('Client is away');
    await form.getByRole('button', { name: 'Cancel visit' }).click();
    await expect.poll(() => inBook(THURSDAY), SOON).toEqual(['12 Alder Lane Odalys 1']);
    expect(
      (await book.call('visit.list', { fromDate: THURSDAY, toDate: THURSDAY, states: ['cancelled'] })).visits[0]
        ?.cancelReason,
    ).toBe('Client is away');
    await message().getByRole('button', { name: /^Undo/ }).click();
    await expect
      .poll(async () => (await inBook(THURSDAY)).map((line) => line.replace(/ \d$/, '')).sort(), SOON)
      .toEqual(['12 Alder Lane Odalys', '70 Heron Way Odalys']);
  });

  it('books what is due by dragging it onto a day, and by the form', async () => {
    const due = page.locator('.due-card', { hasText: '9 Juniper Street' });
    await drag(due, day('Bram Achterberg', 'Friday, October 9'), { x: 40, y: 30 });
    await message()
      .getByText(/^Booked 9 Juniper Street for Friday, October 9, Bram Achterberg\./)
      .waitFor();
    expect(await inBook('2026-10-09')).toEqual(['9 Juniper Street Bram 1']);
    await due.waitFor({ state: 'detached' });
    await message().getByRole('button', { name: /^Undo/ }).click();
    await due.waitFor();
    expect(await inBook('2026-10-09')).toEqual([]);
    await due.focus();
    await page.keyboard.press('Enter');
    const form = page.getByRole('dialog', { name: 'Book 9 Juniper Street' });
    await form.getByLabel('Day', { exact: false }).first().fill('2026-10-09');
    await form.getByRole('button', { name: 'Book visit' }).click();
    await form.waitFor({ state: 'detached' });
    expect(await inBook('2026-10-09')).toEqual(['9 Juniper Street nobody 1']);
    expect((await book.call('visit.list', { fromDate: '2026-10-09', toDate: '2026-10-09' })).visits[0]?.kind).toBe(
      'winterization',
    );
  });

  it('books several at once, and takes them back at once', async () => {
    const clientId = ulid();
    await book.call('client.save', { writeId: ulid(), client: { id: clientId, name: 'Cobbleway Commons' } });
    for (const street of ['1 Cedar Court', '40 Cedar Court'])
      await book.call('property.save', { writeId: ulid(), property: { id: ulid(), clientId, street } });
    const due = (street: string) => page.locator('.due-card', { hasText: street });
    for (const street of ['1 Cedar Court', '40 Cedar Court']) await due(street).locator('.check').click();
    await page.getByRole('button', { name: 'Book 2 chosen…' }).waitFor();
    await drag(due('40 Cedar Court'), card('12 Alder Lane'), { x: 40, y: 3 });
    await message()
      .getByText(/^Booked 2 visits for Thursday/)
      .waitFor();
    expect((await inBook(THURSDAY)).map((line) => line.replace(/ Odalys \d/, ''))).toEqual([
      '70 Heron Way',
      expect.stringMatching(/Cedar Court$/),
      expect.stringMatching(/Cedar Court$/),
      '12 Alder Lane',
    ]);
    await message().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(() => inBook(THURSDAY), SOON).toEqual(['70 Heron Way Odalys 1', '12 Alder Lane Odalys 2']);
    await due('1 Cedar Court').waitFor();
  });

  it('moves an overdue visit from the list instead of booking a second one', async () => {
    const {
      visits: [visit],
    } = await book.call('visit.list', { fromDate: WEDNESDAY, toDate: WEDNESDAY });
    await book.call('visit.move', {
      writeId: ulid(),
      visitId: visit?.id ?? '',
      date: '2026-09-30',
      technicianId: book.odalys,
    });
    const late = page.locator('.due-card', { hasText: 'Overdue visit' });
    expect(await late.innerText()).toMatch(/18 Quarry Lane.*6 days/s);
    await drag(late, card('70 Heron Way'), { x: 40, y: 3 });
    await expect
      .poll(() => inBook(THURSDAY), SOON)
      .toEqual(['18 Quarry Lane Odalys 1', '70 Heron Way Odalys 2', '12 Alder Lane Odalys 3']);
    expect(await inBook('2026-09-30')).toEqual([]);
    await late.waitFor({ state: 'detached' });
  });

  it('filters by kind and route, and goes to other weeks and months', async () => {
    await expect.poll(() => streets(page.locator('.week')), SOON).toHaveLength(5);
    await page.getByRole('button', { name: /Kind of visit/ }).click();
    await page.getByRole('option', { name: 'Repair' }).click();
    expect(await streets(page.locator('.week'))).toEqual(['2200 Cobbleway']);
    await page.getByRole('button', { name: /Kind of visit/ }).click();
    await page.getByRole('option', { name: 'All kinds' }).click();
    await page.getByRole('button', { name: /All routes/ }).click();
    await page.getByRole('option', { name: 'North bench' }).click();
    expect(await streets(page.locator('.week'))).toEqual(['18 Quarry Lane']);
    await page.getByRole('button', { name: 'Week after' }).click();
    await page.getByRole('heading', { level: 1, name: 'Oct 12 – 18, 2026' }).waitFor();
    await page.getByRole('button', { name: /Go to month/ }).click();
    await page.getByRole('option', { name: 'December 2026' }).click();
    await page.getByRole('heading', { level: 1, name: 'Nov 30 – Dec 6, 2026' }).waitFor();
    await page.getByRole('button', { name: 'Today' }).click();
    await page.getByRole('heading', { level: 1, name: 'Oct 5 – 11, 2026' }).waitFor();
  });

  it('puts a page a technician on paper', async () => {
    await page.getByRole('button', { name: 'Print day sheets…' }).click();
    const form = page.getByRole('dialog', { name: 'Print day sheets' });
    await form.getByLabel('Day', { exact: false }).first().fill(WEDNESDAY);
    await page.evaluate(() => {
      window.print = () => {
        (window as unknown as { printed: string }).printed = [...document.querySelectorAll('.print-sheet')]
          .map((sheet) => sheet.textContent)
          .join('\n---\n');
      };
    });
    await form.getByRole('button', { name: 'Print day sheets' }).click();
    await expect
      .poll(() => page.evaluate(() => (window as unknown as { printed?: string }).printed ?? ''), SOON)
      .toMatch(/Odalys Fenn.*3 stops.*18 Quarry Lane.*2200 Cobbleway.*5 Mill Race/s);
    const { count, seal } = await book.call('book.seal', {});
    const printed = await page.evaluate(() => (window as unknown as { printed: string }).printed);
    expect(printed).toContain(`over ${count} entries and program revisions: ${seal.replaceAll(/(.{8})(?=.)/g, '$1 ')}`);
  });

  it('has no serious finding of axe, in light, dark and narrow, with the form open too', async () => {
    await card('18 Quarry Lane').waitFor();
    await page.locator('.due-card').first().waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    expect(await targetCount(page, '.calendar')).toBeGreaterThan(20);
    expect((await smallTargets(page, '.calendar', 24)).filter((line) => !line.includes('Pick up'))).toEqual([]);
    await card('18 Quarry Lane').click();
    await page.getByRole('dialog').waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    for (const [width, colorScheme] of [
      [1024, 'dark'],
      [390, 'light'],
    ] as const) {
      const other = await book.open(browser, `#/office/calendar/${WEDNESDAY}`, { width, height: 844, colorScheme });
      await other.locator('.visit-card', { hasText: '18 Quarry Lane' }).waitFor();
      expect(await seriousFindings(other)).toEqual([]);
      expect(await sidewaysOverflow(other)).toBeLessThanOrEqual(0);
      await other.context().close();
    }
  });
});
