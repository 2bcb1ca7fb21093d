import { connect } from 'node:net';
import type { Chance } from '../../core/demo/random.ts';
import type { HostClient } from './host-client.ts';

// What no window of ours would send: other bytes, other addresses, other headers, half a request.

/** What became of it: a status; or 'closed', where the host ended the connection without an answer, as HTTP allows for what is not HTTP. */
export interface Outcome {
  what: string;
  status: number | 'closed';
  text: string;
}

const BODIES: readonly (string | Buffer)[] = [
  '{',
  ']',
  'null',
  '1',
  '"text"',
  '[]',
  'NaN',
  '{"a":1,"a":2}',
  '{"__proto__":{"x":1}}',
  '\ufeff{}',
  ' ',
  "{'a':1}",
  'undefined',
  Buffer.from([0xff, 0xfe, 0x00]),
  Buffer.from([0xc0, 0xaf]),
  Buffer.alloc(3000, 0x5b),
  `${'['.repeat(50_000)}`,
  `${'{"a":'.repeat(20_000)}1${'}'.repeat(20_000)}`,
  `{"propertyId":"${'A'.repeat(300_000)}"}`,
  '{"limit":1e400}',
  '{"limit":-0}',
  JSON.stringify({ limit: 3, search: '\ud800' }),
  '{"search":"\\ud800"}',
  '{"search":"\\u0000"}',
];
const NAMES = [
  'client.list',
  'visit.record',
  'book.check',
  'nothing',
  '',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'client.list/',
  '%00',
  '%ff',
  '%E0%A4%A',
  'client.list?x=1',
  '..%2f..',
  'a'.repeat(4000),
  'CLIENT.LIST',
  'client%2Elist',
];
const PATHS = [
  '/',
  '//',
  '//[',
  '///:@',
  '/%',
  '/%00',
  '/..%2f..%2fetc%2fpasswd',
  '/../../etc/passwd',
  '/index.html',
  '/changes?x',
  '/?key=',
  '/?key=x',
  '/?key=%ff',
  '/assets/',
  '/\\',
  '/%5c..%5c',
  `/${'a'.repeat(9000)}`,
  '/request',
  '/session',
  '/session/tab',
  '/session/proof',
  '/request/',
  '*',
];
const HEADERS: readonly Record<string, string>[] = [
  { 'content-type': 'text/plain' },
  { 'content-type': '' },
  { 'content-type': 'application/json; charset=utf-16' },
  { origin: 'null' },
  { origin: 'http://example.com' },
  { 'sec-fetch-site': 'cross-site' },
  { cookie: '' },
  { cookie: 'a=é' },
  { cookie: '=;=;;' },
  { cookie: `x=${'y'.repeat(7000)}` },
  { host: 'example.com' },
  { accept: 'application/x-ndjson' },
  { 'content-encoding': 'gzip' },
];
const LINES = [
  'GET / HTTP/9.9\r\n\r\n',
  'POST /request/client.list HTTP/1.1\r\nhost: x\r\ncontent-length: -1\r\n\r\n',
  '\r\n\r\n\r\n',
  'GET\r\n\r\n',
  'GET / HTTP/1.1\r\nhost: a\r\nhost: b\r\n\r\n',
  'CONNECT example.com:443 HTTP/1.1\r\nhost: example.com\r\n\r\n',
  '\u0016\u0003\u0001\u0002',
  'POST / HTTP/1.1\r\nhost: x\r\ntransfer-encoding: chunked\r\n\r\nZZ\r\n',
  'OPTIONS * HTTP/1.1\r\nhost: x\r\n\r\n',
  'POST / HTTP/1.1\r\nhost: x\r\ncontent-length: 5\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\nGET',
];

/** Sends one thing that is not a request. */
export async function sendGarbage(client: HostClient, chance: Chance): Promise<Outcome> {
  const name = encodeURI(chance.pick(NAMES)).replaceAll('%25', '%');
  switch (chance.int(0, 5)) {
    case 0: {
      const body = chance.pick(BODIES);
      const { status, text } = await client.post(chance.pick(['client.list', 'visit.record', 'book.info']), body);
      return { what: `body ${shorten(body)}`, status, text };
    }
    case 1: {
      const { status, text } = await client.post(name, '{}');
      return { what: `request named ${shorten(name)}`, status, text };
    }
    case 2: {
      const path = chance.pick(PATHS);
      const method = chance.pick(['GET', 'HEAD', 'POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH', 'TRACE']);
      const origin: Record<string, string> = chance.yes(0.5) ? { origin: client.origin } : {};
      const pass = chance.yes(0.7) ? client.pass : {};
      const { status, text } = await client.send(path, { method, headers: { ...origin, ...pass } });
      return { what: `${method} ${shorten(path)}`, status, text };
    }
    case 3: {
      const headers = chance.pick(HEADERS);
      const { status, text } = await client.send('/request/client.list', {
        method: 'POST',
        body: '{}',
        headers: latin({ 'content-type': 'application/json', origin: client.origin, ...client.pass, ...headers }),
      });
      return { what: `header ${shorten(JSON.stringify(headers))}`, status, text };
    }
    case 4: {
      const line = chance.pick(LINES);
      return raw(client, Buffer.from(line, 'latin1'), `bytes ${shorten(line)}`);
    }
    default: {
      // A sender that goes away in the middle of its body.
      const { host } = new URL(client.origin);
      const pass = Object.entries(client.pass).map(([field, value]) => `${field}: ${value}\r\n`);
      const head = `POST /request/client.list HTTP/1.1\r\nhost: ${host}\r\norigin: ${client.origin}\r\n${pass.join('')}content-type: application/json\r\ncontent-length: 400\r\n\r\n`;
      return raw(client, Buffer.from(`${head}{"search":`), 'half a body, then gone');
    }
  }
}

/** Sends bytes over a connection of their own and ends it. */
function raw(client: HostClient, bytes: Buffer, what: string): Promise<Outcome> {
  return new Promise((resolve) => {
    const socket = connect(Number(new URL(client.origin).port), '127.0.0.1');
    let text = '';
    const done = () => {
      const status = /^HTTP\/1\.1 (\d{3})/.exec(text)?.[1];
      resolve({ what, status: status === undefined ? 'closed' : Number(status), text });
    };
    // The host's own limit for headers is far above this: a connection left open with nothing said counts as closed by us.
    socket.setTimeout(2000, () => socket.destroy());
    socket.on('data', (chunk: Buffer) => (text += chunk.toString('latin1')));
    socket.on('error', () => undefined);
    socket.on('close', done);
    socket.end(bytes);
  });
}

const shorten = (value: string | Buffer) => JSON.stringify(String(value).slice(0, 60));
/** Header values as bytes: node:http refuses what is above U+00FF by itself. */
const latin = (headers: Record<string, string>) =>
  Object.fromEntries(Object.entries(headers).map(([name, value]) => [name, Buffer.from(value).toString('latin1')]));
