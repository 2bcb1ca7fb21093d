import texts from '../../assets/demo/texts.json' with { type: 'json' };
import type { LedgerDetail } from '../ledger/entry-contract.ts';
import { dateOf, dayOf, dayOn, yearsLater } from './days.ts';
import type { Entry, Journal, Stop } from './journal.ts';
import { adjustedSettings, type ProgramPlan } from './programs.ts';

// What a technician logs at a stop, kind by kind.

/** A sensor as the demo follows it: how long its present battery will last. */
export interface SensorLife {
  at: number;
  batteryDay: number | null;
  diesOn: number;
}

const LIFE_DAYS: readonly [number, number] = [430, 110];

export function newLife(journal: Journal, at: number, batteryDay: number | null): SensorLife {
  return {
    at,
    batteryDay,
    diesOn:
      (batteryDay ?? journal.ground.since - 200) +
      Math.max(120, Math.round(journal.rng.normal(LIFE_DAYS[0], LIFE_DAYS[1]))),
  };
}

export function swapBattery(journal: Journal, stop: Stop, life: SensorLife): void {
  const sensor = journal.ground.sensors[life.at]!;
  const left = life.diesOn - stop.day;
  const entry = journal.add(stop, {
    kind: 'battery-swap',
    sensorId: sensor.id,
    batteryType: sensor.batteryType,
    cells: sensor.batteryCells,
    oldBatteryState: journal.rng.yes(0.06) ? 'unknown' : left < 0 ? 'dead' : left < 60 ? 'low' : 'working',
  });
  if (journal.rng.yes(0.012)) {
    journal.correct(entry, 'void', entry.detail, texts.correctionReasons[3]!);
    return;
  }
  Object.assign(life, newLife(journal, life.at, stop.day));
}

/** A check of rain and freeze trip, signal and cells; returns whether the battery was found wanting. */
export function checkSensor(journal: Journal, stop: Stop, life: SensorLife): boolean {
  const { rng } = journal;
  const sensor = journal.ground.sensors[life.at]!;
  const wireless = sensor.link === 'wireless';
  const left = life.diesOn - stop.day;
  const dead = wireless && left < 0;
  const cellsGood = wireless
    ? dead
      ? rng.int(0, sensor.batteryCells - 1)
      : left < 60 && sensor.batteryCells > 1 && rng.yes(0.5)
        ? sensor.batteryCells - 1
        : sensor.batteryCells
    : null;
  const signal = !wireless ? 'not-tested' : dead && cellsGood === 0 ? 'none' : rng.yes(0.87) ? 'strong' : 'weak';
  const detail: LedgerDetail = {
    kind: 'sensor-check',
    sensorId: sensor.id,
    rainTrip: signal === 'none' ? 'not-tested' : rng.yes(0.95) ? 'pass' : 'fail',
    freezeTrip:
      sensor.freezeSetPointF === null || signal === 'none' || rng.yes(0.4)
        ? 'not-tested'
        : rng.yes(0.97)
          ? 'pass'
          : 'fail',
    signal,
    cellsGood,
    controllerObeys: signal === 'none' ? null : rng.yes(0.97),
    rainSetPointInches: sensor.rainSetPointInches,
    freezeSetPointF: sensor.freezeSetPointF,
  };
  const entry = journal.add(stop, detail, rng.yes(0.1) ? 'Wetted from a bottle, wheel clicked over after 20 s.' : '');
  if (rng.yes(0.015) && signal !== 'none')
    journal.correct(
      entry,
      'replace',
      { ...detail, signal: detail.signal === 'weak' ? 'strong' : 'weak' } as LedgerDetail,
      texts.correctionReasons[4]!,
    );
  return wireless && cellsGood !== null && cellsGood < sensor.batteryCells;
}

/** The meter's reading on a day, gal: it only ever grows. */
export function meterOn(journal: Journal, adjustDay: number | null): (day: number) => number {
  const { ground, rng, world } = journal;
  const start = rng.int(20_000, 900_000);
  const indoorPerDay =
    ground.owner.client.kind === 'household'
      ? rng.range(110, 320, 0)
      : ground.owner.client.kind === 'business'
        ? rng.range(200, 900, 0)
        : 0;
  let perWeek = 0;
  for (const plan of ground.zones) perWeek += plan.trueGpm * plan.foundMinutes * 3.4;
  const seasonWeeks = 22 * 0.8;
  return (day) => {
    let total = start + indoorPerDay * (day - world.start);
    for (let year = world.year - 3; year <= world.year; year += 1) {
      const from = dayOn(year, 4, 20);
      const share = Math.min(1, Math.max(0, (day - from) / 172));
      total +=
        perWeek * seasonWeeks * (adjustDay !== null && adjustDay < from ? 0.55 : 1) * share * share * (3 - 2 * share);
    }
    return Math.round(total / 10) * 10;
  };
}

export function readMeter(journal: Journal, stop: Stop, meter: (day: number) => number): void {
  const reading = meter(stop.day);
  const wrong = journal.rng.yes(0.015);
  const detail: LedgerDetail = { kind: 'meter-read', meter: 'main', readingGallons: reading };
  const entry = journal.add(stop, wrong ? { ...detail, readingGallons: reading * 10 } : detail);
  if (wrong) journal.correct(entry, 'replace', detail, texts.correctionReasons[0]!);
}

