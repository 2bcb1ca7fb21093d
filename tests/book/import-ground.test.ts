import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { english } from './english.ts';
import { plantGround } from './ground.ts';
import { base64, makeBook, type TestBook } from './job-context.ts';

let book: TestBook;
let ground: Awaited<ReturnType<typeof plantGround>>;
beforeEach(async () => {
  book = await makeBook();
  ground = await plantGround(book);
});
afterEach(() => book.close());

type Target = 'zones' | 'work' | 'weather';
const apply = async (target: Target, csv: string | Buffer, more: object = {}) =>
  english(await book.run('import.apply', { target, bytesBase64: base64(csv), ...more }));
const table = <
  T extends
    | 'zone'
    | 'controller'
    | 'program'
    | 'programRevision'
    | 'programRun'
    | 'ledgerEntry'
    | 'season'
    | 'sensor'
    | 'weatherDay',
>(
  name: T,
) => book.connection.db.selectFrom(name).selectAll().execute() as Promise<any[]>;

/** Imports twice: what the second time adds must be nothing at all. */
async function twice(target: Target, csv: string, more: object = {}) {
  const result = await apply(target, csv, more);
  const before = await book.everything();
  const again = await apply(target, csv, more);
  expect(again.added).toEqual({});
  expect(await book.everything()).toEqual(before);
  const check = await book.run('book.check', {});
  expect(check.checks.flatMap((one) => one.findings)).toEqual([]);
  return result;
}

describe('zones', () => {
  const CSV = `Account No,Address,Controller,Zone,Description,Plants,Head Type,GPM,Sq Ft,DU,Soil,Slope,Sun,Between Houses,Run Time,Start Times,Days
1001,12 Oak Street,,1,Front lawn,Bluegrass,Pop-ups,"8,5",1200,65,clay loam,3,full sun,no,12,5:00 AM; 8:00 AM,Mon Wed Fri
1001,12 Oak Street,,2,Side,bermuda,rotors,,,0.7,sandy,,shade,yes,20,,
1001,,,Zone 3,Beds,shrubs,drip,2,,,,,,,0,,
1001,12 Oak Street,,3,Beds again,,,,,,,,,,,,
1001,12 Oak Street,,0,,,,,,,,,,,,,
1001,12 Oak Street,,,Zone 11 - pots,flowers,bubblers,,,,,,,,,,
1002,5 Elm St,Club,1,Lawn,grass,spray,,,,,,,,8,,
9999,1 Nowhere,,1,Lawn,,,,,,,,,,,,
Total,,,6,,,,,,,,,,,,,
`;
  it('are added with their controllers and a program', async () => {
    const result = await twice('zones', CSV);
    expect(result.problems.map(({ row, column, reason }) => [row, column, reason])).toEqual([
      [6, 'Zone', 'must be a station number from 1 to 99'],
      [8, 'Address', 'this client has 2 properties at that street; a city or postcode has to say which'],
      [9, 'Address', 'no property at that street is in the book; import the client list first'],
    ]);
    expect(result.added).toEqual({ controllers: 1, zones: 4, programs: 1 });
    expect(result.skipped).toBe(1);
    const [controller] = await table('controller');
    expect(controller).toMatchObject({ propertyId: ground.oak, name: 'Controller', stationCount: 11 });
    const zones = (await table('zone')).sort((a, b) => a.station - b.station);
    expect(zones.map((zone) => [zone.station, zone.name, zone.plantKind, zone.emissionDevice])).toEqual([
      [1, 'Front lawn', 'cool-turf', 'pop-up-spray'],
      [2, 'Side', 'warm-turf', 'rotor'],
      [3, 'Beds', 'shrubs', 'drip-emitter'],
      [11, 'Zone 11 - pots', 'annuals', 'bubbler'],
    ]);
    expect(zones[0]).toMatchObject({
      flowGpm: 8.5,
      areaFt2: 1200,
      prMethod: 'flow-area',
      distributionUniformity: 0.65,
      soil: 'clay-loam',
      slopePercent: 3,
      flowKnown: 'guess',
      areaKnown: 'guess',
      soilKnown: 'guess',
    });
    expect(zones[1]).toMatchObject({
      flowGpm: null,
      prMethod: 'table',
      distributionUniformity: 0.7,
      soil: 'sand',
      sunExposure: 'shade',
      betweenHouses: 1,
    });
    const [revision] = await table('programRevision');
    expect(await table('program')).toEqual([expect.objectContaining({ name: 'A', controllerId: controller.id })]);
    expect(revision).toMatchObject({
      revisionNumber: 1,
      madeBy: 'import',
      effectiveDate: '2026-03-02',
      days: '{"kind":"weekdays","weekdays":[1,3,5]}',
      startTimes: '["05:00","08:00"]',
    });
    expect((await table('programRun')).map((run) => run.runMinutes).sort((a, b) => a - b)).toEqual([0, 12, 20]);
  });

  it('of one street in two towns are told apart by the postcode', async () => {
    const result = await twice(
      'zones',
      'client,street,zip,station,name\nHill HOA,5 Elm Street,80600,1,Lawn\nHill HOA,5 Elm St.,80501,1,Lawn\n',
    );
    expect(result.added).toEqual({ controllers: 2, zones: 2 });
    expect(new Set((await table('zone')).map((zone) => zone.propertyId))).toEqual(new Set([ground.elm, ground.farElm]));
    expect(await table('program')).toEqual([]);
  });

  it('raise a controller that is in the book, and need its name where there are two', async () => {
    await apply('zones', 'account,controller,station,name,minutes\n1001,Front,1,Lawn,10\n1001,Back,1,Beds,5\n');
    const result = await twice(
      'zones',
      'account,controller,station,name,minutes\n1001,Front,14,Strip,7\n1001,,2,Which,5\n',
    );
    expect(result.problems).toEqual([
      { row: 3, column: 'controller', value: '', reason: 'the property has 2 controllers; the list has to say which' },
    ]);
    expect((await table('controller')).find((one) => one.name === 'Front').stationCount).toBe(14);
    // A change of a program that is set belongs in the ledger, not in an import.
    expect(result.warnings.join('\n')).toMatch(/has a program A already/);
    expect(await table('programRevision')).toHaveLength(2);
  });

  it('with run minutes only make a program that waters nothing yet, and say so', async () => {
    const result = await twice('zones', 'account,station,name,minutes\n1001,1,Lawn,10\n');
    expect(result.warnings.join('\n')).toMatch(/waters nothing until/);
    expect((await table('programRevision'))[0]).toMatchObject({
      days: '{"kind":"weekdays","weekdays":[]}',
      startTimes: '[]',
    });
  });
});

