import texts from '../../assets/demo/texts.json' with { type: 'json' };
import type { VisitKind } from '../contract/parts.ts';
import { dateOf } from './days.ts';
import { workday, type Want } from './history.ts';
import type { Journal } from './journal.ts';
import { chance, type Chance } from './random.ts';
import type { World } from './world.ts';

/** What booking needs to remember of a property after it has been written. */
export interface OpenProperty {
  journal: Journal;
  technician: number;
  wants: Want[];
}

const AHEAD_WORKDAYS = 20;
/** Stops a day: a full one today and tomorrow, thinning out. */
const stopsOn = (ahead: number) => (ahead === 0 ? 8 : ahead <= 2 ? 7 : ahead <= 6 ? 5 : 3);
/** So many of a technician's properties stay without a booking, or nothing would be left to do in the office. */
const LEFT_UNBOOKED = 0.4;

/** Books the coming weeks of the whole company, and leaves some visits of the last days unlogged. Adds to the journals' visits. */
export function bookAhead(world: World, properties: readonly OpenProperty[]): void {
  const rng = chance(world.seed, 'bookings');
  for (const { journal, technician, wants } of properties) {
    for (const want of wants) if (want.overdue) journal.addVisit(want.kind, want.ideal, technician, {});
  }
  for (let who = 0; who < world.technicians.length; who += 1)
    bookTechnician(
      world,
      rng,
      who,
      properties.filter((property) => property.technician === who),
    );
}

function bookTechnician(world: World, rng: Chance, who: number, mine: readonly OpenProperty[]): void {
  const queue = [...mine]
    .map((property) => ({ property, urgency: urgencyOf(world, rng, property.wants) }))
    .sort((a, b) => b.urgency - a.urgency);
  let room = Math.max(Math.min(8, queue.length), Math.floor(queue.length * (1 - LEFT_UNBOOKED)));
  let late = Math.min(3, Math.floor(queue.length / 6));
  let day = world.today;
  for (let ahead = 0; ahead < AHEAD_WORKDAYS && room > 0; ahead += 1) {
    for (let stops = stopsOn(ahead); stops > 0 && room > 0; stops -= 1, room -= 1) {
      const next = queue.shift();
      if (!next) return;
      const kind = kindFor(world, rng, who, next.property, day);
      next.property.journal.addVisit(kind, day, who, {
        note: rng.yes(0.25) ? rng.pick(texts.clientNotes) : '',
        locked: rng.yes(0.08) ? 1 : 0,
      });
    }
    if (late > 0 && queue.length > 0) {
      late -= 1;
      const forgotten = queue.pop()!;
      const past = workday(world, who, world.today - 3 - rng.int(0, 9));
      if (past < world.today) forgotten.property.journal.addVisit(ordinaryKind(world, rng, who, past), past, who, {});
    }
    day = workday(world, who, day + 1);
  }
}

/** Who is seen first: seasons whose day is near or past, then what is due, then everybody else. */
function urgencyOf(world: World, rng: Chance, wants: readonly Want[]): number {
  let urgency = rng.next();
  for (const want of wants) {
    if (want.overdue) urgency -= 2;
    else if (want.kind === 'start-up' || want.kind === 'winterization')
      urgency += want.ideal - world.today < 25 ? 1.2 : 0;
    else urgency += 0.45;
  }
  return urgency;
}

function kindFor(world: World, rng: Chance, who: number, property: OpenProperty, day: number): VisitKind {
  for (const want of property.wants) {
    if (want.overdue) continue;
    if (want.kind === 'backflow-test' && !world.testers.includes(who)) continue;
    if ((want.kind === 'start-up' || want.kind === 'winterization') && want.ideal - day > 25) continue;
    return want.kind;
  }
  return ordinaryKind(world, rng, who, day);
}

/** Something to do in any season. */
function ordinaryKind(world: World, rng: Chance, who: number, day: number): VisitKind {
  const month = Number(dateOf(day).slice(5, 7));
  const repairs = world.technicians[who]!.skills.includes('repair') ? 4 : 0;
  if (month <= 3 || month >= 11)
    return rng.weighted<VisitKind>([
      ['repair', repairs],
      ['walk-through', 3],
      ['sensor-check', 2],
      ['battery-swap', 2],
    ]);
  return rng.weighted<VisitKind>([
    ['program-adjustment', 4],
    ['repair', repairs],
    ['walk-through', 2],
    ['sensor-check', 2],
  ]);
}
