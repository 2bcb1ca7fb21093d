import iconv from 'iconv-lite';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { english } from './english.ts';
import { base64, makeBook, type TestBook } from './job-context.ts';

let book: TestBook;
beforeEach(async () => void (book = await makeBook()));
afterEach(() => book.close());

const apply = async (csv: string | Buffer, more: object = {}) =>
  english(await book.run('import.apply', { bytesBase64: base64(csv), ...more }));
const preview = async (csv: string | Buffer, more: object = {}) =>
  english(await book.run('import.preview', { bytesBase64: base64(csv), ...more }));
const clients = () => book.connection.db.selectFrom('client').selectAll().orderBy('name').execute();
const properties = () => book.connection.db.selectFrom('property').selectAll().orderBy('street').execute();

// Everything that goes wrong in the lists companies really have, in one of them.
const MESSY = `Client list printed 3/1/2026
Customer Name,Service Address,City,State,Zip,Phone,Cell,E-mail,Acct #,Route,Backflow Type,Rain Sensor,Battery Date,Zones,Winterize?,Notes
"Abernathy, Jo",12 North Oak Street,Fairview,co,80501.0,(303) 555-0101,,jo@example.com,1001,North,PVB,yes,3/15/2025,7,Y,"two
lines"
ABERNATHY JO,40 Elm St #4,Fairview,CO,80501,3035550101,,JO@example.com,,North,RPZ,no,,,,
Cedar Ridge HOA,1 Cedar Ridge Rd,Fairview,MA,2134,call the office,,board@example.com; treasurer@example.com,1002,south,dcva,Type B 3,14 Mar 2024,12,N,

Customer Name,Service Address,City,State,Zip,Phone,Cell,E-mail,Acct #,Route,Backflow Type,Rain Sensor,Battery Date,Zones,Winterize?,Notes
Pat Moss,9 Fir Ln,Fairview,CO,80501,303.555.0155 ext 4,,pat@example.com,,North,xyz,,13/25/2024,,,
Pat Moss,10 Fir Ln,Fairview,CO,80501,303.555.0199,,,,North,,,,120,,
Pat Moss,,Fairview,CO,80501,303.555.0199,,,,North,,,,6,,
,3 Ash Ct,Fairview,CO,80501,303.555.0177,,,,North,,,,6,,
Pat Moss,10 Fir Lane,Fairview,CO,80501,(303) 555-0199,,,,North,,,,,,
Pat Moss,77 Fir Ln,Fairview,CO,80501,303-555-0111,,,,,,,,,,
pat moss,10 FIR LN.,Fairview,CO,80501,303 555 0199,,,,,,,,,,
Grand total: 512 clients,,,,,,,,,,,,,,,
`;

