import { useCallback, useEffect, useRef, useSyncExternalStore } from 'react';
import { findRequest } from '../../core/contract/index.ts';
import type { InputOf, OutputOf, RequestName, Topic } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';
import { transport } from './transport.ts';

// What the book says lives here only as the last answer to a question; a change event makes the question be asked again.

interface Snapshot {
  data: unknown;
  error: Failure | null;
  loading: boolean;
}
interface Entry {
  name: string;
  input: unknown;
  topics: readonly Topic[];
  snapshot: Snapshot;
  listeners: Set<() => void>;
  running: boolean;
  again: boolean;
}

const MAX_IDLE = 120;
const entries = new Map<string, Entry>();
const NOTHING: Snapshot = { data: undefined, error: null, loading: false };

function entryFor(name: RequestName, input: unknown): Entry {
  const key = `${name} ${JSON.stringify(input)}`;
  let entry = entries.get(key);
  if (entry === undefined) {
    entry = {
      name,
      input,
      topics: findRequest(name)?.topics ?? [],
      snapshot: { data: undefined, error: null, loading: true },
      listeners: new Set(),
      running: false,
      again: false,
    };
    forgetIdle();
  } else {
    entries.delete(key);
  }
  entries.set(key, entry);
  return entry;
}

function forgetIdle(): void {
  if (entries.size < MAX_IDLE) return;
  for (const [key, entry] of entries) {
    if (entry.listeners.size === 0 && !entry.running) entries.delete(key);
    if (entries.size < MAX_IDLE) return;
  }
}

async function read(entry: Entry): Promise<void> {
  if (entry.running) {
    entry.again = true;
    return;
  }
  entry.running = true;
  if (!entry.snapshot.loading) set(entry, { ...entry.snapshot, loading: true });
  do {
    entry.again = false;
    const reply = await transport.call(entry.name, entry.input);
    if (entry.again) continue;
    set(
      entry,
      reply.ok
        ? { data: reply.data, error: null, loading: false }
        : { data: entry.snapshot.data, error: reply.error, loading: false },
    );
  } while (entry.again);
  entry.running = false;
}

function set(entry: Entry, snapshot: Snapshot): void {
  entry.snapshot = snapshot;
  for (const listener of entry.listeners) listener();
}

/** Asks again everything on screen that shows one of these topics, and forgets what is not on screen. */
export function invalidate(topics: readonly Topic[]): void {
  for (const [key, entry] of entries) {
    if (!entry.topics.some((topic) => topics.includes(topic))) continue;
    if (entry.listeners.size === 0 && !entry.running) entries.delete(key);
    else void read(entry);
  }
}

transport.onChange(invalidate);

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
  const key = input === null ? null : JSON.stringify(input);
  const entry = useRef<Entry | null>(null);
  const entryKey = useRef<string | null>(null);
  const wanted = key === null ? null : `${name} ${key}`;
  if (entryKey.current !== wanted) {
    entryKey.current = wanted;
    entry.current = wanted === null ? null : entryFor(name, input);
  }
  const current = entry.current;
  const subscribe = useCallback(
    (listener: () => void) => {
      if (current === null) return () => {};
      current.listeners.add(listener);
      const forgotten = entries.get(wanted ?? '') !== current;
      if (forgotten) entries.set(wanted ?? '', current);
      if (!current.running && (current.snapshot.data === undefined || forgotten)) void read(current);
      return () => current.listeners.delete(listener);
    },
    [current, wanted],
  );
  const snapshot = useSyncExternalStore(subscribe, () => current?.snapshot ?? NOTHING);

  const previous = useRef<{ name: string; data: unknown } | null>(null);
  useEffect(() => {
    if (snapshot.data !== undefined) previous.current = { name, data: snapshot.data };
  }, [name, snapshot.data]);
  const reload = useCallback(() => {
    if (current !== null) void read(current);
  }, [current]);

  const usePrevious =
    snapshot.data === undefined &&
    snapshot.error === null &&
    current !== null &&
    opts.keepPrevious !== false &&
    previous.current?.name === name;
  return {
    data: (usePrevious ? previous.current?.data : snapshot.data) as OutputOf<N> | undefined,
    error: snapshot.error,
    loading: current !== null && snapshot.loading,
    isPrevious: usePrevious,
    reload,
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

/** Reads the wanted pages of one long list and keeps each up to date in its place, so that the list never jumps under its reader. */
export function useRequestPages<N extends RequestName>(
  name: N,
  input: InputOf<N>,
  pageSize: number,
  pages: readonly number[],
): PagesState<OutputOf<N>> {
  const baseKey = JSON.stringify(input);
  const wantedKey = pages.join(',');
  const held = useRef<{ key: string; entries: Map<number, Entry> }>({ key: '', entries: new Map() });
  const fullKey = `${name} ${baseKey} ${wantedKey}`;
  if (held.current.key !== fullKey) {
    held.current = {
      key: fullKey,
      entries: new Map(
        pages.map((index) => [
          index,
          entryFor(name, { ...(input as object), limit: pageSize, offset: index * pageSize }),
        ]),
      ),
    };
  }
  const current = held.current;
  const version = useRef(0);
  const subscribe = useCallback(
    (listener: () => void) => {
      const changed = () => {
        version.current += 1;
        listener();
      };
      for (const entry of current.entries.values()) {
        entry.listeners.add(changed);
        const key = `${entry.name} ${JSON.stringify(entry.input)}`;
        const forgotten = entries.get(key) !== entry;
        if (forgotten) entries.set(key, entry);
        if (!entry.running && (entry.snapshot.data === undefined || forgotten)) void read(entry);
      }
      return () => {
        for (const entry of current.entries.values()) entry.listeners.delete(changed);
      };
    },
    [current],
  );
  useSyncExternalStore(subscribe, () => version.current);
  const all = [...current.entries.values()];
  return {
    page: (index) => current.entries.get(index)?.snapshot.data as OutputOf<N> | undefined,
    error: all.find((entry) => entry.snapshot.error !== null)?.snapshot.error ?? null,
    loading: all.some((entry) => entry.snapshot.loading),
    reload: () => {
      for (const entry of all) void read(entry);
    },
  };
}
