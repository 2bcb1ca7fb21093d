import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { computeEto } from '../../core/agronomy/index.ts';
import type { WeatherStation } from '../../core/weather/contract.ts';
import { runningSpells } from '../../core/programs/running-spells.ts';
import { chooseStation, greatCircleMiles, monthlyClimate } from '../../core/weather/climate.ts';
import { dailyWeather } from '../../core/weather/daily.ts';

const station = (over: Partial<WeatherStation> = {}): WeatherStation => ({
  id: '00000000000000000000000001',
  name: 'A',
  latitudeDeg: 47.4,
  longitudeDeg: -122.3,
  elevationFt: 430,
  source: '',
  normals: Array.from({ length: 12 }, (_, month) => ({
    tmaxF: 47 + 6 * Math.min(month, 11 - month),
    tminF: 36 + 4 * Math.min(month, 11 - month),
    rainInches: 2,
    rhMeanPct: null,
    windMph: null,
    solarMjM2: null,
  })),
  ...over,
});

// One minute of arc of a great circle is a nautical mile: 1852 m by definition, 1.15078 statute miles; the mean earth radius is within 0.1 % of that.
test('a degree of latitude is 60 nautical miles', () => {
  expect(greatCircleMiles(40, -105, 41, -105)).toBeCloseTo(60 * 1.15078, 0);
  expect(greatCircleMiles(0, 0, 0, 1)).toBeCloseTo(60 * 1.15078, 0);
  expect(greatCircleMiles(40, -105, 40, -105)).toBe(0);
});

test("a month's ETo is that of its mean day times its days, by the method its figures allow", () => {
  const months = monthlyClimate(station());
  const july = computeEto({
    latitudeDeg: 47.4,
    elevationM: 430 * 0.3048,
    date: '2025-07-15',
    tmaxC: (47 + 30 - 32) / 1.8,
    tminC: (36 + 20 - 32) / 1.8,
  });
  // July is index 6: five steps up from the ends.
  expect(months[6]).toMatchObject({ method: 'hargreaves-samani', daysInMonth: 31, rainInches: 2 });
  expect(months[6]!.etoInches).toBeCloseTo((july.etoMm * 31) / 25.4, 9);
  const withMore = monthlyClimate(
    station({ normals: station().normals.map((normal) => ({ ...normal, rhMeanPct: 60, windMph: 7 })) }),
  );
  expect(withMore[6]!.method).toBe('fao56-penman-monteith');
});

test('what a station knows of humidity, wind and sun goes into its months, with the months before and after (FAO-56 eq. 43)', () => {
  const temperatures = station().normals;
  const celsius = (f: number) => (f - 32) / 1.8;
  const mean = (month: number) => celsius((temperatures[month]!.tmaxF + temperatures[month]!.tminF) / 2);
  const known = [
    [{ rhMeanPct: 60 }, { rhMeanPct: 60 }],
    // Winds of normals are measured at 10 m.
    [{ windMph: 7 }, { windMps: 7 * 0.44704, windHeightM: 10 }],
    [{ solarMjM2: 4 }, { solarMjM2: 4 }],
    [
      { rhMeanPct: 70, windMph: 5, solarMjM2: 3 },
      { rhMeanPct: 70, windMps: 5 * 0.44704, windHeightM: 10, solarMjM2: 3 },
    ],
  ] as const;
  for (const [readings, input] of known) {
    const months = monthlyClimate(station({ normals: temperatures.map((normal) => ({ ...normal, ...readings })) }));
    // January's neighbors are December and February; the year is a round.
    for (const [month, before, after] of [
      [0, 11, 1],
      [6, 5, 7],
      [11, 10, 0],
    ] as const) {
      const { etoMm, method } = computeEto({
        latitudeDeg: 47.4,
        elevationM: 430 * 0.3048,
        date: `2025-${String(month + 1).padStart(2, '0')}-15`,
        tmaxC: celsius(temperatures[month]!.tmaxF),
        tminC: celsius(temperatures[month]!.tminF),
        previousMonthMeanC: mean(before),
        nextMonthMeanC: mean(after),
        ...input,
      });
      expect(months[month]!.etoInches).toBeCloseTo((etoMm * months[month]!.daysInMonth) / 25.4, 9);
      expect(months[month]!.method).toBe(method);
    }
  }
  expect(monthlyClimate(station()).map(({ month, daysInMonth }) => [month, daysInMonth])).toEqual(
    [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].map((days, index) => [index + 1, days]),
  );
});

