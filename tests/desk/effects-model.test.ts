import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import type { InputOf, OutputOf } from '../../core/contract/index.ts';
import { LEDGER_KINDS, ledgerDetailInputSchema, type LedgerKind } from '../../core/ledger/entry-contract.ts';
import { makeBook, makeSite, TODAY, type Site, type TestBook } from './make-book.ts';

// Any history of recorded, back-dated, corrected and voided work, with what the office said in between, leaves what somebody
// gets who reads the entries one by one with the rules in words before them:
// - An entry counts while no later one corrects it and it is not declared void.
// - Of several that say one thing the latest counts: by the day of the work, and on one day by the order of recording.
// - The office's word is of the day it was said, after what was recorded before it; what it said at the start is before all.
// - A battery or backflow date that the office types counts while it is later than what the ledger says; one that would not
//   count is refused.
// - A change of run times starts from the program as it was in force on its day when it was recorded. Corrected, it starts
//   from what it had set itself, but for what it had changed and no longer names, and for the percentage.
// Nothing of the table of effects is asked here.

type Detail = InputOf<'visit.record'>['entries'][number]['detail'];
type Page = OutputOf<'property.open'>;
interface Said {
  /** The order of recording, of entries and of the office's words alike. */
  n: number;
  on: string;
}
interface Entry extends Said {
  id: string;
  /** Itself, and every version it corrects. */
  versions: string[];
  detail: Detail & Record<string, unknown>;
  /** Of a change of run times: what it left the program at. */
  set?: Program;
}
interface Program {
  minutes: number[];
  percent: number;
  startTime: string;
  /** The zones whose minutes the entry changed. */
  changed: number[];
}
/** What the office typed last of the dates that only the later of two decides. */
interface Typed {
  battery: string | null;
  backflow: string | null;
}
type Word = Said & { what: 'rate' | 'rain' | 'freeze'; zone: number; value: number };

// Few days, so that many things are of one.
const DAY = fc.constantFrom(
  '2024-12-01',
  '2025-03-31',
  '2025-04-01',
  '2025-06-30',
  '2025-07-01',
  '2025-10-20',
  '2025-12-31',
  '2026-01-01',
  '2026-03-05',
  '2026-04-20',
  '2026-06-14',
  TODAY,
);
const small = fc.integer({ min: 1, max: 9 });
const step = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      act: fc.constant('record' as const),
      kind: fc.constantFrom(...LEDGER_KINDS),
      on: DAY,
      figure: small,
      which: fc.nat(40),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ act: fc.constant('replace' as const), on: DAY, figure: small, which: fc.nat(40) }),
  },
  { weight: 2, arbitrary: fc.record({ act: fc.constant('void' as const), which: fc.nat(40) }) },
  {
    weight: 1,
    arbitrary: fc.record({
      act: fc.constant('office' as const),
      what: fc.constantFrom('rate' as const, 'rain' as const, 'freeze' as const, 'program' as const),
      zone: fc.nat(2),
      figure: small,
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      act: fc.constant('date' as const),
      what: fc.constantFrom('battery' as const, 'backflow' as const),
      on: fc.oneof(DAY, fc.constant('2027-08-01')),
    }),
  },
);

