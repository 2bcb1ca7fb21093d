import type { REQUESTS, Reply } from '../../core/contract/index.ts';

// What an answer may be, whatever was sent: data of the promised shape, or a refusal in one sentence a person can act on.

const CODES = [
  'bad-input',
  'not-found',
  'conflict',
  'stale',
  'book-unreadable',
  'book-busy',
  'disk',
  'cancelled',
  'unknown-request',
];
/** Statuses of the loopback host for what reaches a request. */
const STATUSES = [200, 400, 404, 413];

/** What is wrong with an answer, or null. */
export function faultOf(request: (typeof REQUESTS)[number], status: number, reply: Reply): string | null {
  if (!STATUSES.includes(status)) return `status ${status}: ${JSON.stringify(reply).slice(0, 300)}`;
  if (reply.ok) {
    const { error } = request.output.safeParse(reply.data);
    return error ? `data of another shape: ${JSON.stringify(error.issues.slice(0, 3))}` : null;
  }
  const { code, message } = reply.error;
  if (!CODES.includes(code)) return `code ${code}: ${message}`;
  if (!/^[^\n]{10,600}[.!)]$/.test(message)) return `not one sentence: ${message.slice(0, 700)}`;
  if (/\.ts:\d|node_modules|SQLITE_|\bat \S+ \(\S+:\d|received|\[object/.test(message))
    return `tells of the inside: ${message}`;
  return null;
}