test('the station set on a property is used; else the nearest, height counted; a far one is a guess', () => {
  const near = station({ id: '00000000000000000000000002', latitudeDeg: 40.0, longitudeDeg: -105, elevationFt: 5000 });
  const high = station({ id: '00000000000000000000000003', latitudeDeg: 40.02, longitudeDeg: -105, elevationFt: 9000 });
  const place = { weatherStationId: null, latitudeDeg: 40.05, longitudeDeg: -105, elevationFt: 5100 };
  expect(chooseStation(place, [high, near])).toMatchObject({ station: near, isGuess: false });
  expect(chooseStation({ ...place, weatherStationId: high.id }, [high, near])).toMatchObject({
    station: high,
    isGuess: false,
  });
  expect(chooseStation({ ...place, latitudeDeg: 44 }, [high, near]).isGuess).toBe(true);
  expect(chooseStation({ ...place, latitudeDeg: null }, [near])).toMatchObject({ station: near, isGuess: true });
  expect(() => chooseStation(place, [])).toThrow(/no weather station/i);
});

test("days without a record take the month's normal, and how many did is said", () => {
  const records = [
    { date: '2025-07-02', tmaxF: 80, tminF: 55, rainInches: 0.4, rhMeanPct: null, windMph: null, solarMjM2: null },
    { date: '2025-07-03', tmaxF: null, tminF: 55, rainInches: 0, rhMeanPct: null, windMph: null, solarMjM2: null },
  ];
  const { days, filledDays } = dailyWeather(station(), records, '2025-07-01', '2025-07-03');
  expect(filledDays).toBe(2);
  expect(days[1]).toMatchObject({ rainInches: 0.4 });
  expect(days[0]!.etoInches).toBeCloseTo(monthlyClimate(station())[6]!.etoInches / 31, 9);
  expect(days[2]).toMatchObject({ rainInches: 0 });
});

const SEATTLE = new URL('../../../shared/data/weather/seattle-weather.csv', import.meta.url);
// Open daily weather of Seattle 2012 (NOAA data; see the README beside the file).
test('a year of open daily weather gives the same ETo day by day as the explained computation', ({ skip }) => {
  if (!existsSync(SEATTLE)) skip('skipped: ../shared/data is absent');
  const records = readFileSync(SEATTLE, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .filter((line) => line.startsWith('2012'))
    .map((line) => {
      const [date, rainMm, tmaxC, tminC] = line.split(',') as [string, string, string, string];
      return {
        date,
        tmaxF: Number(tmaxC) * 1.8 + 32,
        tminF: Number(tminC) * 1.8 + 32,
        rainInches: Number(rainMm) / 25.4,
        rhMeanPct: null,
        windMph: null,
        solarMjM2: null,
      };
    });
  expect(records).toHaveLength(366);
  const { days, filledDays } = dailyWeather(station(), records, '2012-01-01', '2012-12-31');
  expect(filledDays).toBe(0);
  for (const [index, record] of records.entries()) {
    const { etoMm } = computeEto({
      latitudeDeg: 47.4,
      elevationM: 430 * 0.3048,
      date: record.date,
      tmaxC: (record.tmaxF - 32) / 1.8,
      tminC: (record.tminF - 32) / 1.8,
    });
    expect(days[index]!.etoInches * 25.4).toBeCloseTo(etoMm, 6);
  }
});

test('a system runs from its start-up to the day before its winterization', () => {
  const seasons = [
    { year: 2024, startedUpOn: '2024-04-20', winterizedOn: '2024-10-15' },
    { year: 2025, startedUpOn: '2025-05-01', winterizedOn: null },
  ];
  expect(runningSpells(seasons, '2024-01-01', '2025-12-31')).toEqual([
    { fromDate: '2024-04-20', toDate: '2024-10-14' },
    { fromDate: '2025-05-01', toDate: '2025-12-31' },
  ]);
  expect(runningSpells(seasons, '2024-11-01', '2025-03-01')).toEqual([]);
  expect(runningSpells(seasons, '2024-06-01', '2024-07-01')).toEqual([
    { fromDate: '2024-06-01', toDate: '2024-07-01' },
  ]);
  expect(runningSpells([], '2025-01-01', '2025-02-01')).toEqual([{ fromDate: '2025-01-01', toDate: '2025-02-01' }]);
  expect(
    runningSpells([{ year: 2025, startedUpOn: null, winterizedOn: '2025-10-10' }], '2025-01-01', '2025-12-31'),
  ).toEqual([{ fromDate: '2025-01-01', toDate: '2025-10-09' }]);
});