describe('past work', () => {
  it('of every kind goes into the ledger, with what follows from it', async () => {
    const csv = `Customer #,Service Date,Service,Tech,Result,Battery,Air PSI,Meter Reading,Part,Qty,Sensor,Next Due,Notes
1001,10/14/2024,Blowout,Tess Vale,,,60,,,,,,all zones
1001,4/20/2025,Spring start-up,Vale Tess,,,65,,,,,,
1001,14 Apr 2025,Battery changed,Sam Unknown,,CR2450,,,,,,,"left note
at door"
1001,2025-04-21,Sensor test,Tess Vale,pass,,,,,,,,
1001,45768,Backflow test,Tess Vale,Pass,,,,,,,4/1/2026,
1001,5/2/2025,Repair,Tess Vale,,,,1234567,3/4 in valve,2,,,replaced valve 3
1001,5/3/2025,Fertilizing,,,,,,,,,,not ours
1002,5/3/2025,Battery swap,,,,,,,,clubhouse,,
`;
    const result = await apply('work', csv);
    // Client 1002 has two properties, so its row needs a street.
    expect(result.problems.map(({ row, reason }) => [row, reason])).toEqual([
      [9, 'this client has 2 properties; a street has to say which'],
    ]);
    expect(result.added).toEqual({ ledgerEntries: 9 });
    const entries = (await table('ledgerEntry')).map((entry) => ({ ...entry, detail: JSON.parse(entry.detail) }));
    const byKind = (kind: string) => entries.find((entry) => entry.kind === kind)!;
    expect(byKind('winterization')).toMatchObject({
      doneOn: '2024-10-14',
      technicianId: ground.technicianId,
      note: 'all zones',
      detail: { airPressurePsi: 60, method: 'compressed-air' },
    });
    expect(byKind('start-up')).toMatchObject({
      doneOn: '2025-04-20',
      technicianId: ground.technicianId,
      detail: { staticPressurePsi: 65 },
    });
    expect(byKind('battery-swap')).toMatchObject({
      doneOn: '2025-04-14',
      technicianId: null,
      sensorId: ground.oakSensor,
      note: 'left note\nat door\nTechnician: Sam Unknown',
      detail: { batteryType: 'CR2450' },
    });
    expect(byKind('sensor-check')).toMatchObject({ detail: { rainTrip: 'pass' } });
    expect(byKind('backflow-test')).toMatchObject({
      doneOn: '2025-04-21',
      detail: { passed: true, nextDue: '2026-04-01' },
    });
    expect(byKind('repair')).toMatchObject({ note: '', detail: { what: 'replaced valve 3', zoneId: null } });
    expect(byKind('part-used')).toMatchObject({ detail: { part: '3/4 in valve', quantity: 2 } });
    expect(byKind('meter-read')).toMatchObject({ detail: { readingGallons: 1234567 } });
    expect(byKind('note')).toMatchObject({ detail: { text: 'Fertilizing: not ours' } });
    const sensor = (await table('sensor')).find((one) => one.id === ground.oakSensor);
    expect(sensor).toMatchObject({
      batteryDate: '2025-04-14',
      lastCheckDate: '2025-04-21',
      lastCheckPassed: 1,
      baseBatteryDate: null,
    });
    expect(await table('season')).toEqual([
      {
        propertyId: ground.oak,
        year: 2024,
        startedUpOn: null,
        startUpEntryId: null,
        winterizedOn: '2024-10-14',
        winterizationEntryId: byKind('winterization').id,
      },
      {
        propertyId: ground.oak,
        year: 2025,
        startedUpOn: '2025-04-20',
        startUpEntryId: byKind('start-up').id,
        winterizedOn: null,
        winterizationEntryId: null,
      },
    ]);
    const property = await book.connection.db
      .selectFrom('property')
      .select('backflowTestDue')
      .where('id', '=', ground.oak)
      .executeTakeFirstOrThrow();
    expect(property.backflowTestDue).toBe('2026-04-01');
    const before = await book.everything();
    expect(await apply('work', csv)).toMatchObject({ added: {}, skipped: 7 });
    expect(await book.everything()).toEqual(before);
    expect((await book.run('book.check', {})).clean).toBe(true);
  });

  it('rows that cannot be say why', async () => {
    const result = await apply(
      'work',
      'client,street,date,work,sensor,psi\nHill HOA,5 Elm St,5/3/2025,battery,clubhouse,\nAda Reed,12 Oak St,,winterized,,\nAda Reed,12 Oak St,3/3/2026,winterized,,\nAda Reed,12 Oak St,10/3/2025,winterized,,500\nAda Reed,12 Oak St,10/3/2025,,,\nAda Reed,99 Oak St,10/3/2025,winterized,,\n',
    );
    expect(result.problems.map(({ row, column, reason }) => [row, column, reason])).toEqual([
      [2, 'street', 'this client has 2 properties at that street; a city or postcode has to say which'],
      [3, 'date', 'there is no date'],
      [4, 'date', 'lies after today (2026-03-02); only work that was done can be imported'],
      [5, 'psi', 'must be 1 to 120 psi'],
      [6, 'work', 'there is no kind of work'],
      [7, 'street', 'this client has no property at that street'],
    ]);
  });

  it('a battery swap finds its sensor, or says that there is none', async () => {
    const result = await twice(
      'work',
      'client,street,zip,date,work,sensor\nHill HOA,5 Elm St,80501,5/3/2025,battery,clubhouse\nHill HOA,5 Elm St,80501,5/3/2025,battery,\nHill HOA,5 Elm St,80600,5/3/2025,battery,\n',
    );
    expect(result.added).toEqual({ ledgerEntries: 1 });
    expect(result.problems.map(({ row, reason }) => [row, reason.slice(0, 44)])).toEqual([
      [3, 'the property has 2 sensors; a sensor column '],
      [4, 'there is no sensor on this property, so a ba'],
    ]);
    expect((await table('ledgerEntry'))[0].sensorId).toBe(ground.elmSensors[1]);
  });

  it('a technician added later does not make the same work new', async () => {
    const csv = 'account,date,work,tech,note\n1001,5/3/2025,repair,Sam Unknown,fixed head\n';
    await apply('work', csv);
    await book.connection.db
      .insertInto('technician')
      .values({
        id: '01M89G142THQ4T01D3AF4RW5DM',
        name: 'Sam Unknown',
        phone: '',
        skills: '[]',
        workWeekdays: '[1]',
        dayStart: '07:00',
        dayEnd: '16:00',
        truckId: null,
        active: 1,
      })
      .execute();
    expect(await apply('work', csv)).toMatchObject({ added: {}, skipped: 1 });
  });

  it('takes ambiguous dates month first and says so; the caller may choose', async () => {
    const csv = 'account,date,work\n1001,3/4/2025,repair\n';
    const guessed = english(await book.run('import.preview', { target: 'work', bytesBase64: base64(csv) }));
    expect(guessed.sample[0]!['Date of the work']).toBe('2025-03-04');
    expect(guessed.warnings.join('\n')).toMatch(/month first/);
    const chosen = await book.run('import.preview', {
      target: 'work',
      bytesBase64: base64(csv),
      dateOrder: 'day-first',
    });
    expect(chosen.sample[0]!['Date of the work']).toBe('2025-04-03');
    expect(chosen.warnings).toEqual([]);
  });

  it('a backflow test without a result stays a note and moves no date', async () => {
    const result = await twice('work', 'account,date,work\n1001,3/14/2025,backflow test\n');
    expect((await table('ledgerEntry'))[0].kind).toBe('note');
    expect(result.warnings.join('\n')).toMatch(/without “pass” or “fail”/);
  });
});