describe('a messy client list', () => {
  it('is previewed without changing anything: every bad row by number, column and reason', async () => {
    const before = await book.everything();
    const result = await preview(MESSY);
    expect(await book.everything()).toEqual(before);
    expect(result).toMatchObject({
      encoding: 'utf-8',
      delimiter: ',',
      rowCount: 14,
      goodRows: 6,
      badRows: 4,
      ignoredRows: 4,
    });
    expect(result.problems.map(({ row, column, reason }) => [row, column, reason])).toEqual([
      [8, 'Battery Date', 'is not a real calendar date'],
      [9, 'Zones', 'must be a whole number from 0 to 99'],
      [10, 'Service Address', 'there is no street'],
      [11, 'Customer Name', 'there is no client name'],
    ]);
    expect(result.ignored).toEqual([
      { row: 1, why: 'above the header' },
      { row: 6, why: 'blank line' },
      { row: 7, why: 'the header again' },
      { row: 15, why: 'a line of totals or a report’s end' },
    ]);
    expect(result.columns.map((column) => column.field)).toEqual([
      'clientName',
      'street',
      'city',
      'region',
      'postcode',
      'phone',
      'phone2',
      'email',
      'accountNumber',
      'route',
      'backflowKind',
      'sensor',
      'batteryDate',
      'zoneCount',
      'winterize',
      'clientNotes',
    ]);
    expect(result.columns.every((column) => column.how === 'guessed')).toBe(true);
    expect(result.wouldAdd).toEqual({ clients: 4, properties: 5, routes: 2, controllers: 2, sensors: 2 });
    expect(result.wouldJoin).toBe(1);
    expect(result.sample[0]).toMatchObject({
      'Client name': 'Abernathy, Jo',
      Phone: '(303) 555-0101',
      Postcode: '80501',
      'Backflow assembly': 'pressure-vacuum-breaker',
    });
  });

  it('is applied: what was added, joined and skipped', async () => {
    const result = await apply(MESSY);
    expect(result).toMatchObject({
      applied: true,
      joined: 1,
      skipped: 1,
      added: { clients: 4, properties: 5, routes: 2, controllers: 2, sensors: 2 },
    });
    expect(result.outcomes.map(({ row, outcome }) => [row, outcome])).toEqual([
      [3, 'added'],
      [4, 'joined'],
      [5, 'added'],
      [12, 'added'],
      [13, 'added'],
      [14, 'skipped'],
    ]);
    const [jo, ridge, pat, otherPat] = await clients();
    expect(jo).toMatchObject({
      name: 'Abernathy, Jo',
      kind: 'household',
      phone: '(303) 555-0101',
      email: 'jo@example.com',
      accountNumber: '1001',
      notes: 'two\nlines',
      version: 1,
      sortName: 'abernathy, jo',
    });
    expect(jo!.searchText).toContain('3035550101');
    expect(ridge).toMatchObject({
      kind: 'association',
      phone: '',
      email: 'board@example.com',
      notes: 'Phone as written: call the office\nE-mail as written: treasurer@example.com',
    });
    expect([pat!.phone, otherPat!.phone]).toEqual(['(303) 555-0199', '(303) 555-0111']);
    const places = await properties();
    expect(places.map((place) => place.street)).toEqual([
      '1 Cedar Ridge Rd',
      '10 Fir Lane',
      '12 North Oak Street',
      '40 Elm St #4',
      '77 Fir Ln',
    ]);
    expect(places[0]).toMatchObject({
      postcode: '02134',
      region: 'MA',
      backflowKind: 'double-check',
      servicesWinterization: 0,
      servicesStartUp: 1,
      timeZone: 'America/Denver',
    });
    expect(places[2]).toMatchObject({ postcode: '80501', region: 'CO', clientId: jo!.id, servicesWinterization: 1 });
    expect(places[3]!.clientId).toBe(jo!.id);
    const sensors = await book.connection.db.selectFrom('sensor').selectAll().orderBy('batteryDate').execute();
    expect(sensors.map((sensor) => [sensor.model, sensor.batteryDate, sensor.baseBatteryDate])).toEqual([
      ['Type B 3', '2024-03-14', '2024-03-14'],
      ['', '2025-03-15', '2025-03-15'],
    ]);
    expect(
      (await book.connection.db.selectFrom('controller').select('stationCount').orderBy('stationCount').execute()).map(
        (row) => row.stationCount,
      ),
    ).toEqual([7, 12]);
    expect(result.warnings.join('\n')).toMatch(/second client/);
    expect((await book.run('book.check', {})).clean).toBe(true);
  });

  it('adds nothing the second time, and changes nothing', async () => {
    await apply(MESSY);
    const before = await book.everything();
    const again = await apply(MESSY);
    expect(again).toMatchObject({ applied: true, added: {}, joined: 0, skipped: 6 });
    expect(await book.everything()).toEqual(before);
    expect((await preview(MESSY)).columns.every((column) => column.how === 'remembered')).toBe(true);
  });

  it('is left alone as a whole when asked for all or none', async () => {
    const before = await book.everything();
    const result = await apply(MESSY, { mode: 'all-or-none' });
    expect(result).toMatchObject({ applied: false, added: {}, outcomes: [], badRows: 4 });
    expect(await book.everything()).toEqual(before);
    const good = await apply('name,street\nAda,1 Oak St\n', { mode: 'all-or-none' });
    expect(good).toMatchObject({ applied: true, added: { clients: 1, properties: 1 } });
  });

  it('leaves nothing half-written when it is cancelled on the way', async () => {
    const before = await book.everything();
    const rows = Array.from({ length: 2000 }, (_, index) => `Client ${index},${index} Oak St,Fairview`).join('\n');
    for (const looks of [0, 3, 12]) {
      book.cancelAfter = looks;
      await expect(apply(`name,street,city\n${rows}`)).rejects.toMatchObject({ code: 'cancelled' });
      expect(await book.everything()).toEqual(before);
    }
  });
});

