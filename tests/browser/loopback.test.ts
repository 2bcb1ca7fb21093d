import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { ulid } from 'ulid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { startLoopback, type Loopback } from '../../electron/loopback.ts';
import { launchBrowser } from './chromium.ts';
import { makeFieldBook, TODAY, type FieldBook } from './field-book.ts';
import { builtRenderer } from './serve-book.ts';

// How a real browser is let in, and what others who share this machine get of it.

/** A busy machine takes its time. */
const SOON = { timeout: 20_000 };

let browser: Browser;
let book: FieldBook;
let host: Loopback;
let context: BrowserContext;
let page: Page;
let squatter: Server | undefined;

beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(async () => {
  await browser.close();
});
beforeEach(async () => {
  book = await makeFieldBook();
  host = book.host;
  context = await browser.newContext({ viewport: { width: 390, height: 844 }, reducedMotion: 'reduce' });
  page = await newPage();
});
afterEach(async () => {
  await context.close();
  await closeSquatter();
  if (host !== book.host) await host.close();
  await book.close();
});

async function newPage(): Promise<Page> {
  const made = await context.newPage();
  made.setDefaultTimeout(20_000);
  return made;
}
const portOf = () => Number(new URL(book.host.origin).port);
const stopAddress = () => `${book.host.origin}/#/field/${book.technicianId}/${TODAY}/${book.first.visitId}`;
const note = (of: Page) => of.getByLabel('Note for the next person here');

async function typeNote(text: string): Promise<void> {
  await page.goto(host.newAddress());
  await page.goto(stopAddress());
  await page.getByRole('button', { name: 'Log note' }).click();
  await note(page).fill(text);
}
async function startAgain(takesPlain = false): Promise<void> {
  await host.close();
  host = await startLoopback({
    desk: book.desk,
    rendererDir: builtRenderer(),
    port: portOf(),
    draftKey: { key: book.draftKey, takesPlain },
  });
}

interface Heard {
  url: string;
  headers: string;
  body: string;
}
/** Another program that takes the port while Valvebook is closed; keeps all it is sent. */
async function squat(answer: (path: string) => { type: string; body: string }): Promise<Heard[]> {
  await host.close();
  const heard: Heard[] = [];
  squatter = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      heard.push({
        url: request.url ?? '',
        headers: JSON.stringify(request.headers),
        body: Buffer.concat(chunks).toString(),
      });
      const { type, body } = answer(request.url ?? '');
      response.setHeader('content-type', type).end(body);
    });
  });
  await new Promise<void>((resolve) => squatter?.listen(portOf(), '127.0.0.1', resolve));
  return heard;
}
async function closeSquatter(): Promise<void> {
  const closing = squatter;
  squatter = undefined;
  if (closing === undefined) return;
  await new Promise<void>((resolve) => {
    closing.close(() => resolve());
    closing.closeAllConnections();
  });
}
/** Everything a page of this origin can read. */
const readAll = (of: Page) =>
  of.evaluate(async () =>
    JSON.stringify([
      Object.entries(localStorage),
      Object.entries(sessionStorage),
      document.cookie,
      (await indexedDB.databases()).map((one) => one.name),
      await caches.keys(),
    ]),
  );

