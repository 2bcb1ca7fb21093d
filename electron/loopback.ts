import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Desk } from '../core/desk/desk.ts';
import { BookError, toFailure } from '../core/errors.ts';
import { BodyReader, type BodyLimits } from './loopback-body.ts';
import { Door } from './loopback-door.ts';
import { json, openStream, plain, rawRefusal, refuse } from './loopback-reply.ts';
import { readStatic, WORKER_THAT_LEAVES } from './static-files.ts';
import { codeOf } from '../core/store/fault.ts';
import { fact, type Fact } from '../core/text/say.ts';

/** The header a page sends its secret in. A page of another origin cannot send it without asking, and is refused when it asks. */
export const SESSION_HEADER = 'valvebook-session';
/**
 * A key, a secret and a nonce are far shorter, and come at once. Anybody on this machine may send such a body before being let
 * in: bodies that never end must not keep the user out.
 */
const SESSION_BODIES = { limit: 4096, budget: 4096 * 4096, withinMs: 10_000 };
const HEARTBEAT_MS = 20_000;
const PROGRESS_MS = 60;

export interface LoopbackOptions {
  desk: Pick<Desk, 'call' | 'onChange'>;
  rendererDir: string;
  /** 0 or left out: any free port. */
  port?: number;
  bodies?: Partial<BodyLimits>;
  /** What drafts in the browser are sealed with (base64url of 32 bytes); left out: a key of this run, so they end with it. */
  draftKey?: { key: string; takesPlain: boolean };
  /** The clock of keys, in milliseconds. */
  now?: () => number;
  /** Told when a key has let a page in. */
  onLetIn?: () => void;
  /** Told when a session ends because another began or its address was used twice. */
  onSessionEnd?: (why: Fact) => void;
}
export interface Loopback {
  origin: string;
  /** An address that lets one browser in, once, within two minutes. The key is in the fragment, which browsers do not send. */
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
  private readonly server: Server;
  private readonly options: LoopbackOptions;
  private readonly door: Door;
  private readonly bodies: BodyReader;
  private readonly sessionBodies = new BodyReader(SESSION_BODIES);
  private readonly drafts: { key: string; takesPlain: boolean };
  /** The open lines for changes, and whose each is. */
  private readonly listeners = new Map<ServerResponse, string>();
  /** How many changes there were. A page whose line opens late sees by it that it missed one. */
  private changes = 0;
  private readonly stopListening: () => void;
  private readonly heartbeat: NodeJS.Timeout;

