import type { IncomingMessage } from 'node:http';

const MEGABYTE = 1024 * 1024;
/** A little over the contract's largest field (128 MB of base64). */
export const BODY_LIMIT = 160 * 1024 * 1024;
/** Of all bodies together that are being read or worked on, in bytes. */
export const BODY_BUDGET = 200 * 1024 * 1024;
/** A sender that stops in the middle must not hold the room of others for ever. */
const STALLED_MS = 60_000;
const MAX_WAITING = 24;
const STATUS: Record<Refusal, number> = {
  'too-large': 413,
  'too-many': 503,
  'not-utf8': 400,
  gone: 408,
  stalled: 408,
};

export interface BodyLimits {
  /** Of one body, in bytes. */
  limit: number;
  /** Of all bodies together, in bytes; at least `limit`. */
  budget: number;
  /** By when the whole of a body must have come, in milliseconds; left out: as long as it goes on coming. */
  withinMs?: number;
}
type Refusal = 'too-large' | 'too-many' | 'gone' | 'stalled' | 'not-utf8';
export type Body = { text: string; release: () => void } | { refusal: string; status: number };

/** Reads bodies within one budget for all: who finds it full waits unread, so that the sender's own buffers hold the rest. */
export class BodyReader {
  private used = 0;
  private readonly waiting = new Set<() => void>();
  private readonly limits: BodyLimits;

  constructor(limits: Partial<BodyLimits> = {}) {
    const limit = limits.limit ?? BODY_LIMIT;
    this.limits = { ...limits, limit, budget: Math.max(limit, limits.budget ?? BODY_BUDGET) };
  }

  /** The body as text. Its room stays taken until `release`, since what is made of it takes as much again. */
  async read(request: IncomingMessage): Promise<Body> {
    const { limit, withinMs } = this.limits;
    const announced = request.headers['content-length'];
    // Of a body over the limit nothing is kept: the rest is read and dropped, so that the sender hears why, up to a measure.
    if (announced !== undefined && !(Number(announced) <= limit)) return this.drop(request, 'too-large');
    const room = new Room((bytes) => this.take(bytes));
    const expected = announced === undefined ? 0 : Number(announced);
    if (!room.grow(expected)) {
      if (this.waiting.size >= MAX_WAITING) return this.drop(request, 'too-many');
      if (!(await this.wait(request, () => room.grow(expected)))) return this.drop(request, 'gone');
    }
    const read = await collect(request, { limit, withinMs }, expected, room);
    if (!Buffer.isBuffer(read)) {
      room.release();
      return this.drop(request, read);
    }
    try {
      return { text: new TextDecoder('utf-8', { fatal: true }).decode(read), release: () => room.release() };
    } catch {
      room.release();
      return this.drop(request, 'not-utf8');
    }
  }

  private drop(request: IncomingMessage, why: Refusal): Body {
    let dropped = 0;
    request.on('data', (chunk: Buffer) => {
      dropped += chunk.length;
      if (dropped > this.limits.limit * 4) request.destroy();
    });
    request.on('error', () => undefined);
    request.resume();
    return { status: STATUS[why], refusal: this.sentence(why) };
  }

  private sentence(why: Refusal): string {
    const { limit } = this.limits;
    if (why === 'too-large')
      return `That is more than ${limit < MEGABYTE ? `${limit} bytes` : `${Math.floor(limit / MEGABYTE)} MB`} at once. Split the file and send the parts one after the other.`;
    if (why === 'too-many')
      return 'Valvebook is reading other large files just now. Nothing was changed; wait until they are done and try again.';
    if (why === 'not-utf8') return 'What was sent is not JSON.';
    return 'Not all of it arrived, so nothing was changed. Try again.';
  }

  private take(bytes: number): boolean {
    if (this.used + bytes > this.limits.budget) return false;
    this.used += bytes;
    // Whoever waits and fits now goes on; a small body does not queue behind a large one.
    if (bytes < 0) for (const again of this.waiting) again();
    return true;
  }

  private wait(request: IncomingMessage, attempt: () => boolean): Promise<boolean> {
    return new Promise((resolve) => {
      const settle = (fits: boolean) => {
        this.waiting.delete(again);
        request.off('close', gone);
        resolve(fits);
      };
      const again = () => {
        if (attempt()) settle(true);
      };
      const gone = () => settle(false);
      this.waiting.add(again);
      request.on('close', gone);
    });
  }
}

/** What one body has taken of the budget. */
class Room {
  private held = 0;
  private readonly take: (bytes: number) => boolean;
  constructor(take: (bytes: number) => boolean) {
    this.take = take;
  }
  grow(to: number): boolean {
    if (to <= this.held) return true;
    if (!this.take(to - this.held)) return false;
    this.held = to;
    return true;
  }
  release(): void {
    const { held } = this;
    this.held = 0;
    if (held > 0) this.take(-held);
  }
}

function collect(
  request: IncomingMessage,
  { limit, withinMs }: Pick<BodyLimits, 'limit' | 'withinMs'>,
  expected: number,
  room: Room,
): Promise<Buffer | Refusal> {
  return new Promise((resolve) => {
    let chunks: Buffer[] = [];
    let size = 0;
    // An announced length is read into its place at once; joining chunks would take the room twice.
    const whole = expected > 0 ? Buffer.allocUnsafeSlow(expected) : null;
    const stalled = setTimeout(() => settle('stalled'), STALLED_MS);
    const late = withinMs === undefined ? undefined : setTimeout(() => settle('stalled'), withinMs);
    const settle = (result: Buffer | Refusal) => {
      clearTimeout(stalled);
      clearTimeout(late);
      request.off('data', take).off('end', end).off('error', gone).off('close', gone);
      chunks = [];
      resolve(result);
    };
    const take = (chunk: Buffer) => {
      stalled.refresh();
      if (size + chunk.length > limit) return settle('too-large');
      if (!room.grow(size + chunk.length)) return settle('too-many');
      if (whole === null) chunks.push(chunk);
      else chunk.copy(whole, size);
      size += chunk.length;
    };
    const end = () => settle(whole === null ? Buffer.concat(chunks) : whole.subarray(0, size));
    const gone = () => settle('gone');
    request.on('data', take).on('end', end).on('error', gone).on('close', gone);
  });
}
