import { QueryClient } from '@tanstack/react-query';
import { findRequest } from '../../core/contract/index.ts';
import type { RequestName, Topic } from '../../core/contract/index.ts';
import { transport } from './transport.ts';

// What the book says lives in the window only as the last answer to a question; a change makes the question be asked again.

/** The answers on screen and lately on screen. They stay true until a topic of theirs changes, so time alone makes none old. */
export const answers = new QueryClient({
  defaultOptions: {
    queries: {
      staleTime: Infinity,
      retry: false,
      // The book is on this machine: being offline says nothing about it.
      networkMode: 'always',
      refetchOnWindowFocus: false,
      refetchOnReconnect: false,
    },
  },
});

/** A question that stays an old answer's place while a new one is on its way, also when it left the screen meanwhile. */
export const KEPT = { kept: true };

const topicsOf = (name: unknown): readonly Topic[] =>
  typeof name === 'string' ? (findRequest(name)?.topics ?? []) : [];

/** How often each topic changed since the page came. */
const changes = new Map<Topic, number>();
const changesOf = (topics: readonly Topic[]) => topics.reduce((sum, topic) => sum + (changes.get(topic) ?? 0), 0);

/** A request with its input as a question of the cache; a refusal is thrown as the failure it is. */
export function questionOf(name: RequestName, input: unknown) {
  const topics = topicsOf(name);
  return {
    queryKey: [name, input] as const,
    queryFn: async (): Promise<unknown> => {
      for (;;) {
        const before = changesOf(topics);
        // One after another: an answer that a change overtook is asked for again, and never shown.
        // oxlint-disable-next-line no-await-in-loop
        const reply = await transport.call(name, input);
        if (changesOf(topics) !== before) continue;
        if (!reply.ok) throw reply.error;
        return reply.data;
      }
    },
  };
}

/** Asks again everything on screen that shows one of these topics, and forgets what is not on screen. */
export function invalidate(topics: readonly Topic[]): void {
  for (const topic of topics) changes.set(topic, (changes.get(topic) ?? 0) + 1);
  const shows = ({ queryKey }: { queryKey: readonly unknown[] }) =>
    topicsOf(queryKey[0]).some((topic) => topics.includes(topic));
  answers.removeQueries({
    type: 'inactive',
    fetchStatus: 'idle',
    predicate: (question) => shows(question) && question.meta !== KEPT,
  });
  void answers.invalidateQueries({ predicate: shows }, { cancelRefetch: false });
}

transport.onChange(invalidate);
