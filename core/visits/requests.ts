import type { Handler, Context } from '../context.ts';
import { type Visit, SKILL_FOR_VISIT } from './contract.ts';
import { BookError } from '../errors.ts';
import { mustExist } from '../store/rows.ts';
import {
  insertVisit,
  placeInDay,
  readVisit,
  USUAL_MINUTES,
  mustReadVisit,
  renumberDay,
  updateVisit,
  visitsOfDay,
  bookedLoad,
  listVisits,
} from './queries.ts';
import { fact, type Fact } from '../text/say.ts';
import { weekdayOf, minutesOfClock, datesFrom } from '../dates.ts';
import { readTechnician, readTechnicians, readPeople } from '../people/index.ts';
import type { Technician } from '../people/contract.ts';
import { dueJudge, readDueFacts } from '../due/index.ts';
import { latestEntries } from '../ledger/index.ts';
import { stopFacts } from '../properties/index.ts';
import { readSettings } from '../settings/index.ts';
import { summarizeWork } from './summary-queries.ts';

const visitBook: Handler<'visit.book'> = async (context, input) => {
  const { db } = context;
  await mustExist(db, 'property', input.propertyId, 'propertyId', 'property');
  if (await readVisit(db, input.visitId)) throw new BookError('conflict', fact('errors.visitIdTaken'), 'visitId');
  checkWindow(input.windowFrom, input.windowTo);
  const visit: Visit = {
    id: input.visitId,
    propertyId: input.propertyId,
    kind: input.kind,
    state: 'planned',
    date: input.date,
    windowFrom: input.windowFrom,
    windowTo: input.windowTo,
    technicianId: input.technicianId,
    orderInDay: 1,
    expectedMinutes: input.expectedMinutes ?? USUAL_MINUTES[input.kind],
    locked: false,
    note: input.note,
    doneOn: null,
    cancelReason: '',
  };
  const warnings = await warningsFor(context, visit);
  visit.orderInDay = await placeInDay(db, visit, input.orderInDay);
  await insertVisit(db, visit);
  return { visit, warnings };
};

const visitMove: Handler<'visit.move'> = async (context, input) => {
  const { db } = context;
  const before = await mustReadVisit(db, input.visitId);
  if (before.state !== 'planned')
    throw new BookError('conflict', fact('errors.visitNotMoved', { state: before.state }), 'visitId');
  const changesPlace = before.date !== input.date || before.technicianId !== input.technicianId;
  if (before.locked && input.locked !== false && changesPlace)
    throw new BookError('conflict', fact('errors.locked'), 'locked');
  checkWindow(input.windowFrom, input.windowTo);
  const visit: Visit = {
    ...before,
    date: input.date,
    windowFrom: input.windowFrom,
    windowTo: input.windowTo,
    technicianId: input.technicianId,
    locked: input.locked ?? before.locked,
    note: input.note ?? before.note,
  };
  const warnings = await warningsFor(context, visit);
  // Within its day a visit without a new place stays where it is; elsewhere it goes to the end.
  visit.orderInDay = await placeInDay(db, visit, input.orderInDay ?? (changesPlace ? undefined : before.orderInDay));
  await updateVisit(db, visit);
  if (changesPlace) await renumberDay(db, before.date, before.technicianId);
  return { visit, before, warnings };
};

const visitCancel: Handler<'visit.cancel'> = async ({ db }, input) => {
  const visit = await mustReadVisit(db, input.visitId);
  if (input.restore) {
    if (visit.state !== 'cancelled')
      throw new BookError('conflict', fact('errors.nothingToBringBack', { state: visit.state }), 'visitId');
    const restored: Visit = { ...visit, state: 'planned', cancelReason: '' };
    restored.orderInDay = await placeInDay(db, restored, visit.orderInDay);
    await updateVisit(db, restored);
    return { visit: restored };
  }
  if (visit.state !== 'planned')
    throw new BookError('conflict', fact('errors.visitNotCancelled', { state: visit.state }), 'visitId');
  const cancelled: Visit = { ...visit, state: 'cancelled', cancelReason: input.reason };
  await updateVisit(db, cancelled);
  await renumberDay(db, visit.date, visit.technicianId);
  return { visit: cancelled };
};

function checkWindow(from: string | null, to: string | null): void {
  if (from !== null && to !== null && to <= from)
    throw new BookError('bad-input', fact('errors.visitWindow', { from, to }), 'windowTo');
}

