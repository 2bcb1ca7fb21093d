import assert from 'node:assert/strict';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { ulid } from 'ulid';
import { call, type Check } from '../check.ts';
import { startOther } from '../other-process.ts';

const KILLS = 20;

interface Acknowledged {
  writeId: string;
  visitId: string;
  entries: string[];
}

export const checks: Check[] = [
  {
    name: `${KILLS} kills in the middle of writes lose nothing that was acknowledged and leave nothing half-written`,
    async run(ground) {
      const book = path.join(ground.folder, 'b.valvebook');
      const made = await ground.open(book, { create: true });
      const id = {
        client: ulid(),
        property: ulid(),
        controller: ulid(),
        zone: ulid(),
        sensor: ulid(),
        program: ulid(),
      };
      await call(made, 'client.save', { writeId: ulid(), client: { id: id.client, name: 'Perrin Household' } });
      await call(made, 'property.save', {
        writeId: ulid(),
        property: { id: id.property, clientId: id.client, street: '18 Quarry Lane', city: 'Tamsett' },
        controllers: [{ id: id.controller, propertyId: id.property, name: 'Garage' }],
        zones: [{ id: id.zone, propertyId: id.property, controllerId: id.controller, station: 1, name: 'Lawn' }],
        sensors: [{ id: id.sensor, propertyId: id.property, batteryType: 'CR2032', batteryCells: 2 }],
      });
      await call(made, 'program.revise', {
        writeId: ulid(),
        programId: id.program,
        revisionId: ulid(),
        controllerId: id.controller,
        name: 'A',
        effectiveDate: '2025-05-01',
        settings: {
          days: { kind: 'weekdays', weekdays: [2, 5] },
          startTimes: ['05:00'],
          seasonalPercent: 100,
          runs: [{ zoneId: id.zone, runMinutes: 20 }],
        },
      });
      await made.close();

      const known: Acknowledged[] = [];
      for (let kill = 0; kill < KILLS; kill += 1) {
        const writer = await startOther('writer', [book, id.property, id.sensor, id.program, id.zone], ground.folder);
        // A run in which nothing had been written when the kill came would prove nothing.
        while (!writer.said().includes('}\n')) await sleep(5);
        await sleep((kill * 37) % 211);
        await writer.kill();
        const said = writer.said();
        assert.equal(/fault/.test(said), false, said);
        // The last line may have been cut by the kill.
        const lines = said
          .slice(0, said.lastIndexOf('\n'))
          .split('\n')
          .filter((line) => line.endsWith('}'));
        known.push(...lines.map((line) => JSON.parse(line) as Acknowledged));

        const desk = await ground.open(book);
        const kept = new Map<string, Set<string>>();
        for (let offset = 0; ; offset += 500) {
          const { entries: rows } = await call(desk, 'ledger.list', { propertyId: id.property, limit: 500, offset });
          for (const row of rows) kept.set(row.visitId ?? '', (kept.get(row.visitId ?? '') ?? new Set()).add(row.id));
          if (rows.length < 500) break;
        }
        for (const { visitId, entries } of known)
          for (const entry of entries) assert.equal(kept.get(visitId)?.has(entry), true, `${entry} is lost`);
        // Every visit of the writer is three entries or none.
        for (const [visitId, entries] of kept) if (visitId !== '') assert.equal(entries.size, 3, visitId);
        await desk.close();
      }
      const desk = await ground.open(book);
      const { clean, checks: findings } = await call(desk, 'book.check', {});
      assert.equal(clean, true, JSON.stringify(findings));
      return `${known.length} acknowledged writes, all there`;
    },
  },
  {
    name: 'a book that was killed while open is not locked for the next start',
    async run(ground) {
      const book = path.join(ground.folder, 'b.valvebook');
      await (await ground.open(book, { create: true })).close();
      for (let n = 0; n < 3; n += 1) {
        const other = await startOther('hold-book', [book, 'write'], ground.folder);
        await other.kill();
        const desk = await ground.open(book);
        await call(desk, 'book.info', {});
        await desk.close();
      }
    },
  },
];