describe('the address', () => {
  it('lets one tab in without a cookie, leaves no key in its history, and holds over a reload', async () => {
    await page.goto(host.newAddress());
    await page.goto(stopAddress());
    await page.getByText('4471#').waitFor();
    await page.reload();
    await page.getByText('4471#').waitFor();
    expect(await context.cookies()).toEqual([]);
    await page.goBack();
    await page.waitForURL(`${host.origin}/`);
    await page.getByRole('link', { name: /^Valvebook/ }).waitFor();
  });

  it('holds when the page is loaded again before the first answer came', async () => {
    let first = true;
    await page.route('**/session', async (route) => {
      if (!first) return route.continue();
      first = false;
      // The host lets it in; the page never hears of it.
      await route.fetch();
      return route.abort();
    });
    await page.goto(host.newAddress());
    await page.getByRole('alert').waitFor();
    await page.reload();
    await page.getByRole('link', { name: /^Valvebook/ }).waitFor();
    expect(first).toBe(false);
  });

  it('shows a change made before its line for changes was open', async () => {
    let open = () => {};
    const held = new Promise<void>((resolve) => (open = resolve));
    await page.route('**/changes', async (route) => {
      await held;
      await route.continue();
    });
    await page.goto(host.newAddress());
    await page.goto(`${host.origin}/#/office`);
    await page.getByText('Perrin Household').first().waitFor();
    const { rows } = await book.call('client.list', { search: 'Perrin' });
    const { client, version } = await book.call('client.open', { clientId: rows[0]?.clientId ?? '' });
    await book.call('client.save', {
      writeId: ulid(),
      version,
      client: { ...client, name: 'Perrin and Daughters' },
    });
    open();
    await page.getByText('Perrin and Daughters').first().waitFor();
    expect(await page.getByText('Perrin Household').count()).toBe(0);
  });

  it('says what to do to a browser that was not let in, and takes a new address typed over the old', async () => {
    await page.goto(`${host.origin}/#key=AAAA`);
    await page.getByText('This browser was not let in. Press Enter', { exact: false }).waitFor();
    await page.goto(host.newAddress());
    await page.getByRole('link', { name: /^Valvebook/ }).waitFor();
    expect(new URL(page.url()).hash).not.toContain('key');
  });

  it('opened elsewhere, closes this window with a word and keeps what was typed', async () => {
    await typeNote('Only half of it');
    const other = await browser.newContext();
    try {
      const second = await other.newPage();
      await second.goto(host.newAddress());
      await page
        .getByText('Valvebook was opened in another window; this one has been closed to be safe.', { exact: false })
        .waitFor();
      expect(await page.locator('body').innerText()).not.toContain('4471#');
      await second.getByRole('link', { name: /^Valvebook/ }).waitFor();
    } finally {
      await other.close();
    }
    await page.goto(host.newAddress());
    await page.goto(stopAddress());
    await expect.poll(() => note(page).inputValue(), SOON).toBe('Only half of it');
  });
});

describe('another tab of the same browser', () => {
  it('asks in the first, and is let in or kept out there', async () => {
    await page.goto(host.newAddress());
    const second = await newPage();
    await second.goto(stopAddress());
    await second.getByText('Go to that tab and choose “Let it in”', { exact: false }).waitFor();
    await page.getByRole('button', { name: 'Keep it out' }).click();
    await second.getByText('This tab was not let in', { exact: false }).waitFor();
    await second.reload();
    await page.getByRole('button', { name: 'Let it in' }).click();
    await second.getByText('4471#').waitFor();
    await page.reload();
    await page.getByRole('link', { name: /^Valvebook/ }).waitFor();
    expect(await second.getByRole('alert').count()).toBe(0);
  });

  it('that a link was opened in comes in by itself', async () => {
    await page.goto(host.newAddress());
    const [second] = await Promise.all([
      context.waitForEvent('page'),
      page.getByRole('link', { name: 'Field', exact: true }).click({ modifiers: ['Control'] }),
    ]);
    await second.getByRole('heading', { name: 'Whose day?' }).waitFor();
    expect(await page.getByRole('button', { name: 'Let it in' }).count()).toBe(0);
  });
});

