import { openDesk, type Desk } from '../../core/desk/desk.ts';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';
import type { Progress } from '../../core/contract/index.ts';
import { BENCH_TODAY } from './book.ts';

export interface BenchDesk {
  desk: Desk;
  call<N extends RequestName>(
    name: N,
    input: InputOf<N>,
    onProgress?: (progress: Progress) => void,
  ): Promise<OutputOf<N>>;
}

/** An open book on the bench's day; a failure is thrown. */
export async function openBench(bookPath: string, access: 'read' | 'write', create = false): Promise<BenchDesk> {
  const desk = await openDesk({ bookPath, access, create, today: () => BENCH_TODAY });
  return {
    desk,
    async call(name, input, onProgress) {
      const reply = await desk.call(name, input, onProgress ? { onProgress } : {});
      if (!reply.ok) throw new Error(`${name}: ${reply.error.code}: ${reply.error.message}`);
      return reply.data as never;
    },
  };
}

/** Nobody starts a long task in the first moments of an open book: what it gets ready by itself by then may count. */
export const settle = () =>
  new Promise<void>((resolve) => {
    setTimeout(resolve, 2500);
  });

/** Fails the bench where the two sides do not give one answer: a bare loop that does less would be no measure. */
export function mustAgree(what: string, ours: unknown, bare: unknown): void {
  const [a, b] = [JSON.stringify(ours), JSON.stringify(bare)];
  if (a === b) return;
  let at = 0;
  while (a[at] === b[at]) at += 1;
  throw new Error(
    `${what}: the bare loop answers differently\nours: …${a.slice(Math.max(0, at - 80), at + 200)}\nbare: …${b.slice(Math.max(0, at - 80), at + 200)}`,
  );
}
