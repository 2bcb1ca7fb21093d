import fc from 'fast-check';
import { connect } from 'node:net';
import { PassThrough } from 'node:stream';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BodyReader } from '../../electron/loopback-body.ts';
import { startLoopback, type Loopback } from '../../electron/loopback.ts';

// Bytes that no browser would send, from anybody on this machine who can open a socket.

let host: Loopback;
let called = 0;
beforeAll(async () => {
  host = await startLoopback({
    rendererDir: import.meta.dirname,
    desk: {
      call: async () => {
        called += 1;
        return { ok: true, data: null };
      },
      onChange: () => () => undefined,
    },
  });
});
afterAll(() => host.close());

/** What comes back for these bytes until the other side closes, or until this one does: noise may be half a request. */
function send(bytes: Buffer, patienceMs?: number): Promise<string> {
  return new Promise((resolve) => {
    const { hostname, port } = new URL(host.origin);
    const socket = connect(Number(port), hostname, () => {
      socket.write(bytes);
      if (patienceMs !== undefined) setTimeout(() => socket.end(), patienceMs);
    });
    let answer = '';
    socket.setEncoding('latin1');
    socket.on('data', (text: string) => (answer += text));
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(answer));
  });
}
const statusesOf = (answer: string) => [...answer.matchAll(/^HTTP\/1\.1 (\d{3})/gm)].map((match) => Number(match[1]));
const hostName = () => new URL(host.origin).host;
const request = (line: string, ...headers: string[]) =>
  Buffer.from([line, `Host: ${hostName()}`, 'Connection: close', ...headers, '', ''].join('\r\n'), 'latin1');

