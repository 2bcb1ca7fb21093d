import type { z } from 'zod';
import type { Topic } from './parts.ts';
import { PLAIN_READER, sayFact, type Fact } from '../text/say.ts';

/** read: no change. write: one transaction or nothing. job: long, in a worker, with progress and cancel. */
export type RequestKind = 'read' | 'write' | 'job';

export interface RequestDefinition<
  Name extends string = string,
  Input extends z.ZodType = z.ZodType,
  Output extends z.ZodType = z.ZodType,
  Kind extends RequestKind = RequestKind,
> {
  readonly name: Name;
  readonly kind: Kind;
  /** One sentence for `valvebook requests`. */
  readonly title: string;
  readonly input: Input;
  readonly output: Output;
  /** What a read shows or a write (or writing job) touches. */
  readonly topics: readonly Topic[];
  /** A read that takes long in a large book: where a window waits, it is read in a thread of its own. */
  readonly slow?: boolean;
  /** A job that changes the book holds the one write lock while it runs. */
  readonly changesBook?: boolean;
}

/** Declares one request; the hosts serve it without knowing it. */
export function defineRequest<
  const Name extends string,
  Input extends z.ZodType,
  Output extends z.ZodType,
  const Kind extends RequestKind,
>(definition: RequestDefinition<Name, Input, Output, Kind>): RequestDefinition<Name, Input, Output, Kind> {
  return definition;
}

export interface Progress {
  /** Units done of total; total 0 = not known yet. */
  done: number;
  total: number;
  /** In English, for logs and terminals; a screen says `text` in its reader's language. */
  label: string;
  text?: { key: string; given?: unknown };
}

/** How far a job is, told in both forms. */
export const howFar = (done: number, total: number, text: Fact): Progress => ({
  done,
  total,
  label: sayFact(PLAIN_READER, text),
  text,
});

export type Reply<T = unknown> = { ok: true; data: T } | { ok: false; error: import('../errors.ts').Failure };

/** What a host gives the renderer. */
export interface Transport {
  call(
    name: string,
    input: unknown,
    options?: { signal?: AbortSignal; onProgress?: (progress: Progress) => void },
  ): Promise<Reply>;
  /** Told after every write which topics changed. Returns the way to stop listening. */
  onChange(listener: (topics: Topic[]) => void): () => void;
}
