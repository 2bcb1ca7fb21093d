import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { expect, onTestFinished, test } from 'vitest';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';
import { openDesk } from '../../core/desk/desk.ts';
import { planAccept } from '../../core/programs/accept-plan.ts';
import { chance } from '../../core/demo/random.ts';
import { makeDemo } from '../../electron/demo.ts';

// What the review says acceptance would do, against what the book says once it was done: the plan is worked out before, the
// book's figures by the ledger, the revisions and the week of each program after.

const TODAY = '2026-07-14';
const MONTH = 7;

test('a plan says what the book says once it was accepted, whatever is left out and whatever minutes are typed', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-accept-'));
  const bookPath = join(folder, 'book.valvebook');
  await makeDemo({ path: bookPath, properties: 25, seed: 9, today: TODAY });
  const desk = await openDesk({ bookPath, today: () => TODAY });
  onTestFinished(async () => {
    await desk.close();
    rmSync(folder, { recursive: true, force: true });
  });
  const call = async <N extends RequestName>(name: N, input: InputOf<N>): Promise<OutputOf<N>> => {
    const reply = await desk.call(name, input);
    if (!reply.ok) throw new Error(`${name}: ${JSON.stringify(reply.error)}`);
    return reply.data as OutputOf<N>;
  };
  const dice = chance(3);
  const { roundToMinutes } = await call('settings.get', {});
  let accepted = 0;
  let wholes = 0;
  let compared = 0;
  for (const { propertyId } of (await call('client.list', { limit: 100 })).rows) {
    if (propertyId === null) continue;
    const data = await call('property.open', { propertyId });
    const { rows, proposed } = await call('program.review', { propertyId, month: MONTH });
    const whole = dice.yes(0.3);
    const selected = new Set(rows.map((row) => row.zoneId).filter(() => whole || dice.yes(0.6)));
    const edits = new Map(
      [...selected].flatMap((zoneId) => (!whole && dice.yes(0.3) ? [[zoneId, dice.int(1, 40)] as const] : [])),
    );
    const { programs, zones } = data;
    const plan = planAccept({ rows, proposed, programs, zones, selected, edits, roundToMinutes });
    if (plan.programs.length === 0) continue;
    await call('program.accept', {
      writeId: ulid(),
      propertyId,
      doneOn: TODAY,
      programs: plan.programs.map(({ programId, controllerId, name, settings }) => ({
        programId: programId ?? ulid(),
        revisionId: ulid(),
        entryId: ulid(),
        controllerId,
        name,
        settings,
      })),
    });
    accepted += 1;
    if (plan.isWhole) wholes += 1;
    const after = await call('program.review', { propertyId, month: MONTH });
    for (const { zoneId, zoneName, now } of after.rows) {
      const then = plan.zones.get(zoneId)!;
      compared += 1;
      expect(now.minutesPerWeek, zoneName).toBeCloseTo(then.minutesPerWeek, 6);
      expect(now.daysPerWeek, zoneName).toBeCloseTo(then.daysPerWeek, 6);
      if (then.gallonsPerWeek === null) expect(now.gallonsPerWeek, zoneName).toBeNull();
      else expect(now.gallonsPerWeek, zoneName).toBeCloseTo(then.gallonsPerWeek, 4);
    }
    if (!plan.isWhole) continue;
    for (const row of rows)
      expect(plan.zones.get(row.zoneId)!.minutesPerWeek, row.zoneName).toBeCloseTo(row.advice.minutesPerWeek, 6);
  }
  expect(accepted).toBeGreaterThan(15);
  expect(wholes).toBeGreaterThan(2);
  expect(compared).toBeGreaterThan(80);
});
