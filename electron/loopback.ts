import { randomBytes, timingSafeEqual } from 'node:crypto';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Desk } from '../core/desk.ts';
import { BookError, toFailure, type Failure } from '../core/errors.ts';
import { readStatic, securityHeaders } from './static-files.ts';

/** A little over the contract's largest field (128 MB of base64). */
export const BODY_LIMIT = 160 * 1024 * 1024;
const HEARTBEAT_MS = 20_000;
const PROGRESS_MS = 60;

export interface LoopbackOptions {
  desk: Pick<Desk, 'call' | 'onChange'>;
  rendererDir: string;
  /** 0 or left out: any free port. */
  port?: number;
  bodyLimit?: number;
}
export interface Loopback {
  origin: string;
  /** An address that lets one browser in, once. */
  newAddress(): string;
  close(): Promise<void>;
}

/** Serves the renderer and the requests to a browser on this machine, and to nothing else. */
export async function startLoopback(options: LoopbackOptions): Promise<Loopback> {
  const host = new LoopbackHost(options);
  await host.listen(options.port ?? 0);
  return host;
}

class LoopbackHost implements Loopback {
  origin = '';
  private hostName = '';
  private cookieName = '';
  private readonly server: Server;
  private readonly options: LoopbackOptions;
  private readonly keys = new Set<string>();
  private readonly sessions = new Set<string>();
  private readonly listeners = new Set<ServerResponse>();
  private readonly stopListening: () => void;
  private readonly heartbeat: NodeJS.Timeout;

  constructor(options: LoopbackOptions) {
    this.options = options;
    this.server = createServer((request, response) => {
      this.serve(request, response).catch((error: unknown) => {
        console.error(error);
        if (response.headersSent) response.destroy();
        else refuse(response, 500, toFailure(error));
      });
    });
    // Imports of many megabytes may take their time; headers may not.
    this.server.requestTimeout = 0;
    this.server.headersTimeout = 15_000;
    this.stopListening = options.desk.onChange((topics) => {
      for (const listener of this.listeners) listener.write(`data: ${JSON.stringify(topics)}\n\n`);
    });
    this.heartbeat = setInterval(() => {
      for (const listener of this.listeners) listener.write(': still here\n\n');
    }, HEARTBEAT_MS);
    this.heartbeat.unref();
  }

  async listen(port: number): Promise<void> {
    try {
      await new Promise<void>((resolve, reject) => {
        this.server.once('error', reject);
        this.server.listen({ port, host: '127.0.0.1', exclusive: true }, () => resolve());
      });
    } catch (error) {
      await this.close();
      const code = error instanceof Error && 'code' in error ? String(error.code) : 'no reason given';
      const why =
        code === 'EADDRINUSE' ? 'another program uses it' : code === 'EACCES' ? 'this account may not use it' : code;
      throw new BookError(
        'conflict',
        `Port ${port} on this machine cannot be used: ${why}. Choose another with --port, or leave it out.`,
        'port',
        { cause: error },
      );
    }
    const address = this.server.address() as AddressInfo;
    this.hostName = `127.0.0.1:${address.port}`;
    this.origin = `http://${this.hostName}`;
    // Cookies do not know ports: two books open at once need two names.
    this.cookieName = `valvebook-${address.port}`;
  }

  newAddress(): string {
    const key = randomBytes(24).toString('base64url');
    this.keys.add(key);
    return `${this.origin}/?key=${key}`;
  }

  async close(): Promise<void> {
    clearInterval(this.heartbeat);
    this.stopListening();
    for (const listener of this.listeners) listener.end();
    if (!this.server.listening) return;
    await new Promise<void>((resolve) => {
      this.server.close(() => resolve());
      this.server.closeAllConnections();
    });
  }

