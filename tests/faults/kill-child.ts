import { readFileSync, writeSync } from 'node:fs';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import { chance } from '../../core/demo/random.ts';
import { nextWrite, type WriteSite } from './kill-writes.ts';

// A process that does one thing with a book, says each step on standard output once it is done, and is killed from outside.
// A line of standard output is in the pipe before the next step begins, so it outlives the process.

export interface Errand {
  what: 'writes' | 'call' | 'open' | 'create';
  bookPath: string;
  /** writes */
  site?: WriteSite;
  seed?: string;
  /** call, create */
  name?: string;
  input?: unknown;
}

function say(line: unknown): void {
  const bytes = Buffer.from(`${JSON.stringify(line)}\n`);
  for (let at = 0; at < bytes.length;) {
    try {
      at += writeSync(1, bytes, at);
    } catch (error) {
      // A full pipe: the other end reads on in a moment.
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error;
    }
  }
}
const errand = JSON.parse(readFileSync(0, 'utf8')) as Errand;
let desk: Desk | null = null;
// Stopped in order, as the app is: whatever runs is broken off or finished, then the book is closed.
process.once('SIGTERM', () => {
  void (desk ? desk.close() : Promise.resolve()).then(() => process.exit(0));
});

say({ begin: true });
desk = await openDesk({
  bookPath: errand.bookPath,
  create: errand.what === 'create',
  today: () => '2026-06-15',
  log: (text) => say({ fault: text }),
});
if (errand.what === 'writes') {
  const dice = chance(errand.seed!);
  for (let n = 1; ; n += 1) {
    const { name, input } = nextWrite(errand.site!, dice, n);
    say({ sent: { name, input } });
    const reply = await desk.call(name, input);
    if (!reply.ok) {
      // Closing refuses what comes after it.
      if (reply.error.code === 'conflict' && /closed/.test(reply.error.message)) break;
      say({ fault: reply.error });
      process.exit(3);
    }
    say({ acked: { writeId: input.writeId, data: reply.data } });
    // A host hears signals between requests; a loop of promises alone would never let one in.
    await new Promise((go) => setImmediate(go));
  }
} else {
  if (errand.name !== undefined) {
    const reply = await desk.call(errand.name, errand.input);
    if (!reply.ok) {
      say({ refused: reply.error });
      process.exit(4);
    }
    say({ acked: { data: reply.data } });
  }
  await desk.close();
  say({ done: true });
  process.exit(0);
}
