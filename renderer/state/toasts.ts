import { create } from 'zustand';

export interface Toast {
  id: number;
  text: string;
  tone: 'info' | 'error';
  undo?: () => void;
}

export const UNDO_MS = 10_000;
let lastId = 0;

export const useToasts = create<{ toasts: Toast[] }>(() => ({ toasts: [] }));

/** Says what was done; with `undo` it can be taken back for about ten seconds, by the button or Ctrl/Cmd+Z. */
export function toast(message: { text: string; undo?: () => void; tone?: 'info' | 'error' }): number {
  lastId += 1;
  const added: Toast = { tone: 'info', ...message, id: lastId };
  // The same words twice in a row are one message.
  useToasts.setState(({ toasts }) => ({
    toasts: [...toasts.filter((old) => old.text !== added.text || old.undo !== undefined), added].slice(-3),
  }));
  return added.id;
}

/** Takes a message off the screen. */
export function dismissToast(id: number): void {
  useToasts.setState(({ toasts }) => ({ toasts: toasts.filter((item) => item.id !== id) }));
}

const onTheirWay = new Set<Promise<unknown>>();

/** A change that will offer its way back when it is saved: an undo pressed before that waits for it, and never takes back an older one instead. */
export function undoWaitsFor(change: Promise<unknown>): void {
  onTheirWay.add(change);
  void change.finally(() => onTheirWay.delete(change)).catch(() => {});
}

const newestUndo = () => useToasts.getState().toasts.findLast((item) => item.undo !== undefined);

/** Is there, or will there be in a moment, something to take back? */
export function canUndo(): boolean {
  return onTheirWay.size > 0 || newestUndo() !== undefined;
}

/** Takes back the newest change that still offers it. */
export async function undoLatest(): Promise<boolean> {
  await Promise.allSettled(onTheirWay);
  const latest = newestUndo();
  if (latest === undefined) return false;
  dismissToast(latest.id);
  latest.undo?.();
  return true;
}
