import { useEffect, useRef, useState } from 'react';
import type { InputOf, OutputOf } from '../../../core/contract/index.ts';
import type { ClientRow } from '../../../core/contract/clients.ts';
import type { Failure } from '../../../core/errors.ts';
import { useRequestPages } from '../../state/use-request.ts';

export type ListQuery = Omit<InputOf<'client.list'>, 'limit' | 'offset'>;
const PAGE = 100;

export interface ClientRows {
  total: number;
  rowAt: (index: number) => ClientRow | undefined;
  /** The query these rows answer; behind the wanted one while its answer is on its way. */
  query: ListQuery;
  error: Failure | null;
  /** No answer yet at all. */
  first: boolean;
  reload: () => void;
}

/** The home list by windows of a hundred rows: only what is in view is read, and a new search replaces the old rows when its own are there. */
export function useClientRows(query: ListQuery, firstIndex: number, lastIndex: number): ClientRows {
  const from = Math.max(0, Math.floor(firstIndex / PAGE));
  const to = Math.max(from, Math.floor(Math.max(0, lastIndex) / PAGE));
  const pages = [...new Set([0, ...Array.from({ length: to - from + 1 }, (_, step) => from + step)])];
  const state = useRequestPages('client.list', query, PAGE, pages);
  const key = JSON.stringify(query);
  const first = state.page(0);

  // What was last seen, so that scrolling back or a slow answer never blanks a row.
  const seen = useRef<{ key: string; query: ListQuery; pages: Map<number, OutputOf<'client.list'>>; total: number }>({
    key: '',
    query,
    pages: new Map(),
    total: 0,
  });
  const [, setVersion] = useState(0);
  if (first !== undefined) {
    if (seen.current.key !== key) seen.current = { key, query, pages: new Map(), total: first.total };
    for (const index of pages) {
      const page = state.page(index);
      if (page !== undefined) seen.current.pages.set(index, page);
    }
    seen.current.total = first.total;
  }
  useEffect(() => {
    if (first !== undefined) setVersion((version) => version + 1);
  }, [first, key]);
  const shown = seen.current;
  return {
    total: shown.total,
    rowAt: (index) => shown.pages.get(Math.floor(index / PAGE))?.rows[index % PAGE],
    query: shown.query,
    error: state.error,
    first: shown.key === '',
    reload: state.reload,
  };
}
