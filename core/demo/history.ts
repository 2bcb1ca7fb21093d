import { standing } from '../ledger/index.ts';
import texts from '../../assets/demo/texts.json' with { type: 'json' };
import type { VisitKind } from '../contract/parts.ts';
import type { BookTables } from '../store/tables.ts';
import { dateOf, dayOn, millisecondsOf, weekdayOfDay, yearOfDay } from './days.ts';
import type { Ground } from './ground.ts';
import { Journal, type Stop } from './journal.ts';
import { foundPrograms, type ProgramPlan } from './programs.ts';
import { chance } from './random.ts';
import {
  adjustPrograms,
  auditZone,
  checkSensor,
  dayOrNull,
  meterOn,
  newLife,
  note,
  photo,
  readMeter,
  repair,
  swapBattery,
  testBackflow,
  turnSeason,
} from './work.ts';
import type { World } from './world.ts';

/** Work that is not done yet and may be booked; `ideal` is the day that would suit. */
export interface Want {
  kind: VisitKind;
  ideal: number;
  /** It was planned for `ideal`, which is past, and nobody logged it. */
  overdue: boolean;
}

/** One property's three years, and what is open at the end of them. */
export interface History {
  journal: Journal;
  programs: ProgramPlan[];
  seasons: BookTables['season'][];
  wants: Want[];
}

interface Draft {
  kind: VisitKind;
  day: number;
  technician: number;
  work: (stop: Stop) => void;
}

