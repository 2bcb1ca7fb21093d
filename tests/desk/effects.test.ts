import Database from 'better-sqlite3';
import { ulid } from 'ulid';
import { beforeEach, describe, expect, it } from 'vitest';
import type { InputOf } from '../../core/contract/index.ts';
import { MAX_VISITS_A_DAY } from '../../core/visits/contract.ts';
import { visitAfter } from '../../core/recording/visit-after.ts';
import { sayFailure, type Failure } from '../../core/errors.ts';
import { PLAIN_READER, sayFact, type Fact } from '../../core/text/say.ts';
import { makeBook, makeSite, TODAY, type Site, type TestBook } from './make-book.ts';
import { english } from '../book/english.ts';

// What the ledger decides follows from the entries that stand: one by one here, any history of them in effects-model.test.ts.

type Detail = InputOf<'visit.record'>['entries'][number]['detail'];

let book: TestBook;
let site: Site;
beforeEach(async () => {
  book = await makeBook();
  site = await makeSite(book);
});

async function record(doneOn: string, detail: Detail, more: Partial<InputOf<'visit.record'>> = {}): Promise<string> {
  const id = ulid();
  await book.call('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn,
    entries: [{ id, detail }],
    ...more,
  });
  return id;
}
async function correct(correctsId: string, detail: Detail | null = null, doneOn?: string): Promise<string> {
  const id = ulid();
  await book.call('ledger.correct', {
    writeId: ulid(),
    id,
    correctsId,
    correction: detail === null ? 'void' : 'replace',
    reason: 'not so',
    ...(detail === null ? {} : { detail }),
    ...(doneOn === undefined ? {} : { doneOn }),
  });
  return id;
}
const page = () => book.call('property.open', { propertyId: site.propertyId, ledgerLimit: 200 });
const zone = async (index = 0) => (await page()).zones.find((one) => one.id === site.zoneIds[index])!;
const sensor = async () => (await page()).sensors[0]!;
async function expectClean(): Promise<void> {
  const { checks } = await book.call('book.check', {});
  expect(checks.flatMap((check) => check.findings)).toEqual([]);
}

/** An audit in which every can caught the same, so that its rate is told by the cans: 3.66 × mL ÷ (in² × min). */
const audit = (volumeMl: number, index = 0): Detail => ({
  kind: 'zone-audit',
  zoneId: site.zoneIds[index]!,
  volumesMl: [volumeMl, volumeMl, volumeMl, volumeMl],
  throatAreaIn2: 18.3,
  runMinutes: 10,
});
const rateOf = (volumeMl: number) => expect.closeTo((3.66 * volumeMl) / (18.3 * 10), 10);
const check = (rainSetPointInches: number | null, freezeSetPointF: number | null = null): Detail => ({
  kind: 'sensor-check',
  sensorId: site.sensorId,
  rainTrip: 'pass',
  rainSetPointInches,
  freezeSetPointF,
});

describe('a zone’s rate', () => {
  it('keeps audit B of June when audit A of May is declared void', async () => {
    const a = await record('2026-05-10', audit(40));
    await record('2026-06-10', audit(60));
    await correct(a);
    expect(await zone()).toMatchObject({ prMethod: 'catch-can', precipitationRateInPerHour: rateOf(60) });
    await expectClean();
  });

  it('is not overwritten by an audit of an earlier day that is logged later', async () => {
    await record('2026-06-10', audit(60));
    const late = await record('2026-05-10', audit(40));
    expect((await zone()).precipitationRateInPerHour).toEqual(rateOf(60));
    await correct(late, audit(44), '2026-06-11');
    expect((await zone()).precipitationRateInPerHour).toEqual(rateOf(44));
    await expectClean();
  });

  it('is the office’s again when every audit is void, and the other zone’s when an audit was of that', async () => {
    const before = await zone();
    const a = await record('2026-05-10', audit(40));
    const moved = await correct(a, audit(40, 1));
    expect(await zone()).toEqual(before);
    expect(await zone(1)).toMatchObject({ prMethod: 'catch-can', precipitationRateInPerHour: rateOf(40) });
    await correct(moved);
    expect((await zone(1)).prMethod).toBe(before.prMethod);
    await expectClean();
  });

  it('is what the office said last, over audits before it and not over one after it', async () => {
    const audited = await record('2026-06-10', audit(40));
    const { property, version } = await page();
    await book.call('property.save', {
      writeId: ulid(),
      property,
      version,
      zones: [{ ...(await zone()), prMethod: 'table', precipitationRateInPerHour: 1.1, distributionUniformity: null }],
    });
    const office = { prMethod: 'table', precipitationRateInPerHour: 1.1, distributionUniformity: null };
    expect(await zone()).toMatchObject(office);
    await record('2026-06-12', audit(50));
    expect(await zone()).toMatchObject(office);
    await correct(audited);
    expect(await zone()).toMatchObject(office);
    await record(TODAY, audit(70));
    expect(await zone()).toMatchObject({ prMethod: 'catch-can', precipitationRateInPerHour: rateOf(70) });
    await expectClean();
  });

  it('is not undone by a form that was opened before the audit and saved after it', async () => {
    const opened = await page();
    const form = { ...opened.zones.find((one) => one.id === site.zoneIds[0])!, name: 'Front lawn' };
    const audited = await record('2026-06-10', audit(40));
    const save = (version: number) => ({
      writeId: ulid(),
      property: opened.property,
      version,
      zones: [form],
      controllers: [],
      sensors: [],
    });
    expect((await book.fails('property.save', save(opened.version))).code).toBe('stale');
    expect((await zone()).precipitationRateInPerHour).toEqual(rateOf(40));
    // A void changes what is shown as well; a note does not.
    const { version } = await page();
    await record('2026-06-11', { kind: 'note', text: 'seen' });
    expect((await page()).version).toBe(version);
    await correct(audited);
    expect((await page()).version).toBeGreaterThan(version);
  });

  it('stays the audit’s when the form saves it as it was shown', async () => {
    const audited = await record('2026-06-10', audit(40));
    const { property, version } = await page();
    await book.call('property.save', {
      writeId: ulid(),
      property,
      version,
      zones: [{ ...(await zone()), name: 'By the gate' }],
    });
    await correct(audited);
    expect(await zone()).toMatchObject({ name: 'By the gate', prMethod: 'table', precipitationRateInPerHour: null });
    await expectClean();
  });
});

