import type { Browser, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launchBrowser } from './chromium.ts';
import { makeCalendarBook, TODAY, type CalendarBook } from './calendar-book.ts';
import { seriousFindings, sidewaysOverflow } from './page-checks.ts';

let browser: Browser;
let book: CalendarBook;
let page: Page;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  book = await makeCalendarBook();
  await book.call('station.save', {
    writeId: ulid(),
    station: {
      id: ulid(),
      name: 'Tamsett field',
      latitudeDeg: 40,
      longitudeDeg: -105,
      // NIST Handbook 44, Appendix C: 1 ft = 0.3048 m, so 5000 ft are 1524 m; 50 °F are 10 °C, 1 in is 25.4 mm.
      elevationFt: 5000,
      normals: Array.from({ length: 12 }, () => ({ tmaxF: 50, tminF: 32, rainInches: 1 })),
    },
  });
  page = await book.open(browser, '#/company');
});
afterEach(async () => {
  await page.context().close();
  await book.close();
});

const SOON = { timeout: 15_000 };
const choose = (group: string, choice: string) =>
  page.getByRole('radiogroup', { name: group }).getByText(choice, { exact: true }).click();
const go = (hash: string) =>
  page.evaluate((to) => {
    window.location.hash = to;
  }, hash);

/** Rooms with a heading of theirs in Spanish. */
const ROOMS: Array<[hash: string, heading: string | RegExp]> = [
  ['#/office/today', 'martes, 6 de octubre'],
  ['#/office/import', 'Importar una lista'],
  ['#/company', 'Ajustes'],
  ['#/company/people', 'Personal, camiones, rutas'],
  ['#/company/rules', 'Reglas de riego'],
  ['#/company/weather', 'Estaciones meteorológicas'],
  ['#/company/book', 'El libro'],
  ['#/owner', /^Temporada/],
  ['#/owner/programs', 'Programas más lejos de la necesidad'],
  ['#/field', '¿De quién es el día?'],
];

describe('language and units', () => {
  it('change at once on this machine, by themselves, and stay over a reload', async () => {
    await page.getByRole('button', { name: /^Light or dark/ }).click();
    await page.getByRole('menuitem', { name: /Español/ }).click();
    await choose('Language', 'Español');
    await page.getByRole('heading', { level: 1, name: 'Ajustes' }).waitFor(SOON);
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('es');
    // The choice that drew the page anew keeps the focus.
    expect(await page.evaluate(() => (document.activeElement as HTMLInputElement).value)).toBe('es');
    await go('#/company/weather');
    await page.getByText('5,000 ft', { exact: false }).waitFor(SOON);
    await go('#/company');
    await choose('Unidades', 'Milímetros, litros, °C');
    await expect
      .poll(() => page.evaluate(() => (document.activeElement as HTMLInputElement).value), SOON)
      .toBe('metric');
    await page.reload();
    await go('#/company/weather');
    await page.getByText('1,524 m', { exact: false }).waitFor(SOON);
    const row = page.getByRole('row', { name: /^Máxima/ });
    expect(await row.getByRole('rowheader').innerText()).toBe('Máxima, °C');
    expect(await row.getByRole('cell').first().innerText()).toBe('10');
    expect(
      await page
        .getByRole('row', { name: /^Lluvia, mm/ })
        .getByRole('cell')
        .first()
        .innerText(),
    ).toBe('25');
    await go(`#/office/calendar/${TODAY}`);
    await page.getByRole('heading', { level: 1, name: /^5 – 11 de oct/ }).waitFor(SOON);
    await page.getByText('2200 Cobbleway').first().waitFor(SOON);
    expect(await page.locator('.visit-card').first().innerText()).toContain('30 min');
    await page.getByText('2200 Cobbleway').first().click();
    await page.getByRole('dialog').getByRole('button', { name: 'Guardar visita' }).waitFor(SOON);
  });

  it('say every room in Spanish, with nothing wider than the screen', async () => {
    await page.evaluate(() => localStorage.setItem('valvebook-reader', '{"language":"es","units":"metric"}'));
    for (const width of [1440, 390]) {
      await page.setViewportSize({ width, height: width === 390 ? 844 : 900 });
      await page.reload();
      for (const [hash, heading] of ROOMS) {
        await go(hash);
        await page.getByRole('heading', { level: 1, name: heading }).waitFor(SOON);
        expect(await sidewaysOverflow(page), `${hash} at ${width}`).toBeLessThanOrEqual(0);
      }
    }
    await go('#/company');
    await page.getByRole('heading', { level: 1, name: 'Ajustes' }).waitFor(SOON);
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('reach what core says: a refusal at its field, and the columns and faults of a list', async () => {
    await page.evaluate(() => localStorage.setItem('valvebook-reader', '{"language":"es","units":"metric"}'));
    await page.reload();
    await go('#/office/import');
    await page.locator('input[type=file]').setInputFiles({
      name: 'lista.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('Client name,Street,Latitude\nAda,,40\nBen,7 Mill Race,140\nCy,9 Mill Race,north\n'),
    });
    await page.getByRole('heading', { name: '3. Qué pasaría' }).waitFor(SOON);
    await page.getByRole('button', { name: 'Nombre del cliente', exact: false }).first().waitFor(SOON);
    const faults = page.getByRole('table', { name: 'Problemas' });
    await faults.getByText('no hay calle').waitFor(SOON);
    await faults.getByText('no es un número').waitFor(SOON);
    await faults.getByText('debe ser de -90 a 90', { exact: false }).waitFor(SOON);
    await go('#/company/weather');
    await page.getByRole('button', { name: 'Cambiar Tamsett field' }).click();
    await page.getByLabel('enero, mínima').fill('20');
    await page.getByRole('button', { name: 'Guardar estación' }).click();
    // 50 °F are 10 °C (NIST Handbook 44, Appendix C).
    await page
      .getByText('La mínima media (20 °C) no debe superar la máxima media (10 °C).', { exact: false })
      .first()
      .waitFor(SOON);
    expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
  });

  it('are the company’s where this machine chose nothing', async () => {
    const settings = await book.call('settings.get', {});
    await book.call('settings.save', { writeId: ulid(), settings: { ...settings, language: 'es', units: 'metric' } });
    await page.getByRole('heading', { level: 1, name: 'Ajustes' }).waitFor(SOON);
    await choose('Idioma', 'English');
    await page.getByRole('heading', { level: 1, name: 'Settings' }).waitFor(SOON);
    await go('#/company/weather');
    await page.getByText('1,524 m', { exact: false }).waitFor(SOON);
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('en');
  });
});
