import { writeSync } from 'node:fs';
import { setImmediate as breathe } from 'node:timers/promises';
import { ulid } from 'ulid';
import { openDesk } from '../../core/desk/desk.ts';

// A process that keeps a book open, writes notes and says each acknowledged one on standard output. SIGTERM stops it in
// order; it ends by itself once a write is refused, with the refusal as its last line.

const [bookPath, propertyId] = process.argv.slice(2) as [string, string];
const stop = new AbortController();
process.on('SIGTERM', () => stop.abort());
const desk = await openDesk({ bookPath, today: () => '2026-06-15' });
writeSync(1, 'ready\n');

while (!stop.signal.aborted) {
  const id = ulid();
  const reply = await desk.call('visit.record', {
    writeId: ulid(),
    propertyId,
    doneOn: '2026-06-15',
    entries: [{ id, detail: { kind: 'note', text: 'held by the host' } }],
  });
  if (reply.ok) writeSync(1, `noted ${id}\n`);
  else {
    writeSync(1, `refused ${JSON.stringify(reply.error)}\n`);
    break;
  }
  await breathe();
}
await desk.close();
writeSync(1, 'closed\n');
