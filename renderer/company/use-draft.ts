import { useEffect, useRef, useState } from 'react';
import { create } from 'zustand';

interface Kept {
  drafts: Record<string, unknown>;
}

/** Changes not saved yet, by form: going to look at another page does not lose them. They last as long as the window. */
export const useKeptDrafts = create<Kept>(() => ({ drafts: {} }));

const keptDraft = (key: string): unknown => useKeptDrafts.getState().drafts[key];

function keep(key: string, draft: unknown): void {
  useKeptDrafts.setState(({ drafts }) => ({ drafts: { ...drafts, [key]: draft } }));
}

function drop(key: string): void {
  useKeptDrafts.setState(({ drafts }) => {
    if (!(key in drafts)) return { drafts };
    const { [key]: _gone, ...rest } = drafts;
    return { drafts: rest };
  });
}

const holdsSome = ({ drafts }: Kept) => Object.keys(drafts).length > 0;

// A reload or a closed window would lose them after all; the browser asks first.
window.addEventListener('beforeunload', (event) => {
  if (holdsSome(useKeptDrafts.getState())) event.preventDefault();
});
// Another book opened from outside would lose them as well; the desktop window asks before it does so.
useKeptDrafts.subscribe((now, before) => {
  if (holdsSome(now) !== holdsSome(before)) window.valvebook?.unsaved(holdsSome(now));
});

const same = (one: unknown, other: unknown) => JSON.stringify(one) === JSON.stringify(other);

/** A form's own copy of what the book says: follows the book until it is changed here. `key` names the form. */
export function useDraft<T>(
  key: string,
  saved: T | undefined,
): {
  draft: T | undefined;
  set: (change: Partial<T>) => void;
  replace: (next: T) => void;
  changed: boolean;
  reset: () => void;
} {
  const [draft, setDraft] = useState<T | undefined>(() => (keptDraft(key) as T | undefined) ?? saved);
  const changed = draft !== undefined && saved !== undefined && !same(draft, saved);
  const wasChanged = useRef(keptDraft(key) !== undefined);
  useEffect(() => {
    // What somebody else saved shows at once, unless something half-typed would be lost.
    if (!wasChanged.current && saved !== undefined) setDraft(saved);
  }, [saved]);
  useEffect(() => {
    if (saved === undefined) return;
    wasChanged.current = changed;
    if (changed) keep(key, draft);
    else drop(key);
  }, [changed, draft, key, saved]);
  return {
    draft,
    set: (change) => setDraft((old) => (old === undefined ? old : { ...old, ...change })),
    replace: setDraft,
    changed,
    reset: () => {
      wasChanged.current = false;
      setDraft(saved);
    },
  };
}
