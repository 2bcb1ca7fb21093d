import { skipToken, useQueries, useQuery } from '@tanstack/react-query';
import type { Query } from '@tanstack/react-query';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';
import { answers, KEPT, questionOf } from './answers.ts';
import { transport } from './transport.ts';

export interface RequestState<T> {
  data: T | undefined;
  error: Failure | null;
  /** True while a first or a fresh answer is on its way. */
  loading: boolean;
  /** The data answers an earlier input; the asked-for answer is on its way. */
  isPrevious: boolean;
  reload: () => void;
}

/**
 * Reads by request and keeps reading: again when the input changes and when a write touched what it shows.
 * `input` null asks nothing. While a new input's answer is on its way the previous answer stays (unless keepPrevious is false).
 */
export function useRequest<N extends RequestName>(
  name: N,
  input: InputOf<N> | null,
  opts: { keepPrevious?: boolean } = {},
): RequestState<OutputOf<N>> {
  const asks = input !== null;
  const question = questionOf(name, input);
  const previous = (data: unknown, of: Query<unknown, Failure, unknown, readonly unknown[]> | undefined) =>
    of?.queryKey[0] === name ? data : undefined;
  const { data, error, isFetching, isPlaceholderData, refetch } = useQuery<
    unknown,
    Failure,
    unknown,
    readonly unknown[]
  >(
    {
      queryKey: question.queryKey,
      queryFn: asks ? question.queryFn : skipToken,
      ...(asks && opts.keepPrevious !== false && { placeholderData: previous }),
    },
    answers,
  );
  return {
    data: data as OutputOf<N> | undefined,
    error,
    loading: isFetching,
    isPrevious: isPlaceholderData,
    reload: () => {
      if (asks) void refetch();
    },
  };
}

/** Asks once, without keeping the answer on screen. */
export async function ask<N extends RequestName>(
  name: N,
  input: InputOf<N>,
): Promise<{ ok: true; data: OutputOf<N> } | { ok: false; error: Failure }> {
  return (await transport.call(name, input)) as { ok: true; data: OutputOf<N> } | { ok: false; error: Failure };
}

export interface PagesState<T> {
  /** The answer for one page, once it is there. */
  page: (index: number) => T | undefined;
  error: Failure | null;
  loading: boolean;
  reload: () => void;
}

const pageOf = (input: object, pageSize: number, index: number) => ({
  ...input,
  limit: pageSize,
  offset: index * pageSize,
});

/** Reads the wanted pages of one long list and keeps each up to date in its place, so that the list never jumps under its reader. */
export function useRequestPages<N extends RequestName>(
  name: N,
  input: InputOf<N>,
  pageSize: number,
  pages: readonly number[],
): PagesState<OutputOf<N>> {
  const asked = useQueries(
    { queries: pages.map((index) => ({ ...questionOf(name, pageOf(input, pageSize, index)), meta: KEPT })) },
    answers,
  );
  return {
    page: (index) => asked[pages.indexOf(index)]?.data as OutputOf<N> | undefined,
    error: (asked.find(({ error }) => error !== null)?.error ?? null) as Failure | null,
    loading: asked.some(({ isFetching }) => isFetching),
    reload: () => {
      for (const { refetch } of asked) void refetch();
    },
  };
}

/** What is still known of a page of a list that was asked for lately; asks nothing. */
export function heldPage<N extends RequestName>(
  name: N,
  input: InputOf<N>,
  pageSize: number,
  index: number,
): OutputOf<N> | undefined {
  return answers.getQueryData<OutputOf<N>>([name, pageOf(input, pageSize, index)]);
}
