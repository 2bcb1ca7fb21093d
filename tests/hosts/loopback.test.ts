import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createHash, createHmac, randomBytes } from 'node:crypto';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { PLAIN_READER, sayFact } from '../../core/text/say.ts';
import type { Progress, Reply, Topic } from '../../core/contract/index.ts';
import type { CallOptions } from '../../core/desk/desk.ts';
import { KEY_LIFE_MS } from '../../electron/loopback-door.ts';
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
let clock = Date.now();
const ended: string[] = [];
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

const newSecret = () => randomBytes(32).toString('base64url');
const keyOf = (address: string) => /#key=([\w-]+)$/.exec(address)?.[1] ?? '';
const redeem = (key: string, secret: string) =>
  ask('/session', {
    method: 'POST',
    body: JSON.stringify({ key, secret }),
    headers: { 'content-type': 'application/json', origin: host.origin },
  });

/** The header of a page that is in. */
async function letIn(): Promise<{ 'valvebook-session': string }> {
  const secret = newSecret();
  expect((await redeem(keyOf(host.newAddress()), secret)).status).toBe(200);
  return { 'valvebook-session': secret };
}
const messageOf = (answer: Answer) => (JSON.parse(answer.text) as { error: { message: string } }).error.message;

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
    bodies: { limit: BODY_LIMIT },
    now: () => clock,
    onSessionEnd: (why) => ended.push(sayFact(PLAIN_READER, why)),
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
  it('listens on 127.0.0.1 only and lets a page in for a key, once, without a cookie', async () => {
    expect(host.origin).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    const address = host.newAddress();
    // What a browser sends of it is "/": the key is no part of a request, so it is in no log.
    expect(new URL(address).search).toBe('');
    const [first, second] = [newSecret(), newSecret()];
    const answer = await redeem(keyOf(address), first);
    expect(answer.status).toBe(200);
    expect(answer.headers['set-cookie']).toBeUndefined();
    expect((await post('client.list', '{}', { 'valvebook-session': first })).status).toBe(200);
    // The same page again, because its first answer was lost: still in.
    expect((await redeem(keyOf(address), first)).status).toBe(200);
    expect((await post('client.list', '{}', { 'valvebook-session': first })).status).toBe(200);
    const again = await redeem(keyOf(address), second);
    expect(again.status).toBe(401);
    expect(messageOf(again)).toContain('has been used already');
    expect((await post('client.list', '{}', { 'valvebook-session': second })).status).toBe(401);
  });

  it('ends the session when its key is used a second time, and says so on its line and to its requests', async () => {
    const address = host.newAddress();
    const session = { 'valvebook-session': newSecret() };
    await redeem(keyOf(address), session['valvebook-session']);
    const line = await fetch(`${host.origin}/changes`, { headers: session });
    await redeem(keyOf(address), newSecret());
    const heard = await line.text();
    expect(heard).toContain('event: ended\ndata: {"key":"session.usedTwice"');
    expect(ended.at(-1)).toContain('used a second time');
    expect(messageOf(await post('client.list', '{}', session))).toContain('used a second time');
    expect(calls).toEqual([]);
  });

  it('ends the session before when another window is opened with a new key', async () => {
    const first = await letIn();
    const line = await fetch(`${host.origin}/changes`, { headers: first });
    const second = await letIn();
    const word = 'Valvebook was opened in another window; this one has been closed to be safe.';
    expect(await line.text()).toContain('event: ended\ndata: {"key":"session.replaced"');
    expect(messageOf(await post('client.list', '{}', first))).toBe(word);
    expect((await post('client.list', '{}', second)).status).toBe(200);
    // An ended secret does not come back with a new key.
    expect((await redeem(keyOf(host.newAddress()), first['valvebook-session'])).status).toBe(401);
  });

  it('lets keys die after two minutes', async () => {
    const [early, late] = [keyOf(host.newAddress()), keyOf(host.newAddress())];
    clock += KEY_LIFE_MS - 1;
    expect((await redeem(early, newSecret())).status).toBe(200);
    clock += 1;
    const answer = await redeem(late, newSecret());
    expect(answer.status).toBe(401);
    expect(messageOf(answer)).toContain('older than two minutes');
  });

  it('lets another tab join the session with a key of the first, which lives on', async () => {
    const first = await letIn();
    const asked = await ask('/session/tab', {
      method: 'POST',
      body: '{}',
      headers: { ...first, origin: host.origin, 'content-type': 'application/json' },
    });
    const { key } = JSON.parse(asked.text) as { key: string };
    const second = { 'valvebook-session': newSecret() };
    expect((await redeem(key, second['valvebook-session'])).status).toBe(200);
    for (const session of [first, second]) expect((await post('client.list', '{}', session)).status).toBe(200);
    // A third who heard that key gets nothing, and both tabs are closed.
    expect((await redeem(key, newSecret())).status).toBe(401);
    for (const session of [first, second]) expect((await post('client.list', '{}', session)).status).toBe(401);
    const stranger = await ask('/session/tab', {
      method: 'POST',
      body: '{}',
      headers: { origin: host.origin, 'content-type': 'application/json', 'valvebook-session': newSecret() },
    });
    expect(stranger.status).toBe(401);
  });

  it('shows who it is to a page it let in, before that page sends its secret', async () => {
    const secret = (await letIn())['valvebook-session'];
    const prove = (of: string) =>
      ask('/session/proof', {
        method: 'POST',
        body: JSON.stringify({ id: createHash('sha256').update(of).digest('base64url'), nonce: 'N1' }),
        headers: { origin: host.origin, 'content-type': 'application/json' },
      });
    const answer = JSON.parse((await prove(secret)).text) as { proof: string };
    expect(answer.proof).toBe(createHmac('sha256', secret).update('valvebook N1').digest('base64url'));
    expect((await prove(newSecret())).status).toBe(401);
  });

  it('refuses requests, the line for changes and the key of drafts without the secret, whatever cookie comes with it', async () => {
    const session = await letIn();
    const { port } = new URL(host.origin);
    const secret = session['valvebook-session'];
    // What another server on this machine can be sent by the browser and play back: cookies, never the header.
    const strangers: Record<string, string>[] = [
      {},
      { cookie: `valvebook-${port}=${secret}; valvebook-session=${secret}` },
      { cookie: `valvebook-${port}=\u00ff\u00e9` },
      { 'valvebook-session': newSecret() },
      { 'valvebook-session': '\u00ff'.repeat(43) },
      { 'valvebook-session': '' },
    ];
    for (const headers of strangers) {
      for (const target of ['/changes', '/session']) expect((await ask(target, { headers })).status).toBe(401);
      const answer = await post('client.list', '{}', headers);
      expect(answer.status).toBe(401);
      expect(JSON.parse(answer.text)).toMatchObject({ ok: false, error: { code: 'conflict' } });
    }
    expect((await redeem('AAAA', newSecret())).status).toBe(401);
    expect((await redeem(keyOf(host.newAddress()), 'short')).status).toBe(401);
    expect(calls).toEqual([]);
    expect((await post('client.list', '{}', session)).status).toBe(200);
  });

  it('hands the key of drafts to a page that is in', async () => {
    const session = await letIn();
    const answer = JSON.parse((await ask('/session', { headers: session })).text) as { drafts: { key: string } };
    expect(answer.drafts.key).toMatch(/^[\w-]{43}$/);
  });

  it('refuses another Host, another Origin, a POST without Origin and a request another site made', async () => {
    const session = await letIn();
    const wrong: Record<string, string>[] = [
      { host: 'valvebook.example.com' },
      { host: `localhost:${new URL(host.origin).port}` },
      { origin: 'https://example.com' },
      { origin: 'null' },
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
      { 'sec-fetch-site': 'Cross-Site' },
      { 'sec-fetch-site': 'SAME-SITE' },
    ];
    for (const headers of wrong) {
      const answer = await post('client.list', '{}', { ...session, ...headers });
      expect([403, 421], JSON.stringify(headers)).toContain(answer.status);
    }
    const bare = await ask('/request/client.list', {
      method: 'POST',
      body: '{}',
      headers: { ...session, 'content-type': 'application/json' },
    });
    expect(bare.status).toBe(403);
    expect(calls).toEqual([]);
    expect((await post('client.list', '{}', session)).status).toBe(200);
    expect(calls).toHaveLength(1);
  });
});

