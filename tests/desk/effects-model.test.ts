import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { ulid } from 'ulid';
import { expect, test } from 'vitest';
import type { InputOf, OutputOf } from '../../core/contract/index.ts';
import { makeBook, makeSite, TODAY, type Site, type TestBook } from './make-book.ts';

// Any history of recorded, back-dated, corrected and voided work, with what the office said in between, leaves what somebody
// gets who reads the entries one by one with the rules in words before them:
// - An entry counts while no later one corrects it and it is not declared void.
// - Of several that say one thing the latest counts: by the day of the work, and on one day by the order of recording.
// - The office's word is of the day it was said, after what was recorded before it; what it said at the start is before all.
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
const WORK = [
  'battery-swap',
  'sensor-check',
  'zone-audit',
  'backflow-test',
  'start-up',
  'winterization',
  'finding',
  'repair',
  'decision',
  'manual-run',
  'meter-read',
  'part-used',
  'walk-through',
  'not-done',
  'photo',
  'note',
] as const;
const step = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      act: fc.constant('record' as const),
      kind: fc.constantFrom(...WORK),
      on: DAY,
      figure: small,
      which: fc.nat(30),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ act: fc.constant('replace' as const), on: DAY, figure: small, which: fc.nat(30) }),
  },
  { weight: 2, arbitrary: fc.record({ act: fc.constant('void' as const), which: fc.nat(30) }) },
  {
    weight: 1,
    arbitrary: fc.record({
      act: fc.constant('office' as const),
      what: fc.constantFrom('rate' as const, 'rain' as const, 'freeze' as const),
      zone: fc.nat(2),
      figure: small,
    }),
  },
);

/** What is recorded for a kind; a small figure makes it another thing. Null where there is nothing to close. */
function detailOf(kind: (typeof WORK)[number], site: Site, figure: number, findings: readonly Entry[]): Detail | null {
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
    default:
      return { kind };
  }
}

const latest = <T extends Said>(all: readonly T[]): T | undefined =>
  [...all].sort((a, b) => (a.on === b.on ? a.n - b.n : a.on < b.on ? -1 : 1)).at(-1);
const later = (a: string | null, b: string | null) => (a === null || (b !== null && b > a) ? b : a);

/** The state by reading the entries. */
function recount(site: Site, standing: readonly Entry[], words: readonly Word[]) {
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
      batteryDate: later('2025-04-01', swap?.on ?? null),
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
        ? null
        : tested.detail['passed'] === false
          ? tested.on
          : ((tested.detail['nextDue'] as string | null) ??
            Temporal.PlainDate.from(tested.on).add({ years: 1 }).toString()),
    seasons: [2024, 2025, 2026].map(season),
    open: of('finding')
      .filter((finding) => !closers.some((closer) => finding.versions.includes(closer as string)))
      .map((finding) => finding.id)
      .sort(),
  };
}

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

test('any history leaves what a plain reading of the entries gives', { timeout: 300_000 }, async () => {
  const book = await makeBook(TODAY);
  let checked = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 28 }), async (steps) => {
      const site = await makeSite(book);
      let standing: Entry[] = [];
      const words: Word[] = [];
      for (const [n, one] of steps.entries()) {
        if (one.act === 'office') {
          const word = {
            what: one.what,
            zone: one.zone,
            value: one.what === 'freeze' ? 50 + one.figure : one.figure / 4 + 0.01,
          };
          if (await sayOffice(book, site, word)) words.push({ ...word, n, on: TODAY });
          continue;
        }
        const findings = standing.filter((entry) => entry.detail.kind === 'finding');
        const id = ulid();
        if (one.act === 'record') {
          const detail = detailOf(one.kind, site, one.figure, findings);
          if (detail === null) continue;
          await book.call('visit.record', {
            writeId: ulid(),
            propertyId: site.propertyId,
            doneOn: one.on,
            entries: [{ id, detail }],
          });
          standing.push({ id, versions: [id], n, on: one.on, detail });
          continue;
        }
        const target = standing[one.which];
        if (target === undefined) continue;
        const common = { writeId: ulid(), id, correctsId: target.id, reason: 'not so' };
        if (one.act === 'void') {
          await book.call('ledger.correct', { ...common, correction: 'void' });
          standing = standing.filter((entry) => entry !== target);
          continue;
        }
        const others = findings.filter((entry) => entry !== target);
        const detail = detailOf(target.detail.kind as (typeof WORK)[number], site, one.figure, others);
        if (detail === null) continue;
        await book.call('ledger.correct', { ...common, correction: 'replace', doneOn: one.on, detail });
        standing[one.which] = { id, versions: [...target.versions, id], n, on: one.on, detail };
      }
      const pages: Page[] = [];
      for (const onDate of ['2024-12-31', '2025-12-31', TODAY])
        pages.push(await book.call('property.open', { propertyId: site.propertyId, onDate }));
      const expected = recount(site, standing, words);
      const found = shown(pages, site);
      for (const [index, { method, value }] of expected.rates.entries()) {
        expect(found.rates[index]!.method).toBe(method);
        if (value === null) expect(found.rates[index]!.value).toBeNull();
        else expect(found.rates[index]!.value).toBeCloseTo(value, 10);
      }
      expect({ ...found, rates: null }).toEqual({ ...expected, rates: null });
      checked += standing.length;
    }),
    { numRuns: 60 },
  );
  expect(checked).toBeGreaterThan(200);
  expect(await book.call('book.check', {})).toMatchObject({ clean: true });
});
