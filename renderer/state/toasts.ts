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
  useToasts.setState(({ toasts }) => ({ toasts: [...toasts.filter((old) => old.text !== added.text || old.undo !== undefined), added].slice(-3) }));
  return added.id;
}

/** Takes a message off the screen. */
export function dismissToast(id: number): void {
  useToasts.setState(({ toasts }) => ({ toasts: toasts.filter((item) => item.id !== id) }));
}

/** Takes back the newest change that still offers it. */
export function undoLatest(): boolean {
  const latest = useToasts.getState().toasts.findLast((item) => item.undo !== undefined);
  if (latest === undefined) return false;
  dismissToast(latest.id);
  latest.undo?.();
  return true;
}