describe('raw sockets', () => {
  it('answers what cannot be a request with 400 and a sentence', async () => {
    for (const target of [
      '//',
      '//[',
      '///:@',
      '/%',
      '/%zz',
      '/a%E0%A4',
      '/\u00ff',
      '*',
      'http://[',
      'http://x/',
      '/request/%',
    ])
      for (const method of ['GET', 'POST', 'OPTIONS']) {
        const answer = await send(request(`${method} ${target} HTTP/1.1`));
        expect(statusesOf(answer), `${method} ${target}: ${answer.slice(0, 80)}`).toEqual([400]);
        expect(answer).toMatch(/cannot be read|not a request that Valvebook understands/);
      }
  });

  it('answers bytes that are no cookie, secret or host without a fault of its own', async () => {
    const cases: [Buffer, number][] = [
      [request('GET /changes HTTP/1.1', `Cookie: valvebook-${new URL(host.origin).port}=${'\u00ff'.repeat(43)}`), 401],
      [request('GET /changes HTTP/1.1', `valvebook-session: ${'\u00e9'.repeat(43)}`), 401],
      [request('GET /changes HTTP/1.1', `valvebook-session: a`, `valvebook-session: b`), 401],
      [request('GET /session HTTP/1.1', 'valvebook-session: '), 401],
      [Buffer.from('GET / HTTP/1.1\r\nHost: \u00ff\r\nConnection: close\r\n\r\n', 'latin1'), 421],
      [Buffer.from('GET / HTTP/1.1\r\nHost: [\r\nConnection: close\r\n\r\n'), 421],
      [Buffer.from('GET / HTTP/1.1\r\nConnection: close\r\n\r\n'), 400],
      [Buffer.from('GET / HTTP/1.0\r\n\r\n'), 421],
      // RFC 9112, section 3.2: more than one Host is answered 400.
      [request('GET / HTTP/1.1', 'Host: evil.example.com'), 400],
      [request('GET / HTTP/1.1', `Host: ${hostName()}`), 400],
      [request('GET / HTTP/1.1', 'Expect: the-unexpected'), 417],
      [request('GET / HTTP/1.1', `X-Long: ${'x'.repeat(70_000)}`), 431],
      [Buffer.from('\u0016\u0003\u0001\u0002\u0000', 'latin1'), 400],
      [Buffer.from('hello\r\n\r\n'), 400],
    ];
    for (const [bytes, status] of cases) {
      const answer = await send(bytes);
      expect(statusesOf(answer), `${bytes.toString('latin1').slice(0, 60)}: ${answer.slice(0, 80)}`).toEqual([status]);
    }
  });

  it('lets its user in while others of the machine send bodies that never end', async () => {
    const { hostname, port } = new URL(host.origin);
    const begun = Buffer.concat([
      request(
        'POST /session HTTP/1.1',
        `Origin: ${host.origin}`,
        'Content-Type: application/json',
        'Content-Length: 4096',
      ),
      Buffer.from('{'),
    ]);
    const slow = await Promise.all(
      Array.from({ length: 150 }, async () => {
        const socket = connect(Number(port), hostname);
        socket.on('error', () => undefined);
        await new Promise<void>((sent) => socket.write(begun, () => sent()));
        return socket;
      }),
    );
    try {
      const key = new URL(host.newAddress()).hash.slice('#key='.length);
      const answer = await fetch(`${host.origin}/session`, {
        method: 'POST',
        headers: { origin: host.origin, 'content-type': 'application/json' },
        body: JSON.stringify({ key, secret: 'S'.repeat(43) }),
      });
      expect(await answer.json()).toMatchObject({ ok: true });
      const large = await fetch(`${host.origin}/session`, {
        method: 'POST',
        headers: { origin: host.origin, 'content-type': 'application/json' },
        body: JSON.stringify({ key: 'x'.repeat(5000) }),
      });
      expect(large.status).toBe(413);
      expect(await large.json()).toMatchObject({ error: { message: expect.stringContaining('4096 bytes') } });
    } finally {
      for (const socket of slow) socket.destroy();
    }
  });

  it('reads a body no longer than it may take, however steadily it comes', async () => {
    const body = new PassThrough();
    const dripping = setInterval(() => body.write(' '), 5);
    try {
      const reader = new BodyReader({ limit: 1_000_000, budget: 1_000_000, withinMs: 60 });
      expect(await reader.read(Object.assign(body, { headers: {} }) as never)).toMatchObject({ status: 408 });
    } finally {
      clearInterval(dripping);
      body.destroy();
    }
  });

  it('meets 5,000 random requests, unasked, with no 500 and no crash, and asks the book nothing', async () => {
    const noise = fc.string({ unit: 'binary', maxLength: 40 });
    const odd = fc.constantFrom(
      '//',
      '//[',
      '///:@',
      '%',
      '%zz',
      '%00',
      '\\',
      '..',
      '?',
      '#',
      '[',
      ']',
      '@',
      ':',
      'é',
      '/session',
      '/session/proof',
      '/session/tab',
      '/request/',
      '/changes',
      '*',
    );
    const target = fc.oneof(
      fc.array(fc.oneof(odd, noise), { maxLength: 6 }).map((parts) => `/${parts.join('')}`),
      odd,
      noise,
      fc.constantFrom('/changes', '/session', '/session/proof', '/session/tab', '/request/book.info'),
    );
    const header = fc.tuple(
      fc.constantFrom(
        'Cookie',
        'Origin',
        'Host',
        'valvebook-session',
        'Sec-Fetch-Site',
        'Sec-Fetch-Mode',
        'Content-Type',
        'Content-Length',
        'Transfer-Encoding',
        'Expect',
        'Upgrade',
        'Accept',
        'Service-Worker',
        'Range',
        'X',
      ),
      fc.oneof(
        noise,
        fc.constantFrom(
          'chunked',
          '-1',
          '0',
          '5',
          '99999999999999999999',
          '100-continue',
          'application/json',
          'websocket',
          'null',
          'script',
          'navigate',
          'CROSS-SITE',
        ),
      ),
    );
    const wild = fc.record({
      method: fc.oneof(
        {
          weight: 9,
          arbitrary: fc.constantFrom(
            'GET',
            'GET',
            'POST',
            'POST',
            'GET',
            'POST',
            'HEAD',
            'PUT',
            'OPTIONS',
            'CONNECT',
            'TRACE',
            'PRI',
          ),
        },
        { weight: 1, arbitrary: noise },
      ),
      target,
      version: fc.constantFrom('HTTP/1.1', 'HTTP/1.1', 'HTTP/1.0', 'HTTP/2.0', 'HTTP/9', ''),
      ours: fc.integer({ min: 0, max: 3 }).map((n) => n > 0),
      headers: fc.array(header, { maxLength: 3 }),
      body: fc.oneof(
        fc.constant(''),
        noise,
        fc.json(),
        fc.constantFrom('{"key":1,"secret":[]}', '{"id":{},"nonce":null}', 'null', '[]', '"x"'),
      ),
      json: fc.boolean(),
    });
    const seen = new Map<number, number>();
    let sent = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(wild, { minLength: 20, maxLength: 20 }), async (many) => {
        const answers = await Promise.all(
          many.map(({ method, target: where, version, ours, headers, body, json }) => {
            const lines = [`${method} ${where} ${version}`];
            if (ours) lines.push(`Host: ${hostName()}`, `Origin: ${host.origin}`, 'Connection: close');
            if (json)
              lines.push('Content-Type: application/json', `Content-Length: ${Buffer.byteLength(body, 'latin1')}`);
            for (const [name, value] of headers) lines.push(`${name}: ${value}`);
            return send(Buffer.from(`${lines.join('\r\n')}\r\n\r\n${body}`, 'latin1'), 80);
          }),
        );
        for (const answer of answers)
          for (const status of statusesOf(answer)) {
            seen.set(status, (seen.get(status) ?? 0) + 1);
            expect(status, answer.slice(0, 300)).toBeLessThan(500);
          }
        sent += many.length;
      }),
      { numRuns: 250, endOnFailure: true },
    );
    expect(sent).toBeGreaterThanOrEqual(5000);
    // The noise got past the parser often enough to mean something.
    for (const status of [400, 401, 404, 421]) expect(seen.get(status) ?? 0, `${status}`).toBeGreaterThan(20);
    expect(called).toBe(0);
    expect(statusesOf(await send(request('GET /loopback-raw.test.ts HTTP/1.1')))).toEqual([200]);
  });
});
