// A screenshot of any address: node tests/browser/shoot.ts --url URL --out FILE.png [--width N] [--height N] [--dark] [--full] [--wait MS]
import { parseArgs } from 'node:util';
import { launchBrowser } from './chromium.ts';

const { values } = parseArgs({
  options: {
    url: { type: 'string' },
    out: { type: 'string' },
    width: { type: 'string', default: '1440' },
    height: { type: 'string', default: '900' },
    wait: { type: 'string', default: '500' },
    dark: { type: 'boolean', default: false },
    full: { type: 'boolean', default: false },
  },
});
if (values.url === undefined || values.out === undefined) {
  console.error(
    'usage: node tests/browser/shoot.ts --url URL --out FILE.png [--width N] [--height N] [--dark] [--full] [--wait MS]',
  );
  process.exit(2);
}
const browser = await launchBrowser();
try {
  const page = await browser.newPage({
    viewport: { width: Number(values.width), height: Number(values.height) },
    colorScheme: values.dark ? 'dark' : 'light',
  });
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning')
      console.error(`console ${message.type()}: ${message.text()}`);
  });
  page.on('pageerror', (error) => console.error(`page error: ${error.message}`));
  await page.goto(values.url);
  // An event stream keeps the network busy for ever, so idleness of the network says nothing here.
  await page.waitForLoadState('load');
  await page.waitForTimeout(Number(values.wait));
  await page.screenshot({ path: values.out, fullPage: values.full });
  console.error(`wrote ${values.out}`);
} finally {
  await browser.close();
}