describe('what is served', () => {
  it('sends the first page to whoever follows a link to it, and to no page that would frame or fetch it', async () => {
    const link: Record<string, string> = {
      'sec-fetch-mode': 'navigate',
      'sec-fetch-dest': 'document',
      'sec-fetch-site': 'cross-site',
    };
    expect((await ask('/', { headers: link })).status).toBe(200);
    for (const [name, value] of Object.entries({
      'sec-fetch-dest': 'iframe',
      'sec-fetch-mode': 'no-cors',
      origin: 'null',
    }))
      expect((await ask('/', { headers: { ...link, [name]: value } })).status).toBe(403);
    expect((await ask('/assets/main-AbCd1234.js', { headers: link })).status).toBe(403);
  });

  it('sends a strict policy with every answer, and the nonce of style elements inside the page', async () => {
    const session = await letIn();
    const page = await ask('/');
    const policy = String(page.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self';");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toContain('unsafe');
    const nonce = /'nonce-([^']+)'/.exec(policy)?.[1] ?? '';
    expect(page.text).toContain(`<meta property="csp-nonce" nonce="${nonce}">`);
    expect((await ask('/')).headers['content-security-policy']).not.toBe(policy);
    for (const answer of [
      page,
      await ask('/nothing'),
      await post('a', '{}', session),
      await ask('/changes'),
      await ask('//'),
    ]) {
      expect(answer.headers['x-content-type-options']).toBe('nosniff');
      expect(answer.headers['referrer-policy']).toBe('no-referrer');
      expect(answer.headers['content-security-policy']).toContain("frame-ancestors 'none'");
    }
  });

  it('keeps the page fresh and built assets cached', async () => {
    expect((await ask('/')).headers['cache-control']).toBe('no-store');
    const asset = await ask('/assets/main-AbCd1234.js');
    expect(asset.headers['cache-control']).toContain('immutable');
    expect(asset.headers['content-type']).toContain('text/javascript');
  });

  it('finds no way out of the folder', async () => {
    for (const target of [
      '/../secret.txt',
      '/%2e%2e/secret.txt',
      '/..%2fsecret.txt',
      '/assets/..%2f..%2fsecret.txt',
      '/..%5csecret.txt',
      '/%2e%2e%5csecret.txt',
      '/%00',
    ]) {
      const answer = await ask(target);
      expect(answer.status, target).toBe(404);
      expect(answer.text).not.toContain('secret');
    }
    for (const target of ['//', '//[', '///:@', '//etc/passwd', '/%E0%A4%A', '/%', '*', 'http://127.0.0.1/']) {
      const answer = await ask(target);
      expect(answer.status, target).toBe(400);
      expect(messageOf(answer)).toContain('address');
    }
    expect(resolveInside('/srv/site', '/a/../../secret')).toBeUndefined();
    expect(resolveInside('/srv/site', '/C:/windows')).toBeUndefined();
    expect(resolveInside('/srv/site', '/')).toBe(path.resolve('/srv/site/index.html'));
  });
});

