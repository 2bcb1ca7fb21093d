import type { Browser, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launchBrowser } from './chromium.ts';
import { makeOfficeBook, type OfficeBook } from './office-book.ts';
import { openWatched, seriousFindings, sidewaysOverflow } from './page-checks.ts';
import { PLAIN_READER, say, sayFact } from '../../core/text/say.ts';

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
  await opened.getByRole('navigation', { name: 'Desks' }).waitFor();
  return opened;
}
const button = (name: string | RegExp) => page.getByRole('button', { name });
const openReview = async (propertyId = book.propertyId, month = '') => {
  await page.goto(`${book.host.origin}/#/office/property/${propertyId}/review${month === '' ? '' : `/${month}`}`);
  await page.getByRole('heading', { name: 'Zone by zone' }).waitFor();
};
const review = (month = 7) => book.call('program.review', { propertyId: book.propertyId, month });
const programs = async () => (await book.call('property.open', { propertyId: book.propertyId })).programs;
const minutesIn = async (zoneId: string) =>
  (await programs())
    .flatMap((program) => (program.revision.enabled ? program.revision.runs : []))
    .filter((run) => run.zoneId === zoneId)
    .reduce((sum, run) => sum + run.runMinutes, 0);
const acceptBar = () => page.getByRole('region', { name: 'Accept the advice' });
/** react-aria's box is hidden under its drawing; the label is what a hand hits. */
const take = (name: string) => page.getByText(`Take the advice for ${name}`).locator('xpath=ancestor::label').click();
const waterThen = async () =>
  Number(((await acceptBar().innerText()).match(/→\s*([\d,]+)/)?.[1] ?? 'NaN').replaceAll(',', ''));

describe('the review of a property', () => {
  it('shows this month, the weather with its guess, each zone with figures and reasons, and two weeks', async () => {
    await openReview();
    const { rows, weather } = await review();
    expect(weather.isGuess).toBe(true);
    const text = await page.locator('.pr-page').innerText();
    expect(text).toContain('This weather is a guess.');
    expect(text).toContain(`July at ${weather.stationName}`);
    for (const row of rows) {
      expect(
        await page
          .getByRole('textbox', { name: `Advised minutes for zone ${row.station} ${row.zoneName}` })
          .inputValue(),
      ).toBe(String(row.advice.runMinutes));
      for (const reason of row.reasons.slice(0, 2)) expect(text).toContain(sayFact(PLAIN_READER, reason.text));
    }
    await page.getByRole('img', { name: /^Now:/ }).waitFor();
    await page.getByRole('img', { name: /^As advised:/ }).waitFor();
    await page.getByRole('heading', { name: 'The year' }).waitFor();
    const [row] = rows;
    await button(new RegExp(`^Show .*, zone 1 ${row?.zoneName ?? ''}$`)).click();
    for (const guess of row?.guesses ?? [])
      await page
        .getByRole('row', { name: new RegExp(`^${say(PLAIN_READER, 'guess.field', { field: guess.field })} `) })
        .waitFor();
    const measurement = row?.bestMeasurement;
    if (measurement === null || measurement === undefined) throw new Error('no measurement would narrow the advice');
    await page.getByText(say(PLAIN_READER, 'guess.best', { measurement })).waitFor();
    await button('Month after, August').click();
    await page.getByText('August at').waitFor();
    expect(page.url()).toMatch(/\/review\/8$/);
  });

  it('accepts one zone: the other keeps its minutes, the water follows the choice, and undo puts everything back', async () => {
    await openReview();
    const before = await programs();
    const { rows } = await review();
    const [first, second] = rows;
    if (first === undefined || second === undefined) throw new Error('two zones expected');
    const [firstZone, secondZone] = book.zoneIds;
    expect(first.advice.runMinutes).not.toBe(18);
    const all = await waterThen();
    await take('zone 2 Rose bed');
    await expect.poll(waterThen).not.toBe(all);
    expect(await acceptBar().innerText()).toContain('1 zone of 2');
    await page.getByRole('img', { name: /^With what is chosen:/ }).waitFor();
    await button('Accept 1 zone').click();
    const dialog = page.getByRole('dialog');
    await dialog.getByText('Zones that keep their minutes, but not their days').waitFor();
    await dialog.getByRole('textbox', { name: 'Why' }).fill('Lawn was too wet');
    await dialog.getByRole('button', { name: 'Accept and record' }).click();
    await dialog.waitFor({ state: 'detached' });

    expect(await minutesIn(firstZone)).toBe(first.advice.runMinutes);
    expect(await minutesIn(secondZone)).toBe(40);
    const { ledger } = await book.call('property.open', { propertyId: book.propertyId });
    expect(ledger[0]).toMatchObject({ kind: 'run-time-change', detail: { reason: 'Lawn was too wet' } });
    const made = (await programs()).find((program) => program.id === book.programId);
    expect(made?.revisionCount).toBe(2);
    // What the page says about the week it made is what the book makes of it.
    const now = (await review()).rows.find((row) => row.zoneId === firstZone);
    expect(now?.now.minutesPerWeek).toBeCloseTo(first.advice.minutesPerWeek, 6);

    await page.getByRole('region', { name: 'Messages' }).getByRole('button', { name: /^Undo/ }).click();
    await page.getByText('the earlier programs are in force again', { exact: false }).waitFor();
    const settings = (list: typeof before) =>
      list.map(({ name, revision: { days, startTimes, seasonalPercent, runs, enabled } }) => ({
        name,
        days,
        startTimes,
        seasonalPercent,
        runs,
        enabled,
      }));
    expect(settings(await programs())).toEqual(settings(before));
    expect(
      (await book.call('ledger.list', { propertyId: book.propertyId, includeVoid: true })).entries.some(
        (entry) => entry.correction === 'void',
      ),
    ).toBe(true);
  });

  it('accepts all with minutes typed by hand; the review then finds nothing to accept for the others', async () => {
    await openReview();
    const [row] = (await review()).rows;
    const field = page.getByRole('textbox', { name: `Advised minutes for zone 1 ${row?.zoneName ?? ''}` });
    await field.fill('33');
    await field.press('Enter');
    await button(/^Put back \d+, zone 1 /).waitFor();
    await button('Accept all').click();
    await page.getByRole('dialog').getByRole('button', { name: 'Accept and record' }).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    expect(await minutesIn(book.zoneIds[0])).toBe(33);
    const after = await review();
    expect(after.rows[1]?.now.minutesPerWeek).toBeCloseTo(after.rows[1]?.advice.minutesPerWeek ?? NaN, 6);
  });
});

