import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launchBrowser } from './chromium.ts';
import { serveEmptyBook } from './calendar-book.ts';
import type { ServedBook } from './serve-book.ts';
import { seriousFindings, sidewaysOverflow, smallTargets, targetCount } from './page-checks.ts';

// A list as offices have them: a title above the header, semicolons, Windows-1252, a quoted line break, a blank line,
// one client twice, a date that does not exist, a row without a street, a total below.
const MESSY = [
  'Client list;;;;;;;',
  'Customer Name;Phone No.;E-Mail;Service Address;City;Zip;Test due;Colour of the truck',
  'Häberlin, Rosa;(970) 555-0111;rosa@example.com;14 Cottonwood Ct;Tamsett;80501;6/15/2027;red',
  'Hollis Family;970.555.0112;;1418 Alder Lane;Tamsett;80501-1234;;red',
  'Hollis Family;970.555.0112;;1420 Alder Lane;Tamsett;80501;;red',
  ';;;;;;;',
  '"Cedar Flats\nOwners";(970) 555-0113;board@example.com;1 Cedar Court;Tamsett;80501;31/31/2027;red',
  'No Street Person;(970) 555-0114;;;Tamsett;;;red',
  'Total;4;;;;;;',
].join('\r\n');

let browser: Browser;
let book: ServedBook;
let page: Page;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  book = await serveEmptyBook();
  page = await book.open(browser, '#/office/import');
  await page.getByRole('heading', { level: 1, name: 'Import a list' }).waitFor();
});
afterEach(async () => {
  await page.context().close();
  await book.close();
});

async function chooseFile(name: string, bytes: Buffer): Promise<void> {
  await page.locator('input[type=file]').setInputFiles({ name, mimeType: 'text/csv', buffer: bytes });
  await page.locator('.drop-zone').getByText(name, { exact: true }).waitFor();
  await page.getByRole('heading', { name: '3. What would happen' }).waitFor();
}
/** A preview runs in a worker of its own. */
const SOON = { timeout: 20_000 };
const tally = async () =>
  Object.fromEntries(
    await page
      .locator('.tally > div')
      .evaluateAll((items) =>
        items.map((item) => [
          item.querySelector('dt')?.textContent?.replace('▲ ', '') ?? '',
          Number(item.querySelector('dd')?.textContent?.replaceAll(',', '')),
        ]),
      ),
  );
const rowsOf = async (name: string) =>
  (await page.getByRole('table', { name }).getByRole('row').allInnerTexts())
    .slice(1)
    .map((row) => row.replaceAll(/\s*\n\s*/g, ' | '));
async function pickField(column: string, field: RegExp | string): Promise<void> {
  await page.getByRole('button', { name: `${column} goes to` }).click();
  await page.getByRole('option', { name: field }).click();
}
async function clients(): Promise<string[]> {
  const { rows } = await book.call('client.list', {});
  return rows.map((row) => `${row.clientName}: ${row.street}`).sort();
}

