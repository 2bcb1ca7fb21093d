import { useState } from 'react';

interface Held<T> {
  rows: T[] | undefined;
  steady: T[] | undefined;
  byId: ReadonlyMap<string, { text: string; row: T }>;
}

/** Keeps the object of a row whose content did not change, so that a fresh answer redraws only what is different. */
export function useSteady<T extends { id: string }>(rows: T[] | undefined): T[] | undefined {
  const [held, setHeld] = useState<Held<T>>({ rows: undefined, steady: undefined, byId: new Map() });
  if (held.rows === rows) return held.steady;
  const next = keepingSame(rows, held);
  setHeld(next);
  return next.steady;
}

function keepingSame<T extends { id: string }>(rows: T[] | undefined, before: Held<T>): Held<T> {
  const byId = new Map<string, { text: string; row: T }>();
  const steady = rows?.map((row) => {
    const text = JSON.stringify(row);
    const known = before.byId.get(row.id);
    const kept = known?.text === text ? known : { text, row };
    byId.set(row.id, kept);
    return kept.row;
  });
  return { rows, steady, byId };
}