/** What is recorded for a kind at step `n`; a small figure makes it another thing. */
function detailOf(kind: LedgerKind, site: Site, n: number, figure: number, findings: readonly Entry[]): Detail {
  const zoneId = site.zoneIds[figure % 3]!;
  const { sensorId } = site;
  const tripped = figure % 3 === 0 ? 'not-tested' : figure % 3 === 1 ? 'pass' : 'fail';
  const finding = findings[figure % Math.max(1, findings.length)];
  /** By any of its versions. */
  const closesFindingId = figure < 7 && finding ? finding.versions[figure % finding.versions.length]! : null;
  switch (kind) {
    case 'battery-swap':
      return { kind, sensorId, cells: 1 + (figure % 2) };
    case 'sensor-check':
      return {
        kind,
        sensorId,
        rainTrip: tripped,
        signal: figure > 6 ? 'weak' : 'strong',
        cellsGood: figure % 2 === 0 ? null : figure % 3,
        rainSetPointInches: figure % 4 === 0 ? null : figure / 8,
        freezeSetPointF: figure % 4 === 1 ? null : 30 + figure,
      };
    case 'zone-audit':
      return {
        kind,
        zoneId,
        volumesMl: [figure * 10, figure * 10, figure * 10, figure * 10],
        throatAreaIn2: 18.3,
        runMinutes: 10,
      };
    case 'backflow-test':
      return { kind, passed: figure % 3 !== 0, nextDue: figure % 3 === 1 ? `2027-0${figure}-15` : null };
    case 'finding':
      return { kind, zoneId, what: `seen ${figure}` };
    case 'repair':
      return { kind, what: `mended ${figure}`, closesFindingId };
    case 'decision':
      return { kind, what: `left ${figure}`, closesFindingId };
    case 'manual-run':
      return { kind, zoneId, runMinutes: figure };
    case 'meter-read':
      return { kind, readingGallons: figure * 1000 };
    case 'part-used':
      return { kind, part: 'nozzle', quantity: figure };
    case 'photo':
      return { kind, fileName: `${figure}.jpg` };
    case 'note':
      return { kind, text: `seen ${figure}` };
    case 'not-done':
      return { kind, why: 'weather' };
    // Every change sets what nobody set before, so that none is refused as no change.
    case 'run-time-change':
      return {
        kind,
        programId: site.programId,
        revisionId: ulid(),
        ...(figure % 2 === 0 ? { seasonalPercent: 101 + n } : { runs: [{ zoneId, runMinutes: 101 + n }] }),
        ...(figure % 3 === 0 ? { startTimes: [timeOf(n)] } : {}),
      };
    case 'start-up':
    case 'winterization':
    case 'walk-through':
      return { kind };
  }
}

const timeOf = (n: number) => `03:${String(n).padStart(2, '0')}`;

/** The program on a day, by the changes that stand: the latest up to then, or the first of all. */
function programOn(standing: readonly Entry[], day: string): Program | null {
  const changes = standing.filter((entry) => entry.set !== undefined);
  const first = [...changes].sort((a, b) => (a.on === b.on ? a.n - b.n : a.on < b.on ? -1 : 1))[0];
  return (latest(changes.filter((entry) => entry.on <= day)) ?? first)?.set ?? null;
}

/** What a change leaves the program at that was `before` it; `corrected` = what the entry it corrects had left it at. */
function changed(before: Program | null, corrected: Program | null, detail: Detail, site: Site): Program {
  if (detail.kind !== 'run-time-change') throw new Error('not a change of run times');
  const named = new Map(detail.runs?.map((run) => [site.zoneIds.indexOf(run.zoneId), run.runMinutes]));
  const start = corrected ?? before!;
  const takenBack = (index: number) => corrected !== null && before !== null && corrected.changed.includes(index);
  const minutes = start.minutes.map(
    (old, index) => named.get(index) ?? (takenBack(index) ? before!.minutes[index]! : old),
  );
  return {
    minutes,
    percent: detail.seasonalPercent ?? (before ?? start).percent,
    startTime: detail.startTimes?.[0] ?? start.startTime,
    changed: [0, 1, 2].filter((index) => minutes[index] !== (before?.minutes[index] ?? 0)),
  };
}

const latest = <T extends Said>(all: readonly T[]): T | undefined =>
  [...all].sort((a, b) => (a.on === b.on ? a.n - b.n : a.on < b.on ? -1 : 1)).at(-1);
const later = (a: string | null, b: string | null) => (a === null || (b !== null && b > a) ? b : a);