describe('a form that was opened before', () => {
  it('does not bring back the date of a backflow test that was declared void, nor what a list told meanwhile', async () => {
    const { client } = await page();
    const test = await record('2026-06-10', { kind: 'backflow-test', passed: true, nextDue: '2027-06-10' });
    const opened = await page();
    expect(opened.property.backflowTestDue).toBe('2027-06-10');
    const save = () => ({ writeId: ulid(), property: opened.property, version: opened.version });
    await correct(test);
    expect(await book.fails('property.save', save())).toMatchObject({ code: 'stale' });
    expect((await page()).property.backflowTestDue).toBeNull();

    const before = await page();
    const csv = `client,street,date,work\n${client.name},${before.property.street},6/11/2026,battery\n`;
    const imported = await book.call('import.apply', {
      target: 'work',
      fileName: 'work.csv',
      bytesBase64: Buffer.from(csv).toString('base64'),
    });
    expect(imported.added).toEqual({ ledgerEntries: 1 });
    expect((await sensor()).batteryDate).toBe('2026-06-11');
    const late = { writeId: ulid(), property: before.property, version: before.version, sensors: before.sensors };
    expect(await book.fails('property.save', late)).toMatchObject({ code: 'stale' });
    expect((await sensor()).batteryDate).toBe('2026-06-11');
    await expectClean();
  });

  it('is taken over work that changed nothing of what it changes, and leaves what that work said', async () => {
    const opened = await page();
    const [shownZone] = opened.zones;
    const [shownSensor] = opened.sensors;
    await record('2026-06-10', audit(40));
    await record('2026-06-10', { kind: 'battery-swap', sensorId: site.sensorId, cells: 2 });
    await record('2026-06-10', { kind: 'backflow-test', passed: true, nextDue: '2027-06-10' });
    const now = await page();
    await book.call('property.save', {
      writeId: ulid(),
      property: { ...now.property, dogNote: 'a dog' },
      version: now.version,
    });
    const shown = { property: opened.property, zones: [shownZone!], sensors: [shownSensor!] };
    const says = {
      property: { ...opened.property, gateCode: '1234' },
      zones: [{ ...shownZone!, name: 'Front lawn', areaFt2: 650 }],
      sensors: [{ ...shownSensor!, location: 'north eave' }],
    };
    const { version } = await book.call('property.save', { writeId: ulid(), ...says, opened: shown });
    const saved = await page();
    expect(saved.version).toBe(version);
    expect(saved.property).toMatchObject({ gateCode: '1234', dogNote: 'a dog', backflowTestDue: '2027-06-10' });
    expect(await zone()).toMatchObject({
      name: 'Front lawn',
      areaFt2: 650,
      prMethod: 'catch-can',
      precipitationRateInPerHour: rateOf(40),
    });
    expect(await sensor()).toMatchObject({ location: 'north eave', batteryDate: '2026-06-10', cellsGood: 2 });
    // The way back takes back what the form changed, and nothing else.
    await book.call('property.save', { writeId: ulid(), ...shown, opened: says });
    const back = await page();
    expect(back.property).toEqual({ ...saved.property, gateCode: opened.property.gateCode });
    expect(await zone()).toEqual({ ...saved.zones[0]!, name: shownZone!.name, areaFt2: shownZone!.areaFt2 });
    expect(await sensor()).toEqual({ ...saved.sensors[0]!, location: shownSensor!.location });
    await expectClean();
  });

  it('is refused where what it changes was changed too, at that field, and nothing of it is saved', async () => {
    const opened = await page();
    const [shownZone] = opened.zones;
    const [shownSensor] = opened.sensors;
    await record('2026-06-10', audit(40));
    await record('2026-06-10', { kind: 'battery-swap', sensorId: site.sensorId, cells: 2 });
    const { property } = opened;
    const shown = { property, zones: [shownZone!], sensors: [shownSensor!] };
    const now = await page();
    const refused = async (says: object, field: string, sentence: RegExp) => {
      const gate = { ...property, gateCode: '1234' };
      const reply = await book.fails('property.save', { writeId: ulid(), property: gate, ...says, opened: shown });
      expect(reply).toMatchObject({ code: 'stale', field, message: expect.stringMatching(sentence) });
      expect(await page()).toEqual(now);
    };
    await refused(
      { zones: [{ ...shownZone!, precipitationRateInPerHour: 1.1 }] },
      'zones.0.precipitationRateInPerHour',
      /^Somebody else changed the precipitation rate after you opened this/,
    );
    // The way of knowing a rate and the rate are one thing.
    await refused({ zones: [{ ...shownZone!, prInputs: { headGpm: 2 } }] }, 'zones.0.prInputs', /the figures behind/);
    await refused(
      { sensors: [{ ...shownSensor!, batteryDate: '2026-06-01' }] },
      'sensors.0.batteryDate',
      /changed the battery date after/,
    );
    // Both say the same: nobody's word is lost.
    await book.call('property.save', {
      writeId: ulid(),
      property,
      sensors: [{ ...shownSensor!, batteryDate: '2026-06-10' }],
      opened: shown,
    });
    // A part that the form did not show is a form's of a version.
    const { version } = await page();
    const other = { writeId: ulid(), property, zones: [opened.zones[1]!], opened: shown };
    expect(await book.fails('property.save', other)).toMatchObject({ code: 'conflict', field: 'version' });
    await book.call('property.save', { ...other, writeId: ulid(), property: (await page()).property, version });
    await expectClean();
  });

  it('is taken after work that shows nothing in it', async () => {
    const { version } = await page();
    await record(TODAY, { kind: 'start-up' });
    await record(TODAY, { kind: 'finding', zoneId: site.zoneIds[0]!, what: 'a leak' });
    expect((await page()).version).toBe(version);
  });
});