describe('clients and properties', () => {
  it('joins five properties of one client by phone, e-mail or account, in any spelling', async () => {
    const result = await apply(
      'account,client,address,city,zip,phone,email\n' +
        'A1,Juniper Homes,1 Oak St,Fairview,80501,303-555-0110,\n' +
        'A1,Juniper Homes LLC,2 Oak St,Fairview,80501,,\n' +
        ',Juniper Homes,3 Oak St,Fairview,80501,(303) 555-0110,\n' +
        ',JUNIPER HOMES,4 Oak St,Fairview,80501,,\n' +
        'A1,,5 Oak St,Fairview,80501,,office@example.com\n' +
        'A1,Juniper Homes,5 Oak St,Fairview,80501,,office@example.com\n',
    );
    expect(result.added).toEqual({ clients: 1, properties: 5 - 1 + 1 });
    expect(result).toMatchObject({ joined: 4, badRows: 1 });
    expect(result.warnings.join('\n')).toMatch(/name alone/);
    expect(result.warnings.join('\n')).toMatch(/account number is the one of “Juniper Homes”/);
    const before = await book.everything();
    expect(
      (await apply('account,client,address,city,zip,phone,email\nA1,Juniper Homes,1 Oak Street,,80501-0000,,\n'))
        .skipped,
    ).toBe(1);
    const { importMapping: _first, ...rest } = before;
    const { importMapping: _second, ...now } = await book.everything();
    expect(now).toEqual(rest);
  });

  it('keeps two clients of one name apart, and says so', async () => {
    const result = await apply(
      'name,street,phone\nLee Park,1 Oak St,303-555-0120\nLee Park,2 Oak St,303-555-0121\nLee Park,2 Oak St,303-555-0122\n',
    );
    expect(result.added).toEqual({ clients: 2, properties: 2 });
    expect(result.skipped).toBe(1);
    expect(result.warnings.join('\n')).toMatch(/Row 3: another client has the same name/);
  });

  it('knows the same street in two towns as two properties', async () => {
    const result = await apply(
      'name,street,city,zip\nLee Park,1 Oak St,Fairview,80501\nLee Park,1 Oak Street,Marlow,80600\nLee Park,"1 Oak St.",Fairview,80501\n',
    );
    expect(result.added).toEqual({ clients: 1, properties: 2 });
    expect(result.skipped).toBe(1);
  });

  it('joins clients that are in the book already', async () => {
    await apply('name,street,phone\nLee Park,1 Oak St,303-555-0120\n');
    const result = await apply('Phone;Name;Address\n"+1 303 555 0120";"Park, Lee";"2 Oak St"\n');
    expect(result).toMatchObject({ delimiter: ';', added: { properties: 1 }, joined: 1 });
    expect(await clients()).toHaveLength(1);
  });

  it('reads first and last names, companies, and one-column addresses', async () => {
    const result = await apply(
      'Last Name,First Name,Company,Full Address\nReed,Al,,"12 Oak St, Unit 4, Fairview, CO 80501"\nMoss,Pat,Moss Dental,"9 Fir Ln, Fairview, CO 80501"\n',
    );
    expect(result.badRows).toBe(0);
    expect((await clients()).map(({ name, kind, notes }) => [name, kind, notes])).toEqual([
      ['Al Reed', 'household', ''],
      ['Moss Dental', 'business', 'Contact: Pat Moss'],
    ]);
    expect((await properties()).map(({ street, city, region, postcode }) => [street, city, region, postcode])).toEqual([
      ['12 Oak St, Unit 4', 'Fairview', 'CO', '80501'],
      ['9 Fir Ln', 'Fairview', 'CO', '80501'],
    ]);
  });

  it('reads every field there is', async () => {
    const header =
      'Client Name,Client Type,Phone 1,Phone 2,Email,Billing Address,Billing City,Property Name,Street,Unit,City,State,Zip,Latitude,Longitude,Elevation M,Time Zone,Access Notes,Gate Code,Dog,Water Source,Static Pressure,Pipe,Backflow Kind,Backflow Serial,Backflow Location,Backflow Test Due,Shutoff,Controller,Controller Location,Start-up';
    const row =
      'Ada Reed,Commercial,303 555 0130,303 555 0131,ada@example.com,PO Box 1,Marlow,Main site,12 Oak St,4,Fairview,CO,80501,40.1,-105.1,1500,Mountain,Side gate,#1234,yes,city,65 psi,poly,RP,SN 9,garage,2026-05-01,crawl space,Front,garage wall,no';
    const result = await apply(`${header}\n${row}\n`);
    expect(result.problems).toEqual([]);
    expect((await clients())[0]).toMatchObject({
      kind: 'business',
      phone: '(303) 555-0130',
      phone2: '(303) 555-0131',
      billingAddress: 'PO Box 1, Marlow',
    });
    expect((await properties())[0]).toMatchObject({
      label: 'Main site',
      street: '12 Oak St, Unit 4',
      latitudeDeg: 40.1,
      longitudeDeg: -105.1,
      elevationFt: 4921.3,
      timeZone: 'America/Denver',
      accessNotes: 'Side gate',
      gateCode: '#1234',
      dogNote: 'Dog',
      waterSupply: 'drinking',
      staticPressurePsi: 65,
      pipeMaterial: 'polyethylene',
      backflowKind: 'reduced-pressure',
      backflowSerial: 'SN 9',
      backflowLocation: 'garage',
      backflowTestDue: '2026-05-01',
      baseBackflowTestDue: '2026-05-01',
      shutoffLocation: 'crawl space',
      servicesStartUp: 0,
    });
    expect(await book.connection.db.selectFrom('controller').select(['name', 'location']).execute()).toEqual([
      { name: 'Front', location: 'garage wall' },
    ]);
  });

  it('keeps what is said of a dog beyond a bare yes or no: it is read at the gate', async () => {
    const said = ['yes', 'No', 'Yes - bites', 'no, but the neighbor has one', 'two terriers', ''];
    const result = await apply(
      `name,street,dog\n${said.map((text, index) => `Ada ${index},${index + 1} Oak St,"${text}"`).join('\n')}\n`,
    );
    expect(result.problems).toEqual([]);
    expect((await properties()).map(({ dogNote }) => dogNote)).toEqual([
      'Dog',
      '',
      'Yes - bites',
      'no, but the neighbor has one',
      'two terriers',
      '',
    ]);
  });

  it('says which number is out of range', async () => {
    const result = await preview('name,street,latitude\nAda,1 Oak St,140\nBea,2 Oak St,north\n');
    expect(result.problems).toEqual([
      { row: 2, column: 'latitude', value: '140', reason: 'must be -90 to 90 degrees' },
      { row: 3, column: 'latitude', value: 'north', reason: 'is not a number' },
    ]);
  });
});