describe('a catch-can test', () => {
  it('is typed by keyboard, worked out while typing, logged, and can be taken back', async () => {
    await openReview();
    await button(/^Catch-can test, zone 1 /).click();
    const sheet = page.getByRole('dialog');
    await sheet.getByText('Still needed: the size of the throat').waitFor();
    await sheet.getByLabel(/^Throat diameter/).fill('4.3');
    await sheet.getByLabel(/^Zone ran for/).fill('10');
    await sheet.getByRole('textbox', { name: 'Can 1, mL' }).click();
    const volumes = [62, 71, 55, 48, 80, 77, 66, 59];
    for (const volume of volumes) {
      await page.keyboard.type(String(volume));
      await page.keyboard.press('Enter');
    }
    const throatAreaIn2 = (Math.PI * 4.3 ** 2) / 4;
    const audit = await book.call('zone.audit', { volumesMl: volumes, throatAreaIn2, runMinutes: 10 });
    await sheet
      .getByText(`${audit.precipitationRateInPerHour.toFixed(2)} in/h`)
      .first()
      .waitFor();
    await sheet
      .getByText(`${Math.round(audit.distributionUniformity * 100)} %`, { exact: true })
      .first()
      .waitFor();
    expect(await sheet.getByRole('textbox', { name: /lowest quarter$/ }).count()).toBe(2);
    expect(await seriousFindings(page)).toEqual([]);
    // A list pasted into the next can goes on from there.
    await sheet.getByRole('textbox', { name: 'Can 9, mL' }).evaluate((field) => {
      const data = new DataTransfer();
      data.setData('text', '38\n41\n69');
      field.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
    });
    await sheet.getByText('11 cans', { exact: true }).waitFor();
    const whole = await book.call('zone.audit', { volumesMl: [...volumes, 38, 41, 69], throatAreaIn2, runMinutes: 10 });
    await sheet
      .getByText(`${whole.precipitationRateInPerHour.toFixed(2)} in/h`)
      .first()
      .waitFor();
    await sheet.getByRole('button', { name: 'Log test' }).click();
    await sheet.waitFor({ state: 'detached' });
    const zone = async () =>
      (await book.call('property.open', { propertyId: book.propertyId })).zones.find(
        (one) => one.id === book.zoneIds[0],
      );
    expect(await zone()).toMatchObject({
      prMethod: 'catch-can',
      precipitationRateInPerHour: expect.closeTo(whole.precipitationRateInPerHour, 9),
      distributionUniformity: expect.closeTo(whole.distributionUniformity, 9),
    });
    await page.getByRole('region', { name: 'Messages' }).getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(async () => (await zone())?.precipitationRateInPerHour).toBeNull();
  });
});

