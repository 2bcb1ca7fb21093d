import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Progress, Reply, Topic } from '../../core/contract/index.ts';
import type { CallOptions } from '../../core/desk.ts';
import { startLoopback, type Loopback } from '../../electron/loopback.ts';
import { resolveInside } from '../../electron/static-files.ts';

const BODY_LIMIT = 4096;

interface Call {
  name: string;
  input: unknown;
  signal: AbortSignal | undefined;
}
let folder: string;
let host: Loopback;
let calls: Call[] = [];
let tellChange: (topics: Topic[]) => void = () => undefined;
let behave: (call: Call, options: CallOptions) => Promise<Reply> | Reply = () => ({ ok: true, data: null });

interface Answer {
  status: number;
  headers: Record<string, string | string[] | undefined>;
  text: string;
}

/** node:http, because fetch would not send a wrong Host or Origin for us. */
function ask(
  target: string,
  options: { method?: string; headers?: Record<string, string>; body?: string | Buffer } = {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const { hostname, port } = new URL(host.origin);
    const request = httpRequest(
      { hostname, port, path: target, method: options.method ?? 'GET', headers: options.headers },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            text: Buffer.concat(chunks).toString(),
          }),
        );
        response.on('error', reject);
      },
    );
    request.on('error', reject);
    request.end(options.body);
  });
}

async function letIn(): Promise<string> {
  const answer = await ask(host.newAddress().slice(host.origin.length));
  return String(answer.headers['set-cookie']?.[0]).split(';')[0] ?? '';
}

const post = (name: string, body: string | Buffer, headers: Record<string, string>) =>
  ask(`/request/${name}`, {
    method: 'POST',
    body,
    headers: { 'content-type': 'application/json', origin: host.origin, ...headers },
  });

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'valvebook-loopback-'));
  mkdirSync(path.join(folder, 'site', 'assets'), { recursive: true });
  writeFileSync(
    path.join(folder, 'site', 'index.html'),
    '<!doctype html><html><head><title>x</title></head><body></body></html>',
  );
  writeFileSync(path.join(folder, 'site', 'assets', 'main-AbCd1234.js'), 'export {};');
  writeFileSync(path.join(folder, 'secret.txt'), 'secret');
  host = await startLoopback({
    rendererDir: path.join(folder, 'site'),
    bodyLimit: BODY_LIMIT,
    desk: {
      async call(name, input, options = {}) {
        const call = { name, input, signal: options.signal };
        calls.push(call);
        return behave(call, options);
      },
      onChange(listener) {
        tellChange = listener;
        return () => undefined;
      },
    },
  });
});
afterAll(async () => {
  await host.close();
  rmSync(folder, { recursive: true, force: true });
});
beforeEach(() => {
  calls = [];
  behave = ({ input }) => ({ ok: true, data: input });
});

describe('who is let in', () => {
  it('listens on 127.0.0.1 only and hands out a cookie for a key, once', async () => {
    expect(host.origin).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    const address = host.newAddress().slice(host.origin.length);
    const first = await ask(address);
    expect(first.status).toBe(303);
    expect(first.headers.location).toBe('/');
    const cookie = String(first.headers['set-cookie']?.[0]);
    expect(cookie).toMatch(/; HttpOnly/);
    expect(cookie).toMatch(/; SameSite=Strict/);
    const second = await ask(address);
    expect(second.status).toBe(401);
    expect(second.headers['set-cookie']).toBeUndefined();
    // The same browser reloading its first address is not turned away.
    expect((await ask(address, { headers: { cookie: cookie.split(';')[0] ?? '' } })).status).toBe(303);
  });

  it('refuses pages, requests and the event stream without the cookie, or with a made-up one', async () => {
    for (const cookie of ['', `valvebook-${new URL(host.origin).port}=${'A'.repeat(43)}`]) {
      expect((await ask('/', { headers: { cookie } })).status).toBe(401);
      expect((await ask('/changes', { headers: { cookie } })).status).toBe(401);
      const answer = await post('client.list', '{}', { cookie });
      expect(answer.status).toBe(401);
      expect(JSON.parse(answer.text)).toMatchObject({ ok: false, error: { code: 'conflict' } });
    }
    expect((await ask('/?key=AAAA')).status).toBe(401);
    expect(calls).toEqual([]);
  });

  it('refuses another Host, another Origin, a POST without Origin and a request another site made', async () => {
    const cookie = await letIn();
    const wrong: Record<string, string>[] = [
      { host: 'valvebook.example.com' },
      { host: `localhost:${new URL(host.origin).port}` },
      { origin: 'https://example.com' },
      { origin: 'null' },
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
    ];
    for (const headers of wrong) {
      const answer = await post('client.list', '{}', { cookie, ...headers });
      expect([403, 421], JSON.stringify(headers)).toContain(answer.status);
    }
    const bare = await ask('/request/client.list', {
      method: 'POST',
      body: '{}',
      headers: { cookie, 'content-type': 'application/json' },
    });
    expect(bare.status).toBe(403);
    expect(calls).toEqual([]);
    expect((await post('client.list', '{}', { cookie })).status).toBe(200);
    expect(calls).toHaveLength(1);
  });
});

