import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import { makeBook, makeSite } from './make-book.ts';

test('search finds any part of a name, a street or a telephone number, however it is typed', async () => {
  const book = await makeBook();
  await makeSite(book);
  const otherId = ulid();
  await book.call('client.save', {
    writeId: ulid(),
    client: { id: otherId, name: 'Zoë Ångström & Sons', phone: '970-555-0177', kind: 'business' },
  });
  const find = async (search: string) => (await book.call('client.list', { search })).rows.map((row) => row.clientName);
  expect(await find('perr')).toEqual(['Perrin Household']);
  expect(await find('uarry la')).toEqual(['Perrin Household']);
  expect(await find('quarry perrin')).toEqual(['Perrin Household']);
  expect(await find('angstrom')).toEqual(['Zoë Ångström & Sons']);
  expect(await find('5550114')).toEqual(['Perrin Household']);
  expect(await find('555 0114')).toEqual(['Perrin Household']);
  expect(await find('(970) 555-01')).toEqual(['Perrin Household', 'Zoë Ångström & Sons']);
  for (const typed of ['+1 970 555 0177', '1-970-555-0177', '970.555.0177 x2', '970-555-0177 ext. 14'])
    expect(await find(typed), typed).toEqual(['Zoë Ångström & Sons']);
  expect(await find('+1 970 555')).toHaveLength(2);
  expect(await find('100%')).toEqual([]);
  expect(await find("o'; DROP TABLE client")).toEqual([]);
  expect((await book.call('client.list', {})).rows.find((row) => row.clientId === otherId)).toMatchObject({
    propertyId: null,
    due: [],
    seasonState: null,
  });
});

test('two letters put first whose name begins with them, then a later word of the name, then the street, then any middle', async () => {
  const book = await makeBook();
  for (const [name, street] of [
    ['Amara Aquilero', '3 Alder Way'],
    ['Bo Quill', '4 Alder Way'],
    ['Carl Adeyo', '5 Quarry Lane'],
    ['Quentin Zabo', '6 Alder Way'],
  ] as const) {
    const id = ulid();
    await book.call('client.save', { writeId: ulid(), client: { id, name } });
    await book.call('property.save', { writeId: ulid(), property: { id: ulid(), clientId: id, street } });
  }
  const find = async (input: { search: string; descending?: boolean }) =>
    (await book.call('client.list', input)).rows.map((row) => row.clientName);
  expect(await find({ search: 'qu' })).toEqual(['Quentin Zabo', 'Bo Quill', 'Carl Adeyo', 'Amara Aquilero']);
  expect(await find({ search: 'al qu' })).toEqual(['Bo Quill', 'Quentin Zabo', 'Amara Aquilero']);
  // An order that was asked for is kept.
  expect(await find({ search: 'qu', descending: true })).toEqual([
    'Quentin Zabo',
    'Carl Adeyo',
    'Bo Quill',
    'Amara Aquilero',
  ]);
});

test('lists page without losing or repeating a row, whatever they are sorted by', async () => {
  const book = await makeBook();
  await makeSite(book);
  for (let n = 0; n < 25; n++) {
    const id = ulid();
    await book.call('client.save', { writeId: ulid(), client: { id, name: `Same Name ${n % 3}` } });
    await book.call('property.save', {
      writeId: ulid(),
      property: { id: ulid(), clientId: id, street: `${n} Alder Way` },
    });
  }
  for (const sort of ['name', 'street', 'route', 'season', 'next-visit'] as const) {
    const seen: string[] = [];
    for (let offset = 0; ; offset += 7) {
      const page = await book.call('client.list', { sort, limit: 7, offset });
      expect(page.total).toBe(26);
      seen.push(...page.rows.map((row) => row.propertyId!));
      if (page.rows.length < 7) break;
    }
    expect(new Set(seen).size).toBe(26);
    expect(seen).toHaveLength(26);
  }
});

test('filters by what is due, by route and by season state', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const routeId = ulid();
  await book.call('people.save', { writeId: ulid(), routes: [{ id: routeId, name: 'North' }] });
  const rows = async (input: object) => (await book.call('client.list', input)).rows.map((row) => row.propertyId);
  // The battery went in on 2025-04-01 and today is 2026-06-15: older than the default of 12 months.
  expect(await rows({ due: 'battery' })).toEqual([site.propertyId]);
  expect(await rows({ due: 'winterization' })).toEqual([]);
  expect(await rows({ routeId })).toEqual([]);
  expect(await rows({ seasonState: 'not-started' })).toEqual([site.propertyId]);
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-06-01',
    entries: [{ id: ulid(), detail: { kind: 'start-up' } }],
  });
  expect(await rows({ seasonState: 'running' })).toEqual([site.propertyId]);
  expect(await rows({ seasonState: 'not-started' })).toEqual([]);
});