describe('columns', () => {
  it('guesses a list without a header from what the cells hold', async () => {
    const csv =
      'Ada Reed,12 Oak St,Fairview,CO,80501,(303) 555-0101,ada@example.com\nBea Moss,9 Fir Ln,Fairview,CO,80501,(303) 555-0102,bea@example.com\nCy Park,8 Elm St,Fairview,CO,80501,(303) 555-0103,cy@example.com\n';
    const fields = ['clientName', 'street', 'city', 'region', 'postcode', 'phone', 'email'];
    const said = await preview(csv, { hasHeader: false });
    expect(said.columns.map((column) => column.field)).toEqual(fields);
    const noticed = await preview(csv);
    expect(noticed.columns.map((column) => column.field)).toEqual(fields);
    expect(noticed.rowCount).toBe(3);
    expect(noticed.warnings.join('\n')).toMatch(/looks like data/);
    expect((await apply(csv)).added).toEqual({ clients: 3, properties: 3 });
  });

  it('lets the caller decide, and remembers it for the same header', async () => {
    const csv = 'Who,Where,Extra,Code\nAda Reed,12 Oak St,hello,#12\n';
    await expect(apply(csv)).rejects.toMatchObject({ code: 'bad-input', field: 'mapping' });
    expect((await preview(csv)).problems.map((problem) => problem.reason)).toContain(
      'no column is matched to “Client name”',
    );
    const mapping = { 0: 'clientName', 1: 'street', 2: '', 3: 'accountNumber' };
    expect((await apply(csv, { mapping })).added).toEqual({ clients: 1, properties: 1 });
    const next = await preview('who,WHERE,Extra,code\nBea Moss,1 Fir Ln,x,#13\n');
    expect(next.columns.map(({ field, how }) => [field, how])).toEqual([
      ['clientName', 'remembered'],
      ['street', 'remembered'],
      ['', 'remembered'],
      ['accountNumber', 'remembered'],
    ]);
    expect((await clients())[0]).toMatchObject({ accountNumber: '#12', notes: '' });
  });

  it('refuses a mapping that cannot be', async () => {
    const csv = 'name,street\nAda,1 Oak St\n';
    await expect(preview(csv, { mapping: { 7: 'phone' } })).rejects.toMatchObject({
      code: 'bad-input',
      field: 'mapping.7',
    });
    await expect(preview(csv, { mapping: { 1: 'shoeSize' } })).rejects.toMatchObject({
      code: 'bad-input',
      field: 'mapping.1',
    });
    await expect(preview(csv, { mapping: { 0: 'street', 1: 'street' } })).rejects.toMatchObject({
      code: 'bad-input',
      field: 'mapping.1',
    });
  });

  it('takes a company that is called Total for a client', async () => {
    const result = await preview(
      'name,street,city\nTotal Landscape Care,1 Oak St,Fairview\nTotal,,\nTotals:,512,\nSubtotal,,\n',
    );
    expect(result).toMatchObject({ goodRows: 1, badRows: 0, ignoredRows: 3 });
  });
});

