import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import type { WeatherStation } from '../../core/weather/contract.ts';
import { makeBook, makeSite, type Site, type TestBook } from './make-book.ts';

// Invented normals of a dry-summer town near 40° N.
const NORMALS: [number, number, number][] = [
  [44, 18, 0.4],
  [47, 21, 0.5],
  [55, 28, 1.1],
  [62, 34, 1.7],
  [71, 43, 2.2],
  [82, 52, 1.4],
  [89, 58, 1.2],
  [86, 56, 1.4],
  [78, 47, 1.1],
  [65, 36, 0.9],
  [52, 26, 0.7],
  [43, 18, 0.4],
];

async function addStation(book: TestBook): Promise<WeatherStation> {
  const station: WeatherStation = {
    id: ulid(),
    name: 'Tamsett yard',
    latitudeDeg: 40.1,
    longitudeDeg: -105,
    elevationFt: 5000,
    source: 'invented',
    normals: NORMALS.map(([tmaxF, tminF, rainInches]) => ({
      tmaxF,
      tminF,
      rainInches,
      rhMeanPct: null,
      windMph: null,
      solarMjM2: null,
    })),
  };
  await book.call('station.save', { writeId: ulid(), station });
  return station;
}

async function restrict(book: TestBook, site: Site, dayRule: object, extra: object = {}): Promise<void> {
  const id = ulid();
  await book.call('rules.save', {
    writeId: ulid(),
    restrictions: [
      {
        id,
        name: 'Tamsett Water',
        stages: [
          {
            title: 'Stage 1',
            dayRule: dayRule as never,
            maxDaysPerWeek: null,
            forbiddenHours: [{ from: '10:00', to: '18:00' }],
            ...extra,
          },
        ],
      },
    ],
  });
  const { property, version } = await book.call('property.open', { propertyId: site.propertyId });
  await book.call('property.save', { writeId: ulid(), property: { ...property, restrictionId: id }, version });
}

test('without a weather station the advice says what to add, instead of guessing a climate', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  expect(await book.fails('program.review', { propertyId: site.propertyId, month: 7 })).toMatchObject({
    code: 'conflict',
    field: 'weatherStationId',
  });
  expect((await book.fails('program.reviewAll', { month: 7 })).code).toBe('conflict');
});

test('a review compares each zone, and accepting it makes revisions with ledger entries that can be voided', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  await addStation(book);
  const review = await book.call('program.review', { propertyId: site.propertyId, month: 7 });
  expect(review.rows.map((row) => row.zoneId)).toEqual(site.zoneIds);
  for (const row of review.rows) {
    expect(row.now.minutesPerWeek).toBe(40);
    expect(row.advice.runMinutes).toBeGreaterThan(0);
    expect(row.advice.lowerMinutes).toBeLessThanOrEqual(row.advice.upperMinutes);
    // The book rounds to whole minutes here; the advice is the upper bound, rounded.
    expect(Math.abs(row.advice.runMinutes - row.advice.upperMinutes)).toBeLessThanOrEqual(0.5);
    expect(row.advice.gallonsPerWeek).toBeCloseTo(row.advice.minutesPerWeek * 8, 6);
  }
  const entryIds = review.proposed.map(() => ulid());
  const accepted = await book.call('program.accept', {
    writeId: ulid(),
    propertyId: site.propertyId,
    technicianId: site.technicianId,
    doneOn: '2026-06-15',
    programs: review.proposed.map((one, index) => ({
      programId: one.programId ?? ulid(),
      revisionId: ulid(),
      entryId: entryIds[index]!,
      controllerId: one.controllerId,
      name: one.name,
      settings: one.settings,
    })),
  });
  expect(accepted.entryIds).toEqual(entryIds);
  const again = await book.call('program.review', { propertyId: site.propertyId, month: 7 });
  for (const row of again.rows) expect(row.now.minutesPerWeek).toBeCloseTo(row.advice.minutesPerWeek, 6);
  for (const id of entryIds)
    await book.call('ledger.correct', {
      writeId: ulid(),
      id: ulid(),
      correctsId: id,
      correction: 'void',
      reason: 'undone',
    });
  const back = await book.call('program.review', { propertyId: site.propertyId, month: 7 });
  expect(back.rows.map((row) => row.now.minutesPerWeek)).toEqual([40, 40, 40]);
});