test("a save over a newer version is refused, so nobody's change is lost unseen", async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const page = await book.call('property.open', { propertyId: site.propertyId });
  await book.call('property.save', {
    writeId: ulid(),
    property: { ...page.property, gateCode: '1234' },
    version: page.version,
  });
  const failure = await book.fails('property.save', {
    writeId: ulid(),
    property: { ...page.property, gateCode: '9999' },
    version: page.version,
  });
  expect(failure.code).toBe('stale');
  expect((await book.call('property.open', { propertyId: site.propertyId })).property.gateCode).toBe('1234');
});

test('a property refuses parts that are not its own, two zones on one station, and a station the controller lacks', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const { property, version, zones } = await book.call('property.open', { propertyId: site.propertyId });
  const save = (zone: object) =>
    book.fails('property.save', { writeId: ulid(), property, version, zones: [{ ...zones[0], ...zone }] });
  expect(await save({ station: 2 })).toMatchObject({ code: 'bad-input', field: 'zones.0.station' });
  expect(await save({ station: 40 })).toMatchObject({ code: 'bad-input', field: 'zones.0.station' });
  expect(await save({ controllerId: ulid() })).toMatchObject({ code: 'bad-input', field: 'zones.0.controllerId' });
  expect(await save({ propertyId: ulid() })).toMatchObject({ code: 'bad-input', field: 'zones.0.propertyId' });
  expect(await save({ areaFt2: 0 })).toMatchObject({ code: 'bad-input', field: 'zones.0.areaFt2' });
  expect(await save({ flowGpm: -3 })).toMatchObject({ code: 'bad-input', field: 'zones.0.flowGpm' });
});

test('the form moves the battery date only when it was changed there; the last swap rules', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-05-02',
    entries: [{ id: ulid(), detail: { kind: 'battery-swap', sensorId: site.sensorId, cells: 2 } }],
  });
  let page = await book.call('property.open', { propertyId: site.propertyId });
  await book.call('property.save', {
    writeId: ulid(),
    property: page.property,
    version: page.version,
    sensors: [{ ...page.sensors[0]!, location: 'north eave' }],
  });
  page = await book.call('property.open', { propertyId: site.propertyId });
  expect(page.sensors[0]).toMatchObject({ batteryDate: '2026-05-02', location: 'north eave' });
  const older = await book.fails('property.save', {
    writeId: ulid(),
    property: page.property,
    version: page.version,
    sensors: [{ ...page.sensors[0]!, batteryDate: '2024-01-01' }],
  });
  expect(older).toMatchObject({ code: 'conflict', field: 'sensors.0.batteryDate' });
  expect((await book.call('property.open', { propertyId: site.propertyId })).sensors[0]!.batteryDate).toBe(
    '2026-05-02',
  );
});

test('what is due: every kind appears when it should, and not once it is booked or done', async () => {
  const book = await makeBook('2026-10-10');
  const site = await makeSite(book);
  const { property, version } = await book.call('property.open', { propertyId: site.propertyId });
  await book.call('property.save', {
    writeId: ulid(),
    property: { ...property, backflowTestDue: '2026-10-01' },
    version,
  });
  await book.call('visit.book', {
    writeId: ulid(),
    visitId: ulid(),
    propertyId: site.propertyId,
    kind: 'repair',
    date: '2026-10-05',
  });
  let due = await book.call('due.list', { horizonDays: 0 });
  expect(due.counts).toEqual({
    finding: 0,
    battery: 1,
    'sensor-check': 1,
    'backflow-test': 1,
    'start-up': 0,
    winterization: 1,
    'overdue-visit': 1,
  });
  expect(due.items.find((item) => item.kind === 'backflow-test')).toMatchObject({ dueOn: '2026-10-01', daysLate: 9 });
  await book.call('visit.book', {
    writeId: ulid(),
    visitId: ulid(),
    propertyId: site.propertyId,
    kind: 'winterization',
    date: '2026-10-20',
  });
  due = await book.call('due.list', { horizonDays: 0 });
  expect(due.counts.winterization).toBe(0);
  expect((await book.call('due.list', { horizonDays: 0, includeBooked: true })).counts.winterization).toBe(1);
});