describe('a sensor’s set points', () => {
  const save = async (points: { rainSetPointInches?: number; freezeSetPointF?: number }) => {
    const { property, version } = await page();
    await book.call('property.save', {
      writeId: ulid(),
      property,
      version,
      sensors: [{ ...(await sensor()), ...points }],
    });
  };

  it('are given back when the check that set them is void', async () => {
    await save({ rainSetPointInches: 0.25, freezeSetPointF: 37 });
    const one = await record(TODAY, check(0.5, 40));
    expect(await sensor()).toMatchObject({ rainSetPointInches: 0.5, freezeSetPointF: 40 });
    await correct(one);
    expect(await sensor()).toMatchObject({ rainSetPointInches: 0.25, freezeSetPointF: 37, lastCheckDate: null });
    await expectClean();
  });

  it('are the latest check’s that names them, each by itself', async () => {
    await record('2026-06-10', check(0.5));
    await record('2026-06-01', check(0.125, 41));
    await record('2026-06-12', check(null));
    expect(await sensor()).toMatchObject({
      rainSetPointInches: 0.5,
      freezeSetPointF: 41,
      lastCheckDate: '2026-06-12',
    });
    await save({ freezeSetPointF: 38 });
    expect(await sensor()).toMatchObject({ rainSetPointInches: 0.5, freezeSetPointF: 38 });
    await expectClean();
  });
});