describe('importing a messy client list', () => {
  it('goes from file to book, names what has to be mended, and adds nothing the second time', async () => {
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    await page.getByText('read as windows-1252 with semicolon between columns').waitFor();
    expect(await tally()).toMatchObject({
      'good rows': 3,
      'rows to mend': 2,
      ignored: 3,
      'clients added': 2,
      'properties added': 3,
    });
    expect(await rowsOf('Problems')).toEqual([
      expect.stringMatching(/^7 \| Test due \| 31\/31\/2027 \| /),
      expect.stringMatching(/^8 \| Service Address \| \(empty\) \| /),
    ]);
    await page.getByRole('tab', { name: /^Ignored/ }).click();
    expect(await rowsOf('Ignored rows')).toEqual([
      expect.stringMatching(/^1 \| /),
      expect.stringMatching(/^6 \| blank line/),
      expect.stringMatching(/^9 \| /),
    ]);
    await page.getByRole('tab', { name: 'First rows as saved' }).click();
    expect(await page.getByRole('region', { name: 'First rows as they would be saved' }).innerText()).toMatch(
      /Häberlin, Rosa.*\(970\) 555-0111.*14 Cottonwood Ct/s,
    );
    expect(await clients()).toEqual([]);

    await page.getByRole('button', { name: 'Import 3 rows' }).click();
    await page.getByText('Added from messy.csv: 2 clients, 3 properties.').waitFor();
    const saved = [
      'Hollis Family: 1418 Alder Lane',
      'Hollis Family: 1420 Alder Lane',
      'Häberlin, Rosa: 14 Cottonwood Ct',
    ];
    expect(await clients()).toEqual(saved);
    expect(await rowsOf('What became of each row')).toHaveLength(3);

    await page.getByRole('button', { name: 'Import another list' }).click();
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    expect(await tally()).toMatchObject({ 'good rows': 3, 'in the book already': 3 });
    await page.getByRole('button', { name: 'Import 3 rows' }).click();
    await page.getByRole('heading', { name: 'Nothing new in this file' }).waitFor();
    expect(await clients()).toEqual(saved);
  });

  it('saves the rows to mend as they stand in the file, and imports them once mended', async () => {
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save these rows as CSV' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('messy-to-mend.csv');
    const text = readFileSync(await download.path(), 'utf8');
    expect(text).toContain(
      'Customer Name,Phone No.,E-Mail,Service Address,City,Zip,Test due,Colour of the truck,What to mend',
    );
    expect(text).toContain(
      '"Cedar Flats\nOwners",(970) 555-0113,board@example.com,1 Cedar Court,Tamsett,80501,31/31/2027,red,Test due: ',
    );
    await chooseFile(
      'messy-to-mend.csv',
      Buffer.from(
        text
          .replace('31/31/2027', '5/31/2027')
          .replace('No Street Person,(970) 555-0114,,,', 'No Street Person,(970) 555-0114,,3 Found Street,'),
      ),
    );
    expect(await tally()).toMatchObject({ 'good rows': 2, 'rows to mend': 0 });
    await page.getByRole('button', { name: 'Import 2 rows' }).click();
    await page.getByText('2 clients, 2 properties').waitFor();
    expect(await clients()).toEqual(['Cedar Flats, Owners: 1 Cedar Court', 'No Street Person: 3 Found Street']);
  });

  it('imports nothing when every row is wanted and one is bad', async () => {
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    await page.getByText('Only if every row is good.').click();
    expect(await page.getByRole('button', { name: /^Import 3 rows/ }).isDisabled()).toBe(true);
    await page.getByText('2 rows have to be mended first.').waitFor();
    expect(await clients()).toEqual([]);
  });

  it('matches columns anew when told, puts a wrong match beside its column, and remembers', async () => {
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    await pickField('Test due', 'Leave out');
    await expect.poll(tally, SOON).toMatchObject({ 'good rows': 4, 'rows to mend': 1 });
    await pickField('Colour of the truck', /^City/);
    await page.locator('.match-table .field-error', { hasText: 'City' }).waitFor();
    await pickField('Colour of the truck', 'Dog');
    await page.locator('.match-table .field-error').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Import 4 rows' }).click();
    await page.getByRole('heading', { name: 'Imported' }).waitFor();
    const { rows } = await book.call('client.list', { search: '14 Cottonwood' });
    const property = await book.call('property.open', { propertyId: rows[0]?.propertyId ?? '' });
    expect(property.property.dogNote).toBe('red');
    expect(property.property.backflowTestDue).toBeNull();
    await page.getByRole('button', { name: 'Import another list' }).click();
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    expect(await page.locator('.match-how.remembered').count()).toBeGreaterThan(5);
    expect(await page.getByRole('button', { name: 'Colour of the truck goes to' }).innerText()).toContain('Dog');
  });

  it('refuses what is no list with a sentence, and takes a dropped file', async () => {
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'list.csv', mimeType: 'text/csv', buffer: Buffer.from('PK\u0003\u0004 not a CSV') });
    expect(await page.getByRole('alert').innerText()).toContain('not a CSV');
    const file = join(book.folder, 'dropped.csv');
    writeFileSync(file, 'Client,Street\nPerrin Household,18 Quarry Lane\n');
    const box = await page.locator('.drop-zone').boundingBox();
    const devtools = await page.context().newCDPSession(page);
    const at = {
      x: (box?.x ?? 0) + 40,
      y: (box?.y ?? 0) + 20,
      data: { items: [], files: [file], dragOperationsMask: 1 },
    };
    for (const type of ['dragEnter', 'dragOver', 'drop'] as const)
      await devtools.send('Input.dispatchDragEvent', { type, ...at });
    await page.getByText('dropped.csv').waitFor();
    await expect.poll(tally, SOON).toMatchObject({ 'good rows': 1, 'rows to mend': 0 });
  });
});

