import type { Browser, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launchBrowser } from './chromium.ts';
import { makeFieldBook, TODAY, type FieldBook } from './field-book.ts';
import { seriousFindings, sidewaysOverflow, smallTargets, targetCount } from './page-checks.ts';

let browser: Browser;
let book: FieldBook;
let page: Page;
let problems: string[];

beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  book = await makeFieldBook();
  page = await openPage({ width: 390, height: 844 });
});
afterEach(async () => {
  await page.context().close();
  await book.close();
});

async function openPage(
  viewport: { width: number; height: number },
  colorScheme: 'light' | 'dark' = 'light',
): Promise<Page> {
  const context = await browser.newContext({ viewport, colorScheme, hasTouch: true, reducedMotion: 'reduce' });
  const opened = await context.newPage();
  opened.setDefaultTimeout(20_000);
  problems = [];
  opened.on('pageerror', (error) => problems.push(error.message));
  await opened.goto(book.host.newAddress());
  return opened;
}
const button = (name: string | RegExp) => page.getByRole('button', { name });
const dayAddress = (rest = '', date = TODAY) =>
  `${book.host.origin}/#/field/${book.technicianId}/${date}${rest === '' ? '' : `/${rest}`}`;
const openStop = async (visitId = book.first.visitId) => {
  await page.goto(dayAddress(visitId));
  await page.getByRole('heading', { level: 2 }).first().waitFor();
};
const property = () => book.call('property.open', { propertyId: book.first.propertyId });
const visitState = async () => (await property()).visits.find((visit) => visit.id === book.first.visitId)?.state;
/** What lies in the browser's storage for drafts, as anybody who is served that storage sees it. */
const storedText = () =>
  page.evaluate(() =>
    Object.entries(localStorage)
      .map(([name, value]) => `${name} ${value as string}`)
      .join(' '),
  );
const draftCount = () =>
  page.evaluate(() => Object.keys(localStorage).filter((name) => name.startsWith('valvebook.draft ')).length);

async function logBatterySwap(): Promise<void> {
  await button('Log battery swap').click();
  await page.getByText('Dead', { exact: true }).click();
  await button('Put on the list').click();
}
async function logRunTimes(): Promise<void> {
  await button('Log run times').click();
  await button(/^More: Minutes for zone 1,/).click();
  await button(/^More: Minutes for zone 1,/).click();
  await button('Put on the list').click();
}

/** Pictures to look at, where somebody asks for them. */
const shot = async (name: string) => {
  const folder = process.env['VALVEBOOK_SHOTS'];
  if (folder !== undefined) await page.screenshot({ path: `${folder}/${name}.png`, fullPage: true });
};
const bookRepair = async () => {
  const visitId = ulid();
  const { propertyId } = book.first;
  await book.call('visit.book', {
    writeId: ulid(),
    visitId,
    propertyId,
    kind: 'repair',
    date: TODAY,
    technicianId: book.technicianId,
  });
  return visitId;
};

