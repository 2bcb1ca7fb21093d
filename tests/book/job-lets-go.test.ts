import { existsSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { expect, onTestFinished, test } from 'vitest';
import { makeBook } from '../desk/make-book.ts';

test('a job says it is done only when it has let go of the book', { timeout: 120_000 }, async () => {
  const book = await makeBook();
  await book.desk.close();
  const worker = new Worker(new URL('../../core/desk/job-worker.ts', import.meta.url), {
    workerData: { bookPath: book.path, access: 'write', automaticBackups: false },
  });
  onTestFinished(async () => void (await worker.terminate()));
  // Enough rows that emptying the WAL into the book takes a while.
  const rows = Array.from({ length: 3000 }, (_, n) => `Client ${n},${n} Quarry Lane,Tamsett`);
  const input = {
    target: 'clients',
    fileName: 'list.csv',
    bytesBase64: Buffer.from(['Name,Address,City', ...rows].join('\r\n')).toString('base64'),
    hasHeader: true,
    stationId: null,
    dateOrder: 'auto',
    mode: 'good-rows',
  };
  let walSeen = false;
  const walWhenDone = await new Promise<boolean>((resolve, reject) => {
    worker.on('error', reject);
    worker.on('message', (message: { result?: unknown; failure?: { message: string } }) => {
      // The last connection takes the WAL with it.
      if (message.result !== undefined) resolve(existsSync(`${book.path}-wal`));
      else if (message.failure) reject(new Error(message.failure.message));
      else walSeen ||= existsSync(`${book.path}-wal`);
    });
    worker.postMessage({
      name: 'import.apply',
      input,
      today: '2026-06-15',
      cancelFlag: new Int32Array(new SharedArrayBuffer(4)),
    });
  });
  expect(walSeen).toBe(true);
  expect(walWhenDone).toBe(false);
});
