import { rmSync } from 'node:fs';
import path from 'node:path';
import Database from 'better-sqlite3';
import people from '../../assets/demo/people.json' with { type: 'json' };
import places from '../../assets/demo/places.json' with { type: 'json' };
import { chance } from '../../core/demo/random.ts';
import { openForWriting } from '../../core/book/migrate.ts';
import { digitsOf, fold } from '../../core/store/search-text.ts';
import { BENCH_FOLDER } from './book.ts';
import { openBench, settle } from './call.ts';
import { longestGap, summarise } from './stats.ts';
import type { Measured } from './table.ts';

/** A client list as an office has it: telephones in several shapes, quoted fields, some clients with several properties. */
function clientCsv(rows: number): string {
  const rng = chance('import');
  const lines = ['Name,Phone,E-mail,Street,City,State,Zip,Notes'];
  for (let row = 0; row < rows; row += 1) {
    const place = rng.pick(places.neighbourhoods);
    const last = rng.int(0, 99);
    const area = rng.pick(places.areaCodes);
    const name = `${rng.pick(people.given)} ${rng.pick(people.family)} ${(row % 4000).toString(36).toUpperCase()}`;
    const phone = rng.pick([
      `(${area}) 555-01${String(last).padStart(2, '0')}`,
      `${area}-555-01${String(last).padStart(2, '0')}`,
      `${area}.555.01${String(last).padStart(2, '0')}`,
    ]);
    lines.push(
      `${name},${phone},c${row}@example.com,${1000 + row} ${rng.pick(place.streets)},${place.city},CO,${place.postcode},${rng.yes(0.1) ? `"gate on the left, ""old"" code"` : ''}`,
    );
  }
  return `${lines.join('\r\n')}\r\n`;
}

/** A fresh book each round; the bare loop splits the same bytes and inserts the same clients and properties. */
export async function importRow(rows: number, rounds: number): Promise<Measured[]> {
  const csv = clientCsv(rows);
  const bytesBase64 = Buffer.from(csv).toString('base64');
  const times: { ours: number[]; bare: number[]; gaps: number[] } = { ours: [], bare: [], gaps: [] };
  let progressCount = 0;
  let outcome = '';
  for (let round = 0; round < rounds; round += 1) {
    for (const side of round % 2 === 0 ? ['ours', 'bare'] : ['bare', 'ours']) {
      const book = path.join(BENCH_FOLDER, `import-${process.pid}-${side}.valvebook`);
      const sweep = () => {
        for (const end of ['', '-wal', '-shm', '-lock']) rmSync(`${book}${end}`, { force: true });
      };
      sweep();
      if (side === 'ours') {
        const { desk, call } = await openBench(book, 'write', true);
        await settle();
        const moments: number[] = [];
        const start = performance.now();
        const result = await call('import.apply', { target: 'clients', fileName: 'clients.csv', bytesBase64 }, () =>
          moments.push(performance.now()),
        );
        const end = performance.now();
        times.ours.push((end - start) / 1000);
        times.gaps.push(longestGap(start, moments, end));
        progressCount = moments.length;
        outcome = `${result.goodRows} good rows, added ${JSON.stringify(result.added)}`;
        if (result.goodRows < rows * 0.99) throw new Error(`import.apply took only ${result.goodRows} of ${rows} rows`);
        await desk.close();
      } else {
        await (await openForWriting(book, true)).close();
        await settle();
        const start = performance.now();
        bareImport(book, csv);
        times.bare.push((performance.now() - start) / 1000);
      }
      sweep();
    }
  }
  return [
    {
      name: `import ${rows.toLocaleString('en')} rows`,
      unit: 's',
      ours: summarise(times.ours),
      bare: summarise(times.bare),
      aim: { of: 'p95', atMost: 10, ratioAtMost: 3 },
      note: `${outcome}; ${progressCount} progress events; bare: split, prepared inserts of clients and properties, one durable transaction`,
    },
    {
      name: 'import: longest wait for progress',
      unit: 'ms',
      ours: summarise(times.gaps),
      bare: null,
      aim: { of: 'max', atMost: 1000, ratioAtMost: null },
      note: 'from the call to the first report, between reports, from the last to the answer',
    },
  ];
}

