import assert from 'node:assert/strict';
import { randomBytes } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import path from 'node:path';
import { makeDemo } from '../../../electron/demo.ts';
import { startLoopback, type Loopback } from '../../../electron/loopback.ts';
import { rendererFolder } from '../../../electron/places.ts';
import { resolveInside } from '../../../electron/static-files.ts';
import { call, TODAY, umlautFolder, type Check, type Ground } from '../check.ts';

interface Answer {
  status: number;
  headers: Record<string, string | string[] | undefined>;
  body: Buffer;
}

/** node:http, because fetch would tidy up the paths that must be refused. */
function ask(host: Loopback, target: string, headers: Record<string, string> = {}, body?: string): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const { hostname, port } = new URL(host.origin);
    const options = { hostname, port, path: target, method: body === undefined ? 'GET' : 'POST', headers };
    const request = httpRequest(options, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('end', () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, body: Buffer.concat(chunks) }),
      );
      response.on('error', reject);
    });
    request.on('error', reject);
    request.end(body);
  });
}

const sends = (host: Loopback) => ({ origin: host.origin, 'content-type': 'application/json' });

/** What a browser sends after it was let in. */
async function letIn(host: Loopback): Promise<Record<string, string>> {
  const address = new URL(host.newAddress());
  const key = new URLSearchParams(address.hash.slice(1)).get('key');
  const secret = randomBytes(32).toString('base64url');
  const { status } = await ask(host, '/session', sends(host), JSON.stringify({ key, secret }));
  assert.equal(status, 200);
  return { 'valvebook-session': secret };
}

async function served(ground: Ground) {
  const book = path.join(umlautFolder(ground), 'b.valvebook');
  await makeDemo({ path: book, properties: 3, today: TODAY });
  const desk = await ground.open(book);
  const host = await startLoopback({ desk, rendererDir: rendererFolder() });
  return { desk, host };
}

export const checks: Check[] = [
  {
    name: 'the built renderer is served over 127.0.0.1, every file as it is on the disk',
    async run(ground) {
      const { host } = await served(ground);
      try {
        assert.match(host.origin, /^http:\/\/127\.0\.0\.1:\d+$/);
        const session = await letIn(host);
        const page = await ask(host, '/', session);
        assert.equal(page.status, 200);
        assert.match(page.body.toString(), /<div id="root">|<script type="module"/);
        const assets = readdirSync(path.join(rendererFolder(), 'assets'));
        for (const name of assets) {
          const { status, body, headers } = await ask(host, `/assets/${name}`, session);
          assert.equal(status, 200, name);
          assert.deepEqual(body, readFileSync(path.join(rendererFolder(), 'assets', name)), name);
          if (name.endsWith('.js')) assert.equal(headers['content-type'], 'text/javascript; charset=utf-8');
        }
        return `${assets.length} files`;
      } finally {
        await host.close();
      }
    },
  },
  {
    name: 'requests are answered, changes announced, and nobody is let in without a key',
    async run(ground) {
      const { desk, host } = await served(ground);
      try {
        assert.equal((await ask(host, '/request/book.info', sends(host), '{}')).status, 401);
        const session = { ...sends(host), ...(await letIn(host)) };
        const answer = await ask(host, '/request/book.info', session, '{}');
        assert.equal(answer.status, 200);
        const { data } = JSON.parse(answer.body.toString()) as { data: unknown };
        assert.deepEqual(data, JSON.parse(JSON.stringify(await call(desk, 'book.info', {}))));
        const job = await ask(host, '/request/book.check', { ...session, accept: 'application/x-ndjson' }, '{}');
        assert.match(job.body.toString(), /"reply":\{"ok":true,"data":\{"clean":true/);
      } finally {
        await host.close();
      }
    },
  },
  {
    name: 'no way leads out of the served folder: backslashes, drives, streams, devices',
    async run(ground) {
      const { host } = await served(ground);
      writeFileSync(path.join(ground.folder, 'secret.txt'), 'secret');
      const drive = ground.folder.slice(0, 2);
      try {
        const session = await letIn(host);
        const out = [
          '/..%5c..%5cpackage.json',
          '/%2e%2e%5cpackage.json',
          '/assets%5c..%5c..%5c..%5cpackage.json',
          '/..%2f..%2fpackage.json',
          '/%2e%2e/%2e%2e/package.json',
          '/assets/..%5cindex.html',
          `/${drive}/windows/win.ini`,
          `/${encodeURIComponent(`${ground.folder}\\secret.txt`)}`,
          `/%5c%5c%3f%5c${encodeURIComponent(`${ground.folder}\\secret.txt`)}`,
          '/%5c%5clocalhost%5cc$%5cwindows%5cwin.ini',
          '/index.html::$DATA',
          '/index.html%3a%3a%24DATA',
          '/assets/CON',
          '/NUL',
          '/assets/nul.js',
          '/COM1.js',
          '/index.html.',
          '/index.html%20',
          '/.. /package.json',
          '/%2e%2e%20/package.json',
        ];
        for (const target of out) {
          const { status, body } = await ask(host, target.replaceAll(' ', '%20'), session);
          assert.equal([400, 404].includes(status), true, `${target}: ${status}`);
          assert.equal(/secret|"name": "valvebook"|<script/.test(body.toString()), false, target);
        }
        const site = rendererFolder();
        assert.equal(resolveInside(site, '/index.html'), path.join(site, 'index.html'));
        assert.equal(resolveInside(site, '/'), path.join(site, 'index.html'));
        return `${out.length} ways tried`;
      } finally {
        await host.close();
      }
    },
  },
];