describe('a stop at 390 px', () => {
  it('shows what is needed at the gate', async () => {
    await openStop();
    const gate = page.getByRole('region', { name: 'At the gate' });
    for (const text of [
      '4471#',
      'Two terriers',
      'Basement, north wall',
      'Drinking water',
      'Pressure vacuum breaker',
      'latch sticks',
    ])
      await expect.poll(() => gate.innerText()).toContain(text);
    expect(await page.getByRole('region', { name: 'Found last time' }).innerText()).toContain('run over every winter');
    const size = await page
      .getByText('4471#')
      .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
    expect(size).toBeGreaterThanOrEqual(36);
    await page.getByRole('link', { name: /Next.*2200 Cobbleway/ }).click();
    await page.getByText('Reclaimed water').waitFor();
    await page.getByText('Not for drinking', { exact: false }).waitFor();
  });

  it('logs a battery swap and run times, keeps the draft over a reload, and "Done here" closes the visit', async () => {
    await openStop();
    await logBatterySwap();
    await logRunTimes();
    // Half typed, and not put on the list: must survive too.
    await button('Log note').click();
    await page.getByLabel('Note for the next person here').fill('Ask about the drip');
    await page.reload();
    await page.getByLabel('Note for the next person here').waitFor();
    await expect.poll(() => page.getByLabel('Note for the next person here').inputValue()).toBe('Ask about the drip');
    await button('Put on the list').click();
    const list = page.getByRole('region', { name: 'To be saved' });
    await expect.poll(() => list.innerText()).toContain('zone 1 10 → 12 min');
    expect(await list.innerText()).toContain('old one dead');
    expect((await property()).sensors[0]?.batteryDate).toBe('2025-04-01');
    expect(await visitState()).toBe('planned');

    await button('Done here').click();
    await page.getByText('✓ Done', { exact: true }).waitFor();
    const after = await property();
    expect(after.sensors[0]).toMatchObject({ batteryDate: TODAY, cellsGood: 2 });
    expect(after.programs[0]?.revision.runs.find((run) => run.zoneId === book.first.zoneIds[0])?.runMinutes).toBe(12);
    expect(await visitState()).toBe('done');
    const swap = after.ledger.find((entry) => entry.kind === 'battery-swap');
    expect(swap).toMatchObject({
      doneOn: TODAY,
      technicianName: 'Odalys Fenn',
      visitId: book.first.visitId,
      detail: { cells: 2, batteryType: 'CR2032', oldBatteryState: 'dead' },
    });
    const change = after.ledger.find((entry) => entry.kind === 'run-time-change');
    expect(change?.detail).toMatchObject({
      changes: [{ zoneId: book.first.zoneIds[0], oldMinutes: 10, newMinutes: 12 }],
    });
    await expect.poll(draftCount).toBe(0);
    expect(problems).toEqual([]);
  });

  it('logs a finding, then the repair that closes it, and a run by hand', async () => {
    await openStop();
    const taken = async () => (await property()).openFindings.map((finding) => finding.kind);
    // What the visit is for; without it “Done here” would ask.
    await logBatterySwap();
    await button('Log finding').tap();
    await button('Put on the list').tap();
    await page.getByText('Say what was found.').waitFor();
    await page.getByLabel('What was found').fill('Valve box without a lid');
    await page.getByLabel('Where', { exact: true }).fill('North side, by the meter');
    await page.getByText('At once', { exact: true }).tap();
    await page.getByText('keep people away', { exact: false }).waitFor();
    await shot('finding');
    await button('Put on the list').tap();
    await button('Log manual run').tap();
    await page.getByRole('combobox').first().selectOption(book.first.zoneIds[0]!);
    await button(/^More: Ran for/).tap();
    await page.getByLabel('Why it was run').fill('Client asked to see the rotors');
    await shot('manual-run');
    await button('Put on the list').tap();
    const list = page.getByRole('region', { name: 'To be saved' });
    await expect.poll(() => list.innerText()).toContain('Valve box without a lid');
    await button('Done here').tap();
    await page.getByText('✓ Done', { exact: true }).waitFor();
    expect(await taken()).toEqual(['finding']);

    // Somebody's next visit here: what is open is shown, and a repair names it.
    await openStop(await bookRepair());
    const open = page.getByRole('region', { name: 'Open findings' });
    await expect.poll(() => open.innerText()).toContain('Valve box without a lid');
    await button('Log repair').tap();
    await page.getByLabel('What was mended').fill('New lid, bolted');
    await page.getByRole('combobox').last().selectOption({ index: 1 });
    await shot('repair');
    await button('Put on the list').tap();
    await button('Done here').tap();
    await page.getByText('✓ Done', { exact: true }).waitFor();
    expect(await taken()).toEqual([]);
    const { ledger } = await property();
    const finding = ledger.find((entry) => entry.kind === 'finding')!;
    const repair = ledger.find((entry) => entry.kind === 'repair' && entry.closes !== null)!;
    expect(finding.closedBy?.entryId).toBe(repair.id);
    expect(repair.closes?.entryId).toBe(finding.id);
    // One press begins at what the zone runs by its program.
    const usual = (await property()).programs[0]!.revision.runs.find((run) => run.zoneId === book.first.zoneIds[0]);
    expect(ledger.find((entry) => entry.kind === 'manual-run')?.detail).toMatchObject({
      runMinutes: usual!.runMinutes,
    });
    expect(problems).toEqual([]);
  });

  it('a visit on which nobody could work stays to be booked again', async () => {
    await openStop();
    await button('Could not work').tap();
    await page.getByText('Client away', { exact: true }).tap();
    await page.getByText('The visit is not closed', { exact: false }).waitFor();
    await shot('not-done');
    await button('Put on the list').tap();
    await button(/^(Save|Done here)/)
      .first()
      .tap();
    await expect
      .poll(async () => (await property()).ledger.find((entry) => entry.kind === 'not-done')?.detail)
      .toMatchObject({ why: 'client-away' });
    expect(await visitState()).toBe('planned');
    expect(problems).toEqual([]);
  });

  it('keeps the drafts of two windows apart, and shows each what the other did', async () => {
    await openStop();
    const other = await page.context().newPage();
    other.setDefaultTimeout(20_000);
    await other.goto(dayAddress(book.secondVisitId));
    await button('Let it in').click();
    await other.getByRole('button', { name: 'Log note' }).click();
    await logBatterySwap();
    await other.getByLabel('Note for the next person here').fill('From the other window');
    await other.getByRole('button', { name: 'Put on the list' }).click();
    await expect.poll(draftCount).toBe(2);
    // Sealed: who is served this storage later reads none of it.
    expect(await storedText()).not.toMatch(/From the other window|battery-swap|Cobbleway/);
    await page.getByRole('link', { name: 'All stops' }).click();
    await expect
      .poll(() => page.getByRole('link', { name: /2200 Cobbleway/ }).innerText())
      .toContain('1 fact not saved');
  });

  it('says plainly when no answer comes, and a retry saves once', async () => {
    await openStop();
    await logBatterySwap();
    let lost = 0;
    await page.route('**/request/visit.record', async (route) => {
      if (lost > 0) return route.continue();
      lost += 1;
      // The book takes it; the answer is lost on the way back.
      await route.fetch();
      return route.abort();
    });
    await button('Done here').click();
    await page.getByText('Not saved. No answer came back', { exact: false }).waitFor();
    await page.reload();
    await page.getByText('no answer came back', { exact: false }).first().waitFor();
    expect(await draftCount()).toBe(1);
    await button('Try again').click();
    await expect.poll(draftCount).toBe(0);
    const entries = await book.call('ledger.list', { visitId: book.first.visitId, includeVoid: true });
    expect(lost).toBe(1);
    expect(entries.total).toBe(1);
    expect(await visitState()).toBe('done');
  });

  it('keeps what a refused save held, to be mended', async () => {
    await openStop();
    await logBatterySwap();
    await page.route('**/request/visit.record', async (route) => {
      await book.call('visit.cancel', { writeId: '01ARZ3NDEKTSV4RRFFQ69G5FAV', visitId: book.first.visitId });
      await route.continue();
    });
    await button('Done here').click();
    await page.getByText('was cancelled', { exact: false }).first().waitFor();
    const list = page.getByRole('region', { name: 'To be saved' });
    await expect.poll(() => list.innerText()).toContain('Battery swap');
    await expect.poll(() => list.getByRole('button', { name: /^Change/ }).count()).toBe(1);
  });

  it('undo takes the save back into the list and opens the visit again', async () => {
    await openStop();
    await logBatterySwap();
    await button('Done here').click();
    await expect.poll(visitState).toBe('done');
    await button(/^Undo/).click();
    await page.getByText('Taken back', { exact: false }).waitFor();
    expect(await visitState()).toBe('planned');
    expect((await property()).sensors[0]?.batteryDate).toBe('2025-04-01');
    const history = await book.call('ledger.list', { visitId: book.first.visitId, includeVoid: true });
    expect(history.entries[0]).toMatchObject({ correction: 'void', correctionReason: 'undone right after saving' });
    await expect.poll(() => page.getByRole('region', { name: 'To be saved' }).innerText()).toContain('Battery swap');
    await button('Done here').click();
    await expect.poll(visitState).toBe('done');
    expect((await property()).sensors[0]?.batteryDate).toBe(TODAY);
  });

  it('does not close over a half-filled form, nor a winterization visit without its entry unasked', async () => {
    await openStop(book.secondVisitId);
    await button('Log repair').click();
    await button('Head replaced').click();
    await button('Back to the stop').click();
    await button('Done here').click();
    await page.getByText('half filled in. Put it on the list', { exact: false }).waitFor();
    await button('Open it').click();
    await button('Clear').click();
    await button('Done here').click();
    await page.getByText('Nothing on the list says', { exact: false }).waitFor();
    await button('Log winterization').first().click();
    expect(await page.getByRole('note').innerText()).toMatch(
      /eye protection[\s\S]*Stand clear[\s\S]*80 psi[\s\S]*50 psi/,
    );
    await button('Put on the list').click();
    await page.getByText('Say which air pressure', { exact: false }).waitFor();
    await page.getByRole('textbox', { name: /Air pressure/ }).fill('600');
    await page.getByText('Must be 1 to 120.').waitFor();
    await button('Put on the list').click();
    await page.getByText('cannot be right', { exact: false }).waitFor();
    await page.getByRole('textbox', { name: /Air pressure/ }).fill('60');
    await page.getByText('Backflow assembly drained').click();
    await page.getByText('Controller switched off').click();
    await button('Put on the list').click();
    await button('Done here').click();
    await page.getByText('✓ Done', { exact: true }).waitFor();
    const { ledger, season } = await book.call('property.open', {
      propertyId:
        (await book.call('visit.list', { fromDate: TODAY, toDate: TODAY, states: ['done'] })).visits[0]?.propertyId ??
        '',
    });
    expect(ledger[0]?.detail).toEqual({
      kind: 'winterization',
      method: 'compressed-air',
      airPressurePsi: 60,
      zonesBlown: 9,
      backflowDrained: true,
      controllerOff: true,
    });
    expect(season.winterizedOn).toBe(TODAY);
  });

  it('logs unplanned work at a property found by search', async () => {
    await page.goto(dayAddress());
    await button('Log unplanned work').click();
    await page.getByLabel('Find the property', { exact: false }).fill('mill ra');
    await button(/5 Mill Race/).click();
    await button('Log meter reading').click();
    await page.getByRole('textbox', { name: /^Reading/ }).fill('12,345');
    await button('Put on the list').click();
    await button('Done here').click();
    await page.getByText('✓ Done', { exact: true }).waitFor();
    const { ledger, visits } = await book.call('property.open', { propertyId: book.freePropertyId });
    expect(ledger[0]?.detail).toEqual({ kind: 'meter-read', meter: 'main', readingGallons: 12345 });
    expect(visits.find((visit) => visit.state === 'done')).toMatchObject({
      date: TODAY,
      technicianId: book.technicianId,
    });
    // Nothing is left of that visit after an undo, so the book cancels it; the work waits on a new one.
    await button(/^Undo/).click();
    await page.getByText('Taken back', { exact: false }).waitFor();
    await expect.poll(() => page.getByRole('region', { name: 'To be saved' }).innerText()).toContain('12,345 gal');
    await button('Done here').click();
    await page.getByText('✓ Done', { exact: true }).waitFor();
    const again = await book.call('property.open', { propertyId: book.freePropertyId });
    expect(again.visits.map((visit) => visit.state).sort()).toEqual(['cancelled', 'done', 'planned']);
    expect(again.ledger.filter((entry) => entry.kind === 'meter-read' && entry.correction !== 'void')).toHaveLength(1);
  });

  it('shows a past day to read only', async () => {
    await page.goto(dayAddress('', '2026-10-11'));
    await page.getByRole('link', { name: /5 Mill Race/ }).click();
    await page.getByText('This day is over', { exact: false }).waitFor();
    expect(await button(/^Log |Done here/).count()).toBe(0);
  });
});