describe('bytes', () => {
  const csv = 'Name;Straße;Stadt\nZoë Müller;"Lindenweg 5";Köln\n';
  it.each([
    ['windows-1252', iconv.encode(csv, 'windows-1252')],
    ['utf-8', Buffer.from(csv)],
    ['utf-8', Buffer.from(`\ufeff${csv}`)],
    ['utf-16le', iconv.encode(csv, 'utf-16le', { addBOM: true })],
  ])('%s', async (encoding, bytes) => {
    const result = await apply(bytes, { mapping: { 1: 'street', 2: 'city' } });
    expect(result).toMatchObject({ encoding, delimiter: ';', added: { clients: 1, properties: 1 } });
    expect((await clients())[0]!.name).toBe('Zoë Müller');
    expect((await properties())[0]!.city).toBe('Köln');
  });
  it('takes ragged rows and says which', async () => {
    const result = await apply('name,street,city\nAda,1 Oak St\nBea,2 Oak St,Fairview,extra\nCy,3 Oak St,Fairview,,\n');
    expect(result.added).toEqual({ clients: 3, properties: 3 });
    expect(result.warnings.filter((warning) => /cells/.test(warning)).map((warning) => warning.slice(0, 6))).toEqual([
      'Row 2:',
      'Row 3:',
    ]);
  });
  it('has something to say about an empty file', async () => {
    for (const empty of ['', '\n\n', ' ', 'name,street\n']) {
      expect(await preview(empty), JSON.stringify(empty)).toMatchObject({
        goodRows: 0,
        badRows: 0,
        problems: [],
        warnings: ['The list holds no rows.'],
      });
    }
  });
});

it('a list in which everybody has one name, or one client has every property, takes no longer than another', async () => {
  // Looking through namesakes or through a client's places one by one would take minutes here, and run into the test's limit.
  const rows = (name: (row: number) => string) =>
    Array.from({ length: 20_000 }, (_, row) => `${name(row)},${row} Oak St,Fairview`).join('\n');
  const homeowners = await apply(`name,street,city,phone\n${rows(() => 'Homeowner')}\n`);
  expect(homeowners).toMatchObject({ badRows: 0, added: { clients: 1, properties: 20_000 }, joined: 19_999 });
  const phones = Array.from(
    { length: 20_000 },
    (_, row) =>
      `Resident,${row} Elm St,Fairview,303-555-${String(row % 10_000).padStart(4, '0')}${row >= 10_000 ? ' x1' : ''}`,
  ).join('\n');
  expect((await apply(`name,street,city,phone\n${phones}\n`)).added).toEqual({ clients: 10_000, properties: 20_000 });
});

it('imports fifty thousand rows with progress, and skips them all the second time', async () => {
  const lines = ['Customer Name,Service Address,City,State,Zip,Phone,E-mail,Acct #,Route'];
  for (let row = 0; row < 50_000; row += 1)
    lines.push(
      `"Client ${row}, Ann",${row} Oak St,Fairview,CO,80501,(303) 555-01${String(row % 100).padStart(2, '0')},c${row}@example.com,A${row},Route ${row % 20}`,
    );
  const csv = lines.join('\n');
  const result = await apply(csv);
  expect(result).toMatchObject({
    rowCount: 50_000,
    goodRows: 50_000,
    badRows: 0,
    applied: true,
    added: { clients: 50_000, properties: 50_000, routes: 20 },
  });
  expect(book.progress.length).toBeGreaterThan(100);
  for (const { done, total } of book.progress) expect(done).toBeLessThanOrEqual(total);
  const { n } = await book.connection.db
    .selectFrom('client')
    .select((eb) => eb.fn.countAll<number>().as('n'))
    .executeTakeFirstOrThrow();
  expect(n).toBe(50_000);
  expect(await apply(csv)).toMatchObject({ added: {}, joined: 0, skipped: 50_000 });
});
