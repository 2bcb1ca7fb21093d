import { create } from 'zustand';
import { enter, keyForTab, useAccess } from './session.ts';

// Another tab of this browser joins when the user agrees in a tab that is in. Not by itself: a page that another program left
// open at this address, from a time when Valvebook was closed, can ask on the same channel.

type Message =
  | { kind: 'ask' | 'open' | 'gone'; tab: string }
  | { kind: 'no'; tab: string }
  | { kind: 'key'; tab: string; key: string };

/** How long after opening a link in a new tab that tab is taken for the user’s own, in milliseconds: a busy machine needs ten seconds to load one. */
const OWN_LINK_MS = 20_000;

interface TabState {
  /** Tabs that ask to be let in here. */
  asking: string[];
  /** This tab asks, and a tab that is in has heard it. */
  heard: boolean;
  refused: boolean;
}
export const useTabs = create<TabState>(() => ({ asking: [], heard: false, refused: false }));

const me = crypto.randomUUID();
const channel =
  window.valvebook === undefined && typeof BroadcastChannel === 'function'
    ? new BroadcastChannel('valvebook.tabs')
    : null;
const say = (message: Message) => channel?.postMessage(message);
let ownLinkAt = -Infinity;

/** Lets a waiting tab in, or not. */
export async function answerTab(tab: string, yes: boolean): Promise<void> {
  drop(tab);
  try {
    say(yes ? { kind: 'key', tab, key: await keyForTab() } : { kind: 'no', tab });
  } catch {
    // The host is gone; the other tab says so when it is loaded again.
    say({ kind: 'no', tab });
  }
}

function drop(tab: string): void {
  useTabs.setState(({ asking }) => ({ asking: asking.filter((one) => one !== tab) }));
}

function hear(message: Message): void {
  const { state } = useAccess.getState();
  if (state === 'in') {
    if (message.kind === 'ask') {
      say({ kind: 'open', tab: message.tab });
      const ownLink = performance.now() - ownLinkAt < OWN_LINK_MS;
      ownLinkAt = -Infinity;
      if (ownLink) void answerTab(message.tab, true);
      else
        useTabs.setState(({ asking }) => ({
          asking: [...asking.filter((one) => one !== message.tab), message.tab].slice(-3),
        }));
    } else drop(message.tab);
    return;
  }
  if (message.tab !== me || state !== 'out') return;
  if (message.kind === 'open') useTabs.setState({ heard: true });
  else if (message.kind === 'no') useTabs.setState({ refused: true });
  else if (message.kind === 'key') void enter(message.key);
}

if (channel !== null) {
  channel.onmessage = (event: MessageEvent<Message>) => hear(event.data);
  const ask = () => {
    const access = useAccess.getState();
    if (access.state === 'out' && !access.closed) say({ kind: 'ask', tab: me });
  };
  useAccess.subscribe(ask);
  ask();
  window.addEventListener('pagehide', () => say({ kind: 'gone', tab: me }));
  const opensTab = (event: MouseEvent) => {
    const byKey = event.ctrlKey || event.metaKey || event.shiftKey || event.button === 1;
    const link = event.target instanceof Element ? event.target.closest('a[href^="#"]') : null;
    if (event.isTrusted && byKey && link !== null) ownLinkAt = performance.now();
  };
  for (const kind of ['click', 'auxclick'] as const) window.addEventListener(kind, opensTab, true);
}