describe('other lists', () => {
  it('imports daily weather to the station chosen, from the example this page offers', async () => {
    const stationId = ulid();
    await book.call('station.save', {
      writeId: ulid(),
      station: {
        id: stationId,
        name: 'Tamsett yard',
        latitudeDeg: 40,
        longitudeDeg: -105,
        elevationFt: 5000,
        normals: Array.from({ length: 12 }, () => ({ tmaxF: 70, tminF: 45, rainInches: 1 })),
      },
    });
    await page.getByText('Daily weather', { exact: true }).click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save an example CSV' }).click(),
    ]);
    const example = readFileSync(await download.path());
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'weather.csv', mimeType: 'text/csv', buffer: example });
    await page.getByRole('button', { name: /Weather station/ }).click();
    await page.getByRole('option', { name: 'Tamsett yard' }).click();
    await page.getByRole('button', { name: 'Import 3 rows' }).click();
    await page.getByRole('heading', { name: 'Imported' }).waitFor();
    const { stations } = await book.call('station.list', {});
    expect(stations[0]).toMatchObject({ dailyRecords: 3, firstDate: '2026-07-01', lastDate: '2026-07-03' });
  });

  it('offers an example of each kind that imports without a problem', async () => {
    for (const [name, rows] of [
      ['Clients and properties', 4],
      ['Zones', 3],
      ['Past work', 4],
    ] as const) {
      await page.getByText(name, { exact: true }).click();
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Save an example CSV' }).click(),
      ]);
      await page
        .locator('input[type=file]')
        .setInputFiles({ name: `${name}.csv`, mimeType: 'text/csv', buffer: readFileSync(await download.path()) });
      await page.getByRole('button', { name: `Import ${rows} rows` }).click();
      await page.getByRole('heading', { name: 'Imported' }).waitFor();
      expect(await tally()).toMatchObject({ 'rows left out': 0 });
      await page.getByRole('button', { name: 'Import another list' }).click();
    }
    const {
      rows: [row],
    } = await book.call('client.list', { search: '1418 Alder' });
    const property = await book.call('property.open', { propertyId: row?.propertyId ?? '' });
    expect(property.zones.filter((zone) => zone.name === 'Front lawn')).toHaveLength(1);
    expect(property.ledger.map((entry) => entry.detail.kind).sort()).toEqual([
      'battery-swap',
      'start-up',
      'winterization',
    ]);
  });

  it('shows thousands of problems without drawing them all', async () => {
    const lines = Array.from({ length: 3000 }, (_, index) => `Client ${index},`);
    await chooseFile('bad.csv', Buffer.from(`Client,Street\n${lines.join('\n')}\n`));
    expect(await tally()).toMatchObject({ 'good rows': 0, 'rows to mend': 3000 });
    const list = page.getByRole('table', { name: 'Problems' });
    expect(Number(await list.getAttribute('aria-rowcount'))).toBe(2001);
    expect(await list.getByRole('row').count()).toBeLessThan(80);
    await page
      .getByRole('region', { name: 'Problems' })
      .evaluate((element) => element.scrollTo(0, element.scrollHeight));
    await list.getByRole('cell', { name: '2,001', exact: true }).waitFor();
    expect(await page.getByRole('button', { name: 'Import 0 rows' }).isDisabled()).toBe(true);
  });

  it('has no serious finding of axe, in light, dark and narrow', async () => {
    expect(await seriousFindings(page)).toEqual([]);
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    await page.getByText('Letters or columns look wrong?').click();
    expect(await seriousFindings(page)).toEqual([]);
    expect(await targetCount(page, '.import-page')).toBeGreaterThan(15);
    // The drop zone's own button is for a screen reader and the keyboard; it shows nothing to tap.
    expect(
      (await smallTargets(page, '.import-page', 24)).filter((line) => !line.includes('Drop a CSV file here')),
    ).toEqual([]);
    await page.context().close();
    page = await book.open(browser, '#/office/import', { width: 390, height: 844, colorScheme: 'dark' });
    await chooseFile('messy.csv', Buffer.from(MESSY, 'latin1'));
    expect(await seriousFindings(page)).toEqual([]);
    expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
    await page.getByRole('button', { name: 'Import 3 rows' }).click();
    await page.getByRole('heading', { name: 'Imported' }).waitFor();
    expect(await seriousFindings(page)).toEqual([]);
  });
});
