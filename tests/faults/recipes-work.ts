import type { ProgramSettings } from '../../core/programs/contract.ts';
import type { InputOf, RequestName } from '../../core/contract/index.ts';
import { LEDGER_KINDS, type LedgerKind } from '../../core/ledger/entry-contract.ts';
import type { Chance } from '../../core/demo/random.ts';
import type { World } from './world.ts';

// How to ask for visits, work and programs so that the book can say yes: chance alone would never hit on two ids that
// belong together.

export type Recipe<N extends RequestName> = (world: World, chance: Chance) => InputOf<N> | null;
type Site = World['sites'] extends Map<string, infer S> ? S : never;

export const TODAY = '2026-06-15';
export const newId = (chance: Chance) => chance.ulid(1_780_000_000_000 + chance.int(0, 1e9));
export const anyOf = <T>(chance: Chance, map: ReadonlyMap<string, T>): T | undefined =>
  map.size === 0 ? undefined : [...map.values()][chance.int(0, map.size - 1)];
const two = (figure: number) => String(figure).padStart(2, '0');
export const dayIn = (chance: Chance, fromYear: number, toYear: number) =>
  `${chance.int(fromYear, toYear)}-${two(chance.int(1, 12))}-${two(chance.int(1, 28))}`;
const pastDay = (chance: Chance) => `2026-0${chance.int(1, 5)}-${two(chance.int(1, 28))}`;
const clock = (chance: Chance) => `${two(chance.int(0, 23))}:${two(chance.int(0, 59))}`;

export function siteWith(world: World, chance: Chance, fits: (site: Site) => boolean = () => true): Site | null {
  const sites = [...world.sites.values()].filter(fits);
  return sites.length === 0 ? null : chance.pick(sites);
}

export function settingsFor(site: Site, controllerId: string, chance: Chance): ProgramSettings {
  const zones = site.zones.filter((zone) => zone.controllerId === controllerId && !zone.retired);
  return {
    days: chance.pick<ProgramSettings['days']>([
      { kind: 'weekdays', weekdays: [chance.int(1, 3), chance.int(4, 7)] },
      { kind: 'odd', monthEnd: chance.pick(['water', 'skip']) },
      { kind: 'even' },
      { kind: 'interval', everyDays: chance.int(1, 31), startDate: pastDay(chance) },
    ]),
    startTimes: chance.yes(0.1) ? [] : [clock(chance)],
    seasonalPercent: chance.int(0, 300),
    runs: zones.map((zone) => ({
      zoneId: zone.id,
      runMinutes: chance.range(0, 60),
      cycleMinutes: chance.yes(0.3) ? chance.range(1, 30) : null,
      soakMinutes: chance.yes(0.3) ? chance.range(0, 60) : null,
    })),
    enabled: chance.yes(0.9),
  };
}

type Detail = InputOf<'visit.record'>['entries'][number]['detail'];

/** Facts of one kind at a property, or null where the property has nothing such facts could be about. */
function detailOf(kind: LedgerKind, site: Site, chance: Chance): Detail | null {
  const sensor = site.sensors[0];
  const zone = site.zones[0];
  const program = site.programs[0];
  switch (kind) {
    case 'battery-swap':
      return sensor ? { kind, sensorId: sensor.id, cells: chance.int(1, 8) } : null;
    case 'sensor-check':
      return sensor
        ? { kind, sensorId: sensor.id, rainTrip: chance.pick(['pass', 'fail']), cellsGood: chance.int(0, 8) }
        : null;
    case 'run-time-change':
      return program && zone
        ? { kind, programId: program.id, revisionId: newId(chance), startTimes: [clock(chance)], reason: 'as asked' }
        : null;
    case 'start-up':
      return { kind, staticPressurePsi: chance.int(0, 300), zonesRun: chance.int(0, 99) };
    case 'winterization':
      return { kind, airPressurePsi: chance.int(1, 120), zonesBlown: chance.int(0, 99) };
    case 'repair':
      return { kind, zoneId: zone?.id ?? null, what: 'riser', minutesSpent: chance.int(0, 1440) };
    case 'part-used':
      return { kind, part: 'nozzle', quantity: chance.range(0.01, 10_000), unitPriceCents: chance.int(0, 10_000_000) };
    case 'meter-read':
      return { kind, readingGallons: chance.range(0, 1e10) };
    case 'backflow-test':
      return { kind, passed: chance.yes(0.5), nextDue: dayIn(chance, 2026, 2030) };
    case 'walk-through':
      return { kind, topics: 'the back lawn' };
    case 'zone-audit':
      return zone
        ? {
            kind,
            zoneId: zone.id,
            volumesMl: Array.from({ length: chance.int(4, 24) }, () => chance.range(1, 90)),
            throatAreaIn2: chance.range(5, 20),
            runMinutes: chance.range(5, 30),
          }
        : null;
    case 'manual-run':
      return zone ? { kind, zoneId: zone.id, runMinutes: chance.range(0.5, 720), why: 'a new lawn' } : null;
    case 'finding':
      return {
        kind,
        zoneId: zone?.id ?? null,
        place: 'by the box',
        what: 'a wet spot',
        urgency: chance.pick(['at-once', 'soon']),
      };
    case 'decision':
      return { kind, what: 'left as it is', decidedBy: chance.pick(['client', 'office']) };
    case 'not-done':
      return { kind, why: chance.pick(['no-access', 'client-away', 'declined', 'weather', 'other']) };
    case 'photo':
      return { kind, fileName: 'box.jpg', caption: 'the box' };
    case 'note':
      return { kind, text: 'x'.repeat(chance.int(1, 300)) };
    default:
      return { kind: 'note', text: `a kind this recipe does not know: ${kind satisfies never}` };
  }
}

