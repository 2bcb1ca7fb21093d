import type { Progress, Reply, Topic, Transport } from '../../core/contract/index.ts';
import { TOPICS } from '../../core/contract/parts.ts';
import { BookError, toFailure, type ErrorCode } from '../../core/errors.ts';
import { fact, type Fact } from '../../core/text/say.ts';
import type { Bridge } from '../../core/contract/bridge.ts';
import { changesAtEntry, endSession, lineBroke, NotSent, sessionHeaders, useAccess } from './session.ts';
import { sayError } from './say.ts';

declare global {
  interface Window {
    valvebook?: Bridge;
  }
}

const refusal = (code: ErrorCode, text: Fact): Reply => ({
  ok: false,
  error: toFailure(new BookError(code, text)),
});
const NO_ANSWER = refusal('internal', fact('session.noAnswer'));
const CANCELLED = refusal('cancelled', fact('session.cancelled'));

/** The way to the book: Electron's bridge in the desktop window, HTTP on this machine elsewhere. */
export const transport: Transport = window.valvebook === undefined ? overHttp() : overBridge(window.valvebook);

function overBridge(bridge: Bridge): Transport {
  let calls = 0;
  return {
    async call(name, input, options = {}) {
      if (options.signal?.aborted) return CANCELLED;
      calls += 1;
      const callId = `${calls}`;
      const cancel = () => bridge.cancel(callId);
      options.signal?.addEventListener('abort', cancel, { once: true });
      try {
        return await bridge.call(name, input, callId, options.onProgress);
      } catch {
        return NO_ANSWER;
      } finally {
        options.signal?.removeEventListener('abort', cancel);
      }
    },
    onChange: (listener) => bridge.onChange(listener),
  };
}

function overHttp(): Transport {
  const listeners = new Set<(topics: Topic[]) => void>();
  let stop: (() => void) | null = null;
  return {
    async call(name, input, { signal, onProgress } = {}) {
      try {
        const response = await fetch(`/request/${encodeURIComponent(name)}`, {
          method: 'POST',
          headers: {
            ...(await sessionHeaders()),
            'content-type': 'application/json',
            accept: onProgress === undefined ? 'application/json' : 'application/x-ndjson',
          },
          body: JSON.stringify(input ?? {}),
          signal: signal ?? null,
        });
        // Refused at the door: the book has not seen it. Whether it saw an earlier try of the same, only the book knows.
        if (response.status === 401) return notSent(sayError(((await response.json()) as Refusal).error));
        if (!(response.headers.get('content-type') ?? '').includes('ndjson')) return (await response.json()) as Reply;
        return await readLines(response, onProgress);
      } catch (error) {
        if (error instanceof NotSent) return notSent(error.message);
        return signal?.aborted === true ? CANCELLED : NO_ANSWER;
      }
    },
    onChange(listener) {
      listeners.add(listener);
      // One line for all: a browser allows a host only six at a time.
      stop ??= followChanges((topics) => {
        for (const told of listeners) told(topics);
      });
      return () => {
        listeners.delete(listener);
        if (listeners.size > 0) return;
        stop?.();
        stop = null;
      };
    },
  };
}

type Refusal = Extract<Reply, { ok: false }>;
const notSent = (message: string): Reply => ({ ok: false, error: { code: 'internal', message } });

const AGAIN_MS = 1_000;

/** Keeps a line open on which the host tells of changes. By fetch, since an EventSource cannot send the session's header. */
function followChanges(tell: (topics: Topic[]) => void): () => void {
  const leaving = new AbortController();
  let opened = false;
  const follow = async () => {
    await whenIn(leaving.signal);
    const response = await fetch('/changes', { headers: await sessionHeaders(), signal: leaving.signal });
    if (!response.ok || response.body === null) throw new Error('no line');
    for await (const event of eventsOf(response.body)) {
      const data = /^data: (.*)$/m.exec(event)?.[1];
      if (data === undefined) continue;
      const kind = /^event: (.*)$/m.exec(event)?.[1];
      if (kind === 'ended') endSession(JSON.parse(data) as Fact);
      else if (kind === 'listening') {
        // What changed while there was no line is not known: read everything again.
        if (opened || Number(data) !== changesAtEntry()) tell([...TOPICS]);
        opened = true;
      } else tell(JSON.parse(data) as Topic[]);
    }
  };
  const keepFollowing = async () => {
    while (!leaving.signal.aborted) {
      await follow().catch(() => undefined);
      lineBroke();
      await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
    }
  };
  void keepFollowing();
  return () => leaving.abort();
}

function whenIn(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (useAccess.getState().state === 'in') return resolve();
    const stop = useAccess.subscribe(({ state }) => {
      if (state !== 'in') return;
      stop();
      resolve();
    });
    signal.addEventListener('abort', () => stop(), { once: true });
  });
}

/** The blocks of an event stream, each without the blank line that ends it. */
async function* eventsOf(body: ReadableStream<Uint8Array<ArrayBuffer>>): AsyncGenerator<string> {
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    const events = (rest + value).split('\n\n');
    rest = events.pop() ?? '';
    yield* events;
  }
}

async function readLines(response: Response, onProgress: ((progress: Progress) => void) | undefined): Promise<Reply> {
  if (response.body === null) return NO_ANSWER;
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { done, value } = await reader.read();
    if (value !== undefined) rest += value;
    const lines = rest.split('\n');
    rest = done ? '' : (lines.pop() ?? '');
    for (const line of lines) {
      if (line.trim() === '') continue;
      const message = JSON.parse(line) as { progress?: Progress; reply?: Reply };
      if (message.progress !== undefined) onProgress?.(message.progress);
      if (message.reply !== undefined) return message.reply;
    }
    if (done) return NO_ANSWER;
  }
}
