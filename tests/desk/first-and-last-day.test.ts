import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { findRequest, type InputOf, type RequestName } from '../../core/contract/index.ts';
import { makeBook, makeSite } from './make-book.ts';

// Dates are taken from 1900-01-01 to 2199-12-31. What is worked out from the first and the last of them lies a little outside,
// and is answered all the same.

test.each(['1900-01-01', '2199-12-31'])('what is asked of %s is answered as the contract says', async (day) => {
  const book = await makeBook();
  const { propertyId, sensorId, zoneIds } = await makeSite(book);
  for (const doneOn of ['1900-01-01', '2026-06-15'])
    await book.call('visit.record', {
      writeId: ulid(),
      propertyId,
      doneOn,
      entries: [{ id: ulid(), detail: { kind: 'battery-swap', sensorId, cells: 1 } }],
    });
  const asked = async <N extends RequestName>(name: N, input: InputOf<N>) => {
    const data = await book.call(name, input);
    findRequest(name)!.output.parse(data);
    return data;
  };
  await asked('due.list', { onDate: day, horizonDays: 365 });
  await asked('property.open', { propertyId, onDate: day });
  await asked('client.list', { onDate: day });
  await asked('visit.list', { fromDate: day, toDate: day });
  await asked('work.summary', { year: 2026, onDate: day });
  const week = await asked('program.week', { propertyId, date: day });
  expect(week.days.map(({ date }) => date)).toContain(day);
  expect(week.days).toHaveLength(7);
  for (const name of ['program.review', 'program.recommend'] as const) {
    const input = name === 'program.review' ? { propertyId, month: 7, onDate: day } : { propertyId, month: 7 };
    const reply = await book.desk.call(name, input);
    // This book has no weather station, and says so.
    if (!reply.ok) expect(reply.error.code).toBe('conflict');
    else findRequest(name)!.output.parse(reply.data);
  }
  const trace = await book.desk.call('zone.trace', { zoneId: zoneIds[0]!, fromDate: day, toDate: day });
  if (!trace.ok) expect(trace.error.code).toBe('conflict');
});
