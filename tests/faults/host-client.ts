import { spawn, type ChildProcess } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { Agent, request as httpRequest } from 'node:http';
import { createInterface } from 'node:readline';
import type { Reply } from '../../core/contract/index.ts';

// The other end of a served book: a client over real HTTP on 127.0.0.1 with kept-alive connections.

export interface Answer {
  status: number;
  text: string;
}
export interface Sending {
  method?: string;
  headers?: Record<string, string>;
  body?: string | Buffer;
  timeoutMs?: number;
}
/** An answer that never came. */
export class NoAnswer extends Error {
  readonly hung: boolean;
  constructor(message: string, hung: boolean) {
    super(message);
    this.hung = hung;
  }
}

export class HostClient {
  readonly origin: string;
  /** What shows that this client was let in; sent with every request. */
  pass: Record<string, string> = {};
  private readonly agent: Agent;

  constructor(origin: string, lanes: number) {
    this.origin = origin;
    this.agent = new Agent({ keepAlive: true, maxSockets: lanes });
  }

  send(target: string, sending: Sending = {}): Promise<Answer & { headers: Record<string, unknown> }> {
    const { hostname, port } = new URL(this.origin);
    return new Promise((resolve, reject) => {
      const request = httpRequest(
        {
          agent: this.agent,
          hostname,
          port,
          path: target,
          method: sending.method ?? 'GET',
          headers: sending.headers ?? {},
        },
        (response) => {
          const chunks: Buffer[] = [];
          const answered = () =>
            resolve({
              status: response.statusCode ?? 0,
              headers: response.headers,
              text: Buffer.concat(chunks).toString(),
            });
          response.on('data', (chunk: Buffer) => chunks.push(chunk));
          response.on('end', answered);
          // The line of changes never ends by itself: that it was opened is the answer.
          if (/event-stream/.test(String(response.headers['content-type']))) {
            answered();
            request.destroy();
          }
          response.on('error', (error) => reject(new NoAnswer(error.message, false)));
        },
      );
      request.setTimeout(sending.timeoutMs ?? 180_000, () => request.destroy(new NoAnswer('no answer in time', true)));
      request.on('error', (error) => reject(error instanceof NoAnswer ? error : new NoAnswer(error.message, false)));
      request.end(sending.body);
    });
  }

  /** What a window of ours sends; `body` as it is. */
  post(name: string, body: string | Buffer, headers: Record<string, string> = {}): Promise<Answer> {
    return this.send(`/request/${name}`, {
      method: 'POST',
      body,
      headers: { 'content-type': 'application/json', origin: this.origin, ...this.pass, ...headers },
    });
  }

  async call(name: string, input: unknown): Promise<Reply> {
    return JSON.parse((await this.post(name, JSON.stringify(input))).text) as Reply;
  }

  close(): void {
    this.agent.destroy();
  }
}

/** Trades a one-time address for what lets a client in. */
export async function letIn(address: string, lanes = 4): Promise<HostClient> {
  const url = new URL(address);
  const client = new HostClient(url.origin, lanes);
  const key = /^#key=(.+)$/.exec(url.hash)?.[1];
  const secret = randomBytes(32).toString('base64url');
  const answer = await client.send('/session', {
    method: 'POST',
    body: JSON.stringify({ key, secret }),
    headers: { 'content-type': 'application/json', origin: url.origin },
  });
  if (answer.status !== 200) throw new Error(`not let in: ${answer.status} ${answer.text}`);
  client.pass = { 'valvebook-session': secret };
  return client;
}

export interface ServedProcess {
  child: ChildProcess;
  client: HostClient;
  /** What the host wrote to standard error. */
  faults: string[];
  /** Settles when the process has ended, however. */
  ended: Promise<{ code: number | null; signal: NodeJS.Signals | null }>;
}

/** Starts a process that serves the book, and is let in. */
export async function serveInProcess(bookPath: string, lanes = 4): Promise<ServedProcess> {
  const child = spawn(process.execPath, [new URL('./host.ts', import.meta.url).pathname, bookPath], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const faults: string[] = [];
  createInterface({ input: child.stderr }).on('line', (line) => {
    if (faults.length < 2000) faults.push(line);
  });
  const ended = new Promise<{ code: number | null; signal: NodeJS.Signals | null }>((resolve) =>
    child.on('close', (code, signal) => resolve({ code, signal })),
  );
  const address = await new Promise<string>((resolve, reject) => {
    createInterface({ input: child.stdout }).once('line', resolve);
    void ended.then(() => reject(new Error(`the host did not start: ${faults.join('\n')}`)));
  });
  return { child, client: await letIn(address, lanes), faults, ended };
}
