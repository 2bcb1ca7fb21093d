import type { LedgerDetail, LedgerKind } from './entry-contract.ts';
import { backflowDue, seasonYear, sensorFacts, type SensorFacts } from './facts.ts';

// The one table of effects: what each kind of ledger entry decides. Recording, correcting, importing, the demo and the
// check of the book all count by it. An entry counts while it stands (not corrected, not declared void); of several that
// decide one thing the latest counts, by the day of the work and, of one day, by the order of recording.

/** An entry that stands. `place` is its bookPlace: its number in the order of recording. */
export interface StandingEntry {
  id: string;
  /** The id of its first version: what others name it by, however often it was corrected. */
  firstId: string;
  propertyId: string;
  place: number;
  doneOn: string;
  detail: LedgerDetail;
}

type Of<K extends LedgerKind> = Omit<StandingEntry, 'detail'> & { detail: Extract<LedgerDetail, { kind: K }> };
/** A value that an entry says, and when. */
interface Told<T> {
  id: string;
  place: number;
  doneOn: string;
  detail: T;
}
type Detail<K extends LedgerKind> = Extract<LedgerDetail, { kind: K }>;

export interface ZoneRate {
  prMethod: string;
  precipitationRateInPerHour: number | null;
  distributionUniformity: number | null;
}
export interface SeasonFacts {
  startedUpOn: string | null;
  startUpEntryId: string | null;
  winterizedOn: string | null;
  winterizationEntryId: string | null;
}
/** A finding that stands: the entry that says it now, and what closed it. */
export interface FindingFacts {
  entryId: string;
  closedByEntryId: string | null;
}

/** What entries say so far about one sensor, zone, assembly, or a property's seasons or findings. */
interface States {
  sensor: {
    swap: Told<Detail<'battery-swap'>> | null;
    check: Told<Detail<'sensor-check'>> | null;
    rain: Told<number> | null;
    freeze: Told<number> | null;
  };
  zone: { rate: Told<ZoneRate> | null };
  backflow: { test: Told<Detail<'backflow-test'>> | null };
  /** By year. */
  seasons: Map<number, { 'start-up': Told<null> | null; winterization: Told<null> | null }>;
  /** By the id of a finding's first version. */
  findings: Map<string, { found: Told<null> | null; closer: Told<null> | null }>;
}

/** What entries decide about: a sensor or zone by its id, the others by their property's. */
export type Thing = keyof States;
export interface Target {
  thing: Thing;
  id: string;
}

const BEGIN: { [T in Thing]: () => States[T] } = {
  sensor: () => ({ swap: null, check: null, rain: null, freeze: null }),
  zone: () => ({ rate: null }),
  backflow: () => ({ test: null }),
  seasons: () => new Map(),
  findings: () => new Map(),
};
export const THINGS = Object.keys(BEGIN) as Thing[];

/** Of which the office's form of a property shows a value that it can say anew; the others are told by work alone. */
export const IN_FORM: Readonly<Record<Thing, boolean>> = {
  sensor: true,
  zone: true,
  backflow: true,
  seasons: false,
  findings: false,
};

interface Effect<K extends LedgerKind, T extends Thing> {
  thing: T;
  /** Which of them; null = this entry decides nothing. */
  of(entry: Pick<Of<K>, 'propertyId' | 'detail'>): string | null;
  say(state: States[T], entry: Of<K>): void;
}
type AnyEffect<K extends LedgerKind> = { [T in Thing]: Effect<K, T> }[Thing];

const onProperty = (entry: { propertyId: string }) => entry.propertyId;
const closes: Effect<'repair' | 'decision', 'findings'> = {
  thing: 'findings',
  // Entries of before there were findings name nothing at all.
  of: (entry) => (typeof entry.detail.closesFindingId === 'string' ? entry.propertyId : null),
  say(findings, entry) {
    const finding = findingIn(findings, entry.detail.closesFindingId!);
    finding.closer = earlier(finding.closer, told(entry, null));
  },
};
const season = <K extends 'start-up' | 'winterization'>(kind: K): Effect<K, 'seasons'> => ({
  thing: 'seasons',
  of: onProperty,
  say(seasons, entry) {
    const year = seasonYear(kind, entry.doneOn);
    const one = seasons.get(year) ?? { 'start-up': null, winterization: null };
    one[kind] = later(one[kind], told(entry, null));
    seasons.set(year, one);
  },
});

