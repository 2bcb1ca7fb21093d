import { existsSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { startLoopback } from '../../electron/loopback.ts';
import { launchBrowser } from '../browser/chromium.ts';
import { openBench } from './call.ts';
import { summarise } from './stats.ts';
import { notMeasured, type Measured } from './table.ts';

const NAME = 'renderer: first useful list';
const RENDERER = fileURLToPath(new URL('../../dist/renderer', import.meta.url));
/** A row of the home list, whatever element it is made of. */
const FIRST_ROW = '[role="row"] [role="rowheader"], [role="row"] [role="gridcell"], [role="option"], [data-row]';

/** From navigation to the first rows on the screen, a browser profile of its own each time; beside a plain page with the same hundred rows. */
export async function rendererRow(book: string, rounds: number): Promise<Measured> {
  if (!existsSync(path.join(RENDERER, 'index.html')))
    return notMeasured(NAME, 'the renderer is not built: node electron/build.ts first');
  const { desk } = await openBench(book, 'read');
  const loopback = await startLoopback({ desk, rendererDir: RENDERER });
  const raw = new Database(book, { readonly: true });
  const list = raw.prepare(
    'SELECT c.name, c.phone, p.street, p.city, r.name route FROM client c LEFT JOIN property p ON p.clientId = c.id LEFT JOIN route r ON r.id = p.routeId WHERE c.archived = 0 ORDER BY c.sortName LIMIT 100',
  );
  const plain = createServer((_request, response) => {
    const rows = (list.all() as Record<string, string>[])
      .map(
        (row) =>
          `<tr data-row>${Object.values(row)
            .map((cell) => `<td>${cell ?? ''}</td>`)
            .join('')}</tr>`,
      )
      .join('');
    response.setHeader('content-type', 'text/html; charset=utf-8').end(`<!doctype html><table>${rows}</table>`);
  });
  await new Promise<void>((resolve) => plain.listen(0, '127.0.0.1', resolve));
  const plainAddress = `http://127.0.0.1:${(plain.address() as AddressInfo).port}/`;
  const browser = await launchBrowser();
  const times: { ours: number[]; bare: number[] } = { ours: [], bare: [] };
  try {
    for (let round = -1; round < rounds; round += 1) {
      for (const side of round % 2 === 0 ? (['ours', 'bare'] as const) : (['bare', 'ours'] as const)) {
        const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
        const page = await context.newPage();
        const address = side === 'ours' ? loopback.newAddress() : plainAddress;
        const start = performance.now();
        await page.goto(address, { waitUntil: 'commit' });
        await page.locator(FIRST_ROW).first().waitFor({ state: 'visible', timeout: 30_000 });
        if (round >= 0) times[side].push(performance.now() - start);
        await context.close();
      }
    }
    return {
      name: NAME,
      unit: 'ms',
      ours: summarise(times.ours),
      bare: summarise(times.bare),
      aim: { of: 'p95', atMost: 1500, ratioAtMost: null },
      note: 'navigation to first row visible, an empty profile each time; bare: one plain HTML table of 100 rows from SQLite in the same browser',
    };
  } finally {
    await browser.close();
    await loopback.close();
    plain.close();
    raw.close();
    await desk.close();
  }
}