describe('a date that the office types where the ledger holds a later one', () => {
  const save = async (batteryDate: string | null) => {
    const { property, version } = await page();
    return { writeId: ulid(), property, version, sensors: [{ ...(await sensor()), batteryDate }] };
  };
  const due = async (backflowTestDue: string | null) => {
    const { property, version } = await page();
    return { writeId: ulid(), property: { ...property, backflowTestDue }, version };
  };
  const said = async (input: object) => {
    const reply = (await book.desk.call('property.save', input)) as { error: Failure };
    return [reply.error.code, reply.error.field, sayFailure({ language: 'en', units: 'us' }, reply.error)];
  };

  it('of a battery is refused, and says which and what to do', async () => {
    await book.call('property.save', await save('2025-06-01'));
    expect((await sensor()).batteryDate).toBe('2025-06-01');
    await record('2026-05-20', { kind: 'battery-swap', sensorId: site.sensorId }, { technicianId: site.technicianId });
    const before = await page();
    const sentence = (typed: string) =>
      `The ledger holds a newer battery, swapped on May 20, 2026 by Odalys Fenn, so ${typed} would not count. Leave May 20, 2026 here, or correct that entry in the property's ledger if it is wrong.`;
    expect(await said(await save('2026-05-19'))).toEqual([
      'conflict',
      'sensors.0.batteryDate',
      sentence('May 19, 2026'),
    ]);
    expect(await said(await save(null))).toEqual(['conflict', 'sensors.0.batteryDate', sentence('leaving it empty')]);
    const reply = (await book.desk.call('property.save', await save('2026-05-01'))) as { error: Failure };
    expect(sayFailure({ language: 'es', units: 'us' }, reply.error)).toBe(
      'El registro tiene una batería más nueva, cambiada el 20 may 2026 por Odalys Fenn, así que el 1 may 2026 no contaría. Deje aquí el 20 may 2026, o corrija esa entrada en el registro de la propiedad si está mal.',
    );
    expect(await page()).toEqual(before);
    await book.call('property.save', await save('2026-05-20'));
    await book.call('property.save', await save('2026-06-01'));
    expect((await sensor()).batteryDate).toBe('2026-06-01');
    await book.call('property.save', await save('2026-05-25'));
    expect((await sensor()).batteryDate).toBe('2026-05-25');
    await expectClean();
  });

  it('of a backflow test is refused, and says which and what to do', async () => {
    const passed = await record('2026-05-20', { kind: 'backflow-test', passed: true });
    const field = 'property.backflowTestDue';
    const older =
      "The ledger holds a backflow test passed on May 20, 2026, by which the next is due on May 20, 2027, so Dec 1, 2026 would not count. Leave May 20, 2027 or a later day here, or correct that entry in the property's ledger if it is wrong.";
    expect(await said(await due('2026-12-01'))).toEqual(['conflict', field, older]);
    expect((await said(await due(null)))[2]).toContain('so leaving it empty would not count');
    await book.call('property.save', await due('2027-06-01'));
    expect((await page()).property.backflowTestDue).toBe('2027-06-01');
    await correct(passed, { kind: 'backflow-test', passed: false });
    const failed =
      "The ledger holds a backflow test failed on May 20, 2026, so the next is due at once and no other day would count. Leave May 20, 2026 here until a test passes, or correct that entry in the property's ledger if it is wrong.";
    expect(await said(await due('2027-08-01'))).toEqual(['conflict', field, failed]);
    await correct((await page()).ledger[0]!.id);
    await book.call('property.save', await due('2026-08-01'));
    expect((await page()).property.backflowTestDue).toBe('2026-08-01');
    await book.call('property.save', await due(null));
    await expectClean();
  });
});

describe('findings', () => {
  const finding = (what: string): Detail => ({ kind: 'finding', place: 'by the gate', what, urgency: 'at-once' });
  const entryOf = async (id: string) => (await page()).ledger.find((one) => one.id === id)!;

  it('stand open until a repair names them, and again when that is void; each names the other', async () => {
    const found = await record('2026-06-01', finding('a wet spot'));
    expect((await page()).openFindings.map((one) => one.id)).toEqual([found]);
    const mended = await record('2026-06-03', { kind: 'repair', what: 'new riser', closesFindingId: found });
    expect((await page()).openFindings).toEqual([]);
    expect(await entryOf(found)).toMatchObject({ closedBy: { entryId: mended, kind: 'repair' }, closes: null });
    expect(await entryOf(mended)).toMatchObject({ closes: { entryId: found, kind: 'finding' }, closedBy: null });
    await correct(mended);
    expect((await page()).openFindings).toMatchObject([{ id: found, closedBy: null }]);
    const decided = await record('2026-06-04', {
      kind: 'decision',
      what: 'left until fall',
      decidedBy: 'client',
      closesFindingId: found,
    });
    expect(await entryOf(found)).toMatchObject({ closedBy: { entryId: decided, kind: 'decision' } });
    await expectClean();
  });

  it('stay closed when their words are corrected, and are named by any of their versions', async () => {
    const first = await record('2026-06-01', finding('a wet spot'));
    const second = await correct(first, finding('a wet spot and a broken lid'));
    const mended = await record('2026-06-03', { kind: 'repair', what: 'both mended', closesFindingId: second });
    const third = await correct(second, finding('a broken lid'));
    expect(await entryOf(third)).toMatchObject({ closedBy: { entryId: mended } });
    expect(await entryOf(mended)).toMatchObject({ closes: { entryId: third }, detail: { closesFindingId: first } });
    await correct(mended, { kind: 'repair', what: 'something else', closesFindingId: null });
    expect((await page()).openFindings.map((one) => one.id)).toEqual([third]);
    await expectClean();
  });

  it('that are urgent are due to the office and at the technician’s stop until they are closed; others are not', async () => {
    const visitId = ulid();
    await book.call('visit.book', {
      writeId: ulid(),
      visitId,
      propertyId: site.propertyId,
      kind: 'walk-through',
      date: TODAY,
      technicianId: site.technicianId,
    });
    const seen = async () => {
      const list = await book.call('due.list', { kinds: ['finding'] });
      const day = await book.call('day.open', { technicianId: site.technicianId, date: TODAY });
      const found = await book.call('client.list', { due: 'finding' });
      const ofPage = (await page()).due.filter((due) => due.kind === 'finding');
      const ofStop = day.stops[0]!.due.filter((due) => due.kind === 'finding');
      expect(list.counts.finding).toBe(list.total);
      expect([ofPage.length, ofStop.length]).toEqual([list.total, list.total]);
      expect(found.total).toBe(list.total === 0 ? 0 : 1);
      return list.items.map((item) => [
        item.findingId,
        item.dueOn,
        item.daysLate,
        sayFact(PLAIN_READER, item.why as Fact),
      ]);
    };
    await record('2026-06-01', { kind: 'finding', zoneId: site.zoneIds[0]!, what: 'a leaning head', urgency: 'soon' });
    expect(await seen()).toEqual([]);
    const urgent = { kind: 'finding', zoneId: site.zoneIds[1]!, what: 'a geyser', urgency: 'at-once' } as const;
    const first = await record('2026-06-10', urgent);
    const geyser = 'Found on Jun 10, 2026, to be seen to at once: a geyser, zone 2.';
    expect(await seen()).toEqual([[first, '2026-06-10', 5, geyser]]);
    const second = await record('2026-06-12', finding('a box without a lid'));
    expect((await seen()).map(([id]) => id)).toEqual([first, second]);
    const lesser = await correct(first, { ...urgent, urgency: 'soon' });
    expect((await seen()).map(([id]) => id)).toEqual([second]);
    const again = await correct(lesser, urgent);
    const mended = await record(TODAY, { kind: 'repair', what: 'new riser', closesFindingId: first });
    expect((await seen()).map(([id]) => id)).toEqual([second]);
    await correct(mended);
    expect((await seen()).map(([id]) => id)).toEqual([again, second]);
    await correct(second);
    await record(TODAY, { kind: 'decision', what: 'left dry', closesFindingId: again });
    expect(await seen()).toEqual([]);
  });

  it('of another property, or void, close nothing; and say a place', async () => {
    const other = await makeSite(book);
    const elsewhere = ulid();
    await book.call('visit.record', {
      writeId: ulid(),
      propertyId: other.propertyId,
      doneOn: TODAY,
      entries: [{ id: elsewhere, detail: finding('a leak') }],
    });
    const closing = (closesFindingId: string) => ({
      writeId: ulid(),
      propertyId: site.propertyId,
      doneOn: TODAY,
      entries: [{ id: ulid(), detail: { kind: 'repair', what: 'new riser', closesFindingId } }],
    });
    expect(await book.fails('visit.record', closing(elsewhere))).toMatchObject({
      code: 'not-found',
      field: 'entries.0.detail.closesFindingId',
    });
    const note = await record(TODAY, { kind: 'note', text: 'no finding' });
    expect(await book.fails('visit.record', closing(note))).toMatchObject({ code: 'not-found' });
    const gone = await record(TODAY, finding('nothing'));
    await correct(gone);
    expect(await book.fails('visit.record', closing(gone))).toMatchObject({ code: 'conflict' });
    const nowhere = { ...closing(gone), entries: [{ id: ulid(), detail: { kind: 'finding', what: 'a leak' } }] };
    expect((await book.fails('visit.record', nowhere)).message).toMatch(/must say where, or name a zone/);
    await expectClean();
  });
});