  private async serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    // A name that only points here (DNS rebinding) is not us.
    if (request.headers.host !== this.hostName)
      return refuse(response, 421, forbidden('This address belongs to Valvebook on this machine only.'));
    const origin = request.headers.origin;
    const site = request.headers['sec-fetch-site'];
    const foreign = (origin !== undefined && origin !== this.origin) || site === 'cross-site' || site === 'same-site';
    const url = new URL(request.url ?? '/', this.origin);
    const key = url.searchParams.get('key');
    if (request.method === 'GET' && url.pathname === '/' && key !== null) return this.exchange(request, response, key);
    if (foreign || (request.method !== 'GET' && request.method !== 'HEAD' && origin === undefined)) {
      return refuse(
        response,
        403,
        forbidden('Another web page asked for this, so Valvebook refused. Use the window Valvebook opened.'),
      );
    }
    if (!this.knows(request)) return this.turnAway(response, url.pathname);
    if (url.pathname.startsWith('/request/')) {
      if (request.method !== 'POST')
        return refuse(response, 405, forbidden('Requests are sent with POST.'), { allow: 'POST' });
      return this.answer(request, response, url.pathname.slice('/request/'.length));
    }
    if (request.method !== 'GET' && request.method !== 'HEAD')
      return refuse(response, 405, forbidden('Only requests are sent with POST.'), { allow: 'GET, HEAD' });
    if (url.pathname === '/changes') return this.listenTo(request, response);
    const file = await readStatic(this.options.rendererDir, url.pathname);
    if (file === undefined) return plain(response, 404, 'There is nothing at this address.');
    response.writeHead(200, { ...file.headers, 'content-length': file.body.length });
    response.end(request.method === 'HEAD' ? undefined : file.body);
  }

  /** Trades a one-time key for a cookie that no other site and no script can read or send. */
  private exchange(request: IncomingMessage, response: ServerResponse, key: string): void {
    const home = { ...securityHeaders('none'), location: '/', 'cache-control': 'no-store' };
    if (this.keys.delete(key)) {
      const session = randomBytes(32).toString('base64url');
      this.sessions.add(session);
      response.writeHead(303, {
        ...home,
        'set-cookie': `${this.cookieName}=${session}; Path=/; HttpOnly; SameSite=Strict`,
      });
      response.end();
    } else if (this.knows(request)) {
      // The same browser pressed "reload" on the first address.
      response.writeHead(303, home);
      response.end();
    } else this.turnAway(response, '/');
  }

  private turnAway(response: ServerResponse, pathname: string): void {
    const message =
      'This address has been used already, or this browser was never let in. Press Enter where Valvebook runs to get a new address, or start it again.';
    if (pathname.startsWith('/request/') || pathname === '/changes') refuse(response, 401, forbidden(message));
    else plain(response, 401, message);
  }

  private knows(request: IncomingMessage): boolean {
    for (const part of (request.headers.cookie ?? '').split(';')) {
      const [name, value] = part.trim().split('=');
      if (name !== this.cookieName || value === undefined) continue;
      for (const session of this.sessions) {
        if (session.length === value.length && timingSafeEqual(Buffer.from(session), Buffer.from(value))) return true;
      }
    }
    return false;
  }

  private listenTo(request: IncomingMessage, response: ServerResponse): void {
    response.writeHead(200, {
      ...securityHeaders('none'),
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
    });
    if (request.method === 'HEAD') return void response.end();
    response.write(': listening\n\n');
    this.listeners.add(response);
    response.on('close', () => this.listeners.delete(response));
  }

  private async answer(request: IncomingMessage, response: ServerResponse, encodedName: string): Promise<void> {
    const type = (request.headers['content-type'] ?? '').split(';')[0]?.trim().toLowerCase();
    if (type !== 'application/json') return refuse(response, 415, badInput('A request is sent as application/json.'));
    let name: string;
    try {
      name = decodeURIComponent(encodedName);
    } catch {
      return refuse(response, 404, { code: 'unknown-request', message: 'There is no request of that name.' });
    }
    const limit = this.options.bodyLimit ?? BODY_LIMIT;
    const body = await readBody(request, limit);
    if (body === undefined)
      return refuse(
        response,
        413,
        badInput(
          `That is more than ${Math.floor(limit / 1024 / 1024)} MB at once. Split the file and send the parts one after the other.`,
        ),
      );
    let input: unknown;
    try {
      input = JSON.parse(
        new TextDecoder('utf-8', { fatal: true }).decode(body.length === 0 ? Buffer.from('{}') : body),
      );
    } catch {
      return refuse(response, 400, badInput('What was sent is not JSON.'));
    }
    const leaving = new AbortController();
    response.on('close', () => {
      if (!response.writableFinished) leaving.abort();
    });
    if ((request.headers.accept ?? '').includes('application/x-ndjson'))
      return this.stream(name, input, leaving.signal, response);
    const reply = await this.options.desk.call(name, input, { signal: leaving.signal });
    const status = !reply.ok && reply.error.code === 'unknown-request' ? 404 : 200;
    json(response, status, reply);
  }

  /** One line of JSON for each step of progress, and the reply as the last line. */
  private async stream(name: string, input: unknown, signal: AbortSignal, response: ServerResponse): Promise<void> {
    response.writeHead(200, {
      ...securityHeaders('none'),
      'content-type': 'application/x-ndjson; charset=utf-8',
      'cache-control': 'no-store',
    });
    response.flushHeaders();
    let last = -Infinity;
    const reply = await this.options.desk.call(name, input, {
      signal,
      onProgress: (progress) => {
        const now = performance.now();
        // A slow reader gets fewer steps, not a longer queue; the first and the last always pass.
        const skip = now - last < PROGRESS_MS && progress.done !== progress.total;
        if (skip || response.writableNeedDrain || response.destroyed) return;
        last = now;
        response.write(`${JSON.stringify({ progress })}\n`);
      },
    });
    response.end(`${JSON.stringify({ reply })}\n`);
  }
}

/** The whole body, or undefined where it is over the limit. The rest of an oversized one is read and dropped, so that the sender hears why. */
function readBody(request: IncomingMessage, limit: number): Promise<Buffer | undefined> {
  return new Promise((resolve, reject) => {
    let chunks: Buffer[] = [];
    let size = 0;
    const tooLarge = () => {
      chunks = [];
      resolve(undefined);
    };
    if (Number(request.headers['content-length'] ?? 0) > limit) tooLarge();
    request.on('data', (chunk: Buffer) => {
      size += chunk.length;
      if (size > limit * 4) request.destroy();
      else if (size > limit) tooLarge();
      else chunks.push(chunk);
    });
    request.on('end', () => resolve(Buffer.concat(chunks)));
    request.on('error', reject);
  });
}

function badInput(message: string): Failure {
  return { code: 'bad-input', message };
}
function forbidden(message: string): Failure {
  return { code: 'conflict', message };
}

function json(response: ServerResponse, status: number, value: unknown, headers: Record<string, string> = {}): void {
  const body = Buffer.from(JSON.stringify(value));
  response.writeHead(status, {
    ...securityHeaders('none'),
    'content-type': 'application/json; charset=utf-8',
    'cache-control': 'no-store',
    'content-length': body.length,
    ...headers,
  });
  response.end(body);
}
function refuse(response: ServerResponse, status: number, error: Failure, headers: Record<string, string> = {}): void {
  json(response, status, { ok: false, error }, headers);
}
function plain(response: ServerResponse, status: number, message: string): void {
  response.writeHead(status, {
    ...securityHeaders('none'),
    'content-type': 'text/plain; charset=utf-8',
    'cache-control': 'no-store',
  });
  response.end(`${message}\n`);
}
