import { useRef, useState } from 'react';
import type { InputOf, OutputOf, Progress, RequestName } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';
import { runJob } from '../state/write.ts';

/** One long request with its progress, its answer, and a way to stop it. */
export function useJob<N extends RequestName>(name: N) {
  const [progress, setProgress] = useState<Progress | null>(null);
  const [running, setRunning] = useState(false);
  const [answer, setAnswer] = useState<OutputOf<N> | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const abort = useRef<AbortController | null>(null);
  const run = async (input: InputOf<N>): Promise<OutputOf<N> | null> => {
    const controller = new AbortController();
    abort.current = controller;
    setRunning(true);
    setAnswer(null);
    setFailure(null);
    setProgress(null);
    const reply = await runJob(name, input, { onProgress: setProgress, signal: controller.signal, quiet: true });
    setRunning(false);
    setFailure(reply.ok ? null : reply.error);
    setAnswer(reply.ok ? reply.data : null);
    return reply.ok ? reply.data : null;
  };
  return { run, stop: () => abort.current?.abort(), progress, running, answer, failure };
}