describe('the zone of an entry', () => {
  it('is told with it, as it is called now, in both languages', async () => {
    const [first, second] = site.zoneIds;
    const { property, version } = await page();
    await record('2026-06-01', { kind: 'finding', zoneId: first!, what: 'a leaning head' });
    await record('2026-06-02', { kind: 'manual-run', zoneId: second!, runMinutes: 4, why: 'to look at it' });
    await record('2026-06-03', { kind: 'repair', zoneId: first!, what: 'set it upright' });
    await record('2026-06-04', { kind: 'finding', place: 'by the gate', what: 'a wet spot', urgency: 'at-once' });
    await book.call('property.save', {
      writeId: ulid(),
      property,
      version,
      zones: [{ ...(await zone()), name: 'Front lawn' }],
    });
    const said = async (language: 'en' | 'es') =>
      (await page()).ledger.slice(0, 4).map(({ summary }) => sayFact({ language, units: 'us' }, summary as Fact));
    expect(await said('en')).toEqual([
      'Found: a wet spot, by the gate, to be seen to at once',
      'Repaired: set it upright, zone 1 Front lawn',
      'Run by hand: zone 2, 4 min, to look at it',
      'Found: a leaning head, zone 1 Front lawn, to be seen to soon',
    ]);
    expect(await said('es')).toEqual([
      'Hallazgo: a wet spot, by the gate, hay que atenderlo de inmediato',
      'Reparado: set it upright, zona 1 Front lawn',
      'Riego manual: zona 2, 4 min, to look at it',
      'Hallazgo: a leaning head, zona 1 Front lawn, hay que atenderlo pronto',
    ]);
    await record('2026-06-05', audit(40));
    expect(sayFact(PLAIN_READER, (await page()).ledger[0]!.summary as Fact)).toMatch(/from 4 cans, zone 1 Front lawn$/);
  });
});

