import { useRef } from 'react';

/** Keeps the object of a row whose content did not change, so that a fresh answer redraws only what is different. */
export function useSteady<T extends { id: string }>(rows: T[] | undefined): T[] | undefined {
  const known = useRef(new Map<string, { text: string; row: T }>());
  const last = useRef<{ rows: T[] | undefined; steady: T[] | undefined }>({ rows: undefined, steady: undefined });
  if (last.current.rows === rows) return last.current.steady;
  const next = new Map<string, { text: string; row: T }>();
  const steady = rows?.map((row) => {
    const text = JSON.stringify(row);
    const before = known.current.get(row.id);
    const kept = before?.text === text ? before : { text, row };
    next.set(row.id, kept);
    return kept.row;
  });
  known.current = next;
  last.current = { rows, steady };
  return steady;
}
