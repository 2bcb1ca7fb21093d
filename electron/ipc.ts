import type { IpcMain, IpcMainInvokeEvent, WebContents } from 'electron';
import type { CallOptions } from '../core/desk/desk.ts';
import { BookError, toFailure } from '../core/errors.ts';
import { fact, type Fact, type Reader } from '../core/text/say.ts';
import { LANGUAGES } from '../core/text/words.ts';
import { isPathChoice, type PathChoiceName } from '../core/contract/places.ts';
import type { Reply } from '../core/contract/index.ts';
import { APP_ORIGIN, CHANNEL, type ToMain, type ToWindow } from './bridge.ts';

interface Callee {
  call(name: string, input: unknown, options: CallOptions): Promise<Reply>;
}

/** What the window itself is told and asked, beside the book's requests. */
interface Asides {
  unsaved(holds: boolean): void;
  choosePath(choice: PathChoiceName, from: string): Promise<string | null>;
  reader(reader: Reader): void;
}

const refused = (code: 'conflict' | 'bad-input', why: Fact): Reply => ({
  ok: false,
  error: toFailure(new BookError(code, why)),
});
const DONE: Reply = { ok: true, data: null };

/** Serves every request on one channel, to our own window's top frame and to nobody else. */
export function serveRequests(
  ipcMain: Pick<IpcMain, 'handle'>,
  callee: Callee,
  isOurWindow: (sender: WebContents) => boolean,
  asides: Asides,
): void {
  const running = new Map<string, AbortController>();
  let choosing = false;
  const watched = new WeakSet<WebContents>();

  ipcMain.handle(CHANNEL, async (event: IpcMainInvokeEvent, message: unknown): Promise<Reply> => {
    if (!isTrusted(event, isOurWindow)) return refused('conflict', fact('desktop.onlyOwnWindow'));
    if (!isToMain(message)) return refused('bad-input', fact('desktop.notARequest'));
    const sender = event.sender;
    if (message.kind === 'unsaved') {
      asides.unsaved(message.holds);
      return DONE;
    }
    if (message.kind === 'reader') {
      asides.reader({ language: message.language, units: message.units });
      return DONE;
    }
    if (message.kind === 'choose') {
      // One at a time: a dialog over a dialog could not be told apart.
      if (choosing) return refused('conflict', fact('desktop.oneDialog'));
      choosing = true;
      try {
        return { ok: true, data: await asides.choosePath(message.choice, message.from) };
      } catch (error) {
        return { ok: false, error: toFailure(error) };
      } finally {
        choosing = false;
      }
    }
    const key = `${sender.id}:${message.callId}`;
    if (message.kind === 'cancel') {
      running.get(key)?.abort();
      return DONE;
    }
    if (!watched.has(sender)) {
      watched.add(sender);
      // A page that is gone has nobody to read the answer.
      const abandon = () => {
        for (const [name, controller] of running) if (name.startsWith(`${sender.id}:`)) controller.abort();
      };
      sender.on('destroyed', abandon);
      sender.on('did-navigate', abandon);
    }
    const controller = new AbortController();
    running.set(key, controller);
    try {
      return await callee.call(message.name, message.input, {
        signal: controller.signal,
        onProgress: (progress) => {
          if (!sender.isDestroyed())
            sender.send(CHANNEL, { kind: 'progress', callId: message.callId, progress } satisfies ToWindow);
        },
      });
    } finally {
      if (running.get(key) === controller) running.delete(key);
    }
  });
}

function isTrusted(event: IpcMainInvokeEvent, isOurWindow: (sender: WebContents) => boolean): boolean {
  const frame = event.senderFrame;
  // A frame that navigated away meanwhile is null; a frame inside the page is not the page.
  if (frame === null || frame !== event.sender.mainFrame) return false;
  return isAppAddress(frame.url) && isOurWindow(event.sender);
}

/** True for the app's own pages. URL.origin is "null" for schemes of one's own, so scheme and host are compared. */
export function isAppAddress(address: string): boolean {
  return URL.canParse(address) && `${new URL(address).protocol}//${new URL(address).host}` === APP_ORIGIN;
}

function isToMain(message: unknown): message is ToMain {
  if (typeof message !== 'object' || message === null || !('kind' in message) || !('callId' in message)) return false;
  if (typeof message.callId !== 'string' || message.callId.length > 64) return false;
  if (message.kind === 'cancel') return true;
  if (message.kind === 'unsaved') return 'holds' in message && typeof message.holds === 'boolean';
  if (message.kind === 'reader')
    return (
      'language' in message &&
      LANGUAGES.some((one) => one === message.language) &&
      'units' in message &&
      (message.units === 'us' || message.units === 'metric')
    );
  if (message.kind === 'choose')
    return (
      'choice' in message &&
      isPathChoice(message.choice) &&
      'from' in message &&
      typeof message.from === 'string' &&
      message.from.length <= 4000
    );
  return message.kind === 'call' && 'name' in message && typeof message.name === 'string' && 'input' in message;
}
