import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { expect, it } from 'vitest';
import { makeBook, makeSite } from './make-book.ts';

// One station of a controller opens one valve: no two zones in use may take it, whoever writes. The rule is the wiring's.

async function siteWithZones() {
  const book = await makeBook();
  const site = await makeSite(book);
  const page = await book.call('property.open', { propertyId: site.propertyId });
  const save = (zones: object[]) => ({
    writeId: ulid(),
    property: page.property,
    controllers: [],
    zones,
    sensors: [],
    opened: { property: page.property, controllers: page.controllers, zones: page.zones, sensors: page.sensors },
  });
  const stations = async () =>
    (await book.call('property.open', { propertyId: site.propertyId })).zones.map(({ name, station, retired }) =>
      retired ? `${name} retired` : `${name} at ${station}`,
    );
  return { book, site, zones: page.zones, save, stations };
}

it('zones exchange their stations, or pass them on in a ring, in one save', async () => {
  for (const [to, after] of [
    [
      [2, 1, 3],
      ['Zone 2 at 1', 'Zone 1 at 2', 'Zone 3 at 3'],
    ],
    [
      [2, 3, 1],
      ['Zone 3 at 1', 'Zone 1 at 2', 'Zone 2 at 3'],
    ],
  ] as const) {
    const { book, zones, save, stations } = await siteWithZones();
    await book.call('property.save', save(zones.map((zone, index) => ({ ...zone, station: to[index] }))) as never);
    expect(await stations()).toEqual(after);
  }
});

it('a zone takes the station of one that is retired in the same save, in whatever order they are sent', async () => {
  for (const turn of [0, 1]) {
    const { book, zones, save, stations } = await siteWithZones();
    const two = [
      { ...zones[0]!, retired: true },
      { ...zones[1]!, station: 1 },
    ];
    await book.call('property.save', save(turn === 0 ? two : two.toReversed()) as never);
    expect(await stations()).toEqual(['Zone 2 at 1', 'Zone 3 at 3', 'Zone 1 retired']);
  }
});

it('a station that is taken is refused at its field, also by a zone that comes back, and nothing is changed', async () => {
  const { book, zones, save, stations } = await siteWithZones();
  const before = await stations();
  expect(await book.fails('property.save', save([{ ...zones[2]!, station: 1 }]))).toMatchObject({
    code: 'bad-input',
    field: 'zones.0.station',
    message: expect.stringContaining('1'),
  });
  expect(await stations()).toEqual(before);
  await book.call('property.save', save([{ ...zones[0]!, retired: true }]) as never);
  await book.call('property.save', save([{ ...zones[1]!, station: 1 }]) as never);
  const now = await book.call('property.open', { propertyId: zones[0]!.propertyId });
  const back = now.zones.map((zone) => ({ ...zone, retired: false })).filter(({ id }) => id === zones[0]!.id);
  const { property, version } = now;
  expect(await book.fails('property.save', { writeId: ulid(), property, version, zones: back })).toMatchObject({
    code: 'bad-input',
    field: 'zones.0.station',
  });
  expect(await stations()).toEqual(['Zone 2 at 1', 'Zone 3 at 3', 'Zone 1 retired']);
});

it('the book itself refuses a second zone on a station, from whatever program', async () => {
  const { book, zones } = await siteWithZones();
  await book.desk.close();
  const raw = new Database(book.path);
  try {
    const [first, second] = [zones[0]!, zones[1]!];
    const run = (text: string) => () => raw.prepare(text).run({ first: first.id, second: second.id });
    const refused = /a station of a controller has one zone in use/;
    expect(run('UPDATE zone SET station = 1 WHERE id = @second AND @first <> id')).toThrow(refused);
    expect(
      run(`INSERT INTO zone (${columns(raw)}) SELECT ${columns(raw).replace('"id"', "'01AAAAAAAAAAAAAAAAAAAAAAAA'")}
        FROM zone WHERE id = @second AND @first <> id`),
    ).toThrow(refused);
    run('UPDATE zone SET retired = 1 WHERE id = @first AND @second <> id')();
    run('UPDATE zone SET station = 1 WHERE id = @second AND @first <> id')();
    expect(run('UPDATE zone SET retired = 0 WHERE id = @first AND @second <> id')).toThrow(refused);
  } finally {
    raw.close();
  }
});

const columns = (raw: Database.Database) =>
  (raw.prepare("SELECT name FROM pragma_table_info('zone')").pluck().all() as string[])
    .map((name) => `"${name}"`)
    .join(', ');
