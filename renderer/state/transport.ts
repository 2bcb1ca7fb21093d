import type { Progress, Reply, Topic, Transport } from '../../core/contract/index.ts';
import type { PathChoiceName } from '../../core/contract/places.ts';

/** What Electron's preload puts on the window. Signals do not cross its bridge, so a call is cancelled by its number. */
export interface Bridge {
  call(name: string, input: unknown, callId: string, onProgress?: (progress: Progress) => void): Promise<Reply>;
  cancel(callId: string): void;
  /** Tells whether the page holds changes that would be lost with it. */
  unsaved(holds: boolean): void;
  /** The system's own dialog for a path; `from` is what stands in the field. Answers null where none was chosen. */
  choosePath(choice: PathChoiceName, from: string): Promise<Reply<string | null>>;
  onChange(listener: (topics: Topic[]) => void): () => void;
}
declare global {
  interface Window {
    valvebook?: Bridge;
  }
}

const NO_ANSWER: Reply = {
  ok: false,
  error: {
    code: 'internal',
    message:
      'Valvebook does not answer, so it is not certain whether the book has this. Check that it is still running, and look whether the change is there before you make it again.',
  },
};
const CANCELLED: Reply = { ok: false, error: { code: 'cancelled', message: 'Cancelled. Nothing more was done.' } };

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
  let source: EventSource | null = null;
  return {
    async call(name, input, { signal, onProgress } = {}) {
      try {
        const response = await fetch(`/request/${encodeURIComponent(name)}`, {
          method: 'POST',
          headers: {
            'content-type': 'application/json',
            accept: onProgress === undefined ? 'application/json' : 'application/x-ndjson',
          },
          body: JSON.stringify(input ?? {}),
          signal: signal ?? null,
        });
        if (!(response.headers.get('content-type') ?? '').includes('ndjson')) return (await response.json()) as Reply;
        return await readLines(response, onProgress);
      } catch {
        return signal?.aborted === true ? CANCELLED : NO_ANSWER;
      }
    },
    onChange(listener) {
      listeners.add(listener);
      // One line for all: a browser allows a host only six at a time.
      source ??= openChanges((topics) => {
        for (const told of listeners) told(topics);
      });
      return () => {
        listeners.delete(listener);
        if (listeners.size > 0) return;
        source?.close();
        source = null;
      };
    },
  };
}

function openChanges(tell: (topics: Topic[]) => void): EventSource {
  const source = new EventSource('/changes');
  let opened = false;
  source.onopen = () => {
    // What changed while the line was down is not known: read everything again.
    if (opened) tell(EVERYTHING);
    opened = true;
  };
  source.onmessage = (event) => tell(JSON.parse(String(event.data)) as Topic[]);
  return source;
}

const EVERYTHING: Topic[] = [
  'client',
  'property',
  'program',
  'visit',
  'ledger',
  'people',
  'rules',
  'weather',
  'settings',
  'book',
];

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