describe('a program that takes the port while Valvebook is closed', () => {
  it('reads no draft, is sent nothing by a window that is still open, and gives the draft back with the port', async () => {
    await typeNote('Key under the third flowerpot');
    const heard = await squat(() => ({ type: 'text/html', body: '<!doctype html><title>not Valvebook</title>' }));
    // The open window goes on: what it would save must not go to whoever answers now.
    await page.getByRole('button', { name: 'Put on the list' }).click();
    await page.getByRole('button', { name: 'Done here' }).click();
    await expect.poll(() => heard.filter(({ url }) => url === '/session/proof').length, SOON).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Close without it' }).click();
    await page.getByText('Not saved.', { exact: false }).waitFor();
    const stolen = await newPage();
    await stolen.goto(book.host.origin);
    expect(await stolen.title()).toBe('not Valvebook');
    const there = await readAll(stolen);
    expect(there).toContain('valvebook.draft ');
    expect(there).not.toMatch(/flowerpot|Basement|Quarry|book\.valvebook/);
    const secret = await page.evaluate(
      () => (JSON.parse(sessionStorage['valvebook.session'] as string) as { secret: string }).secret,
    );
    expect(secret).toHaveLength(43);
    expect(JSON.stringify(heard)).not.toContain('flowerpot');
    expect(JSON.stringify(heard)).not.toContain(secret);
    await stolen.close();
    await closeSquatter();
    await startAgain();
    // The window that stayed open is let in again by a new address, and the work goes into the book.
    await page.goto(host.newAddress());
    await page.goto(stopAddress());
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByRole('button', { name: 'Close without it' }).click();
    await page.getByText('✓ Done', { exact: true }).waitFor();
    const { entries } = await book.call('ledger.list', { visitId: book.first.visitId });
    expect(JSON.stringify(entries)).toContain('Key under the third flowerpot');
  });

  it('has its service worker taken away by the next start, before long', async () => {
    const worker = `addEventListener('install', () => skipWaiting());
      addEventListener('activate', (event) => event.waitUntil(clients.claim()));
      addEventListener('fetch', (event) => event.respondWith(new Response('<title>caught</title>', { headers: { 'content-type': 'text/html' } })));`;
    await squat((path) =>
      path === '/worker.js'
        ? { type: 'text/javascript', body: worker }
        : { type: 'text/html', body: '<!doctype html><title>not Valvebook</title>' },
    );
    await page.goto(book.host.origin);
    await page.evaluate(async () => {
      await navigator.serviceWorker.register('/worker.js');
      await navigator.serviceWorker.ready;
    });
    await page.reload();
    expect(await page.title()).toBe('caught');
    await closeSquatter();
    await startAgain();
    await page.goto(book.host.origin);
    await expect.poll(() => page.title().catch(() => ''), { timeout: 30_000 }).toMatch(/Valvebook$/);
    await page.goto(host.newAddress());
    await page.getByRole('link', { name: /^Valvebook/ }).waitFor();
    expect(await page.evaluate(async () => (await navigator.serviceWorker.getRegistrations()).length)).toBe(0);
  });

  it('finds nothing of drafts that an earlier version kept open, once they are sealed', async () => {
    await typeNote('From before');
    // What an earlier version kept: the same, unsealed. Made from what the store holds, by the store's own rules.
    const info = await book.call('book.info', {});
    await page.evaluate(
      ([path, visitId, propertyId]) => {
        localStorage.clear();
        const form = { values: { text: 'Gate sticks in spring' }, note: '', entryId: null, touched: true };
        localStorage.setItem(
          `valvebook.field.draft ${path} ${visitId}`,
          JSON.stringify({
            visitId,
            propertyId,
            writeId: '01ARZ3NDEKTSV4RRFFQ69G5FAV',
            planned: true,
            unplannedKind: null,
            technicianId: '',
            doneOn: '2026-10-12',
            clientName: '',
            street: '',
            entries: [
              { id: '01ARZ3NDEKTSV4RRFFQ69G5FAW', detail: { kind: 'note', text: 'Gate sticks in spring' }, note: '' },
            ],
            forms: { note: form },
            openForm: null,
            sent: null,
          }),
        );
      },
      [info.path, book.first.visitId, book.first.propertyId],
    );
    await startAgain(true);
    await page.goto('about:blank');
    await page.goto(host.newAddress());
    await page.getByRole('link', { name: /^Valvebook/ }).waitFor();
    // Without opening the field at all.
    await expect.poll(() => readAll(page), SOON).toContain('valvebook.draft ');
    expect(await readAll(page)).not.toMatch(/Gate sticks|book\.valvebook/);
    await page.goto(stopAddress());
    await expect
      .poll(() => page.getByRole('region', { name: 'To be saved' }).innerText(), SOON)
      .toContain('Gate sticks in spring');
  });
});

it('another server of this machine is sent nothing that opens the book', async () => {
  await page.goto(host.newAddress());
  await page.getByRole('link', { name: /^Valvebook/ }).waitFor();
  let sent = '';
  const other = createServer((request, response) => {
    sent += JSON.stringify(request.headers);
    response.setHeader('content-type', 'text/html').end('<!doctype html><title>other</title>');
  });
  await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
  try {
    const there = await newPage();
    await there.goto(`http://127.0.0.1:${(other.address() as AddressInfo).port}/`);
    const secret = await page.evaluate(
      () => (JSON.parse(sessionStorage['valvebook.session'] as string) as { secret: string }).secret,
    );
    expect(sent).toContain('host');
    expect(sent).not.toContain('cookie');
    expect(sent).not.toContain(secret);
    expect(await readAll(there)).not.toContain(secret);
    // Its page cannot ask either: the header needs leave, which is not given.
    const reached = await there.evaluate(
      async ([origin, header]) => {
        try {
          await fetch(`${origin}/request/book.info`, {
            method: 'POST',
            headers: { 'content-type': 'application/json', 'valvebook-session': header as string },
            body: '{}',
          });
          return true;
        } catch {
          return false;
        }
      },
      [host.origin, secret],
    );
    expect(reached).toBe(false);
  } finally {
    other.closeAllConnections();
    other.close();
  }
});