describe('a visit on which nobody could work', () => {
  const book1 = async (kind: 'repair' | 'winterization') => {
    const visitId = ulid();
    await book.call('visit.book', {
      writeId: ulid(),
      visitId,
      propertyId: site.propertyId,
      kind,
      date: '2026-06-12',
      technicianId: site.technicianId,
    });
    return visitId;
  };
  const stateOf = async (visitId: string) => (await page()).visits.find((visit) => visit.id === visitId)!.state;

  it('stays to be booked again, whatever else was seen to, and is due', async () => {
    const visitId = await book1('repair');
    await book.call('visit.record', {
      writeId: ulid(),
      propertyId: site.propertyId,
      visitId,
      doneOn: '2026-06-12',
      entries: [
        { id: ulid(), detail: { kind: 'not-done', why: 'no-access' } },
        { id: ulid(), detail: { kind: 'note', text: 'dog in the yard' } },
      ],
    });
    expect(await stateOf(visitId)).toBe('planned');
    expect((await page()).due).toContainEqual(expect.objectContaining({ kind: 'overdue-visit', visitId }));
    const mended = await record('2026-06-14', { kind: 'repair', what: 'new riser' }, { visitId });
    expect(await stateOf(visitId)).toBe('done');
    // What is left of the visit is that nobody could work.
    const note = (await page()).ledger.find((one) => one.kind === 'note')!;
    await correct(note.id);
    await correct(mended);
    expect(await stateOf(visitId)).toBe('planned');
    await expectClean();
  });

  it('becomes what the forms say beforehand', async () => {
    const winterized: Detail = { kind: 'winterization', method: 'compressed-air' };
    const couldNot: Detail = { kind: 'not-done', why: 'weather' };
    const told: string[] = [];
    for (const visitKind of ['repair', 'winterization'] as const)
      for (const details of [[], [couldNot], [winterized], [couldNot, winterized]] satisfies Detail[][])
        for (const closeVisit of [true, false]) {
          if (details.length === 0 && !closeVisit) continue;
          const visitId = await book1(visitKind);
          const kinds = details.map((detail) => detail.kind);
          const after = visitAfter({ kind: visitKind, state: 'planned' }, kinds, closeVisit);
          const entries = details.map((detail) => ({ id: ulid(), detail }));
          const work = { propertyId: site.propertyId, visitId, doneOn: '2026-06-12', closeVisit };
          await book.call('visit.record', { writeId: ulid(), ...work, entries });
          expect(await stateOf(visitId), `${visitKind} ${kinds} ${closeVisit}`).toBe(
            after === 'open' ? 'planned' : 'done',
          );
          told.push(after);
          // What comes later to a visit that is done does not open it.
          const again = { ...work, entries: [{ id: ulid(), detail: couldNot }] };
          await book.call('visit.record', { writeId: ulid(), ...again });
          if (after !== 'open') expect(await stateOf(visitId)).toBe('done');
          expect(visitAfter({ kind: visitKind, state: 'done' }, ['not-done'], closeVisit)).toBe('was-done');
        }
    expect(new Set(told)).toEqual(new Set(['closed', 'open', 'closed-by-season']));
    expect(visitAfter(null, ['not-done'], true)).toBe('none');
  });

  it('that nobody had booked is kept to be booked, and is cancelled when that is void', async () => {
    const visitId = ulid();
    const id = await record(TODAY, { kind: 'not-done', why: 'weather' }, { visitId, unplannedKind: 'backflow-test' });
    expect(await stateOf(visitId)).toBe('planned');
    await correct(id);
    expect(await stateOf(visitId)).toBe('cancelled');
    await expectClean();
  });
});