/** Plays the years at one property: visits, what was logged at them, and what is left to do today. */
export function historyOf(world: World, ground: Ground): History {
  const rng = chance(world.seed, 'history', ground.index);
  const journal = new Journal(world, ground, rng);
  const { today } = world;
  const programs = foundPrograms(rng, ground, millisecondsOf(ground.since, 61_000));
  for (const plan of programs) journal.addFirstRevision(plan, ground.since);

  const metered = rng.yes(0.6);
  const adjustYear = world.year - rng.int(0, 2);
  const adjustDay = rng.yes(0.62) ? dayOn(adjustYear, 6, 1) + rng.int(0, 80) : null;
  const meter = meterOn(journal, adjustDay);
  const lives = ground.sensors.map((sensor, at) => newLife(journal, at, dayOrNull(sensor.baseBatteryDate)));
  const tested = ground.baseBackflowTestDue !== null;
  const drafts: Draft[] = [];
  const wants: Want[] = [];
  const technician = () => (rng.yes(0.85) ? ground.technician : rng.int(0, world.technicians.length - 1));
  const plan = (kind: VisitKind, wished: number, work: (stop: Stop) => void, who = technician()) => {
    const day = workday(world, who, wished);
    if (wished <= ground.since + 3 || day >= today) return;
    if (rng.yes(0.03)) {
      // Called off and done a week later.
      journal.addVisit(kind, day, who, { state: 'cancelled', cancelReason: rng.pick(texts.cancelReasons) });
      const again = workday(world, who, day + 7);
      if (again >= today) return;
      drafts.push({ kind, day: again, technician: who, work });
    } else drafts.push({ kind, day, technician: who, work });
  };
  const sensors = (stop: Stop, checkShare: number, swapShare: number) => {
    for (const life of lives) {
      const weak = rng.yes(checkShare) && checkSensor(journal, stop, life);
      const old = life.batteryDay === null || stop.day - life.batteryDay > 240;
      if (ground.sensors[life.at]!.link === 'wireless' && ((weak && rng.yes(0.85)) || (old && rng.yes(swapShare)))) {
        swapBattery(journal, stop, life);
        // New cells, tried again before leaving.
        if (weak && rng.yes(0.9)) checkSensor(journal, stop, life);
      }
    }
  };

  for (let year = world.year - 3; year <= world.year; year += 1) {
    const startUp = clamp(dayOn(year, 4, 1) + rng.int(0, 52) + ground.lateDays, dayOn(year, 4, 1), dayOn(year, 5, 31));
    const winterization = clamp(
      dayOn(year, 10, 1) + rng.int(0, 38) - ground.lateDays,
      dayOn(year, 9, 28),
      dayOn(year, 11, 13),
    );
    season('start-up', ground.property.servicesStartUp, startUp, (stop) => {
      journal.add(stop, {
        kind: 'start-up',
        staticPressurePsi: rng.yes(0.8)
          ? Math.round((ground.property.staticPressurePsi ?? 65) + rng.normal(0, 4))
          : null,
        zonesRun: ground.zones.length,
        backflowOpened: ground.property.backflowKind !== 'none',
        sensorsTested: ground.sensors.length > 0 && rng.yes(0.7),
      });
      sensors(stop, 0.6, 0.55);
      if (metered) readMeter(journal, stop, meter);
      if (rng.yes(0.7)) turnSeason(journal, stop, programs, 70);
      if (rng.yes(0.22)) repair(journal, stop);
      if (rng.yes(0.35)) note(journal, stop);
    });
    season('winterization', ground.property.servicesWinterization, winterization, (stop) => {
      const air = rng.yes(0.93);
      const usual =
        ground.property.pipeMaterial === 'polyethylene' ||
        ground.property.pipeMaterial === 'mixed' ||
        ground.property.pipeMaterial === 'unknown'
          ? 48
          : 72;
      const detail = {
        kind: 'winterization' as const,
        method: air ? ('compressed-air' as const) : ('gravity-drain' as const),
        airPressurePsi: air ? usual - rng.int(0, 12) : null,
        zonesBlown: air ? ground.zones.length : null,
        backflowDrained: ground.property.backflowKind !== 'none',
        controllerOff: rng.yes(0.85),
      };
      const entry = journal.add(stop, detail, rng.yes(0.12) ? 'Second pass on the low zones.' : '');
      if (air && rng.yes(0.012))
        journal.correct(entry, 'replace', { ...detail, airPressurePsi: usual - 14 }, texts.correctionReasons[0]!);
      if (metered) readMeter(journal, stop, meter);
      sensors(stop, 0.12, 0.2);
      if (rng.yes(0.25)) note(journal, stop);
    });
    if (tested && rng.yes(0.88)) {
      const who = rng.pick(world.testers);
      const day = dayOn(year, 5, 4) + rng.int(0, 62);
      const passes = rng.yes(0.94);
      plan('backflow-test', day, (stop) => testBackflow(journal, stop, passes), who);
      if (!passes && rng.yes(0.9))
        plan(
          'backflow-test',
          day + rng.int(4, 14),
          (stop) => {
            repair(journal, stop);
            testBackflow(journal, stop, true);
          },
          who,
        );
    }
    if (adjustDay !== null && year === adjustYear) {
      plan('program-adjustment', adjustDay, (stop) => {
        if (rng.yes(0.14)) auditZone(journal, stop);
        adjustPrograms(journal, stop, programs);
        journal.add(stop, { kind: 'walk-through', clientPresent: rng.yes(0.6), topics: rng.pick(texts.walkTopics) });
        if (metered) readMeter(journal, stop, meter);
        photo(journal, stop);
      });
    } else if (rng.yes(0.35))
      plan('program-adjustment', dayOn(year, 6, 12) + rng.int(0, 35), (stop) => {
        turnSeason(journal, stop, programs, rng.pick([130, 140, 150]));
        note(journal, stop);
      });
    for (
      let left = rng.weighted([
        [0, 5],
        [1, 4],
        [2, 2],
        [3, 1],
      ]);
      left > 0;
      left -= 1
    )
      plan('repair', dayOn(year, 4, 25) + rng.int(0, 165), (stop) => {
        repair(journal, stop);
        if (rng.yes(0.3)) note(journal, stop);
      });
    if (ground.sensors.length > 0 && rng.yes(0.3))
      plan(rng.yes(0.7) ? 'sensor-check' : 'battery-swap', dayOn(year, 8, 25) + rng.int(0, 30), (stop) => {
        sensors(stop, 0.9, 0.75);
        if (rng.yes(0.6)) turnSeason(journal, stop, programs, 80);
        note(journal, stop);
      });
    if (rng.yes(0.14))
      plan('walk-through', dayOn(year, 5, 20) + rng.int(0, 110), (stop) => {
        journal.add(stop, { kind: 'walk-through', clientPresent: rng.yes(0.7), topics: rng.pick(texts.walkTopics) });
        note(journal, stop);
      });
  }

  /** A season's visit: done, called off, or still open near today. */
  function season(
    kind: 'start-up' | 'winterization',
    served: boolean,
    wished: number,
    work: (stop: Stop) => void,
  ): void {
    const who = technician();
    const fate = rng.next();
    if (!served || wished <= ground.since + 3) return;
    if (wished >= today) {
      if (yearOfDay(wished) === world.year) wants.push({ kind, ideal: wished, overdue: false });
    } else if (today - wished <= 16 && fate < 0.14)
      wants.push({ kind, ideal: workday(world, who, wished), overdue: true });
    else if (today - wished <= 70 && fate < 0.05) wants.push({ kind, ideal: today, overdue: false });
    else if (fate > 0.975)
      journal.addVisit(kind, workday(world, who, wished), who, {
        state: 'cancelled',
        cancelReason: texts.cancelReasons[5]!,
      });
    else {
      const day = workday(world, who, wished);
      if (day < today) drafts.push({ kind, day, technician: who, work });
      else wants.push({ kind, ideal: day, overdue: false });
    }
  }

  drafts.sort((a, b) => a.day - b.day);
  for (const draft of drafts) {
    const stop = journal.stop(draft.kind, draft.day, draft.technician);
    const before = journal.entries.length;
    draft.work(stop);
    // A visit at which nothing stands still says so: else it would not be done.
    if (standing(journal.entries.slice(before)).length === 0)
      journal.add(stop, { kind: 'note', text: 'Nothing to do: all as it should be.' });
  }
  if (world.entriesPerProperty !== null) fill(journal, meter, world.entriesPerProperty);
  const seasons = journal.project();
  if (!ground.property.archived) wants.push(...otherWants(world, ground));
  journal.entries.sort((a, b) => (a.id < b.id ? -1 : 1));
  return { journal, programs, seasons, wants: ground.property.archived ? [] : wants };
}