it('follows a zone’s soil by day, as set and as advised, with its balance and its table', async () => {
  await openReview();
  await button(/^Soil moisture, zone 1 /).click();
  await page.getByRole('img', { name: /^Soil moisture of zone 1 Apple lawn/ }).waitFor();
  const trace = await book.call('zone.trace', {
    zoneId: book.zoneIds[0],
    fromDate: '2026-04-01',
    toDate: '2026-11-15',
    programs: 'advice',
  });
  const advised = page.locator('.sc-totals section').filter({ hasText: 'As advised' });
  await advised
    .getByText(`${trace.totals.daysBelowRefill} day${trace.totals.daysBelowRefill === 1 ? '' : 's'}`, { exact: true })
    .waitFor();
  expect(
    await page
      .getByRole('figure', { name: /^Soil moisture/ })
      .getByRole('row')
      .count(),
  ).toBe(trace.days.length + 1);
  await page.getByRole('slider', { name: 'Day' }).focus();
  await page.keyboard.press('ArrowRight');
  await page.getByText('plants used', { exact: false }).filter({ hasText: 'short of full' }).first().waitFor();
});

it('explains ETo step by step, and a change of the day changes it', async () => {
  await openReview();
  await button('Show how ETo is worked out').click();
  const sheet = page.getByRole('dialog');
  await sheet.getByRole('row', { name: /^Extraterrestrial radiation/ }).waitFor();
  const result = () => sheet.locator('.pr-audit-figures b').first().innerText();
  const before = await result();
  const warmest = sheet.getByLabel(/^Warmest/);
  await warmest.fill('104');
  await warmest.press('Enter');
  await expect.poll(result).not.toBe(before);
  await warmest.fill('20');
  await warmest.press('Enter');
  await sheet.getByRole('alert').waitFor();
});

describe('all programs', () => {
  it('are ranked with progress, filtered, open their review, and are still there on the way back', async () => {
    await page.goto(`${book.host.origin}/#/owner/programs`);
    await button('Review all programs').click();
    const list = page.getByRole('region', { name: 'Programs, furthest from need first' });
    await list.getByRole('listitem').first().waitFor();
    const reply = await book.desk.call('program.reviewAll', { month: 7 }, { onProgress: () => {} });
    if (!reply.ok) throw new Error(reply.error.message);
    const { rows } = reply.data as { rows: Array<{ clientName: string; propertyId: string; breaches: number }> };
    const first = list.getByRole('link').first();
    expect(await first.innerText()).toContain(rows[0]?.clientName);
    expect(await seriousFindings(page)).toEqual([]);
    await list.getByRole('searchbox').fill('quillbank');
    await list.getByText('Zephyrine Quillbank').first().waitFor();
    await expect
      .poll(() => list.getByRole('link').count())
      .toBe(rows.filter((row) => row.clientName === 'Zephyrine Quillbank').length);
    await list.getByRole('searchbox').fill('');
    await first.focus();
    await page.keyboard.press('ArrowDown');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toContain(rows[1]?.clientName);
    await first.click();
    await page.getByRole('heading', { name: 'Program review' }).waitFor();
    expect(page.url()).toContain(`/office/property/${rows[0]?.propertyId ?? ''}/review/7`);
    await page.goBack();
    await list.getByRole('listitem').first().waitFor();
    await book.call('settings.save', {
      writeId: ulid(),
      settings: { ...(await book.call('settings.get', {})), waterEndsBy: '06:00' },
    });
    await page.getByText('have changed since this was worked out', { exact: false }).waitFor();
  });
});