describe('requests', () => {
  it('passes name and input through and the reply back', async () => {
    const session = await letIn();
    const answer = await post('client.list', '{"search":"Öz"}', session);
    expect(JSON.parse(answer.text)).toEqual({ ok: true, data: { search: 'Öz' } });
    expect(calls).toMatchObject([{ name: 'client.list', input: { search: 'Öz' } }]);
  });

  it('answers what cannot be a request with a failure, and calls nothing', async () => {
    const session = await letIn();
    const cases: [Promise<Answer>, number, string][] = [
      [post('client.list', '{"search":', session), 400, 'bad-input'],
      [post('client.list', Buffer.from([0x22, 0xff, 0xfe, 0x22]), session), 400, 'bad-input'],
      [post('client.list', '{}', { ...session, 'content-type': 'text/plain' }), 415, 'bad-input'],
      [post('%E0%A4%A', '{}', session), 400, 'bad-input'],
      [ask('/request/client.list', { headers: session }), 405, 'conflict'],
    ];
    for (const [asked, status, code] of cases) {
      const answer = await asked;
      expect(answer.status).toBe(status);
      expect(JSON.parse(answer.text)).toMatchObject({ ok: false, error: { code } });
    }
    expect(calls).toEqual([]);
  });

  it('gives an unknown request the status 404 and every other failure as a reply', async () => {
    const session = await letIn();
    behave = ({ name }) => ({
      ok: false,
      error: { code: name === 'no.such' ? 'unknown-request' : 'stale', message: 'x' },
    });
    expect((await post('no.such', '{}', session)).status).toBe(404);
    expect((await post('client.save', '{}', session)).status).toBe(200);
  });

  it('refuses a body over the limit with a sentence, announced or not', async () => {
    const session = await letIn();
    const large = JSON.stringify({ text: 'x'.repeat(BODY_LIMIT) });
    for (const headers of [{ 'content-length': String(large.length) }, { 'transfer-encoding': 'chunked' }] as Record<
      string,
      string
    >[]) {
      const answer = await post('import.apply', large, { ...session, ...headers });
      expect(answer.status).toBe(413);
      expect(JSON.parse(answer.text)).toMatchObject({
        ok: false,
        error: { code: 'bad-input', message: expect.stringContaining('4096 bytes at once') },
      });
    }
    expect(calls).toEqual([]);
  });

  it('streams progress lines and then the reply', async () => {
    const session = await letIn();
    behave = async (_call, { onProgress }) => {
      onProgress?.({ done: 0, total: 2, label: 'Reading' });
      await new Promise((resolve) => setTimeout(resolve, 80));
      onProgress?.({ done: 2, total: 2, label: 'Reading' });
      return { ok: true, data: 'done' };
    };
    const answer = await post('book.check', '{}', { ...session, accept: 'application/x-ndjson' });
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
    const session = await letIn();
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
      headers: { 'content-type': 'application/json', accept: 'application/x-ndjson', origin: host.origin, ...session },
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
    const session = await letIn();
    const response = await fetch(`${host.origin}/changes`, { headers: session });
    expect(response.headers.get('content-type')).toContain('text/event-stream');
    const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
    let seen = '';
    while (!/event: listening\ndata: \d+\n\n/.test(seen)) seen += (await reader.read()).value ?? '';
    tellChange(['client', 'visit']);
    while (!seen.includes('data: [')) seen += (await reader.read()).value ?? '';
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