describe('a program that the office changes', () => {
  const settings = (seasonalPercent: number, minutes = 20) => ({
    days: { kind: 'weekdays' as const, weekdays: [2, 5] },
    startTimes: ['05:00'],
    seasonalPercent,
    runs: site.zoneIds.map((zoneId) => ({ zoneId, runMinutes: minutes })),
  });
  const revise = async (seasonalPercent: number, effectiveDate = TODAY, minutes = 20) =>
    (
      await book.call('program.revise', {
        writeId: ulid(),
        programId: site.programId,
        revisionId: ulid(),
        effectiveDate,
        settings: settings(seasonalPercent, minutes),
      })
    ).entryId;
  const percent = async () => (await page()).programs[0]?.revision.seasonalPercent;

  it('has its entry in the ledger, and is as before when that is void', async () => {
    expect((await page()).ledger).toMatchObject([{ kind: 'run-time-change', detail: { madeProgram: true } }]);
    const id = await revise(80);
    expect((await page()).ledger[0]).toMatchObject({
      id,
      kind: 'run-time-change',
      technicianId: null,
      doneOn: TODAY,
      detail: { oldSeasonalPercent: 100, newSeasonalPercent: 80, changes: [], madeProgram: false },
    });
    await correct(id);
    expect(await percent()).toBe(100);
    await expectClean();
  });

  describe('while somebody else does', () => {
    const editor = async () => (await page()).programs[0]!.revision.id;
    const over = (seenRevisionId: string | null, minutes = 30, effectiveDate = TODAY) => ({
      writeId: ulid(),
      programId: site.programId,
      revisionId: ulid(),
      effectiveDate,
      settings: settings(100, minutes),
      seenRevisionId,
    });
    const onSite = (minutes: number, doneOn = TODAY) =>
      record(
        doneOn,
        {
          kind: 'run-time-change',
          programId: site.programId,
          revisionId: ulid(),
          runs: [{ zoneId: site.zoneIds[0]!, runMinutes: minutes }],
        },
        { technicianId: site.technicianId },
      );
    const refused = async (input: object, language: 'en' | 'es' = 'en') => {
      const reply = (await book.desk.call('program.revise', input)) as { error: Failure };
      expect(reply.error).toMatchObject({ code: 'stale', field: 'seenRevisionId' });
      return sayFailure({ language, units: 'us' }, reply.error);
    };

    it('is not overridden unasked: the office is told what changed, and may then set it all the same', async () => {
      const seen = await editor();
      await onSite(26);
      const before = await page();
      const told =
        'Program A is not set as you opened it any more. Odalys Fenn, from Jun 15, 2026 on: Program changed: 1 zone from 20 to 26 min. Nothing of yours was saved; look at this first.';
      expect(await refused(over(seen))).toBe(told);
      expect(await refused(over(seen, 30, '2026-07-01'))).toBe(told);
      expect(await refused(over(seen), 'es')).toMatch(
        /^El programa A ya no está como usted lo abrió\. Odalys Fenn, desde el 15 jun 2026: .*1 zona de 20 a 26 min/,
      );
      expect(await page()).toEqual(before);
      await book.call('program.revise', over(await editor()));
      expect((await page()).programs[0]!.revision.runs[0]!.runMinutes).toBe(30);
      await expectClean();
    });

    it('tells of what is to hold from a later day on, and of what no longer counts', async () => {
      const seen = await editor();
      const later = await revise(80, '2026-07-01');
      await book.call('program.revise', over(seen, 25));
      expect(await refused(over(await editor(), 30, '2026-07-10'))).toMatch(
        /The office, from Jul 1, 2026 on: Program changed: 3 zones from 75 to 60 min, seasonal 100 % to 80 %/,
      );
      await correct(later);
      const mended = await onSite(44);
      const opened = await editor();
      await correct(mended);
      expect(await refused(over(opened))).toMatch(
        /^The settings of program A that you opened no longer count.* 1 zone from 44 to 25 min/,
      );
      for (const entry of (await page()).ledger) if (entry.kind === 'run-time-change') await correct(entry.id);
      expect(await refused(over(opened))).toMatch(/no others stand: their ledger entry was declared void/);
      await book.call('program.revise', over(null, 33));
      expect((await page()).programs[0]!.revision.runs[0]!.runMinutes).toBe(33);
      await expectClean();
    });

    it('is taken where what stands now is the same as was seen; a revision of another program is refused', async () => {
      const seen = await editor();
      await correct(await onSite(26));
      await book.call('program.revise', over(seen, 31));
      const other = await makeSite(book);
      const elsewhere = (await book.call('property.open', { propertyId: other.propertyId })).programs[0]!.revision.id;
      expect(await book.fails('program.revise', over(elsewhere))).toMatchObject({ code: 'not-found' });
      expect(await book.fails('program.revise', over(ulid()))).toMatchObject({ code: 'not-found' });
    });

    it('is not overridden by an accepted review, and nothing of that is written', async () => {
      const seen = await editor();
      await onSite(26);
      const before = await page();
      const one = (seenRevisionId: string) => ({
        programId: site.programId,
        revisionId: ulid(),
        entryId: ulid(),
        settings: settings(90),
        seenRevisionId,
      });
      const made = { programId: ulid(), revisionId: ulid(), entryId: ulid(), controllerId: site.controllerId };
      const fresh = { ...made, name: 'B', settings: settings(50), seenRevisionId: null };
      const accept = (seenRevisionId: string) => ({
        writeId: ulid(),
        propertyId: site.propertyId,
        doneOn: TODAY,
        programs: [fresh, one(seenRevisionId)],
      });
      expect(await book.fails('program.accept', accept(seen))).toMatchObject({
        code: 'stale',
        field: 'programs.1.seenRevisionId',
      });
      expect(await page()).toEqual(before);
      await book.call('program.accept', accept(await editor()));
      expect((await page()).programs.map((program) => program.revision.seasonalPercent)).toEqual([90, 50]);
    });
  });

  it('tells in its history which revisions no longer count', async () => {
    const gone = await revise(80);
    const fixed = await revise(70);
    await correct(gone);
    await correct(fixed, {
      kind: 'run-time-change',
      programId: site.programId,
      revisionId: ulid(),
      seasonalPercent: 65,
    });
    const { revisions } = await book.call('program.history', { programId: site.programId });
    expect(revisions.map((one) => [one.seasonalPercent, one.isVoid])).toEqual([
      [65, false],
      [70, true],
      [80, true],
      [100, false],
    ]);
    expect((await page()).programs[0]).toMatchObject({ revisionCount: 4, revision: { id: revisions[0]!.id } });
  });

  it('holds from a later day on, also when its entry is corrected', async () => {
    const id = await revise(80, '2026-07-01');
    expect((await page()).ledger[0]).toMatchObject({ id, doneOn: TODAY });
    await correct(id, { kind: 'run-time-change', programId: site.programId, revisionId: ulid(), seasonalPercent: 70 });
    expect(await percent()).toBe(100);
    const later = await book.call('property.open', { propertyId: site.propertyId, onDate: '2026-07-02' });
    expect(later.programs[0]!.revision).toMatchObject({ seasonalPercent: 70, effectiveDate: '2026-07-01' });
    await expectClean();
  });

  it('keeps days and start times that a correction says nothing of', async () => {
    const entryId = ulid();
    await book.call('program.revise', {
      writeId: ulid(),
      programId: site.programId,
      revisionId: ulid(),
      entryId,
      effectiveDate: TODAY,
      settings: { ...settings(100, 25), startTimes: ['03:15'] },
    });
    await correct(entryId, {
      kind: 'run-time-change',
      programId: site.programId,
      revisionId: ulid(),
      runs: [{ zoneId: site.zoneIds[0]!, runMinutes: 26 }],
    });
    const { revision } = (await page()).programs[0]!;
    expect(revision.startTimes).toEqual(['03:15']);
    // The zones that the correction no longer names are as they were before the entry.
    expect(revision.runs.map((run) => run.runMinutes)).toEqual([26, 20, 20]);
    await expectClean();
  });

  it('is gone when the entry that made it is void, and comes back by a new revision or a correction', async () => {
    const made = (await page()).ledger[0]!;
    await correct(made.id, {
      kind: 'run-time-change',
      programId: site.programId,
      revisionId: ulid(),
      runs: [{ zoneId: site.zoneIds[0]!, runMinutes: 9 }],
    });
    expect((await page()).programs[0]!.revision.runs.map((run) => run.runMinutes)).toEqual([9, 20, 20]);
    await correct((await page()).ledger[0]!.id);
    expect((await page()).programs).toEqual([]);
    await revise(60);
    expect(await percent()).toBe(60);
    await expectClean();
  });
});