/** What the office should know before it relies on this slot. Never a refusal: the office decides. */
async function warningsFor({ db, today }: Context, visit: Visit): Promise<Fact[]> {
  const warnings: Fact[] = [];
  if (visit.date < today) warnings.push(fact('calendar.warn.past', { date: visit.date }));
  if (visit.technicianId === null) return warnings;
  const technician = await readTechnician(db, visit.technicianId);
  if (!technician) throw new BookError('not-found', fact('errors.noTechnician'), 'technicianId');
  if (!technician.active) warnings.push(fact('calendar.warn.left', { name: technician.name }));
  if (!technician.workWeekdays.includes(weekdayOf(visit.date)))
    warnings.push(fact('calendar.warn.weekday', { name: technician.name }));
  const skill = SKILL_FOR_VISIT[visit.kind];
  if (skill && !technician.skills.includes(skill))
    warnings.push(fact('calendar.warn.skill', { name: technician.name, skill }));
  const others = (await visitsOfDay(db, visit.date, visit.technicianId)).filter((one) => one.id !== visit.id);
  const booked = others.reduce((total, one) => total + one.expectedMinutes, visit.expectedMinutes);
  const room = minutesOf(technician);
  if (booked > room)
    warnings.push(fact('calendar.warn.overFull', { name: technician.name, bookedMinutes: booked, roomMinutes: room }));
  return warnings;
}

const minutesOf = (technician: Technician) =>
  Math.max(0, minutesOfClock(technician.dayEnd) - minutesOfClock(technician.dayStart));

const visitList: Handler<'visit.list'> = async ({ db }, input) => {
  if (input.toDate < input.fromDate) throw new BookError('bad-input', fact('errors.lastBeforeFirst'), 'toDate');
  const technicians = await readTechnicians(db);
  const dates = datesFrom(
    input.fromDate,
    input.toDate > addYear(input.fromDate) ? addYear(input.fromDate) : input.toDate,
  );
  const booked = await bookedLoad(db, input.fromDate, input.toDate);
  const bookedBy = new Map(booked.map((one) => [`${one.date} ${one.technicianId}`, one]));
  const load: Awaited<ReturnType<typeof visitList>>['load'] = [];
  // Days nobody has anything to do on are left out of long spans: a calendar asks for a few weeks at most.
  const withEmpty = dates.length <= 62;
  for (const date of dates) {
    for (const technician of technicians) {
      const works = technician.active && technician.workWeekdays.includes(weekdayOf(date));
      const one = bookedBy.get(`${date} ${technician.id}`);
      if (one || (withEmpty && works))
        load.push({
          date,
          technicianId: technician.id,
          visits: one?.visits ?? 0,
          bookedMinutes: one?.bookedMinutes ?? 0,
          availableMinutes: works ? minutesOf(technician) : 0,
        });
    }
    const nobody = bookedBy.get(`${date} null`);
    if (nobody) load.push({ ...nobody, availableMinutes: 0 });
  }
  return { ...(await listVisits(db, input)), load };
};

const addYear = (date: string) =>
  `${Number(date.slice(0, 4)) + 1}${date.slice(4) === '-02-29' ? '-02-28' : date.slice(4)}`;

const dayOpen: Handler<'day.open'> = async ({ db }, { technicianId, date }) => {
  const technician = await readTechnician(db, technicianId);
  if (!technician) throw new BookError('not-found', fact('errors.noTechnician'), 'technicianId');
  const visits = await visitsOfDay(db, date, technicianId);
  const propertyIds = [...new Set(visits.map((visit) => visit.propertyId))];
  const facts = await readDueFacts(db, propertyIds);
  const judge = dueJudge(date, 0, await readSettings(db));
  const sites = await stopFacts(db, propertyIds);
  const stops: Awaited<ReturnType<typeof dayOpen>>['stops'] = [];
  for (const visit of visits) {
    const site = sites.get(visit.propertyId)!;
    const known = facts.get(visit.propertyId);
    stops.push({
      visit,
      ...site,
      due: known
        ? judge(known)
            .filter((due) => due.visitId !== visit.id)
            .map(({ kind, why }) => ({ kind, why }))
        : [],
      lastEntries: (await latestEntries(db, visit.propertyId, 4)).entries,
    });
  }
  const { trucks } = await readPeople(db);
  return { technician, truck: trucks.find((truck) => truck.id === technician.truckId) ?? null, stops };
};

const workSummary: Handler<'work.summary'> = ({ db, today }, input) =>
  summarizeWork(db, input.year, input.onDate ?? today);

export const visitsHandlers = {
  'visit.book': visitBook,
  'visit.move': visitMove,
  'visit.cancel': visitCancel,
  'visit.list': visitList,
  'day.open': dayOpen,
  'work.summary': workSummary,
};