test('the advised week keeps the restriction, and a program that breaks it is listed run by run', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  await addStation(book);
  // 18 Quarry Lane is an even address: Tuesday is not among its days.
  await restrict(book, site, { kind: 'weekdays', oddAddress: [2, 4], evenAddress: [3, 5, 7] });
  const review = await book.call('program.review', { propertyId: site.propertyId, month: 7 });
  expect(review.weekThen.breaches).toEqual([]);
  for (const day of review.weekThen.days) if (![3, 5, 7].includes(day.weekday)) expect(day.blocks).toEqual([]);
  expect(review.weekNow.breaches.length).toBe(3);
  expect(review.weekNow.breaches[0]).toMatchObject({ code: 'forbidden-day', startMinute: 300 });
  const week = await book.call('program.week', {
    propertyId: site.propertyId,
    date: '2026-07-15',
    instead: [
      {
        programId: site.programId,
        settings: {
          days: { kind: 'weekdays', weekdays: [3] },
          startTimes: ['17:50'],
          runs: [{ zoneId: site.zoneIds[0]!, runMinutes: 20 }],
        },
      },
    ],
  });
  expect(week.breaches.map((breach) => breach.code)).toEqual(['forbidden-hours']);
});

test('a restriction that forbids every day gives one sentence, and nothing is saved', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  await addStation(book);
  await restrict(book, site, { kind: 'no-watering' });
  expect(await book.fails('program.recommend', { propertyId: site.propertyId, month: 7 })).toMatchObject({
    code: 'conflict',
    message: expect.stringMatching(/Tamsett Water/),
  });
  const all = await book.call('program.reviewAll', { month: 7 });
  expect(all).toMatchObject({ reviewed: 0, notReviewedTotal: 1 });
});

test.each([
  [{ tmaxC: 10, tminC: 12 }, 'tminC'],
  [{ rhMaxPct: 120, rhMinPct: 20 }, 'rhMaxPct'],
  [{ latitudeDeg: 95 }, 'latitudeDeg'],
  [{ windMps: -1 }, 'windMps'],
])('impossible weather %j names the field', async (change, field) => {
  const book = await makeBook();
  const failure = await book.fails('agronomy.eto', {
    latitudeDeg: 50.8,
    elevationM: 100,
    date: '2026-07-06',
    tmaxC: 21.5,
    tminC: 12.3,
    ...change,
  });
  expect(failure).toMatchObject({ code: 'bad-input', field });
});

// FAO Irrigation and Drainage Paper 56, example 18 (Uccle, 6 July): 3.9 mm/day as published.
test('agronomy.eto answers FAO-56 example 18 with every step', async () => {
  const book = await makeBook();
  const reply = await book.call('agronomy.eto', {
    latitudeDeg: 50.8,
    elevationM: 100,
    date: '2026-07-06',
    tmaxC: 21.5,
    tminC: 12.3,
    rhMaxPct: 84,
    rhMinPct: 63,
    windMps: 10 / 3.6,
    windHeightM: 10,
    sunshineHours: 9.25,
  });
  expect(reply.etoMm).toBeCloseTo(3.9, 1);
  expect(reply.steps.find((step) => step.symbol === 'Ra')?.value).toBeCloseTo(41.09, 1);
});

test("a catch-can test sets the zone's rate; voiding it puts the old figure back", async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const volumesMl = [20, 22, 25, 30, 28, 26, 24, 18, 21, 23, 27, 29];
  const audit = await book.call('zone.audit', { volumesMl, throatAreaIn2: 16, runMinutes: 10 });
  const mean = volumesMl.reduce((sum, ml) => sum + ml, 0) / volumesMl.length;
  // Irrigation Association audit worksheets: PR = 3.66 × mean mL / (throat in² × minutes); DU = mean of the lowest quarter / mean.
  expect(audit.precipitationRateInPerHour).toBeCloseTo((3.66 * mean) / 160, 3);
  expect(audit.distributionUniformity).toBeCloseTo((18 + 20 + 21) / 3 / mean, 9);
  expect(Math.max(...audit.depthsInches)).toBeCloseTo((audit.precipitationRateInPerHour / 6) * (30 / mean), 9);
  const id = ulid();
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-06-15',
    entries: [
      { id, detail: { kind: 'zone-audit', zoneId: site.zoneIds[0]!, volumesMl, throatAreaIn2: 16, runMinutes: 10 } },
    ],
  });
  let zone = (await book.call('property.open', { propertyId: site.propertyId })).zones[0]!;
  expect(zone).toMatchObject({ prMethod: 'catch-can', precipitationRateInPerHour: audit.precipitationRateInPerHour });
  await book.call('ledger.correct', {
    writeId: ulid(),
    id: ulid(),
    correctsId: id,
    correction: 'void',
    reason: 'other zone',
  });
  zone = (await book.call('property.open', { propertyId: site.propertyId })).zones[0]!;
  expect(zone).toMatchObject({ prMethod: 'table', precipitationRateInPerHour: null });
});