describe('book.check', () => {
  const tampered = async (sql: string) => {
    const raw = new Database(book.path);
    raw.exec(sql);
    raw.close();
    const { checks } = english(await book.call('book.check', {}));
    return checks.flatMap((one) => one.findings).join('\n');
  };
  it.each([
    [
      'a zone rate',
      'UPDATE zone SET precipitationRateInPerHour = 2 WHERE station = 1',
      /Zone \w+: precipitationRateInPerHour says 2/,
    ],
    [
      'a way of knowing it',
      "UPDATE zone SET prMethod = 'spacing' WHERE station = 2",
      /Zone \w+: prMethod says spacing/,
    ],
    ['a rain set point', 'UPDATE sensor SET rainSetPointInches = 1', /Sensor \w+: rainSetPointInches says 1/],
    [
      'a freeze set point',
      'UPDATE sensor SET baseFreezeSetPointF = 33',
      /Sensor \w+: freezeSetPointF says nothing, the ledger says 33/,
    ],
    [
      'a closed finding',
      'UPDATE finding SET closedByEntryId = entryId',
      /Finding \w+: closedByEntryId says \w+, the ledger says nothing/,
    ],
    ['a lost finding', 'DELETE FROM finding', /is a finding that is not kept as one/],
  ])('finds %s that is not what was said', async (_what, sql, found) => {
    await record('2026-06-10', audit(40));
    await record('2026-06-10', check(0.5));
    await record('2026-06-10', { kind: 'finding', zoneId: site.zoneIds[0]!, what: 'a leak' });
    await expectClean();
    expect(await tampered(sql)).toMatch(found);
  });
});

it('more than 200 visits of one day fit, and a check finds nothing wrong with them', { timeout: 120_000 }, async () => {
  for (let n = 0; n < 205; n += 1)
    await record(TODAY, { kind: 'note', text: `${n}` }, { visitId: ulid(), unplannedKind: 'walk-through' });
  await expectClean();
  // As many as a day can hold: a list of them is written past the requests, which would take minutes.
  const raw = new Database(book.path);
  const rows = Array.from({ length: MAX_VISITS_A_DAY - 205 }, (_, index) => ({ id: ulid(), order: index + 206 }));
  const insert = raw.prepare(
    `INSERT INTO visit SELECT @id, propertyId, kind, state, date, windowFrom, windowTo, technicianId, @order,
      expectedMinutes, locked, note, doneOn, cancelReason, unplanned FROM visit LIMIT 1`,
  );
  raw.transaction(() => rows.forEach((row) => insert.run(row)))();
  raw.close();
  const before = (await page()).ledgerTotal;
  const reply = await book.fails('visit.record', {
    writeId: ulid(),
    propertyId: site.propertyId,
    doneOn: TODAY,
    visitId: ulid(),
    unplannedKind: 'walk-through',
    entries: [{ id: ulid(), detail: { kind: 'note', text: 'one too many' } }],
  });
  expect(reply).toMatchObject({ code: 'conflict', message: expect.stringMatching(/10,000 visits already/) });
  expect((await page()).ledgerTotal).toBe(before);
});