export function repair(journal: Journal, stop: Stop): void {
  const { rng, ground } = journal;
  const job = rng.pick(texts.repairs);
  const zoneId = rng.yes(0.85) ? rng.pick(ground.zones).zone.id : null;
  journal.add(stop, {
    kind: 'repair',
    zoneId,
    what: job.what,
    minutesSpent: Math.max(5, job.minutes + rng.int(-8, 20)),
    closesFindingId: null,
  });
  for (const [part, cents] of job.parts)
    journal.add(stop, {
      kind: 'part-used',
      part: String(part),
      quantity: rng.int(1, 4),
      unitPriceCents: rng.yes(0.92) ? Number(cents) : null,
    });
  if (rng.yes(0.3)) photo(journal, stop);
}

export function photo(journal: Journal, stop: Stop): Entry {
  const caption = journal.rng.pick(texts.captions);
  return journal.add(stop, {
    kind: 'photo',
    fileName: `${dateOf(stop.day)}-${caption.toLowerCase().replace(/[^a-z0-9]+/g, '-')}-${journal.rng.int(100, 999)}.jpg`,
    caption,
  });
}

export function note(journal: Journal, stop: Stop): void {
  const entry = journal.add(stop, { kind: 'note', text: journal.rng.pick(texts.notes) });
  if (journal.rng.yes(0.02)) journal.correct(entry, 'void', entry.detail, texts.correctionReasons[1]!);
}

export function testBackflow(journal: Journal, stop: Stop, passes: boolean): void {
  const tester = journal.world.technicians[stop.technician]!.name;
  journal.add(
    stop,
    {
      kind: 'backflow-test',
      passed: passes,
      tester,
      licenceNumber: `L-${String(4100 + stop.technician)}`,
      nextDue: passes ? yearsLater(dateOf(stop.day), 1) : null,
    },
    passes ? '' : 'Check valve 1 leaks by; parts and a second test to follow.',
  );
}

/** Sets every program to what the company thinks right. */
export function adjustPrograms(journal: Journal, stop: Stop, programs: ProgramPlan[]): void {
  const reason = journal.rng.pick(texts.adjustReasons);
  for (const plan of programs) {
    if (plan.adjusted) continue;
    journal.change(stop, plan, adjustedSettings(plan, journal.ground), reason);
    plan.adjusted = true;
  }
}

/** Turns the seasonal percentage of the adjusted programs. */
export function turnSeason(journal: Journal, stop: Stop, programs: ProgramPlan[], percent: number): void {
  for (const plan of programs) {
    if (!plan.adjusted || plan.group === 'trees') continue;
    const old = plan.settings;
    const made = journal.change(stop, plan, { ...old, seasonalPercent: percent }, `Season turns: ${percent} %`);
    if (made && journal.rng.yes(0.012)) {
      const gone = journal.correct(made.entry, 'void', made.entry.detail, texts.correctionReasons[3]!);
      made.revision.voidedByEntryId = gone.id;
      plan.settings = old;
    }
  }
}

const CAN_COUNT = 16;
/** A catch-can test of one sprayed zone: it measures the zone's rate and uniformity. Formulas as in agronomy/precipitation-rate. */
export function auditZone(journal: Journal, stop: Stop): void {
  const { rng, ground } = journal;
  const plan = ground.zones.find(
    (one) => one.zone.emissionDevice === 'pop-up-spray' && one.zone.prMethod !== 'catch-can',
  );
  if (!plan || plan.zone.areaFt2 === null) return;
  const runMinutes = 6;
  const throatAreaIn2 = 16.5;
  const rate = (96.25 * plan.trueGpm) / plan.zone.areaFt2;
  const spread = rng.range(0.12, 0.38);
  const volumesMl = Array.from({ length: CAN_COUNT }, () =>
    Math.max(2, Math.round(((rate * throatAreaIn2 * runMinutes) / 3.66) * (1 + rng.normal(0, spread)))),
  );
  const sorted = [...volumesMl].sort((a, b) => a - b);
  const mean = (list: number[]) => list.reduce((sum, one) => sum + one, 0) / list.length;
  const precipitationRateInPerHour = (3.66 * mean(sorted)) / (throatAreaIn2 * runMinutes);
  const distributionUniformity = Math.min(1, mean(sorted.slice(0, CAN_COUNT / 4)) / mean(sorted));
  if (distributionUniformity < 0.1 || precipitationRateInPerHour > 20) return;
  journal.add(stop, {
    kind: 'zone-audit',
    zoneId: plan.zone.id,
    volumesMl,
    throatAreaIn2,
    runMinutes,
    precipitationRateInPerHour,
    distributionUniformity,
    before: null,
  });
  Object.assign(plan.zone, { prMethod: 'catch-can', precipitationRateInPerHour, distributionUniformity });
}

/** The battery's day, from its date. */
export const dayOrNull = (date: string | null): number | null => (date === null ? null : dayOf(date));