/** The state by reading the entries. */
function recount(site: Site, standing: readonly Entry[], words: readonly Word[], typed: Typed) {
  const of = (...kinds: string[]) => standing.filter((entry) => kinds.includes(entry.detail.kind));
  const swap = latest(of('battery-swap'));
  const check = latest(of('sensor-check'));
  const newest = latest([...of('battery-swap'), ...of('sensor-check')]);
  const point = (field: string, what: Word['what']) => {
    const said = [
      ...of('sensor-check').flatMap((entry) =>
        typeof entry.detail[field] === 'number' ? [{ ...entry, value: entry.detail[field] }] : [],
      ),
      ...words.filter((word) => word.what === what),
    ];
    return latest(said)?.value ?? null;
  };
  const rate = (index: number) => {
    const said = [
      ...of('zone-audit').flatMap((entry) =>
        entry.detail['zoneId'] === site.zoneIds[index]
          ? // Irrigation Association, Recommended Audit Guidelines: 3.66 × mL ÷ (in² × min), from memory.
            [
              {
                ...entry,
                value: (3.66 * (entry.detail['volumesMl'] as number[])[0]!) / (18.3 * 10),
                method: 'catch-can',
              },
            ]
          : [],
      ),
      ...words.flatMap((word) =>
        word.what === 'rate' && word.zone === index ? [{ ...word, method: 'flow-area' }] : [],
      ),
    ];
    const last = latest(said);
    return last === undefined ? { method: 'table', value: null } : { method: last.method, value: last.value };
  };
  const tested = latest(of('backflow-test'));
  const season = (year: number) => {
    const started = latest(of('start-up').filter((entry) => entry.on.startsWith(`${year}`)));
    const drained = latest(
      of('winterization').filter(
        (entry) => Number(entry.on.slice(0, 4)) - (entry.on.slice(5) < '07-01' ? 1 : 0) === year,
      ),
    );
    return { startedUpOn: started?.on ?? null, winterizedOn: drained?.on ?? null };
  };
  const closers = of('repair', 'decision').map((entry) => entry.detail['closesFindingId']);
  return {
    sensor: {
      batteryDate: later(typed.battery, swap?.on ?? null),
      lastCheckDate: check?.on ?? null,
      lastCheckPassed:
        check === undefined
          ? null
          : check.detail['rainTrip'] === 'fail'
            ? false
            : check.detail['rainTrip'] === 'pass'
              ? true
              : null,
      cellsGood:
        newest === undefined ? null : newest === swap ? newest.detail['cells'] : (newest.detail['cellsGood'] ?? null),
      rainSetPointInches: point('rainSetPointInches', 'rain'),
      freezeSetPointF: point('freezeSetPointF', 'freeze'),
    },
    rates: [0, 1, 2].map(rate),
    backflowTestDue:
      tested === undefined
        ? typed.backflow
        : tested.detail['passed'] === false
          ? tested.on
          : later(
              typed.backflow,
              (tested.detail['nextDue'] as string | null) ??
                Temporal.PlainDate.from(tested.on).add({ years: 1 }).toString(),
            ),
    seasons: [2024, 2025, 2026].map(season),
    programs: ON_DAYS.map((day) => {
      const program = programOn(standing, day);
      return program && { minutes: program.minutes, percent: program.percent, startTime: program.startTime };
    }),
    ledger: [...standing]
      .sort((a, b) => (a.on === b.on ? b.n - a.n : a.on < b.on ? 1 : -1))
      .map((entry) => [entry.id, entry.on, entry.detail.kind]),
    open: of('finding')
      .filter((finding) => !closers.some((closer) => finding.versions.includes(closer as string)))
      .map((finding) => finding.id)
      .sort(),
  };
}

/** The days of which the property's page is looked at. */
const ON_DAYS = ['2024-12-31', '2025-12-31', TODAY];

const shown = (pages: readonly Page[], site: Site) => {
  const page = pages.at(-1)!;
  const { batteryDate, lastCheckDate, lastCheckPassed, cellsGood, rainSetPointInches, freezeSetPointF } =
    page.sensors[0]!;
  return {
    sensor: { batteryDate, lastCheckDate, lastCheckPassed, cellsGood, rainSetPointInches, freezeSetPointF },
    rates: site.zoneIds.map((id) => {
      const zone = page.zones.find((one) => one.id === id)!;
      return { method: zone.prMethod, value: zone.precipitationRateInPerHour };
    }),
    backflowTestDue: page.property.backflowTestDue,
    programs: pages.map(({ programs: [program] }) => {
      if (program === undefined) return null;
      const { runs, seasonalPercent: percent, startTimes } = program.revision;
      const minutesOf = (zoneId: string) => runs.find((run) => run.zoneId === zoneId)?.runMinutes;
      return { minutes: site.zoneIds.map(minutesOf), percent, startTime: startTimes[0] };
    }),
    ledger: page.ledger.map((entry) => [entry.id, entry.doneOn, entry.kind]),
    seasons: pages.map(({ season }) => ({ startedUpOn: season.startedUpOn, winterizedOn: season.winterizedOn })),
    open: page.openFindings.map((finding) => finding.id).sort(),
  };
};