/** A station's file of GHCN-Daily as NOAA's readme describes it (section III), a line for each month and element. */
function dlyOf(station: number, years: number): string {
  const rng = chance(`weather ${station}`);
  const lines: string[] = [];
  for (let month = 0; month < years * 12; month += 1) {
    const year = 2015 + Math.floor(month / 12);
    const number = (month % 12) + 1;
    const days = new Date(Date.UTC(year, number, 0)).getUTCDate();
    for (const [element, from, to] of [
      ['TMAX', 100, 300],
      ['TMIN', -100, 99],
      ['PRCP', 0, 200],
    ] as const) {
      const values = Array.from({ length: 31 }, (_, at) =>
        at < days ? `${String(rng.int(from, to)).padStart(5)}  W` : '-9999   ',
      );
      lines.push(
        `USX${String(station).padStart(8, '0')}${year}${String(number).padStart(2, '0')}${element}${values.join('')}`,
      );
    }
  }
  return lines.join('\n');
}

/** Ten years of daily records for each of twenty stations, one file after the other into a fresh book. */
export async function weatherRow(rounds: number): Promise<Measured> {
  const files = Array.from({ length: 20 }, (_, station) => Buffer.from(dlyOf(station, 10)).toString('base64'));
  const seconds: number[] = [];
  let days = 0;
  for (let round = 0; round < rounds; round += 1) {
    const book = path.join(BENCH_FOLDER, `weather-${process.pid}.valvebook`);
    const sweep = () => {
      for (const end of ['', '-wal', '-shm', '-lock']) rmSync(`${book}${end}`, { force: true });
    };
    sweep();
    const { desk, call } = await openBench(book, 'write', true);
    const rng = chance('stations');
    const normals = Array.from({ length: 12 }, () => ({ tmaxF: 70, tminF: 45, rainInches: 1 }));
    const ids = files.map(() => rng.ulid(Date.now()));
    for (const [at, id] of ids.entries())
      await call('station.save', {
        writeId: rng.ulid(Date.now()),
        station: { id, name: `Station ${at}`, latitudeDeg: 40, longitudeDeg: -105, elevationFt: 5000, normals },
      });
    await settle();
    const start = performance.now();
    days = 0;
    for (const [at, bytesBase64] of files.entries()) {
      const input = { target: 'weather', fileName: 'station.dly', stationId: ids[at]!, bytesBase64 } as const;
      days += (await call('import.apply', input)).added['weatherDays'] ?? 0;
    }
    seconds.push((performance.now() - start) / 1000);
    await desk.close();
    sweep();
  }
  if (days < 20 * 3652) throw new Error(`import.apply took only ${days} days`);
  return {
    name: 'weather: ten years × 20 stations',
    unit: 's',
    ours: summarise(seconds),
    bare: null,
    aim: { of: 'p95', atMost: 5, ratioAtMost: null },
    note: `${days.toLocaleString('en')} days from 20 files of GHCN-Daily (.dly), one import.apply each`,
  };
}

function bareImport(book: string, csv: string): void {
  const raw = new Database(book);
  raw.pragma('synchronous = FULL');
  raw.pragma('foreign_keys = ON');
  raw.pragma('cache_size = -65536');
  // Cheap ids that sort by time, as the book's do.
  const rng = chance('bare import');
  const now = Date.now();
  const ulid = () => rng.ulid(now);
  const client = raw.prepare(
    "INSERT INTO client (id, name, kind, phone, phone2, email, billingAddress, notes, accountNumber, archived, version, searchText, sortName) VALUES (?, ?, 'household', ?, '', ?, '', '', '', 0, 1, ?, ?)",
  );
  const property = raw.prepare(
    "INSERT INTO property (id, clientId, label, street, city, region, postcode, timeZone, accessNotes, gateCode, dogNote, waterSupply, pipeMaterial, backflowKind, backflowLocation, backflowSerial, shutoffLocation, addressParity, servicesStartUp, servicesWinterization, archived, version, searchText) VALUES (?, ?, '', ?, ?, ?, ?, 'America/Denver', ?, '', '', 'unknown', 'unknown', 'unknown', '', '', '', 'auto', 1, 1, 0, 1, ?)",
  );
  const known = new Map<string, string>();
  raw.transaction(() => {
    for (const line of csv.split('\r\n').slice(1)) {
      if (line === '') continue;
      const [name, phone, email, street, city, region, postcode, ...notes] = line.split(',') as [
        string,
        string,
        string,
        string,
        string,
        string,
        string,
        ...string[],
      ];
      const digits = digitsOf(phone);
      const key = `${name}/${digits}`;
      let id = known.get(key);
      if (id === undefined) {
        id = ulid();
        known.set(key, id);
        client.run(id, name, phone, email, `${fold(name)} ${digits} ${email}`, fold(name));
      }
      property.run(
        ulid(),
        id,
        street,
        city,
        region,
        postcode,
        notes.join(',').replace(/^"|"$/g, '').replaceAll('""', '"'),
        fold(`${street} ${city} ${postcode}`),
      );
    }
  })();
  raw.close();
}
