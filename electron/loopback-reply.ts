import type { ServerResponse } from 'node:http';
import { BookError, toFailure, type ErrorCode, type Failure } from '../core/errors.ts';
import type { Fact } from '../core/text/say.ts';
import { securityHeaders } from './static-files.ts';

// The forms of an answer over the loopback host; every one carries the security headers.

/** Sends a value as JSON. */
export function json(
  response: ServerResponse,
  status: number,
  value: unknown,
  headers: Record<string, string> = {},
): void {
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

/** Refuses in the shape every failed request has. */
export function refuse(
  response: ServerResponse,
  status: number,
  code: ErrorCode,
  what: Fact | string,
  headers: Record<string, string> = {},
): void {
  const error: Failure = toFailure(new BookError(code, what));
  json(response, status, { ok: false, error }, headers);
}

/** A sentence for whoever reads it in the browser's window. */
export function plain(response: ServerResponse, status: number, message: string): void {
  response.writeHead(status, {
    ...securityHeaders('none'),
    'content-type': 'text/plain; charset=utf-8',
    'cache-control': 'no-store',
  });
  response.end(`${message}\n`);
}

/** Opens an answer that goes on: events, or a line of JSON for each step. */
export function openStream(response: ServerResponse, type: string): void {
  response.writeHead(200, {
    ...securityHeaders('none'),
    'content-type': `${type}; charset=utf-8`,
    'cache-control': 'no-store',
  });
  response.flushHeaders();
}

/** What is said, before HTTP itself can be spoken, to bytes that are no request. */
export function rawRefusal(code: string | undefined): string {
  const [status, message] =
    code === 'HPE_HEADER_OVERFLOW'
      ? ['431 Request Header Fields Too Large', 'The headers of this request are too long.']
      : code === 'ERR_HTTP_REQUEST_TIMEOUT'
        ? ['408 Request Timeout', 'The request did not come to its end.']
        : ['400 Bad Request', 'This is not a request that Valvebook understands.'];
  const headers = Object.entries(securityHeaders('none')).map(([name, value]) => `${name}: ${value}`);
  return [
    `HTTP/1.1 ${status}`,
    'content-type: text/plain; charset=utf-8',
    `content-length: ${message.length + 1}`,
    'connection: close',
    ...headers,
    '',
    `${message}\n`,
  ].join('\r\n');
}