function otherWants(world: World, ground: Ground): Want[] {
  const wants: Want[] = [];
  const soon = dateOf(world.today + 20);
  const yearAgo = dateOf(world.today - 350);
  if (ground.property.backflowTestDue !== null && ground.property.backflowTestDue <= soon)
    wants.push({ kind: 'backflow-test', ideal: world.today, overdue: false });
  if (
    ground.sensors.some(
      (sensor) =>
        sensor.link === 'wireless' &&
        (sensor.batteryDate === null ||
          sensor.batteryDate < yearAgo ||
          (sensor.cellsGood ?? sensor.batteryCells) < sensor.batteryCells),
    )
  )
    wants.push({ kind: 'battery-swap', ideal: world.today, overdue: false });
  else if (
    ground.sensors.some(
      (sensor) => sensor.lastCheckPassed === false || sensor.lastCheckDate === null || sensor.lastCheckDate < yearAgo,
    )
  )
    wants.push({ kind: 'sensor-check', ideal: world.today, overdue: false });
  return wants;
}

/** More small jobs until the property has this many entries: for a large book. They change nothing else. */
function fill(journal: Journal, meter: (day: number) => number, target: number): void {
  const { world, ground, rng } = journal;
  while (journal.entries.length < target) {
    const who = rng.int(0, world.technicians.length - 1);
    const day = ground.since + 4 + rng.int(0, Math.max(0, world.today - ground.since - 6));
    const stop = journal.stop(rng.pick(['repair', 'walk-through']), day, who);
    for (let left = Math.min(rng.int(2, 7), target - journal.entries.length); left > 0; left -= 1) {
      const kind = rng.int(0, 5);
      if (kind === 0)
        journal.add(stop, { kind: 'walk-through', clientPresent: rng.yes(0.5), topics: rng.pick(texts.walkTopics) });
      else if (kind === 1) journal.add(stop, { kind: 'meter-read', meter: 'main', readingGallons: meter(day) });
      else if (kind === 2) journal.add(stop, { kind: 'note', text: rng.pick(texts.notes) });
      else if (kind === 3) photo(journal, stop);
      else {
        const job = rng.pick(texts.repairs);
        if (kind === 4)
          journal.add(stop, {
            kind: 'repair',
            zoneId: rng.pick(ground.zones).zone.id,
            what: job.what,
            minutesSpent: job.minutes,
            closesFindingId: null,
          });
        else
          journal.add(stop, {
            kind: 'part-used',
            part: String(job.parts[0]![0]),
            quantity: rng.int(1, 4),
            unitPriceCents: Number(job.parts[0]![1]),
          });
      }
    }
  }
}

/** The first day from `day` on that a technician works. */
export function workday(world: World, technician: number, day: number): number {
  const { workWeekdays } = world.technicians[technician]!;
  while (!workWeekdays.includes(weekdayOfDay(day))) day += 1;
  return day;
}

const clamp = (value: number, from: number, to: number) => Math.min(to, Math.max(from, value));
