import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Serious and critical findings of axe on the page as it stands, one line each. */
export async function seriousFindings(page: Page): Promise<string[]> {
  // The page's content security policy forbids added scripts; the debugger's evaluate is not a script of the page.
  await page.evaluate(axeSource);
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: {
        run(): Promise<{
          violations: { id: string; impact: string | null; nodes: { target: unknown; failureSummary?: string }[] }[];
        }>;
      };
    };
    const { violations } = await axe.run();
    return violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(
        ({ id, nodes }) =>
          `${id}: ${nodes.map((node) => `${String(node.target)} (${node.failureSummary ?? ''})`).join(' | ')}`,
      );
  });
}

/** Everything inside `root` that can be tapped and is smaller than `least` pixels, in words. */
export function smallTargets(page: Page, root: string, least: number): Promise<string[]> {
  return page.evaluate(
    ({ root: selector, least: limit }) => {
      const targets = [
        ...document.querySelectorAll<HTMLElement>(
          `${selector} :is(a[href], button, select, textarea, input:not([type="radio"]):not([type="checkbox"]):not([type="hidden"]), label:has(input[type="radio"], input[type="checkbox"]))`,
        ),
      ];
      return targets.flatMap((element) => {
        const box = element.getBoundingClientRect();
        const hidden =
          box.width <= 2 ||
          getComputedStyle(element).visibility === 'hidden' ||
          element.closest('[aria-hidden="true"]') !== null;
        const fits = Math.round(box.height) >= limit && Math.round(box.width) >= limit;
        return hidden || fits
          ? []
          : [
              `${element.tagName.toLowerCase()} “${(element.getAttribute('aria-label') ?? element.textContent ?? '').slice(0, 40)}”: ${Math.round(box.width)}×${Math.round(box.height)}`,
            ];
      });
    },
    { root, least },
  );
}

/** How many targets `smallTargets` looks at: a check over nothing would always pass. */
export function targetCount(page: Page, root: string): Promise<number> {
  return page.locator(`${root} :is(a[href], button, select, textarea, input)`).count();
}

/** Pixels by which the page is wider than the window. */
export function sidewaysOverflow(page: Page): Promise<number> {
  return page.evaluate(() =>
    Math.max(
      ...[
        document.documentElement,
        ...document.querySelectorAll<HTMLElement>('.desk, .fd-scroll, .fd-side, .fd-bar'),
      ].map((element) => element.scrollWidth - element.clientWidth),
    ),
  );
}

/** A window of its own on a book; errors the page throws are kept in `problems`. */
export async function openWatched(
  browser: Browser,
  address: string,
  problems: string[],
  viewport = { width: 1440, height: 900 },
  colorScheme: 'light' | 'dark' = 'light',
): Promise<Page> {
  const context = await browser.newContext({ viewport, colorScheme, reducedMotion: 'reduce' });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  page.on('pageerror', (error) => problems.push(error.message));
  await page.goto(address);
  return page;
}