async function sayOffice(book: TestBook, site: Site, word: Pick<Word, 'what' | 'zone' | 'value'>): Promise<boolean> {
  const page = await book.call('property.open', { propertyId: site.propertyId });
  const zone = page.zones.find((one) => one.id === site.zoneIds[word.zone])!;
  const sensor = page.sensors[0]!;
  const field = word.what === 'rain' ? 'rainSetPointInches' : 'freezeSetPointF';
  // What a form leaves as it was is no word of the office.
  if (word.what === 'rate' ? zone.precipitationRateInPerHour === word.value : sensor[field] === word.value)
    return false;
  await book.call('property.save', {
    writeId: ulid(),
    property: page.property,
    version: page.version,
    zones:
      word.what === 'rate'
        ? [{ ...zone, prMethod: 'flow-area', precipitationRateInPerHour: word.value, distributionUniformity: 0.7 }]
        : [],
    sensors: word.what === 'rate' ? [] : [{ ...sensor, [field]: word.value }],
  });
  return true;
}

/** Types a date into the form; says whether it counts now. */
async function typeDate(
  book: TestBook,
  site: Site,
  standing: readonly Entry[],
  typed: Typed,
  { what, on }: { what: keyof Typed; on: string },
): Promise<boolean> {
  const page = await book.call('property.open', { propertyId: site.propertyId });
  const shownOf = (dates: Typed) => {
    const { sensor, backflowTestDue } = recount(site, standing, [], dates);
    return what === 'battery' ? sensor.batteryDate : backflowTestDue;
  };
  const save = {
    writeId: ulid(),
    property: what === 'backflow' ? { ...page.property, backflowTestDue: on } : page.property,
    version: page.version,
    sensors: what === 'battery' ? [{ ...page.sensors[0]!, batteryDate: on }] : [],
  };
  const isAsShown = shownOf(typed) === on;
  if (!isAsShown && shownOf({ ...typed, [what]: on }) !== on) {
    const field = what === 'battery' ? 'sensors.0.batteryDate' : 'property.backflowTestDue';
    expect(await book.fails('property.save', save)).toMatchObject({ code: 'conflict', field });
    return false;
  }
  await book.call('property.save', save);
  return !isAsShown;
}

type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;
/** How often a kind was recorded, replaced and voided. */
type Tally = Record<LedgerKind, { record: number; replace: number; void: number }>;

/** Plays a history at a new property and holds what it leaves against a plain reading; counts into `tally`. */
async function play(book: TestBook, steps: readonly Step[], tally: Tally): Promise<void> {
  const site = await makeSite(book);
  const made = { minutes: [20, 20, 20], percent: 100, startTime: '05:00', changed: [0, 1, 2] };
  let standing: Entry[] = [
    {
      id: site.programEntryId,
      versions: [site.programEntryId],
      n: -1,
      on: '2025-05-01',
      detail: { kind: 'run-time-change', programId: site.programId, revisionId: '' },
      set: made,
    },
  ];
  const words: Word[] = [];
  const typed: Typed = { battery: '2025-04-01', backflow: null };
  for (const [n, one] of steps.entries()) {
    if (one.act === 'date') {
      if (await typeDate(book, site, standing, typed, one)) typed[one.what] = one.on;
      continue;
    }
    if (one.act === 'office' && one.what === 'program') {
      standing.push(await reviseByOffice(book, site, n, one.figure));
      continue;
    }
    if (one.act === 'office') {
      const word = {
        what: one.what as Word['what'],
        zone: one.zone,
        value: one.what === 'freeze' ? 50 + one.figure : one.figure / 4 + 0.01,
      };
      if (await sayOffice(book, site, word)) words.push({ ...word, n, on: TODAY });
      continue;
    }
    const findings = standing.filter((entry) => entry.detail.kind === 'finding');
    const id = ulid();
    if (one.act === 'record') {
      const detail = detailOf(one.kind, site, n, one.figure, findings);
      const work = { writeId: ulid(), propertyId: site.propertyId, doneOn: one.on, entries: [{ id, detail }] };
      const before = one.kind === 'run-time-change' ? programOn(standing, one.on) : undefined;
      if (before === null) {
        // Nobody changes a program on site that does not stand.
        expect(await book.fails('visit.record', work)).toMatchObject({ code: 'not-found' });
        continue;
      }
      await book.call('visit.record', work);
      const set = before && { set: changed(before, null, detail, site) };
      standing.push({ id, versions: [id], n, on: one.on, detail, ...set });
      tally[one.kind].record += 1;
      continue;
    }
    const target = standing[one.which % Math.max(1, standing.length)];
    if (target === undefined) continue;
    const { kind } = target.detail;
    const common = { writeId: ulid(), id, correctsId: target.id, reason: 'not so' };
    tally[kind][one.act] += 1;
    const others = standing.filter((entry) => entry !== target);
    if (one.act === 'void') {
      await book.call('ledger.correct', { ...common, correction: 'void' });
      standing = others;
      continue;
    }
    const detail = detailOf(
      kind,
      site,
      n,
      one.figure,
      findings.filter((entry) => entry !== target),
    );
    await book.call('ledger.correct', { ...common, correction: 'replace', doneOn: one.on, detail });
    const set = target.set && { set: changed(programOn(others, one.on), target.set, detail, site) };
    standing = [...others, { id, versions: [...target.versions, id], n, on: one.on, detail, ...set }];
  }
  const pages: Page[] = [];
  for (const onDate of ON_DAYS)
    pages.push(await book.call('property.open', { propertyId: site.propertyId, onDate, ledgerLimit: 200 }));
  const expected = recount(site, standing, words, typed);
  const found = shown(pages, site);
  for (const [index, { method, value }] of expected.rates.entries()) {
    expect(found.rates[index]!.method).toBe(method);
    if (value === null) expect(found.rates[index]!.value).toBeNull();
    else expect(found.rates[index]!.value).toBeCloseTo(value, 10);
  }
  expect({ ...found, rates: null }).toEqual({ ...expected, rates: null });
}

