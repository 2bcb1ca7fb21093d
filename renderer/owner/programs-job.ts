import { create } from 'zustand';
import type { OutputOf, Progress } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';
import { transport } from '../state/transport.ts';
import { runJob } from '../state/write.ts';

// The review of every program takes a while, so its result stays while other screens are visited; it says when it has grown old.

export type ReviewAll = OutputOf<'program.reviewAll'>;
export interface Asked {
  month: number;
  routeId: string | null;
}

export const useProgramsJob = create<{
  running: Asked | null;
  progress: Progress | null;
  result: { asked: Asked; data: ReviewAll } | null;
  error: Failure | null;
  /** Something the review rests on has changed since. */
  isOld: boolean;
  /** Where the list was left. */
  top: number;
  /** What the next run asks; null month = the usual one. */
  wish: { month: number | null; routeId: string };
}>(() => ({
  running: null,
  progress: null,
  result: null,
  error: null,
  isOld: false,
  top: 0,
  wish: { month: null, routeId: '' },
}));

let stop: AbortController | null = null;

/** Reviews every program; a run that is under way is stopped first. */
export async function startReview(asked: Asked): Promise<void> {
  stop?.abort();
  const mine = new AbortController();
  stop = mine;
  useProgramsJob.setState({ running: asked, progress: null, error: null });
  const reply = await runJob(
    'program.reviewAll',
    { month: asked.month, routeId: asked.routeId, limit: 10_000 },
    {
      signal: mine.signal,
      quiet: true,
      onProgress: (progress) => {
        if (stop === mine) useProgramsJob.setState({ progress });
      },
    },
  );
  if (stop !== mine) return;
  stop = null;
  if (reply.ok)
    useProgramsJob.setState({
      running: null,
      progress: null,
      result: { asked, data: reply.data },
      isOld: false,
      top: 0,
    });
  else
    useProgramsJob.setState({
      running: null,
      progress: null,
      error: reply.error.code === 'cancelled' ? null : reply.error,
    });
}

/** Stops the run; an earlier result stays. */
export function stopReview(): void {
  stop?.abort();
}

const RESTS_ON = new Set(['program', 'property', 'rules', 'weather', 'settings']);
transport.onChange((topics) => {
  if (topics.some((topic) => RESTS_ON.has(topic)) && useProgramsJob.getState().result !== null)
    useProgramsJob.setState({ isOld: true });
});
