import { writeSync } from 'node:fs';
import { ulid } from 'ulid';
import { openDesk } from '../../core/desk/desk.ts';

// A process that writes as fast as it can and says each acknowledged write on standard output. It is killed from outside.

const [bookPath, propertyId, sensorId, programId, zoneId] = process.argv.slice(2) as [
  string,
  string,
  string,
  string,
  string,
];
const desk = await openDesk({ bookPath, today: () => '2026-06-15' });
writeSync(1, 'ready\n');

for (let n = 1; ; n++) {
  const writeId = ulid();
  const visitId = ulid();
  const record = await desk.call('visit.record', {
    writeId,
    propertyId,
    visitId,
    unplannedKind: 'battery-swap',
    doneOn: `2026-0${1 + (n % 5)}-${String(1 + (n % 28)).padStart(2, '0')}`,
    entries: [
      { id: ulid(), note: writeId, detail: { kind: 'battery-swap', sensorId, cells: 1 + (n % 2) } },
      {
        id: ulid(),
        note: writeId,
        detail: {
          kind: 'run-time-change',
          programId,
          revisionId: ulid(),
          runs: [{ zoneId, runMinutes: (Date.now() % 600) + (n % 60) / 100 }],
        },
      },
      { id: ulid(), note: writeId, detail: { kind: 'note', text: 'x'.repeat(n % 4000) || 'x' } },
    ],
  });
  if (record.ok)
    writeSync(
      1,
      `${JSON.stringify({ writeId, visitId, entries: (record.data as { entries: { id: string }[] }).entries.map((entry) => entry.id) })}\n`,
    );
  else if (record.error.code !== 'bad-input') {
    writeSync(1, `fault ${JSON.stringify(record.error)}\n`);
    process.exit(3);
  }
}