/** A row for every kind. Those without an effect say something, and decide nothing. */
const EFFECTS: { [K in LedgerKind]: readonly AnyEffect<K>[] } = {
  'battery-swap': [
    {
      thing: 'sensor',
      of: (entry) => entry.detail.sensorId,
      say: (sensor, entry) => void (sensor.swap = later(sensor.swap, told(entry, entry.detail))),
    },
  ],
  'sensor-check': [
    {
      thing: 'sensor',
      of: (entry) => entry.detail.sensorId,
      say(sensor, entry) {
        const { rainSetPointInches: rain, freezeSetPointF: freeze } = entry.detail;
        sensor.check = later(sensor.check, told(entry, entry.detail));
        // A check that names no set point says nothing about it.
        if (typeof rain === 'number') sensor.rain = later(sensor.rain, told(entry, rain));
        if (typeof freeze === 'number') sensor.freeze = later(sensor.freeze, told(entry, freeze));
      },
    },
  ],
  'zone-audit': [
    {
      thing: 'zone',
      of: (entry) => entry.detail.zoneId,
      say(zone, entry) {
        const { precipitationRateInPerHour, distributionUniformity } = entry.detail;
        const rate = { prMethod: 'catch-can', precipitationRateInPerHour, distributionUniformity };
        zone.rate = later(zone.rate, told(entry, rate));
      },
    },
  ],
  'backflow-test': [
    {
      thing: 'backflow',
      of: onProperty,
      say: (assembly, entry) => void (assembly.test = later(assembly.test, told(entry, entry.detail))),
    },
  ],
  'start-up': [season('start-up')],
  winterization: [season('winterization')],
  finding: [
    {
      thing: 'findings',
      of: onProperty,
      say: (findings, entry) => void (findingIn(findings, entry.firstId).found = told(entry, null)),
    },
  ],
  repair: [closes],
  decision: [closes],
  // Its revision is a link of the chain itself; the entry that corrects it marks the revision void.
  'run-time-change': [],
  'part-used': [],
  'meter-read': [],
  'walk-through': [],
  'manual-run': [],
  'not-done': [],
  photo: [],
  note: [],
};

const effectsOf = (kind: LedgerKind): readonly Effect<any, any>[] => EFFECTS[kind];

/** The kinds that say something about a sensor, a zone, and so on. */
export function kindsAbout(thing: Thing): LedgerKind[] {
  return (Object.keys(EFFECTS) as LedgerKind[]).filter((kind) =>
    effectsOf(kind).some((effect) => effect.thing === thing),
  );
}

/** What an entry of this kind decides about, whether it still stands or not: all of it is to be worked out again when it comes or goes. */
export function targetsOf(entry: Pick<StandingEntry, 'propertyId' | 'detail'>): Target[] {
  return effectsOf(entry.detail.kind).flatMap(({ thing, of }) => {
    const id = of(entry);
    return id === null ? [] : [{ thing, id }];
  });
}

/** When the office, or a list it imported, said a value: a day, and how many links the book held then; no day = before all work. */
export interface OfficeDay {
  on: string | null;
  place: number | null;
}
export interface SensorBase {
  batteryDate: string | null;
  rain: OfficeDay & { value: number | null };
  freeze: OfficeDay & { value: number | null };
}
export type ZoneBase = OfficeDay & { rate: ZoneRate };
export interface SensorColumns extends SensorFacts {
  rainSetPointInches: number | null;
  freezeSetPointF: number | null;
}