describe('what is served', () => {
  it('sends a strict policy with every answer, and the nonce of style elements inside the page', async () => {
    const cookie = await letIn();
    const page = await ask('/', { headers: { cookie } });
    const policy = String(page.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self';");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toContain('unsafe');
    const nonce = /'nonce-([^']+)'/.exec(policy)?.[1] ?? '';
    expect(page.text).toContain(`<meta property="csp-nonce" nonce="${nonce}">`);
    expect((await ask('/', { headers: { cookie } })).headers['content-security-policy']).not.toBe(policy);
    for (const answer of [
      page,
      await ask('/nothing', { headers: { cookie } }),
      await post('a', '{}', { cookie }),
      await ask('/'),
    ]) {
      expect(answer.headers['x-content-type-options']).toBe('nosniff');
      expect(answer.headers['referrer-policy']).toBe('no-referrer');
      expect(answer.headers['content-security-policy']).toContain("frame-ancestors 'none'");
    }
  });

  it('keeps the page fresh and built assets cached', async () => {
    const cookie = await letIn();
    expect((await ask('/', { headers: { cookie } })).headers['cache-control']).toBe('no-store');
    const asset = await ask('/assets/main-AbCd1234.js', { headers: { cookie } });
    expect(asset.headers['cache-control']).toContain('immutable');
    expect(asset.headers['content-type']).toContain('text/javascript');
  });

  it('finds no way out of the folder', async () => {
    const cookie = await letIn();
    for (const target of [
      '/../secret.txt',
      '/%2e%2e/secret.txt',
      '/..%2fsecret.txt',
      '/assets/..%2f..%2fsecret.txt',
      '/..%5csecret.txt',
      '/%2e%2e%5csecret.txt',
      '//etc/passwd',
      '/%00',
      '/%E0%A4%A',
    ]) {
      const answer = await ask(target, { headers: { cookie } });
      expect(answer.status, target).toBe(404);
      expect(answer.text).not.toContain('secret');
    }
    expect(resolveInside('/srv/site', '/a/../../secret')).toBeUndefined();
    expect(resolveInside('/srv/site', '/C:/windows')).toBeUndefined();
    expect(resolveInside('/srv/site', '/')).toBe(path.resolve('/srv/site/index.html'));
  });
});

