import { ulid } from 'ulid';
import { findRequest } from '../../core/contract/index.ts';
import type { InputOf, OutputOf, Progress, Reply, RequestName } from '../../core/contract/index.ts';
import { toast } from './toasts.ts';
import { transport } from './transport.ts';
import { invalidate } from './answers.ts';

/** A new id for a thing about to be written, made here so that a repeated write is the same write. */
export function newId(): string {
  return ulid();
}

/** Writes to the book. A failure is told in a toast, unless the caller shows it itself (`quiet`). */
export async function write<N extends RequestName>(
  name: N,
  input: InputOf<N>,
  opts: { quiet?: boolean } = {},
): Promise<Reply<OutputOf<N>>> {
  const reply = (await transport.call(name, input)) as Reply<OutputOf<N>>;
  if (reply.ok) invalidate(findRequest(name)?.topics ?? []);
  else if (opts.quiet !== true) toast({ text: reply.error.message, tone: 'error' });
  return reply;
}

/** Runs a long request with progress; abort the signal to cancel it. */
export async function runJob<N extends RequestName>(
  name: N,
  input: InputOf<N>,
  opts: { onProgress?: (progress: Progress) => void; signal?: AbortSignal; quiet?: boolean } = {},
): Promise<Reply<OutputOf<N>>> {
  const { onProgress = () => {}, signal } = opts;
  const reply = (await transport.call(
    name,
    input,
    signal === undefined ? { onProgress } : { onProgress, signal },
  )) as Reply<OutputOf<N>>;
  const definition = findRequest(name);
  if (reply.ok && definition !== undefined && 'changesBook' in definition && definition.changesBook === true)
    invalidate(definition.topics);
  if (!reply.ok && opts.quiet !== true)
    toast({ text: reply.error.message, tone: reply.error.code === 'cancelled' ? 'info' : 'error' });
  return reply;
}