describe('weather', () => {
  const weather = (csv: string | Buffer, more: object = {}) =>
    apply('weather', csv, { stationId: ground.stationId, ...more });

  it('is stored in the book’s units; impossible days are bad rows', async () => {
    const csv =
      'Date,TMax (C),TMin (C),Rain mm\n2025-07-01,30,15,2.54\n2025-07-02,10,15,0\n2025-07-03,75,15,0\n2025-07-04,,,-1\n2025-07-05,NA,-9999,T\n2025-07-06,31,x,\n2025-07-01,29,15,0\n2025-02-30,1,0,0\n';
    const result = await twice('weather', csv, { stationId: ground.stationId });
    expect(result.problems.map(({ row, column, reason }) => [row, column, reason])).toEqual([
      [3, 'TMin (C)', 'the lowest temperature is above the highest'],
      [4, 'TMax (C)', 'must be -60 to 60 °C'],
      [5, 'Rain mm', 'must be 0 to 2032 mm'],
      [7, 'TMin (C)', 'is not a number'],
      [9, 'Date', 'is not a real calendar date'],
    ]);
    expect(await table('weatherDay')).toEqual([
      {
        stationId: ground.stationId,
        date: '2025-07-01',
        tmaxF: 86,
        tminF: 59,
        rainInches: 0.1,
        rhMeanPct: null,
        windMph: null,
        solarMjM2: null,
      },
      {
        stationId: ground.stationId,
        date: '2025-07-05',
        tmaxF: null,
        tminF: null,
        rainInches: 0,
        rhMeanPct: null,
        windMph: null,
        solarMjM2: null,
      },
    ]);
    const better = await weather('Date,TMax (C),TMin (C),Rain mm\n2025-07-01,31,15,2.54\n');
    expect(better).toMatchObject({ added: { weatherDaysReplaced: 1 }, joined: 1 });
  });

  it('days join figure by figure: what a list does not have stays as it was', async () => {
    await weather('Date,TMax F,TMin F\n2025-07-01,86,59\n2025-07-02,88,60\n');
    expect(await weather('Date,Rain in\n2025-07-01,0.4\n2025-07-03,0.2\n')).toMatchObject({
      added: { weatherDaysReplaced: 1, weatherDays: 1 },
    });
    // A record that has lost its figures, or writes them as missing, takes none away.
    expect((await weather('Date,TMax F,TMin F,Rain in\n2025-07-01,-9999,-9999,NA\n2025-07-02,,60,\n')).added).toEqual(
      {},
    );
    const days = (await table('weatherDay')).map((day) => [day.date, day.tmaxF, day.tminF, day.rainInches]);
    expect(days).toEqual([
      ['2025-07-01', 86, 59, 0.4],
      ['2025-07-02', 88, 60, null],
      ['2025-07-03', null, null, 0.2],
    ]);
    const against = await weather('Date,TMax F\n2025-07-01,50\n');
    expect(against.problems.map(({ column, reason }) => [column, reason])).toEqual([
      ['TMax F', 'the lowest temperature is above the highest'],
    ]);
  });

  it('headings may state the unit, whatever the size of the figures', async () => {
    // A cold month in °F, which its size would have told as °C; NIST Handbook 44: 1 in = 25.4 mm.
    await weather('DATE,TMAX (Degrees Fahrenheit),TMIN (Fahrenheit),PRCP (Inches)\n2025-01-01,40,20,0.1\n');
    await weather('DATE,TMAX (Celsius),TMIN (degrees C),PRCP (mm)\n2025-01-02,10,-5,2.54\n');
    const days = (await table('weatherDay')).map((day) => [day.date, day.tmaxF, day.tminF, day.rainInches]);
    expect(days).toEqual([
      ['2025-01-01', 40, 20, 0.1],
      ['2025-01-02', 50, 23, 0.1],
    ]);
  });

  // NOAA's readme of GHCN-Daily, section III: columns, tenths, −9999, a letter in the quality flag = failed a check.
  const dly = (element: string, values: Record<number, string>) =>
    `USW00014839202401${element}${Array.from({ length: 31 }, (_, at) => values[at + 1] ?? '-9999   ').join('')}`;
  const DLY = [
    dly('TMAX', { 1: '   17  W', 2: '  200 SW', 3: '   50H W' }),
    dly('TMIN', { 1: '  -22  W', 2: '  -10  W' }),
    dly('PRCP', { 1: '    0T W', 2: '  254  W' }),
    dly('SNOW', { 1: '   30  W' }),
  ].join('\n');
  const expected = [
    ['2024-01-01', 35.06, 28.04, 0],
    ['2024-01-02', null, 30.2, 1],
    ['2024-01-03', 41, null, null],
  ];
  const dayFigures = async () =>
    (await table('weatherDay')).map((day) => [day.date, day.tmaxF, day.tminF, day.rainInches]);

  it('reads .dly of GHCN-Daily: tenths, flags, missing figures', async () => {
    const result = await weather(DLY);
    expect(result).toMatchObject({ added: { weatherDays: 3 }, badRows: 0 });
    expect(await dayFigures()).toEqual(expected);
    expect(result.warnings).toEqual([
      'This is a file of GHCN-Daily, station USW00014839: its figures were read as tenths of °C, millimeters and m/s.',
      '1 figure failed a quality check of NOAA and is not used.',
      '86 figures are marked as missing.',
    ]);
    expect((await weather(DLY)).added).toEqual({});
    await expect(weather(`${DLY}\n${DLY.replaceAll('USW00014839', 'USC00045532')}`)).rejects.toMatchObject({
      code: 'bad-input',
      field: 'bytesBase64',
    });
    expect((await weather(`${DLY}\nsomething else`)).warnings.join()).toMatch(/1 line is not of this form/);
  });

  // The forms of both CSV files are from memory.
  it('reads by_station and access CSV of GHCN-Daily', async () => {
    const cells = [
      'USW00014839,20240101,TMAX,17,,,W,2400',
      'USW00014839,20240101,TMIN,-22,,,W,',
      'USW00014839,20240101,PRCP,0,T,,W,2400',
      'USW00014839,20240102,TMAX,200,,S,W,2400',
      'USW00014839,20240102,TMIN,-10,,,W,',
      'USW00014839,20240102,PRCP,254,,,W,',
      'USW00014839,20240103,TMAX,50,H,,W,',
      'USW00014839,20240103,TMAX,60,H,,W,',
    ];
    const byStation = await weather(cells.join('\r\n'));
    expect(await dayFigures()).toEqual(expected);
    expect(byStation.warnings.join()).toMatch(/1 figure repeats a day/);
    const access = [
      '"STATION","DATE","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"',
      '"USW00014839","2024-01-01","MILWAUKEE, WI US","    0","T,,W,2400","   17",",,W","  -22",",,W"',
      '"USW00014839","2024-01-02","MILWAUKEE, WI US","  254",",,W,2400","  200",",S,W","  -10",",,W"',
      '"USW00014839","2024-01-03","MILWAUKEE, WI US",,,"   50","H,,W",,',
    ].join('\n');
    expect((await weather(access)).added).toEqual({});
    // Ordered in °F and inches it is a list like any other.
    const ordered = access.replaceAll('"   17"', '"35.1"').replaceAll('"  254"', '"1.00"');
    expect((await weather(ordered)).warnings.join()).not.toMatch(/tenths/);
  });

  it('reads year, month and day columns', async () => {
    expect((await weather('year,month,day,tmax f,tmin f\n2025,7,1,86,59\n2025,13,1,86,59\n')).added).toEqual({
      weatherDays: 1,
    });
  });

  it('needs a station', async () => {
    const csv = 'date,tmax f\n2025-07-01,86\n';
    await expect(apply('weather', csv)).rejects.toMatchObject({ code: 'bad-input', field: 'stationId' });
    await expect(apply('weather', csv, { stationId: '01M89G142THQ4T01D3AF4RW5DM' })).rejects.toMatchObject({
      code: 'not-found',
      field: 'stationId',
    });
  });

  // Open daily records shared with the project; see the README beside them for their sources.
  const shared = (name: string) => fileURLToPath(new URL(`../../../shared/data/weather/${name}`, import.meta.url));
  const merced = shared('merced-ca-ghcn-daily-1990-2022.csv');
  it.skipIf(!existsSync(merced))(
    `Merced, 1990 to 2022${existsSync(merced) ? '' : ' (skipped: the file is not on this machine)'}`,
    async () => {
      const result = await weather(readFileSync(merced));
      expect(result.warnings.join('\n')).toMatch(/“PRCP_MM” is 10\.0 times “PRCP”/);
      const day = (await table('weatherDay')).find((one) => one.date === '1990-01-02');
      expect(day).toMatchObject({ rainInches: 0.59842552 });
      expect(day.tminF).toBeCloseTo(42.98, 10);
      expect(day.tmaxF).toBeCloseTo(55.04, 10);
      expect(result.goodRows + result.badRows + result.ignoredRows).toBe(result.rowCount);
      expect(result.goodRows).toBeGreaterThan(11_000);
    },
  );
  const milwaukee = shared('milwaukee-usw00014839-daily-1938-2026.csv');
  it.skipIf(!existsSync(milwaukee))(
    `Milwaukee, 1938 to 2026${existsSync(milwaukee) ? '' : ' (skipped: the file is not on this machine)'}`,
    async () => {
      const result = await weather(readFileSync(milwaukee));
      // Its README: 32,283 days, none absent, no lowest temperature missing; snow is ten times too small and has no field here.
      expect(result).toMatchObject({ badRows: 0, added: { weatherDays: 32_283 } });
      const days = await table('weatherDay');
      expect(days.every((day) => day.tminF !== null)).toBe(true);
      expect(days[0]).toMatchObject({ date: '1938-04-01', rainInches: null, tmaxF: 35.96, tminF: 30.02 });
    },
  );
  const seattle = shared('seattle-weather.csv');
  it.skipIf(!existsSync(seattle))(
    `Seattle${existsSync(seattle) ? '' : ' (skipped: the file is not on this machine)'}`,
    async () => {
      const result = await weather(readFileSync(seattle));
      expect(result).toMatchObject({ badRows: 0, applied: true, added: { weatherDays: result.rowCount } });
      const day = (await table('weatherDay')).find((one) => one.date === '2012-01-02');
      expect(day.tmaxF).toBeCloseTo(10.6 * 1.8 + 32, 4);
      expect(day.rainInches).toBeCloseTo(10.9 / 25.4, 5);
      expect(day.windMph).toBeCloseTo(4.5 / 0.44704, 4);
    },
  );
});