it('stops a review of all programs that was asked for by mistake', async () => {
  await page.route('**/request/program.reviewAll', () => {});
  await page.goto(`${book.host.origin}/#/owner/programs`);
  await button('Review all programs').click();
  await page.getByRole('progressbar').waitFor();
  expect(await button('Review all programs').isDisabled()).toBe(true);
  await button('Stop').click();
  await page.getByRole('progressbar').waitFor({ state: 'detached' });
  await page.getByRole('heading', { name: 'Nothing reviewed yet' }).waitFor();
  expect(await page.getByRole('alert').count()).toBe(0);
});

it('teaches what is missing, and makes a first program where there is none', async () => {
  await page.context().close();
  await book.close();
  book = await makeOfficeBook({ empty: true });
  const [clientId, propertyId, controllerId] = [ulid(), ulid(), ulid()];
  await book.call('client.save', { writeId: ulid(), client: { id: clientId, name: 'Ondine Marsh' } });
  await book.call('property.save', {
    writeId: ulid(),
    property: { id: propertyId, clientId, street: '1 Reed Lane' },
    controllers: [{ id: controllerId, propertyId, name: 'Porch' }],
    zones: [{ id: ulid(), propertyId, controllerId, station: 1, name: 'Lawn' }],
  });
  page = await openPage();
  await page.goto(`${book.host.origin}/#/office/property/${propertyId}/review`);
  await page.getByRole('heading', { name: 'The book has no weather yet' }).waitFor();
  expect(await page.getByRole('link', { name: 'Add a weather station' }).getAttribute('href')).toBe(
    '#/company/weather',
  );
  await page.goto(`${book.host.origin}/#/owner/programs`);
  await button('Review all programs').click();
  await page.getByRole('alert').getByRole('link', { name: 'Add a weather station' }).waitFor();
  const normal = { tmaxF: 80, tminF: 52, rainInches: 1 };
  await book.call('station.save', {
    writeId: ulid(),
    station: {
      id: ulid(),
      name: 'Reed yard',
      latitudeDeg: 40,
      longitudeDeg: -105,
      elevationFt: 5000,
      normals: Array.from({ length: 12 }, () => normal),
    },
  });
  await openReview(propertyId);
  await page.getByText('No program that is on runs this zone.').waitFor();
  await button('Accept all').click();
  await page.getByRole('dialog').getByText('new', { exact: true }).waitFor();
  await page.getByRole('dialog').getByRole('button', { name: 'Accept and record' }).click();
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  const made = await book.call('property.open', { propertyId });
  expect(made.programs).toHaveLength(1);
  const [row] = (await book.call('program.review', { propertyId, month: 7 })).rows;
  expect(made.programs[0]?.revision.runs[0]?.runMinutes).toBe(row?.advice.runMinutes);
  await page.getByRole('region', { name: 'Messages' }).getByRole('button', { name: /^Undo/ }).click();
  await page.getByText('No program that is on runs this zone.').waitFor();
});

it.each([
  [1440, 900, 'light'],
  [1024, 768, 'dark'],
  [390, 844, 'light'],
  [390, 844, 'dark'],
] as const)('has no serious finding and no sideways scroll at %i × %i, %s', async (width, height, scheme) => {
  await page.context().close();
  page = await openPage({ width, height }, scheme);
  // The property with the most zones asks most of the width.
  const { rows } = await book.call('client.list', { limit: 100 });
  let widest = { propertyId: book.propertyId, zones: 0 };
  for (const { propertyId } of rows) {
    if (propertyId === null) continue;
    const zones = (await book.call('property.open', { propertyId, ledgerLimit: 0 })).zones.length;
    if (zones > widest.zones) widest = { propertyId, zones };
  }
  await openReview(widest.propertyId);
  await button(/^Show .*, zone \d/)
    .first()
    .click();
  await button(/^Soil moisture, zone/)
    .first()
    .click();
  await page.getByRole('img', { name: /^Soil moisture of zone/ }).waitFor();
  expect(await seriousFindings(page)).toEqual([]);
  expect(await sidewaysOverflow(page)).toBe(0);
  await button('Accept all').click();
  await page.getByRole('dialog').getByRole('button', { name: 'Accept and record' }).waitFor();
  expect(await seriousFindings(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await button('Show how ETo is worked out').click();
  await page.getByRole('dialog').getByRole('table').waitFor();
  expect(await seriousFindings(page)).toEqual([]);
});
