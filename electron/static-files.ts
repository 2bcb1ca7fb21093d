import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { isDeviceName } from '../core/paths.ts';

// What the loopback host and the app:// protocol serve alike: the built renderer, and nothing outside its folder.

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webp': 'image/webp',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.wasm': 'application/wasm',
  '.txt': 'text/plain; charset=utf-8',
};

export interface StaticFile {
  body: Buffer;
  headers: Record<string, string>;
}

/** The file of `folder` an address names, or undefined where there is none or the address points outside it. */
export async function readStatic(folder: string, pathname: string): Promise<StaticFile | undefined> {
  const file = resolveInside(folder, pathname);
  if (file === undefined) return undefined;
  let body: Buffer;
  try {
    body = await readFile(file);
  } catch {
    return undefined;
  }
  const extension = path.extname(file).toLowerCase();
  const nonce = randomBytes(16).toString('base64');
  if (extension === '.html') body = Buffer.from(withNonce(body.toString('utf8'), nonce));
  return {
    body,
    headers: {
      ...securityHeaders(nonce),
      'content-type': TYPES[extension] ?? 'application/octet-stream',
      // Built assets carry a hash of their content in their name; the page itself must always be asked for.
      'cache-control': /^\/assets\/.+-[\w-]{8,}\.\w+$/.test(pathname)
        ? 'private, max-age=31536000, immutable'
        : 'no-store',
    },
  };
}

/**
 * Valvebook has no service worker. If another program held this address while Valvebook was closed, a page of it may have left
 * one in the browser; at the next look for a newer version the browser gets this one, which takes itself away.
 */
export const WORKER_THAT_LEAVES: StaticFile = {
  body: Buffer.from(`addEventListener('install', () => skipWaiting());
addEventListener('activate', (event) => event.waitUntil((async () => {
  await registration.unregister();
  for (const page of await clients.matchAll({ type: 'window', includeUncontrolled: true })) await page.navigate(page.url);
})()));
`),
  headers: { ...securityHeaders('none'), 'content-type': TYPES['.js'] ?? '', 'cache-control': 'no-store' },
};

/** The path on disk of an address below `folder`; undefined for every way out of it, written plainly or encoded. */
export function resolveInside(folder: string, pathname: string): string | undefined {
  let decoded: string;
  try {
    decoded = decodeURIComponent(pathname);
  } catch {
    return undefined;
  }
  const names = decoded.split('/');
  if (/[\0\\:]/.test(decoded) || names.includes('..')) return undefined;
  // On Windows these would be a device that never answers, or another name for a file.
  if (names.some((name) => isDeviceName(name) || /[. ]$/.test(name))) return undefined;
  const root = path.resolve(folder);
  const file = path.resolve(root, `.${decoded.startsWith('/') ? decoded : `/${decoded}`}`);
  if (file === root) return path.join(root, 'index.html');
  return file.startsWith(root + path.sep) ? file : undefined;
}

/** Headers of every answer. Scripts come from our own files only; a style element only with this answer's nonce. */
export function securityHeaders(nonce: string): Record<string, string> {
  return {
    'content-security-policy': [
      "default-src 'none'",
      "script-src 'self'",
      `style-src 'self' 'nonce-${nonce}'`,
      "img-src 'self' data: blob:",
      "font-src 'self'",
      "connect-src 'self'",
      "worker-src 'none'",
      "base-uri 'none'",
      "form-action 'none'",
      "frame-ancestors 'none'",
    ].join('; '),
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'referrer-policy': 'no-referrer',
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
    'permissions-policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=()',
  };
}

/** Accessible-control libraries add small style elements of their own and look for the nonce in this tag. */
function withNonce(html: string, nonce: string): string {
  return html.replace(/<head(\s[^>]*)?>/i, (head) => `${head}<meta property="csp-nonce" nonce="${nonce}">`);
}
