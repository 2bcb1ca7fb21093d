import { useState } from 'react';
import { useSaving } from '../../use-saving.ts';
import { errorAt } from './form-sheet.tsx';

/** What the fields of a form need: the thing as it is typed so far, a way to change it, and what is wrong at a field. */
export interface Draft<Thing> {
  draft: Thing;
  set: (change: Partial<Thing>) => void;
  error: (field: string) => string | null;
}

/** A thing on a form until it is saved. */
export function useDraft<Thing>(first: () => Thing) {
  const [draft, setDraft] = useState(first);
  const { failure, saving, answered } = useSaving();
  const fields: Draft<Thing> = {
    draft,
    set: (change) => setDraft((old) => ({ ...old, ...change })),
    error: (field) => errorAt(failure, field),
  };
  return { fields, failure, saving, answered };
}