test('a trace keeps its water: in = out + change in store; and a winterized system does not water', async () => {
  const book = await makeBook('2026-11-20');
  const site = await makeSite(book);
  await addStation(book);
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-05-01',
    entries: [{ id: ulid(), detail: { kind: 'start-up' } }],
  });
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: '2026-10-10',
    entries: [{ id: ulid(), detail: { kind: 'winterization', method: 'gravity-drain' } }],
  });
  const trace = await book.call('zone.trace', {
    zoneId: site.zoneIds[0]!,
    fromDate: '2026-01-01',
    toDate: '2026-11-20',
  });
  const { etInches, rainInches, irrigationInches, drainageInches, storeChangeInches } = trace.totals;
  expect(rainInches + irrigationInches - etInches - drainageInches - storeChangeInches).toBeCloseTo(0, 9);
  const watered = trace.days.filter((day) => day.irrigationInches > 0).map((day) => day.date);
  expect(watered[0]).toBe('2026-05-01');
  expect(watered.at(-1)).toBe('2026-10-09');
  expect(watered).toHaveLength(47);
  const advised = await book.call('zone.trace', {
    zoneId: site.zoneIds[0]!,
    fromDate: '2026-01-01',
    toDate: '2026-11-20',
    programs: 'advice',
  });
  expect(advised.totals.daysBelowRefill).toBeLessThan(trace.totals.daysBelowRefill);
});

test('a trace says whether its weather was recorded or is the normal of the month; more than a quarter of normals is a guess', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const station = await addStation(book);
  const { property, version } = await book.call('property.open', { propertyId: site.propertyId });
  const nearby = { ...property, weatherStationId: station.id };
  await book.call('property.save', { writeId: ulid(), property: nearby, version });
  const day = (number: number) => `2026-05-${String(number).padStart(2, '0')}`;
  const weather = async (last: number) =>
    (await book.call('zone.trace', { zoneId: site.zoneIds[0]!, fromDate: day(1), toDate: day(last) })).weather;
  expect(await weather(10)).toMatchObject({ method: { key: 'weather.normals' }, isGuess: true });
  const csv = Array.from({ length: 9 }, (_, index) => `${day(index + 1)},70,45,0`).join('\n');
  const reply = await book.desk.call('import.apply', {
    target: 'weather',
    stationId: station.id,
    bytesBase64: Buffer.from(`date,tmax f,tmin f,rain in\n${csv}\n`).toString('base64'),
  });
  expect(reply).toMatchObject({ ok: true });
  expect(await weather(9)).toMatchObject({
    stationName: 'Tamsett yard',
    method: { key: 'weather.daily' },
    isGuess: false,
  });
  expect(await weather(12)).toMatchObject({
    method: { key: 'weather.dailyAndNormals', given: { filledDays: 3, days: 12 } },
    isGuess: false,
  });
  expect(await weather(13)).toMatchObject({ method: { given: { filledDays: 4, days: 13 } }, isGuess: true });
});

// Sunrise of Boulder, Colorado, in the middle of June: 5:31 or 5:32 summer time (US Naval Observatory's table; from memory).
test('a week tells the sunrise of its days where the property’s place is known', async () => {
  const book = await makeBook();
  const site = await makeSite(book);
  const sunrises = async () =>
    (await book.call('program.week', { propertyId: site.propertyId, date: '2026-06-17' })).days.map(
      (day) => day.sunriseMinute,
    );
  expect(await sunrises()).toEqual(Array.from({ length: 7 }, () => null));
  const { property, version } = await book.call('property.open', { propertyId: site.propertyId });
  const placed = { ...property, latitudeDeg: 40.015, longitudeDeg: -105.27 };
  await book.call('property.save', { writeId: ulid(), property: placed, version });
  for (const minute of await sunrises()) expect(Math.abs(minute! - (5 * 60 + 31.5))).toBeLessThan(2);
});

