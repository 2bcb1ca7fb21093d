import { xchacha20poly1305 } from '@noble/ciphers/chacha.js';
import { draftSecret } from '../state/session.ts';

// Where drafts lie on this device. In a browser they are sealed with a key the page gets from the host when it is let in, since any
// program that takes the host's port later is served the same storage. Sealing is done in step with typing (WebCrypto would
// answer later): a phone may drop the page at any moment. In Electron's window the storage is the app's own, and is kept as it is.

interface Cipher {
  key: Uint8Array;
  /** Marks this key's drafts among those of other books at the same address. */
  mark: string;
}

const plainPrefix = (bookPath: string) => `valvebook.field.draft ${bookPath} `;

function cipher(): Cipher | null {
  const secret = draftSecret();
  if (secret === null) return null;
  const key = fromBase64(secret.key);
  // The mark is made with the key and tells nothing of it: a fixed text sealed under a fixed nonce that is used for nothing else.
  const sealed = xchacha20poly1305(key, new Uint8Array(24)).encrypt(new TextEncoder().encode('mark'));
  const mark = Array.from(sealed.subarray(0, 10), (byte) => byte.toString(16).padStart(2, '0')).join('');
  return { key, mark };
}

const prefixOf = (bookPath: string, sealed: Cipher | null) =>
  sealed === null ? plainPrefix(bookPath) : `valvebook.draft ${sealed.mark} `;

/** Everything kept for a book, by visit id. `unreadable`: how many there are that do not open. Throws where there is no storage. */
export function readAll(bookPath: string): { texts: Map<string, string>; unreadable: number } {
  const sealed = cipher();
  if (sealed !== null) sealPlain(bookPath);
  const prefix = prefixOf(bookPath, sealed);
  const texts = new Map<string, string>();
  let unreadable = 0;
  for (const name of names(prefix)) {
    const text = open(name, localStorage.getItem(name), sealed);
    if (text === null) unreadable += 1;
    else texts.set(name.slice(prefix.length), text);
  }
  return { texts, unreadable };
}

/** Keeps a text for a visit. Throws where the device would not keep it. */
export function keepText(bookPath: string, visitId: string, text: string): void {
  const sealed = cipher();
  const name = prefixOf(bookPath, sealed) + visitId;
  localStorage.setItem(name, sealed === null ? text : seal(name, text, sealed));
}

/** Forgets what was kept for a visit. */
export function dropText(bookPath: string, visitId: string): void {
  localStorage.removeItem(prefixOf(bookPath, cipher()) + visitId);
}

/** What another window of this device changed, if it is a draft of this book; text null = it was dropped. */
export function changeOf(event: StorageEvent, bookPath: string): { visitId: string; text: string | null } | undefined {
  const sealed = cipher();
  const prefix = prefixOf(bookPath, sealed);
  if (event.key === null || !event.key.startsWith(prefix)) return undefined;
  return { visitId: event.key.slice(prefix.length), text: open(event.key, event.newValue, sealed) };
}

/** Drafts of an earlier version lie open: they are sealed, and only then taken away as they were. */
function sealPlain(bookPath: string): void {
  if (draftSecret()?.takesPlain !== true) return;
  for (const name of names(plainPrefix(bookPath))) {
    const text = localStorage.getItem(name);
    const visitId = name.slice(plainPrefix(bookPath).length);
    if (text === null) continue;
    // Room for both at once may be wanting; the text is in hand either way.
    localStorage.removeItem(name);
    try {
      keepText(bookPath, visitId, text);
    } catch (error) {
      localStorage.setItem(name, text);
      throw error;
    }
  }
}

function names(prefix: string): string[] {
  return Array.from({ length: localStorage.length }, (_, index) => localStorage.key(index) ?? '').filter((name) =>
    name.startsWith(prefix),
  );
}

// The name is sealed along: a text put under another visit's name does not open.
function seal(name: string, text: string, { key }: Cipher): string {
  const nonce = crypto.getRandomValues(new Uint8Array(24));
  const bytes = xchacha20poly1305(key, nonce, new TextEncoder().encode(name)).encrypt(new TextEncoder().encode(text));
  return toSigns(nonce) + toSigns(bytes);
}

function open(name: string, value: string | null, sealed: Cipher | null): string | null {
  if (value === null || sealed === null) return value;
  try {
    const bytes = Uint8Array.from(value, (sign) => sign.charCodeAt(0) - SIGN_OF_ZERO);
    const cipherOf = xchacha20poly1305(sealed.key, bytes.subarray(0, 24), new TextEncoder().encode(name));
    return new TextDecoder().decode(cipherOf.decrypt(bytes.subarray(24)));
  } catch {
    return null;
  }
}

// One sign a byte, past the control characters: storage is measured in signs, and base64 would take a third more of them.
const SIGN_OF_ZERO = 0x100;
function toSigns(bytes: Uint8Array): string {
  const pieces: string[] = [];
  // In pieces: a photograph is more arguments than a call takes.
  for (let at = 0; at < bytes.length; at += 8192)
    pieces.push(String.fromCharCode(...Array.from(bytes.subarray(at, at + 8192), (byte) => byte + SIGN_OF_ZERO)));
  return pieces.join('');
}

function fromBase64(text: string): Uint8Array {
  return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (sign) => sign.charCodeAt(0));
}