describe('requests', () => {
  it('passes name and input through and the reply back', async () => {
    const cookie = await letIn();
    const answer = await post('client.list', '{"search":"Öz"}', { cookie });
    expect(JSON.parse(answer.text)).toEqual({ ok: true, data: { search: 'Öz' } });
    expect(calls).toMatchObject([{ name: 'client.list', input: { search: 'Öz' } }]);
  });

  it('answers what cannot be a request with a failure, and calls nothing', async () => {
    const cookie = await letIn();
    const cases: [Promise<Answer>, number, string][] = [
      [post('client.list', '{"search":', { cookie }), 400, 'bad-input'],
      [post('client.list', Buffer.from([0x22, 0xff, 0xfe, 0x22]), { cookie }), 400, 'bad-input'],
      [post('client.list', '{}', { cookie, 'content-type': 'text/plain' }), 415, 'bad-input'],
      [post('%E0%A4%A', '{}', { cookie }), 404, 'unknown-request'],
      [ask('/request/client.list', { headers: { cookie } }), 405, 'conflict'],
    ];
    for (const [asked, status, code] of cases) {
      const answer = await asked;
      expect(answer.status).toBe(status);
      expect(JSON.parse(answer.text)).toMatchObject({ ok: false, error: { code } });
    }
    expect(calls).toEqual([]);
  });

  it('gives an unknown request the status 404 and every other failure as a reply', async () => {
    const cookie = await letIn();
    behave = ({ name }) => ({
      ok: false,
      error: { code: name === 'no.such' ? 'unknown-request' : 'stale', message: 'x' },
    });
    expect((await post('no.such', '{}', { cookie })).status).toBe(404);
    expect((await post('client.save', '{}', { cookie })).status).toBe(200);
  });

  it('refuses a body over the limit with a sentence, announced or not', async () => {
    const cookie = await letIn();
    const large = JSON.stringify({ text: 'x'.repeat(BODY_LIMIT) });
    for (const headers of [{ 'content-length': String(large.length) }, { 'transfer-encoding': 'chunked' }] as Record<
      string,
      string
    >[]) {
      const answer = await post('import.apply', large, { cookie, ...headers });
      expect(answer.status).toBe(413);
      expect(JSON.parse(answer.text)).toMatchObject({
        ok: false,
        error: { code: 'bad-input', message: expect.stringContaining('MB') },
      });
    }
    expect(calls).toEqual([]);
  });

  it('streams progress lines and then the reply', async () => {
    const cookie = await letIn();
    behave = async (_call, { onProgress }) => {
      onProgress?.({ done: 0, total: 2, label: 'Reading' });
      await new Promise((resolve) => setTimeout(resolve, 80));
      onProgress?.({ done: 2, total: 2, label: 'Reading' });
      return { ok: true, data: 'done' };
    };
    const answer = await post('book.check', '{}', { cookie, accept: 'application/x-ndjson' });
    expect(answer.headers['content-type']).toContain('application/x-ndjson');
    const lines = answer.text
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { progress?: Progress; reply?: Reply });
    expect(lines).toEqual([
      { progress: { done: 0, total: 2, label: 'Reading' } },
      { progress: { done: 2, total: 2, label: 'Reading' } },
      { reply: { ok: true, data: 'done' } },
    ]);
  });

  it('cancels a job when its caller goes away', async () => {
    const cookie = await letIn();
    const cancelled = new Promise<void>((resolve) => {
      behave = ({ signal }) =>
        new Promise<Reply>((reply) => {
          signal?.addEventListener('abort', () => {
            resolve();
            reply({ ok: false, error: { code: 'cancelled', message: 'Cancelled.' } });
          });
        });
    });
    const leave = new AbortController();
    const asked = fetch(`${host.origin}/request/program.reviewAll`, {
      method: 'POST',
      body: '{}',
      signal: leave.signal,
      headers: { 'content-type': 'application/json', accept: 'application/x-ndjson', origin: host.origin, cookie },
    });
    const response = await asked;
    expect(response.status).toBe(200);
    leave.abort();
    await cancelled;
    expect(calls[0]?.signal?.aborted).toBe(true);
  });
});

describe('changes', () => {
  it('pushes the topics of every change', async () => {
    const cookie = await letIn();
    const response = await fetch(`${host.origin}/changes`, { headers: { cookie } });
    expect(response.headers.get('content-type')).toContain('text/event-stream');
    const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
    let seen = '';
    while (!seen.includes('listening')) seen += (await reader.read()).value ?? '';
    tellChange(['client', 'visit']);
    while (!seen.includes('data:')) seen += (await reader.read()).value ?? '';
    expect(seen).toContain('data: ["client","visit"]\n\n');
    await reader.cancel();
  });
});

describe('starting', () => {
  it('says in a sentence that a port is taken', async () => {
    const port = Number(new URL(host.origin).port);
    await expect(
      startLoopback({
        rendererDir: folder,
        port,
        desk: { call: async () => ({ ok: true, data: null }), onChange: () => () => undefined },
      }),
    ).rejects.toMatchObject({ code: 'conflict', field: 'port', message: expect.stringContaining(`Port ${port}`) });
  });
});
