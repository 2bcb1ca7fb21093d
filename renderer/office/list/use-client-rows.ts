import { useState } from 'react';
import type { InputOf } from '../../../core/contract/index.ts';
import type { ClientRow } from '../../../core/clients/contract.ts';
import type { Failure } from '../../../core/errors.ts';
import { heldPage, useRequestPages } from '../../state/use-request.ts';

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
  const first = state.page(0);

  // Until a new search has its own rows the last one's stay; within one search, what was read before never turns blank.
  const [answered, setAnswered] = useState<ListQuery | null>(null);
  if (first !== undefined && JSON.stringify(answered) !== JSON.stringify(query)) setAnswered(query);
  const shown = first === undefined && answered !== null ? answered : query;
  const pageAt = (index: number) =>
    state.page(shown === query ? index : -1) ?? heldPage('client.list', shown, PAGE, index);
  return {
    total: pageAt(0)?.total ?? 0,
    rowAt: (index) => pageAt(Math.floor(index / PAGE))?.rows[index % PAGE],
    query: shown,
    error: state.error,
    first: first === undefined && answered === null,
    reload: state.reload,
  };
}