/** Counts standing entries, in any order, and says what follows from them. */
export class Recount {
  private readonly states: { [T in Thing]: Map<string, States[T]> } = {
    sensor: new Map(),
    zone: new Map(),
    backflow: new Map(),
    seasons: new Map(),
    findings: new Map(),
  };

  take(entry: StandingEntry): void {
    for (const { thing, of, say } of effectsOf(entry.detail.kind)) {
      const id = of(entry);
      if (id === null) continue;
      const states: Map<string, unknown> = this.states[thing as Thing];
      let state = states.get(id);
      if (state === undefined) states.set(id, (state = BEGIN[thing as Thing]()));
      say(state, entry);
    }
  }

  /** A sensor's battery date, last check and set points. */
  sensor(id: string, base: SensorBase): SensorColumns {
    const state = this.states.sensor.get(id);
    return {
      ...sensorFacts(base.batteryDate, state?.swap ?? null, state?.check ?? null),
      rainSetPointInches: latest(state?.rain, base.rain, base.rain.value),
      freezeSetPointF: latest(state?.freeze, base.freeze, base.freeze.value),
    };
  }

  /** How a zone's precipitation rate and uniformity are known. */
  zone(id: string, base: ZoneBase): ZoneRate {
    return latest(this.states.zone.get(id)?.rate, base, base.rate);
  }

  /** When a property's backflow assembly must be tested next. */
  backflow(propertyId: string, base: string | null): string | null {
    return backflowDue(base, this.states.backflow.get(propertyId)?.test ?? null);
  }

  /** A property's seasons by year. */
  seasons(propertyId: string): Map<number, SeasonFacts> {
    const seasons = new Map<number, SeasonFacts>();
    for (const [year, { 'start-up': startUp, winterization }] of this.states.seasons.get(propertyId) ?? [])
      seasons.set(year, {
        startedUpOn: startUp?.doneOn ?? null,
        startUpEntryId: startUp?.id ?? null,
        winterizedOn: winterization?.doneOn ?? null,
        winterizationEntryId: winterization?.id ?? null,
      });
    return seasons;
  }

  /** A property's findings that stand, by the id of their first version. */
  findings(propertyId: string): Map<string, FindingFacts> {
    const findings = new Map<string, FindingFacts>();
    for (const [id, { found, closer }] of this.states.findings.get(propertyId) ?? [])
      if (found !== null) findings.set(id, { entryId: found.id, closedByEntryId: closer?.id ?? null });
    return findings;
  }

  /** The properties that anything was said of. */
  properties(thing: 'seasons' | 'findings'): string[] {
    return [...this.states[thing].keys()];
  }
}

function findingIn(findings: States['findings'], id: string) {
  let finding = findings.get(id);
  if (finding === undefined) findings.set(id, (finding = { found: null, closer: null }));
  return finding;
}

const told = <T>({ id, place, doneOn }: Omit<StandingEntry, 'detail'>, detail: T): Told<T> => ({
  id,
  place,
  doneOn,
  detail,
});

function isAfter(a: { doneOn: string; place: number }, b: { doneOn: string; place: number }): boolean {
  return a.doneOn > b.doneOn || (a.doneOn === b.doneOn && a.place > b.place);
}
const later = <T>(a: Told<T> | null, b: Told<T>): Told<T> => (a === null || isAfter(b, a) ? b : a);
const earlier = <T>(a: Told<T> | null, b: Told<T>): Told<T> => (a === null || isAfter(a, b) ? b : a);

/** The later of what an entry and what the office says. */
function latest<T>(entry: Told<T> | null | undefined, { on, place }: OfficeDay, office: T): T;
function latest<T>(entry: Told<Exclude<T, null>> | null | undefined, { on, place }: OfficeDay, office: T): T;
function latest<T>(entry: Told<T> | null | undefined, { on, place }: OfficeDay, office: T): T {
  if (!entry) return office;
  return on === null || isAfter(entry, { doneOn: on, place: place ?? 0 }) ? entry.detail : office;
}
