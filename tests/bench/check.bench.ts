import { copyOf } from './book.ts';
import { openBench, settle } from './call.ts';
import { longestGap, summarise } from './stats.ts';
import type { Measured } from './table.ts';

/** The whole check of the large book, with its progress; then how soon a cancel is heard half-way, and the seal. */
export async function checkRows(book: string, rounds: number): Promise<Measured[]> {
  const copy = copyOf(book, 'check');
  const { desk, call } = await openBench(copy.path, 'write');
  try {
    await settle();
    const [whole, gaps, cancels, seals]: number[][] = [[], [], [], []];
    let reports = 0;
    for (let round = 0; round < rounds; round += 1) {
      const moments: number[] = [];
      const start = performance.now();
      const { clean, checks, chain } = await call('book.check', {}, () => moments.push(performance.now()));
      const end = performance.now();
      if (!clean || chain === null)
        throw new Error(`book.check found something: ${checks.flatMap((check) => check.findings)[0]}`);
      whole!.push((end - start) / 1000);
      gaps!.push(longestGap(start, moments, end));
      reports = moments.length;
    }
    for (let round = 0; round < rounds; round += 1) {
      const abort = new AbortController();
      let at = 0;
      const reply = await desk.call(
        'book.check',
        {},
        {
          signal: abort.signal,
          onProgress: ({ label, done, total }) => {
            if (at !== 0 || label !== 'Reading the ledger' || done < total / 2) return;
            at = performance.now();
            abort.abort();
          },
        },
      );
      if (reply.ok || reply.error.code !== 'cancelled') throw new Error('the check did not stop when cancelled');
      cancels!.push(performance.now() - at);
    }
    for (let round = 0; round < rounds * 5; round += 1) {
      const start = performance.now();
      await call('book.seal', {});
      seals!.push(performance.now() - start);
    }
    return [
      {
        name: 'book.check',
        unit: 's',
        ours: summarise(whole!),
        bare: null,
        aim: { of: 'max', atMost: 30, ratioAtMost: null },
        note: `${reports} reports of progress, at most ${Math.round(Math.max(...gaps!))} ms apart`,
      },
      {
        name: 'book.check, cancelled half-way',
        unit: 'ms',
        ours: summarise(cancels!),
        bare: null,
        aim: null,
        note: 'from the cancel to the answer',
      },
      {
        name: 'book.seal',
        unit: 'ms',
        ours: summarise(seals!),
        bare: null,
        aim: null,
        note: 'the heads of all chains',
      },
    ];
  } finally {
    await desk.close();
    copy.remove();
  }
}
