import { existsSync, mkdirSync, writeFileSync, writeSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { openDesk } from '../../core/desk/desk.ts';
import { startLoopback } from '../../electron/loopback.ts';

// A process that serves one book on this machine, as `npm start` does, and says its address on standard output. What it
// calls a fault of its own goes to standard error. It is stopped with SIGTERM, or killed.

const [bookPath] = process.argv.slice(2) as [string];
const rendererDir = join(dirname(bookPath), 'site');
if (!existsSync(rendererDir)) {
  mkdirSync(rendererDir, { recursive: true });
  writeFileSync(
    join(rendererDir, 'index.html'),
    '<!doctype html><html><head><title>x</title></head><body></body></html>',
  );
}
const desk = await openDesk({
  bookPath,
  create: true,
  today: () => '2026-06-15',
  readsInThread: true,
  log: (text) => process.stderr.write(`${text}\n`),
});
const host = await startLoopback({ desk, rendererDir });
process.once('SIGTERM', () => {
  void host
    .close()
    .then(() => desk.close())
    .then(() => process.exit(0));
});
writeSync(1, `${host.newAddress()}\n`);