  constructor(options: LoopbackOptions) {
    this.options = options;
    this.bodies = new BodyReader(options.bodies);
    this.drafts = options.draftKey ?? { key: randomBytes(32).toString('base64url'), takesPlain: false };
    this.door = new Door((ids, why) => {
      for (const [listener, id] of this.listeners)
        if (ids.has(id)) listener.end(`event: ended\ndata: ${JSON.stringify(why)}\n\n`);
      options.onSessionEnd?.(why);
    }, options.now);
    this.server = createServer((request, response) => {
      this.serve(request, response).catch((error: unknown) => {
        console.error(error);
        const failure = toFailure(error);
        if (response.headersSent) response.destroy();
        else refuse(response, 500, failure.code, (failure.text as Fact | undefined) ?? failure.message);
      });
    });
    this.server.on('checkExpectation', (_request: IncomingMessage, response: ServerResponse) =>
      refuse(response, 417, 'bad-input', 'Valvebook does what is asked without being told what to expect.'),
    );
    this.server.on('clientError', (error: NodeJS.ErrnoException, socket) => {
      if (socket.writable && error.code !== 'ECONNRESET') socket.end(rawRefusal(error.code));
      else socket.destroy();
    });
    // Imports of many megabytes may take their time; headers may not.
    this.server.requestTimeout = 0;
    this.server.headersTimeout = 15_000;
    this.stopListening = options.desk.onChange((topics) => {
      this.changes += 1;
      for (const listener of this.listeners.keys()) listener.write(`data: ${JSON.stringify(topics)}\n\n`);
    });
    this.heartbeat = setInterval(() => {
      for (const listener of this.listeners.keys()) listener.write(': still here\n\n');
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
      const code = codeOf(error) || '?';
      const trouble = code === 'EADDRINUSE' ? 'taken' : code === 'EACCES' ? 'not-allowed' : 'other';
      throw new BookError('conflict', fact('terminal.portRefused', { port, trouble, code }), 'port', { cause: error });
    }
    const address = this.server.address() as AddressInfo;
    this.hostName = `127.0.0.1:${address.port}`;
    this.origin = `http://${this.hostName}`;
  }

  newAddress(): string {
    return `${this.origin}/#key=${this.door.newKey()}`;
  }

  async close(): Promise<void> {
    clearInterval(this.heartbeat);
    this.stopListening();
    for (const listener of this.listeners.keys()) listener.end();
    if (!this.server.listening) return;
    await new Promise<void>((resolve) => {
      this.server.close(() => resolve());
      this.server.closeAllConnections();
    });
  }

  private async serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    // RFC 9112, section 3.2: exactly one. Which of two somebody meant is not ours to guess.
    if (request.rawHeaders.filter((name, at) => at % 2 === 0 && name.toLowerCase() === 'host').length > 1)
      return refuse(response, 400, 'bad-input', 'This address cannot be read: it names two hosts.');
    // A name that only points here (DNS rebinding) is not us.
    if (request.headers.host !== this.hostName)
      return refuse(response, 421, 'conflict', 'This address belongs to Valvebook on this machine only.');
    const pathname = pathOf(request.url ?? '');
    if (pathname === undefined)
      return refuse(response, 400, 'bad-input', 'This address cannot be read. Use the address Valvebook printed.');
    const reading = request.method === 'GET' || request.method === 'HEAD';
    if (this.isForeign(request, reading && pathname === '/'))
      return refuse(
        response,
        403,
        'conflict',
        'Another web page asked for this, so Valvebook refused. Use the window Valvebook opened.',
      );
    const name = pathname.startsWith('/request/') ? decodeURIComponent(pathname.slice('/request/'.length)) : undefined;
    const isSession = pathname === '/session' || pathname.startsWith('/session/');
    if (!reading && (request.method !== 'POST' || (name === undefined && !isSession)))
      return refuse(response, 405, 'conflict', 'Only requests are sent with POST.', { allow: 'GET, HEAD' });
    if (isSession) return this.answerSession(request, response, pathname);
    if (name === undefined && pathname !== '/changes') return this.sendFile(request, response, pathname);
    const standing = this.door.standing(secretOf(request));
    if (!standing.in) return refuse(response, 401, 'conflict', standing.why);
    if (name === undefined) return this.listenTo(request, response, standing.id);
    if (reading) return refuse(response, 405, 'conflict', 'Requests are sent with POST.', { allow: 'POST' });
    return this.answer(request, response, name);
  }

  /** Did another site's page make this? Following a link to the first page is no harm: it holds nothing and cannot be framed. */
  private isForeign(request: IncomingMessage, isFirstPage: boolean): boolean {
    const { origin } = request.headers;
    const fetched = (name: string) => String(request.headers[`sec-fetch-${name}`] ?? '').toLowerCase();
    if (origin !== undefined && origin !== this.origin) return true;
    if (origin === undefined && request.method !== 'GET' && request.method !== 'HEAD') return true;
    if (isFirstPage && fetched('mode') === 'navigate' && fetched('dest') === 'document') return false;
    return fetched('site') === 'cross-site' || fetched('site') === 'same-site';
  }

  /** The built renderer is the same on every machine and holds nothing of the book, so it is sent to whoever asks. */
  private async sendFile(request: IncomingMessage, response: ServerResponse, pathname: string): Promise<void> {
    const file =
      request.headers['service-worker'] === undefined
        ? await readStatic(this.options.rendererDir, pathname)
        : WORKER_THAT_LEAVES;
    if (file === undefined) return plain(response, 404, 'There is nothing at this address.');
    response.writeHead(200, { ...file.headers, 'content-length': file.body.length });
    response.end(request.method === 'HEAD' ? undefined : file.body);
  }

