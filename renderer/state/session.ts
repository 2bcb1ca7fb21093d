import { create } from 'zustand';
import { say, sayTold } from './say.ts';

// How this page is let in by the loopback host. The one-time key comes in the fragment of the address (never sent to a server);
// the page trades it for a secret of its own making. sessionStorage keeps the secret: per tab, over a reload, for this origin only,
// where a cookie would reach every server on this machine. In Electron's window there is none of this.

const STORED = 'valvebook.session';
const HEADER = 'valvebook-session';
const HERE_ONLY = window.valvebook !== undefined;

export type Access =
  | { state: 'opening' | 'in' }
  /** `closed`: it was in, and the host ended it. */
  | { state: 'out'; message: string; closed: boolean };
export interface DraftSecret {
  /** 32 bytes as base64url. */
  key: string;
  takesPlain: boolean;
}

/** Whether this page may ask the book. */
export const useAccess = create<Access>(() => ({ state: HERE_ONLY ? 'in' : 'opening' }));

/** What keeps a call from being sent; the message says so. Whether an earlier one arrived is another question. */
export class NotSent extends Error {}

let secret: string | null = null;
let drafts: DraftSecret | null = null;
let changes = 0;
/** Has whoever answers shown that it is the host that let this page in? Not known any more once a line to it has broken. */
let proven: Promise<boolean> | null = null;

/** What drafts are sealed with; null in Electron's window, whose storage no other program is served. Throws before the page is in. */
export function draftSecret(): DraftSecret | null {
  if (drafts === null && !HERE_ONLY) throw new NotSent(say('session.notYet'));
  return drafts;
}

/** How many changes the host had told of when it let this page in: before the page read anything. */
export function changesAtEntry(): number {
  return changes;
}

/** The headers of a request to the book. Throws NotSent where the other side is not, or not certainly, the host of this page. */
export async function sessionHeaders(): Promise<Record<string, string>> {
  const mine = secret;
  const access = useAccess.getState();
  if (access.state === 'out') throw new NotSent(access.message);
  if (mine === null) throw new NotSent(say('session.notYet'));
  proven ??= prove(mine);
  const asked = proven;
  try {
    if (await asked) return { [HEADER]: mine };
  } catch (error) {
    if (proven === asked) proven = null;
    throw error;
  }
  throw new NotSent(say('session.stranger'));
}

/** The line to the host broke: before anything more is sent, whoever answers now has to show who it is. */
export function lineBroke(): void {
  proven = null;
}

/** The host ended this session. Nothing of the book stays on screen; what a closing form still has to say is kept sealed. */
export function endSession(why: { key: string; given?: unknown }): void {
  secret = null;
  forget();
  useAccess.setState({ state: 'out', message: sayTold(why), closed: true }, true);
}

/** A key by which another tab of this browser can join. */
export async function keyForTab(): Promise<string> {
  const answer = await post('/session/tab', {}, await sessionHeaders());
  if (typeof answer.key !== 'string') throw new NotSent(refusalOf(answer) ?? say('session.noHost'));
  return answer.key;
}

/** Lets this page in: with a new key, else with what this tab kept. */
export async function enter(key: string | null): Promise<void> {
  const kept = stored();
  try {
    // Before a key is used this is waited for; a tab that is in already need not wait.
    const workers = removeWorkers().catch(() => false);
    if (key !== null && (await workers)) return leave(say('session.workerFound'));
    if (kept !== null && (await prove(kept.secret).catch(() => false))) {
      // A key that was not needed is used up all the same, so that it does not lie about.
      if (key !== null) await post('/session', { key, secret: kept.secret });
      return await settle(kept.secret, await (await fetch('/session', { headers: { [HEADER]: kept.secret } })).json());
    }
    const usable = key ?? kept?.key ?? null;
    if (usable === null) return leave(await whyNot(kept?.secret));
    // Kept before it is sent: a reload before the answer sends the same again, which is the same let-in.
    const fresh = { secret: key === null && kept !== null ? kept.secret : random(32), key: usable };
    keep(fresh);
    await settle(fresh.secret, await post('/session', fresh));
  } catch {
    leave(say('session.noHost'));
  }
}

