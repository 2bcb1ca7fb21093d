import type { Insertable } from 'kysely';
import type { ProgramSettings } from '../programs/contract.ts';
import type { VisitKind } from '../contract/parts.ts';
import type { Link } from '../store/chain.ts';
import type { LedgerDetail } from '../ledger/entry-contract.ts';
import { Recount, sensorBaseOf, standing, zoneBaseOf } from '../ledger/index.ts';
import type { BookTables } from '../store/tables.ts';
import { USUAL_MINUTES } from '../visits/index.ts';
import { dateOf, millisecondsOf, momentOf } from './days.ts';
import type { Ground } from './ground.ts';
import type { ProgramPlan } from './programs.ts';
import type { Chance } from './random.ts';
import type { World } from './world.ts';

export type Entry = Omit<BookTables['ledgerEntry'], 'detail' | keyof Link> & { detail: LedgerDetail };
/** A revision before it has its place in the chain. */
export type Revision = Omit<BookTables['programRevision'], 'runCount' | keyof Link>;
export type VisitRow = Insertable<BookTables['visit']>;

/** One stop while it is being logged: entries follow each other by a few minutes. */
export interface Stop {
  day: number;
  visitId: string | null;
  technician: number;
  second: number;
}

/** Everything written about one property: the demo keeps to the rules of recording and correcting. */
export class Journal {
  readonly world: World;
  readonly ground: Ground;
  readonly rng: Chance;
  readonly visits: VisitRow[] = [];
  readonly entries: Entry[] = [];
  readonly revisions: Revision[] = [];
  readonly runs: BookTables['programRun'][] = [];

  constructor(world: World, ground: Ground, rng: Chance) {
    this.world = world;
    this.ground = ground;
    this.rng = rng;
  }

  /** A done visit; what is logged at it comes next. */
  stop(kind: VisitKind, day: number, technician: number): Stop {
    const { rng } = this;
    const late = rng.yes(0.05) ? rng.int(1, 3) : 0;
    const visitId = this.addVisit(kind, day - late, technician, { state: 'done', doneOn: dateOf(day) });
    return { day, visitId, technician, second: 50_400 + rng.int(0, 18_000) };
  }

  addVisit(kind: VisitKind, day: number, technician: number | null, more: Partial<VisitRow>): string {
    const { rng } = this;
    const id = rng.ulid(millisecondsOf(day - rng.int(6, 25), 60_000 + rng.int(0, 9000)));
    const from = rng.yes(0.3) ? rng.int(8, 14) : null;
    this.visits.push({
      id,
      propertyId: this.ground.property.id,
      kind,
      state: 'planned',
      date: dateOf(day),
      windowFrom: from === null ? null : `${String(from).padStart(2, '0')}:00`,
      windowTo: from === null ? null : `${String(from + 2).padStart(2, '0')}:00`,
      technicianId: technician === null ? null : this.world.technicians[technician]!.id,
      orderInDay: 1,
      expectedMinutes:
        USUAL_MINUTES[kind] +
        (kind === 'start-up' || kind === 'winterization' ? Math.max(0, this.ground.zones.length - 10) * 2 : 0),
      locked: 0,
      note: '',
      doneOn: null,
      cancelReason: '',
      ...more,
    });
    return id;
  }

  add(stop: Stop, detail: LedgerDetail, note = ''): Entry {
    stop.second = Math.min(86_300, stop.second + this.rng.int(40, 380));
    const sensorId = 'sensorId' in detail ? detail.sensorId : null;
    const zoneId = 'zoneId' in detail ? detail.zoneId : null;
    const entry: Entry = {
      id: this.rng.ulid(millisecondsOf(stop.day, stop.second)),
      propertyId: this.ground.property.id,
      visitId: stop.visitId,
      technicianId: this.world.technicians[stop.technician]!.id,
      kind: detail.kind,
      doneOn: dateOf(stop.day),
      recordedAt: momentOf(stop.day, stop.second),
      sensorId,
      zoneId,
      note,
      detail,
      correctsId: null,
      correction: null,
      correctionReason: '',
    };
    this.entries.push(entry);
    return entry;
  }