test('the review of a whole company goes worst first, reports progress and can be cancelled', async () => {
  const book = await makeBook();
  await addStation(book);
  await makeSite(book);
  await makeSite(book);
  const progress: number[] = [];
  const reply = await book.desk.call('program.reviewAll', { month: 7 }, { onProgress: (p) => progress.push(p.done) });
  expect(reply).toMatchObject({ ok: true, data: { reviewed: 2 } });
  expect(progress.at(-1)).toBe(2);
  const abort = new AbortController();
  abort.abort();
  expect(await book.desk.call('program.reviewAll', { month: 7 }, { signal: abort.signal })).toMatchObject({
    ok: false,
    error: { code: 'cancelled' },
  });
});

test('a month is held against its own seasonal percentage, as long as nothing else was changed since', async () => {
  const book = await makeBook('2026-11-20');
  await addStation(book);
  const site = await makeSite(book);
  const setPercent = (seasonalPercent: number, effectiveDate: string, runMinutes = 20) =>
    book.call('program.revise', {
      writeId: ulid(),
      programId: site.programId,
      revisionId: ulid(),
      effectiveDate,
      settings: {
        days: { kind: 'weekdays', weekdays: [2, 5] },
        startTimes: ['05:00'],
        seasonalPercent,
        runs: site.zoneIds.map((zoneId) => ({ zoneId, runMinutes })),
      },
    });
  await setPercent(150, '2026-06-01');
  await setPercent(50, '2026-10-01');
  const minutes = async (month: number) =>
    (await book.call('program.review', { propertyId: site.propertyId, month })).rows[0]!.now.minutesPerWeek;
  // 20 min twice a week: common practice, 20 min at 150 % is 30 min.
  expect(await minutes(7)).toBe(60);
  expect(await minutes(11)).toBe(20);
  expect(
    (await book.call('program.review', { propertyId: site.propertyId, month: 7 })).findings.map(
      (finding) => finding.code,
    ),
  ).toContain('percentage-of-month');
  expect((await book.call('program.reviewAll', { month: 7 })).rows[0]!.minutesPerWeekNow).toBe(180);
  await setPercent(50, '2026-11-01', 12);
  expect(await minutes(7)).toBe(12);
});

// Found by the contract fuzz: a throat area of 5e-324 in² made an infinite rate.
test.each([
  ['throatAreaIn2', 5e-324],
  ['runMinutes', 0.1],
  ['throatAreaIn2', 0],
  ['runMinutes', 500],
])('a catch-can test with %s %d is refused, not computed', async (field, value) => {
  const book = await makeBook();
  expect(
    await book.fails('zone.audit', { volumesMl: [20, 22, 24, 26], throatAreaIn2: 16, runMinutes: 10, [field]: value }),
  ).toMatchObject({ code: 'bad-input', field });
});

test('freeze dates are those of a station or of the records given, and not of both', async () => {
  const book = await makeBook();
  const { id: stationId } = await addStation(book);
  const records = [
    { date: '2024-10-01', tminF: 40 },
    { date: '2024-10-02', tminF: null },
  ];
  const given = await book.call('weather.freezeDates', { records, thresholdF: 32 });
  expect(given).toMatchObject({ thin: true, firstAutumn: { seasons: 0, seasonsSkipped: 1, p50: null } });
  expect((await book.call('weather.freezeDates', { stationId, thresholdF: 32 })).firstAutumn.seasonsSkipped).toBe(0);
  for (const input of [{ thresholdF: 32 }, { thresholdF: 32, records, stationId }])
    expect(await book.desk.call('weather.freezeDates', input)).toMatchObject({
      ok: false,
      error: { code: 'bad-input', field: 'records' },
    });
  expect(await book.desk.call('weather.freezeDates', { stationId: ulid(), thresholdF: 32 })).toMatchObject({
    ok: false,
    error: { code: 'not-found', field: 'stationId' },
  });
});