interface Answer {
  ok?: boolean;
  key?: string;
  proof?: string;
  drafts?: DraftSecret;
  changes?: number;
  error?: { message?: string; text?: { key: string; given?: unknown } };
}
/** Why the host refused, to this page's reader. */
const refusalOf = ({ error }: Answer): string | undefined =>
  error?.text === undefined ? error?.message : sayTold(error.text);

async function settle(mine: string, answer: Answer): Promise<void> {
  if (answer.ok !== true || answer.drafts === undefined) {
    forget();
    return leave(refusalOf(answer) ?? say('session.noHost'));
  }
  keep({ secret: mine, key: null });
  secret = mine;
  drafts = answer.drafts;
  changes = answer.changes ?? 0;
  proven = Promise.resolve(true);
  useAccess.setState({ state: 'in' }, true);
}

function leave(message: string): void {
  // A page that is in stays in: a wrong key pasted into its address takes nothing from it.
  if (useAccess.getState().state !== 'in') useAccess.setState({ state: 'out', message, closed: false }, true);
}

async function prove(mine: string): Promise<boolean> {
  const nonce = random(24);
  const answer = await post('/session/proof', { id: await digest(mine), nonce });
  if (typeof answer.proof !== 'string') {
    if (answer.ok === false) throw new NotSent(refusalOf(answer) ?? say('session.stranger'));
    return false;
  }
  const key = await crypto.subtle.importKey('raw', utf8(mine), { name: 'HMAC', hash: 'SHA-256' }, false, ['sign']);
  const expected = await crypto.subtle.sign('HMAC', key, utf8(`valvebook ${nonce}`));
  return answer.proof === base64url(new Uint8Array(expected));
}

async function whyNot(kept: string | undefined): Promise<string> {
  const answer = await post('/session/proof', { id: await digest(kept ?? ''), nonce: '-' });
  return refusalOf(answer) ?? say('session.stranger');
}

async function post(path: string, body: unknown, headers: Record<string, string> = {}): Promise<Answer> {
  const response = await fetch(path, {
    method: 'POST',
    headers: { 'content-type': 'application/json', ...headers },
    body: JSON.stringify(body),
  });
  // Whoever answers with something else is not the host.
  return (await response.json().catch(() => ({}))) as Answer;
}

/** Valvebook has no service worker; one that is here was left by another program that held this address. */
async function removeWorkers(): Promise<boolean> {
  const found = (await navigator.serviceWorker?.getRegistrations()) ?? [];
  for (const registration of found) await registration.unregister();
  return found.length > 0;
}

interface Kept {
  secret: string;
  /** The key whose answer has not come yet. */
  key: string | null;
}
function stored(): Kept | null {
  try {
    const value = JSON.parse(sessionStorage.getItem(STORED) ?? 'null') as Partial<Kept> | null;
    if (typeof value?.secret !== 'string') return null;
    return { secret: value.secret, key: typeof value.key === 'string' ? value.key : null };
  } catch {
    return null;
  }
}
function keep(value: Kept): void {
  try {
    sessionStorage.setItem(STORED, JSON.stringify(value));
  } catch {
    // Without storage the page is let in until it is loaded again.
  }
}
function forget(): void {
  try {
    sessionStorage.removeItem(STORED);
  } catch {
    // Then there is nothing to forget.
  }
}

const utf8 = (text: string) => new TextEncoder().encode(text);
const random = (bytes: number) => base64url(crypto.getRandomValues(new Uint8Array(bytes)));
const digest = async (text: string) => base64url(new Uint8Array(await crypto.subtle.digest('SHA-256', utf8(text))));

function base64url(bytes: Uint8Array): string {
  return btoa(String.fromCharCode(...bytes))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replace(/=+$/, '');
}

/** Takes the key out of the address, so that it is not in the window's history; undefined where there is none. */
function takeKey(before: string): string | undefined {
  const key = /^#key=([\w-]+)$/.exec(window.location.hash)?.[1];
  if (key !== undefined) window.history.replaceState(null, '', window.location.pathname + before);
  return key;
}

// Runs before anything else reads the address.
if (!HERE_ONLY) {
  void enter(takeKey('') ?? null);
  window.addEventListener('hashchange', (event) => {
    const key = takeKey(new URL(event.oldURL).hash.replace(/^#key=.*$/, ''));
    if (key !== undefined) void enter(key);
  });
}
