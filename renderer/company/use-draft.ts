import { useEffect, useRef, useState } from 'react';

/** A form's own copy of what the book says: follows the book until it is changed here. */
export function useDraft<T>(saved: T | undefined): { draft: T | undefined; set: (change: Partial<T>) => void; replace: (next: T) => void; changed: boolean; reset: () => void } {
  const [draft, setDraft] = useState<T | undefined>(saved);
  const changed = draft !== undefined && saved !== undefined && JSON.stringify(draft) !== JSON.stringify(saved);
  const wasChanged = useRef(false);
  useEffect(() => {
    // What somebody else saved shows at once, unless something half-typed would be lost.
    if (!wasChanged.current && saved !== undefined) setDraft(saved);
  }, [saved]);
  useEffect(() => {
    wasChanged.current = changed;
  }, [changed]);
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