  /** A correction, written some days later but before today. */
  correct(entry: Entry, correction: 'replace' | 'void', detail: LedgerDetail, reason: string): Entry {
    const day = Math.min(
      this.world.today - 1,
      Math.floor(Date.parse(entry.recordedAt) / 86_400_000) + this.rng.int(0, 4),
    );
    const second = Math.min(
      86_390,
      Math.floor((Date.parse(entry.recordedAt) % 86_400_000) / 1000) + this.rng.int(60, 4000),
    );
    const later: Entry = {
      ...entry,
      id: this.rng.ulid(millisecondsOf(day, second)),
      recordedAt: momentOf(day, second),
      detail,
      correctsId: entry.id,
      correction,
      correctionReason: reason,
    };
    this.entries.push(later);
    return later;
  }

  /** The first revision of a program, as it was found; no ledger entry made it. */
  addFirstRevision(plan: ProgramPlan, day: number): void {
    this.addRevision(
      plan,
      this.rng.ulid(millisecondsOf(day, 61_000)),
      day,
      61_000,
      'office',
      'As found when we took the system over',
      null,
    );
  }

  /** A change on site: one ledger entry and the revision it makes. Nothing where nothing changes. */
  change(
    stop: Stop,
    plan: ProgramPlan,
    settings: ProgramSettings,
    reason: string,
    note = '',
  ): { entry: Entry; revision: Revision } | null {
    const old = plan.settings;
    if (JSON.stringify(old) === JSON.stringify(settings)) return null;
    const revisionId = this.rng.ulid(millisecondsOf(stop.day, stop.second + 1));
    const before = new Map(old.runs.map((run) => [run.zoneId, run.runMinutes]));
    const entry = this.add(
      stop,
      {
        kind: 'run-time-change',
        programId: plan.id,
        revisionId,
        changes: settings.runs
          .map((run) => ({ zoneId: run.zoneId, oldMinutes: before.get(run.zoneId) ?? 0, newMinutes: run.runMinutes }))
          .filter((one) => one.oldMinutes !== one.newMinutes),
        oldSeasonalPercent: old.seasonalPercent,
        newSeasonalPercent: settings.seasonalPercent,
        daysChanged: JSON.stringify(old.days) !== JSON.stringify(settings.days),
        startTimesChanged: JSON.stringify(old.startTimes) !== JSON.stringify(settings.startTimes),
        cyclesChanged: false,
        switched: null,
        madeProgram: false,
        reason,
      },
      note,
    );
    plan.settings = settings;
    plan.revisions += 1;
    const revision = this.addRevision(
      plan,
      revisionId,
      stop.day,
      stop.second,
      this.world.technicians[stop.technician]!.name,
      reason,
      entry.id,
    );
    return { entry, revision };
  }

  private addRevision(
    plan: ProgramPlan,
    id: string,
    day: number,
    second: number,
    madeBy: string,
    reason: string,
    ledgerEntryId: string | null,
  ): Revision {
    const { settings } = plan;
    const revision: Revision = {
      id,
      programId: plan.id,
      propertyId: this.ground.property.id,
      revisionNumber: plan.revisions,
      effectiveDate: dateOf(day),
      recordedAt: momentOf(day, second),
      madeBy,
      reason,
      days: JSON.stringify(settings.days),
      startTimes: JSON.stringify(settings.startTimes),
      seasonalPercent: settings.seasonalPercent,
      enabled: 1,
      ledgerEntryId,
      voidedByEntryId: null,
    };
    this.revisions.push(revision);
    for (const run of settings.runs) this.runs.push({ revisionId: id, ...run });
    return revision;
  }

  /** What the ledger decides (battery dates, last checks, set points, zone rates, next backflow test, seasons), by the book's own rules. */
  project(): BookTables['season'][] {
    const { ground, entries } = this;
    const effective = standing(entries)
      .sort((a, b) => (a.doneOn === b.doneOn ? (a.id < b.id ? -1 : 1) : a.doneOn < b.doneOn ? -1 : 1))
      // They are written in the order of their ids, so of one day this is the order of recording.
      .map((entry, place) => ({ ...entry, place }));
    const counted = new Recount();
    for (const entry of effective) counted.take({ ...entry, firstId: entry.id });
    for (const sensor of ground.sensors) Object.assign(sensor, counted.sensor(sensor.id, sensorBaseOf(sensor)));
    for (const { zone, base } of ground.zones) Object.assign(zone, counted.zone(zone.id, zoneBaseOf(base)));
    const propertyId = ground.property.id;
    ground.property.backflowTestDue = counted.backflow(propertyId, ground.baseBackflowTestDue);
    return [...counted.seasons(propertyId)].map(([year, season]) => ({ propertyId, year, ...season }));
  }
}
