import { createHash, createHmac, randomBytes } from 'node:crypto';
import { fact, type Fact } from '../core/text/say.ts';

// Who is let in. There is no cookie: a browser sends a cookie of 127.0.0.1 to every server on this machine, whatever its port.
// A page trades a one-time key for its own secret, keeps it where only its origin can read it, and sends it as a header.

/** How long an unused key opens the door, in milliseconds. */
export const KEY_LIFE_MS = 2 * 60_000;
/** Ended secrets that are still told why. */
const ENDED_KEPT = 100;
const SECRET_SHAPE = /^[\w-]{43}$/;

export type Redeemed = { ok: true } | { ok: false; why: Fact };
export type Standing = { in: true; id: string } | { in: false; why: Fact };

interface Key {
  expiresAt: number;
  /** The session a key for another tab belongs to; null = it opens a new session. */
  joins: number | null;
  usedBy: number | null;
}

export const NOT_LET_IN = fact('session.notLetIn');
const USED = fact('session.used');
const LATE = fact('session.late');
const REPLACED = fact('session.replaced');
const USED_TWICE = fact('session.usedTwice');

/** Keys, and the one session they open: one browser, any number of its tabs, each with a secret of its own. */
export class Door {
  private readonly keys = new Map<string, Key>();
  private readonly members = new Map<string, string>();
  private readonly ended = new Map<string, Fact>();
  private session = 0;
  private readonly now: () => number;
  private readonly onEnd: (ids: ReadonlySet<string>, why: Fact) => void;

  constructor(onEnd: (ids: ReadonlySet<string>, why: Fact) => void, now: () => number = Date.now) {
    this.onEnd = onEnd;
    this.now = now;
  }

  /** A key that opens a new session, once, within two minutes. */
  newKey(): string {
    return this.makeKey(null);
  }

  /** A key by which another tab of the same browser joins the open session. */
  newTabKey(): string {
    return this.makeKey(this.session);
  }

  private makeKey(joins: number | null): string {
    for (const [digest, key] of this.keys)
      if (key.usedBy === null ? key.expiresAt <= this.now() : key.usedBy !== this.session) this.keys.delete(digest);
    const key = randomBytes(24).toString('base64url');
    this.keys.set(digestOf(key), { expiresAt: this.now() + KEY_LIFE_MS, joins, usedBy: null });
    return key;
  }

  /**
   * Lets a page in under the secret it made up. A new key ends the session before it; a key used a second time lets nobody
   * in and ends the session it had opened, since one of the two who had it was not meant to.
   */
  redeem(key: unknown, secret: unknown): Redeemed {
    if (typeof key !== 'string' || typeof secret !== 'string' || !SECRET_SHAPE.test(secret))
      return { ok: false, why: NOT_LET_IN };
    const id = digestOf(secret);
    const known = this.keys.get(digestOf(key));
    if (this.members.has(id)) {
      // The same tab again: the answer to its first try was lost, or its user opened a second address there.
      if (known !== undefined) known.usedBy ??= this.session;
      return { ok: true };
    }
    if (known === undefined || this.ended.has(id)) return { ok: false, why: NOT_LET_IN };
    if (known.usedBy !== null) {
      if (known.usedBy === this.session) this.end(USED_TWICE);
      return { ok: false, why: USED };
    }
    if (known.expiresAt <= this.now()) return { ok: false, why: LATE };
    if (known.joins === null) {
      this.end(REPLACED);
      this.session += 1;
    } else if (known.joins !== this.session || this.members.size === 0) return { ok: false, why: NOT_LET_IN };
    known.usedBy = this.session;
    this.members.set(id, secret);
    return { ok: true };
  }

  /** Whose secret this is; with the reason where it opens nothing. Looked up by digest, so that no timing tells a secret. */
  standing(secret: string | undefined): Standing {
    if (secret === undefined) return { in: false, why: NOT_LET_IN };
    const id = digestOf(secret);
    if (this.members.has(id)) return { in: true, id };
    return { in: false, why: this.ended.get(id) ?? NOT_LET_IN };
  }

  /** What only the host that let this page in can say: a page asks for it before it sends its secret or anything typed. */
  proof(id: unknown, nonce: unknown): { proof: string } | { why: Fact } {
    if (typeof id !== 'string' || typeof nonce !== 'string') return { why: NOT_LET_IN };
    const secret = this.members.get(id);
    if (secret === undefined) return { why: this.ended.get(id) ?? NOT_LET_IN };
    return { proof: createHmac('sha256', secret).update(`valvebook ${nonce}`).digest('base64url') };
  }

  private end(why: Fact): void {
    if (this.members.size === 0) return;
    const ids = new Set(this.members.keys());
    this.members.clear();
    for (const id of ids) this.ended.set(id, why);
    for (const id of this.ended.keys()) {
      if (this.ended.size <= ENDED_KEPT) break;
      this.ended.delete(id);
    }
    this.onEnd(ids, why);
  }
}

function digestOf(text: string): string {
  return createHash('sha256').update(text).digest('base64url');
}