/** The office sets the whole program; that is an entry of today. */
async function reviseByOffice(book: TestBook, site: Site, n: number, figure: number): Promise<Entry> {
  const id = ulid();
  const set = { minutes: [101 + n, figure, 0], percent: 100 + figure, startTime: timeOf(n), changed: [] as number[] };
  const page = await book.call('property.open', { propertyId: site.propertyId });
  const old = page.programs[0]?.revision.runs;
  set.changed = [0, 1, 2].filter(
    (index) => set.minutes[index] !== (old?.find((run) => run.zoneId === site.zoneIds[index])?.runMinutes ?? 0),
  );
  await book.call('program.revise', {
    writeId: ulid(),
    programId: site.programId,
    revisionId: ulid(),
    entryId: id,
    effectiveDate: TODAY,
    settings: {
      days: { kind: 'weekdays', weekdays: [2, 5] },
      startTimes: [set.startTime],
      seasonalPercent: set.percent,
      runs: site.zoneIds.map((zoneId, index) => ({ zoneId, runMinutes: set.minutes[index]! })),
    },
  });
  const detail = { kind: 'run-time-change' as const, programId: site.programId, revisionId: '' };
  return { id, versions: [id], n, on: TODAY, detail, set };
}

/** Every kind recorded, replaced and declared void, whatever the random histories hold. */
const ONE_OF_EACH: Step[][] = LEDGER_KINDS.map((kind) => [
  { act: 'record', kind: 'finding', on: '2026-03-05', figure: 1, which: 0 },
  { act: 'record', kind, on: '2026-06-14', figure: 3, which: 0 },
  { act: 'replace', on: '2026-04-20', figure: 5, which: 2 },
  { act: 'record', kind, on: '2026-03-05', figure: 4, which: 0 },
  { act: 'void', which: 2 },
]);

test('any history leaves what a plain reading of the entries gives', { timeout: 300_000 }, async () => {
  const book = await makeBook(TODAY);
  const tally = Object.fromEntries(LEDGER_KINDS.map((kind) => [kind, { record: 0, replace: 0, void: 0 }])) as Tally;
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 28 }), (steps) => play(book, steps, tally)),
    { numRuns: 80, examples: ONE_OF_EACH.map((steps) => [steps]) },
  );
  // The schema of the entries, and not the list above, says which kinds there are.
  const kinds = ledgerDetailInputSchema.options.map((option) => option.shape.kind.value);
  expect(Object.keys(tally).sort()).toEqual([...kinds].sort());
  for (const [kind, acts] of Object.entries(tally))
    for (const [act, times] of Object.entries(acts)) expect(times, `${kind}: ${act}`).toBeGreaterThan(0);
  expect(await book.call('book.check', {})).toMatchObject({ clean: true });
});