describe('every screen of the field', () => {
  it('has targets of 48 px, nothing sideways, and nothing serious for axe', async () => {
    for (const scheme of ['light', 'dark'] as const) {
      await page.context().close();
      page = await openPage({ width: 390, height: 844 }, scheme);
      const look = async (where: string) => {
        expect(await targetCount(page, '.desk.field'), where).toBeGreaterThan(1);
        expect(await smallTargets(page, '.desk.field', 48), where).toEqual([]);
        expect(await sidewaysOverflow(page), where).toBeLessThanOrEqual(0);
        // Only the inner parts scroll: hidden inputs that stick out would let focus push the whole desk off the screen.
        expect(
          await page.evaluate(() =>
            [document.documentElement, ...document.querySelectorAll('.desk.field')].map(
              (element) => element.scrollHeight - element.clientHeight,
            ),
          ),
          where,
        ).toEqual([0, 0]);
        expect(await seriousFindings(page), where).toEqual([]);
      };
      await page.goto(`${book.host.origin}/#/field`);
      await page.getByRole('heading', { name: 'Whose day?' }).waitFor();
      await look('chooser');
      await page.goto(dayAddress());
      await page.getByRole('link', { name: /18 Quarry Lane/ }).waitFor();
      await look('day');
      await openStop();
      await logBatterySwap();
      await look('stop');
      for (const form of [
        'battery swap',
        'sensor check',
        'run times',
        'start-up',
        'winterization',
        'repair',
        'parts used',
        'meter reading',
        'backflow test',
        'walk-through',
        'photo',
        'note',
      ]) {
        await button(`Log ${form}`).click();
        await button('Put on the list').waitFor();
        await look(form);
        await button('Back to the stop').click();
      }
      await page.evaluate(() => localStorage.clear());
    }
  });

  it('stands beside the list of stops on a wide screen', async () => {
    await page.setViewportSize({ width: 1440, height: 900 });
    await openStop();
    const list = await page
      .getByRole('link', { name: /2200 Cobbleway/ })
      .first()
      .boundingBox();
    const gate = await page.getByRole('region', { name: 'At the gate' }).boundingBox();
    expect(list).not.toBeNull();
    expect((list?.x ?? 0) + (list?.width ?? 0)).toBeLessThan(gate?.x ?? 0);
    expect(await seriousFindings(page)).toEqual([]);
  });
});