export const workRecipes = {
  'visit.book': (world, chance) => {
    const site = siteWith(world, chance);
    return (
      site && {
        writeId: newId(chance),
        visitId: newId(chance),
        propertyId: site.property.id,
        kind: chance.pick(['start-up', 'winterization', 'repair', 'walk-through']),
        date: dayIn(chance, 2026, 2027),
        technicianId: chance.yes(0.7) ? chance.pick(world.people.technicians).id : null,
        windowFrom: chance.yes(0.3) ? '08:00' : null,
        windowTo: chance.yes(0.3) ? '10:30' : null,
      }
    );
  },
  'visit.move': (world, chance) => {
    const visit = anyOf(chance, world.planned);
    return visit
      ? {
          writeId: newId(chance),
          visitId: visit.id,
          date: dayIn(chance, 2026, 2027),
          technicianId: chance.pick(world.people.technicians).id,
          locked: false,
          ...(chance.yes(0.3) ? { orderInDay: chance.int(1, 200) } : {}),
        }
      : null;
  },
  'visit.cancel': (world, chance) => {
    const back = chance.yes(0.4) ? anyOf(chance, world.cancelled) : undefined;
    const visit = back ?? anyOf(chance, world.planned);
    return visit ? { writeId: newId(chance), visitId: visit.id, restore: back !== undefined, reason: 'rain' } : null;
  },
  'visit.record': (world, chance) => {
    const site = siteWith(world, chance);
    if (!site) return null;
    const open = [...world.planned.values()].filter((visit) => visit.propertyId === site.property.id);
    const planned = open.length > 0 && chance.yes(0.4) ? chance.pick(open).id : null;
    const unplanned = planned === null && chance.yes(0.5);
    return {
      writeId: newId(chance),
      propertyId: site.property.id,
      visitId: planned ?? (unplanned ? newId(chance) : null),
      unplannedKind: unplanned ? 'repair' : null,
      technicianId: chance.yes(0.7) ? chance.pick(world.people.technicians).id : null,
      doneOn: pastDay(chance),
      entries: Array.from({ length: chance.int(1, 4) }, () => ({
        id: newId(chance),
        note: chance.yes(0.5) ? 'noted' : '',
        detail: detailOf(chance.pick(LEDGER_KINDS), site, chance) ?? { kind: 'note' as const, text: 'nothing there' },
      })),
    };
  },
  'ledger.correct': (world, chance) => {
    const entry = anyOf(chance, world.entries);
    const site = entry && world.sites.get(entry.propertyId);
    if (!entry || !site) return null;
    const detail = chance.yes(0.7) ? detailOf(entry.kind, site, chance) : null;
    return {
      writeId: newId(chance),
      id: newId(chance),
      correctsId: entry.id,
      correction: detail === null ? 'void' : 'replace',
      reason: 'written to the wrong house',
      detail,
    };
  },
  'visit.list': (_world, chance) => ({
    fromDate: dayIn(chance, 2024, 2025),
    toDate: dayIn(chance, 2026, 2028),
  }),
  'day.open': (world, chance) => {
    const visit = [...world.planned.values()].find((one) => one.technicianId !== null);
    return visit && chance.yes(0.5)
      ? { technicianId: visit.technicianId!, date: visit.date }
      : { technicianId: chance.pick(world.people.technicians).id, date: dayIn(chance, 2025, 2027) };
  },
  'program.revise': (world, chance) => {
    const site = siteWith(world, chance, (one) => one.controllers.length > 0);
    if (!site) return null;
    const program = chance.yes(0.8) ? site.programs[0] : undefined;
    const controllerId = program?.controllerId ?? chance.pick(site.controllers).id;
    return {
      writeId: newId(chance),
      programId: program?.id ?? newId(chance),
      revisionId: newId(chance),
      controllerId,
      name: 'B',
      effectiveDate: dayIn(chance, 2025, 2027),
      settings: settingsFor(site, controllerId, chance),
    };
  },
  'program.week': (world, chance) => {
    const site = siteWith(world, chance, (one) => one.programs.length > 0);
    if (!site) return null;
    const { id, controllerId } = chance.pick(site.programs);
    return {
      propertyId: site.property.id,
      date: dayIn(chance, 1900, 2199),
      instead: chance.yes(0.5) ? [{ programId: id, settings: settingsFor(site, controllerId, chance) }] : [],
    };
  },
  'program.accept': (world, chance) => {
    const site = siteWith(world, chance, (one) => one.programs.length > 0);
    if (!site) return null;
    const program = chance.pick(site.programs);
    return {
      writeId: newId(chance),
      propertyId: site.property.id,
      doneOn: pastDay(chance),
      programs: [
        {
          programId: program.id,
          revisionId: newId(chance),
          entryId: newId(chance),
          settings: settingsFor(site, program.controllerId, chance),
        },
      ],
    };
  },
  'zone.trace': (world, chance) => {
    const site = siteWith(world, chance, (one) => one.zones.length > 0);
    const year = chance.int(1990, 2100);
    return (
      site && {
        zoneId: chance.pick(site.zones).id,
        fromDate: `${year}-${two(chance.int(1, 12))}-01`,
        toDate: `${year + 1}-${two(chance.int(1, 12))}-01`,
        programs: chance.pick(['in-force', 'advice']),
      }
    );
  },
} satisfies { [N in RequestName]?: Recipe<N> };