  /** Letting in: a key for a session, what a tab that is in needs, a key for another tab, and the proof of who answers. */
  private async answerSession(request: IncomingMessage, response: ServerResponse, pathname: string): Promise<void> {
    const standing = this.door.standing(secretOf(request));
    if (request.method === 'GET' && pathname === '/session')
      return standing.in
        ? json(response, 200, { ok: true, drafts: this.drafts, changes: this.changes })
        : refuse(response, 401, 'conflict', standing.why);
    if (request.method !== 'POST' || !['/session', '/session/tab', '/session/proof'].includes(pathname))
      return refuse(response, 404, 'conflict', 'There is nothing at this address.');
    if (!isJson(request)) return refuse(response, 415, 'bad-input', 'A request is sent as application/json.');
    const input = await this.inputOf(this.sessionBodies, request, response);
    if (input === undefined) return;
    input.release();
    const { key, secret, id, nonce } = (input.value ?? {}) as Record<string, unknown>;
    if (pathname === '/session/tab')
      return standing.in
        ? json(response, 200, { ok: true, key: this.door.newTabKey() })
        : refuse(response, 401, 'conflict', standing.why);
    if (pathname === '/session/proof') {
      const answer = this.door.proof(id, nonce);
      if ('proof' in answer) return json(response, 200, { ok: true, proof: answer.proof });
      return refuse(response, 401, 'conflict', answer.why);
    }
    const redeemed = this.door.redeem(key, secret);
    if (!redeemed.ok) return refuse(response, 401, 'conflict', redeemed.why);
    this.options.onLetIn?.();
    json(response, 200, { ok: true, drafts: this.drafts, changes: this.changes });
  }

  private listenTo(request: IncomingMessage, response: ServerResponse, id: string): void {
    openStream(response, 'text/event-stream');
    if (request.method === 'HEAD') return void response.end();
    response.write(`event: listening\ndata: ${this.changes}\n\n`);
    this.listeners.set(response, id);
    response.on('close', () => this.listeners.delete(response));
  }

  private async answer(request: IncomingMessage, response: ServerResponse, name: string): Promise<void> {
    if (!isJson(request)) return refuse(response, 415, 'bad-input', 'A request is sent as application/json.');
    const input = await this.inputOf(this.bodies, request, response);
    if (input === undefined) return;
    try {
      const leaving = new AbortController();
      response.on('close', () => {
        if (!response.writableFinished) leaving.abort();
      });
      if ((request.headers.accept ?? '').includes('application/x-ndjson'))
        return await this.stream(name, input.value, leaving.signal, response);
      const reply = await this.options.desk.call(name, input.value, { signal: leaving.signal });
      json(response, !reply.ok && reply.error.code === 'unknown-request' ? 404 : 200, reply);
    } finally {
      input.release();
    }
  }

  /** What was sent, or undefined where it has been refused. */
  private async inputOf(reader: BodyReader, request: IncomingMessage, to: ServerResponse) {
    const body = await reader.read(request);
    if ('refusal' in body) return void refuse(to, body.status, 'bad-input', body.refusal);
    try {
      return { value: JSON.parse(body.text.trim() === '' ? '{}' : body.text) as unknown, release: body.release };
    } catch {
      body.release();
      return void refuse(to, 400, 'bad-input', 'What was sent is not JSON.');
    }
  }

  /** One line of JSON for each step of progress, and the reply as the last line. */
  private async stream(name: string, input: unknown, signal: AbortSignal, response: ServerResponse): Promise<void> {
    openStream(response, 'application/x-ndjson');
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

/** The path of a request, still encoded; undefined for what is no path on this host. */
function pathOf(target: string): string | undefined {
  // Not by `new URL`: it reads a leading "//" as another host, and throws at some.
  if (!/^\/(?!\/)[\x21-\x7e]*$/.test(target)) return undefined;
  const path = target.split(/[?#]/, 1)[0] ?? '/';
  try {
    decodeURIComponent(path);
  } catch {
    return undefined;
  }
  return path;
}

function secretOf(request: IncomingMessage): string | undefined {
  const value = request.headers[SESSION_HEADER];
  return typeof value === 'string' ? value : undefined;
}

function isJson(request: IncomingMessage): boolean {
  return (request.headers['content-type'] ?? '').split(';')[0]?.trim().toLowerCase() === 'application/json';
}
