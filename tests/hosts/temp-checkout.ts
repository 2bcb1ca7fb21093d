import { cpSync, mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

const source = path.resolve(import.meta.dirname, '../..');

/** A copy of the sources with the same packages and a renderer of one line, to build and start without touching this checkout. */
export function makeCheckout(): string {
  const root = mkdtempSync(path.join(tmpdir(), 'valvebook-checkout-'));
  for (const part of ['core', 'electron', 'migrations', 'assets', 'vite.config.ts', 'package.json'])
    cpSync(path.join(source, part), path.join(root, part), { recursive: true });
  symlinkSync(path.join(source, 'node_modules'), path.join(root, 'node_modules'), 'junction');
  mkdirSync(path.join(root, 'renderer'));
  writeFileSync(
    path.join(root, 'renderer/index.html'),
    '<!doctype html><html><head></head><body><script type="module" src="./main.ts"></script></body></html>',
  );
  writeFileSync(path.join(root, 'renderer/main.ts'), "document.body.textContent = 'one';\n");
  return root;
}
