import { inForceOn } from './in-force.ts';
import type { Handler, Context, JobContext, JobHandler } from '../context.ts';
import { readHistory, readRevisionsOfProperty } from './queries.ts';
import type { Settings, ThumbRule } from '../settings/contract.ts';
import type { WeatherStation } from '../weather/contract.ts';
import { monthlyClimate, readStations, chooseStation, readWeatherDays, dailyWeather } from '../weather/index.ts';
import {
  type AdviceSite,
  type SiteClimate,
  recommendFor,
  reviewFor,
  onControllers,
  ruleOf,
  sunriseAt,
  reviewLine,
} from './review.ts';
import { defaultThumbRules, readRestrictions, readThumbRules, readSettings } from '../settings/index.ts';
import type { Db } from '../store/tables.ts';
import { type ReviewSite, readReviewSites, reviewablePropertyIds } from './review-queries.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import type { ProgramOnController } from './expand.ts';
import { buildWaterWeek } from './water-week.ts';
import { addDays } from '../dates.ts';
import { readZones, readZone } from '../properties/index.ts';
import { seasonsOfProperty } from '../ledger/index.ts';
import { runningSpells } from './running-spells.ts';
import { minutesByDate, traceZone, type ProgramSpell } from './trace.ts';

const programHistory: Handler<'program.history'> = ({ db }, { programId }) => readHistory(db, programId);

/** What is the same for every property of a company. */
interface Company {
  settings: Settings;
  stations: WeatherStation[];
  climates: Map<string, ReturnType<typeof monthlyClimate>>;
  restrictions: Map<string, AdviceSite['restriction']>;
  thumbRules: ThumbRule[];
}

async function readCompany(db: Db): Promise<Company> {
  return {
    settings: await readSettings(db),
    stations: await readStations(db, false),
    climates: new Map(),
    restrictions: new Map((await readRestrictions(db)).map((restriction) => [restriction.id, restriction])),
    thumbRules: (await readThumbRules(db)) ?? defaultThumbRules(),
  };
}

function adviceSite(company: Company, site: ReviewSite): AdviceSite {
  const { station, isGuess } = chooseStation(site.property, company.stations);
  let months = company.climates.get(station.id);
  if (!months) company.climates.set(station.id, (months = monthlyClimate(station)));
  const climate: SiteClimate = { stationName: station.name, months, isGuess };
  return {
    property: site.property,
    zones: site.zones,
    programs: site.programs,
    restriction: company.restrictions.get(site.property.restrictionId ?? '') ?? null,
    climate,
    thumbRules: company.thumbRules,
    settings: company.settings,
    setAside: site.setAside,
  };
}

async function oneSite({ db }: Context, propertyId: string, onDate: string, month?: number): Promise<AdviceSite> {
  const [site] = await readReviewSites(
    db,
    [propertyId],
    onDate,
    month === undefined ? onDate : lastMiddleOf(month, onDate),
  );
  if (!site) throw new BookError('not-found', fact('errors.noProperty'), 'propertyId');
  return adviceSite(await readCompany(db), site);
}

/** The last day in the middle of a month that has come: when the month's own settings were in force. */
function lastMiddleOf(month: number, onDate: string): string {
  if (Number(onDate.slice(5, 7)) === month) return onDate;
  const middle = `${onDate.slice(0, 4)}-${String(month).padStart(2, '0')}-15`;
  return middle <= onDate ? middle : `${Number(onDate.slice(0, 4)) - 1}${middle.slice(4)}`;
}

/** A week in the middle of the month asked for, in the year of the day it is asked on. */
const weekOf = (onDate: string, month: number) =>
  Number(onDate.slice(5, 7)) === month ? onDate : `${onDate.slice(0, 4)}-${String(month).padStart(2, '0')}-15`;

const programRecommend: Handler<'program.recommend'> = async (context, { propertyId, month }) =>
  recommendFor(await oneSite(context, propertyId, context.today, month), month, weekOf(context.today, month));

const programReview: Handler<'program.review'> = async (context, { propertyId, month, onDate = context.today }) =>
  reviewFor(await oneSite(context, propertyId, onDate, month), month, weekOf(onDate, month));

const programWeek: Handler<'program.week'> = async (context, { propertyId, date = context.today, instead }) => {
  const [site] = await readReviewSites(context.db, [propertyId], date);
  if (!site) throw new BookError('not-found', fact('errors.noProperty'), 'propertyId');
  const restrictions = await readRestrictions(context.db);
  const current = onControllers(site.programs).filter(
    (program) => !instead.some((one) => one.programId === program.programId),
  );
  const proposed = instead.map((one, index): ProgramOnController => {
    const controllerId =
      site.programs.find((program) => program.id === one.programId)?.controllerId ?? one.controllerId;
    if (controllerId === null || !site.controllers.some((controller) => controller.id === controllerId))
      throw new BookError('bad-input', fact('advice.whichController'), `instead.${index}.controllerId`);
    return {
      programId: one.programId,
      controllerId,
      name: one.name || (site.programs.find((program) => program.id === one.programId)?.name ?? 'new'),
      settings: one.settings,
    };
  });
  const sunriseOf = sunriseAt(site.property);
  return buildWaterWeek({
    programs: [...current, ...proposed],
    zones: site.zones,
    date,
    stepMinutes: (await readSettings(context.db)).roundToMinutes,
    rule: ruleOf({
      property: site.property,
      restriction: restrictions.find((restriction) => restriction.id === site.property.restrictionId) ?? null,
    }),
    ...(sunriseOf ? { sunriseOf } : {}),
  });
};

const CHUNK = 50;

const programReviewAll: JobHandler<'program.reviewAll'> = async (context: JobContext, { month, routeId, limit }) => {
  const { db, today } = context;
  const ids = await reviewablePropertyIds(db, routeId);
  const company = await readCompany(db);
  if (company.stations.length === 0)
    chooseStation({ weatherStationId: null, latitudeDeg: null, longitudeDeg: null, elevationFt: null }, []);
  const rows: Awaited<ReturnType<typeof programReviewAll>>['rows'] = [];
  const notReviewed: Awaited<ReturnType<typeof programReviewAll>>['notReviewed'] = [];
  let reviewed = 0;
  context.progress(0, ids.length, fact('book.programsReviewed'));
  for (let at = 0; at < ids.length; at += CHUNK) {
    for (const site of await readReviewSites(db, ids.slice(at, at + CHUNK), today, lastMiddleOf(month, today))) {
      context.checkCancelled();
      reviewed++;
      try {
        rows.push(reviewLine(adviceSite(company, site), site.clientName, month, weekOf(today, month)));
      } catch (error) {
        if (!(error instanceof BookError)) throw error;
        notReviewed.push({
          propertyId: site.property.id,
          street: site.property.street,
          why: error.text ?? fact('advice.notReviewed', { why: error.message }),
        });
      }
      context.progress(reviewed, ids.length, fact('book.programsReviewed'));
    }
  }
  rows.sort((a, b) => b.distanceFromNeed - a.distanceFromNeed || (a.propertyId < b.propertyId ? -1 : 1));
  const known = rows.filter((row) => row.gallonsPerWeekNow !== null && row.gallonsPerWeekThen !== null);
  return {
    reviewed: rows.length,
    notReviewed: notReviewed.slice(0, 500),
    notReviewedTotal: notReviewed.length,
    rows: rows.slice(0, limit),
    gallonsPerWeekNow: known.reduce((sum, row) => sum + row.gallonsPerWeekNow!, 0),
    gallonsPerWeekThen: known.reduce((sum, row) => sum + row.gallonsPerWeekThen!, 0),
  };
};

const MAX_TRACE_DAYS = 1100;

const zoneTrace: Handler<'zone.trace'> = async (context, { zoneId, fromDate, toDate, programs }) => {
  const { db } = context;
  const zone = await readZone(db, zoneId);
  if (!zone) throw new BookError('not-found', fact('advice.noZone'), 'zoneId');
  if (toDate < fromDate) throw new BookError('bad-input', fact('errors.lastBeforeFirst'), 'toDate');
  if (toDate > addDays(fromDate, MAX_TRACE_DAYS))
    throw new BookError('bad-input', fact('advice.traceTooLong', { days: MAX_TRACE_DAYS }), 'toDate');
  const site = await oneSite(context, zone.propertyId, context.today);
  const stations = await readStations(db, false);
  const { station, isGuess } = chooseStation(site.property, stations);
  const { days, filledDays } = dailyWeather(
    station,
    await readWeatherDays(db, station.id, fromDate, toDate),
    fromDate,
    toDate,
  );
  const zones = (await readZones(db, zone.propertyId)).filter(
    (one) => one.controllerId === zone.controllerId && !one.retired,
  );
  const revisions = (await readRevisionsOfProperty(db, zone.propertyId)).filter(
    (program) => program.controllerId === zone.controllerId,
  );
  const running = runningSpells(await seasonsOfProperty(db, zone.propertyId), fromDate, toDate);
  const spells = programs === 'in-force' ? spellsInForce(revisions, running) : spellsOfAdvice(site, running);
  const traced = traceZone(zone, days, minutesByDate(zone, zones, spells, site.settings.roundToMinutes));
  return {
    zoneName: zone.name,
    ...traced,
    weather: {
      stationName: station.name,
      method:
        filledDays === 0
          ? fact('weather.daily')
          : filledDays === days.length
            ? fact('weather.normals')
            : fact('weather.dailyAndNormals', { filledDays, days: days.length }),
      isGuess: isGuess || filledDays > days.length / 4,
    },
  };
};

interface Dates {
  fromDate: string;
  toDate: string;
}

type Revisions = Awaited<ReturnType<typeof readRevisionsOfProperty>>;

/** The spells in which one set of revisions was in force, inside the days the system was running. */
function spellsInForce(programs: Revisions, running: readonly Dates[]): ProgramSpell[] {
  return running.flatMap((spell) => {
    const edges = [
      spell.fromDate,
      ...new Set(
        programs
          .flatMap((program) => program.revisions.map((revision) => revision.effectiveDate))
          .filter((date) => date > spell.fromDate && date <= spell.toDate),
      ),
    ].sort();
    return edges.map((fromDate, index): ProgramSpell => ({
      fromDate,
      toDate: index + 1 < edges.length ? addDays(edges[index + 1]!, -1) : spell.toDate,
      programs: programs.flatMap((program) => {
        const revision = inForceOn(program.revisions, fromDate);
        return revision
          ? [
              {
                programId: program.programId,
                controllerId: program.controllerId,
                name: program.name,
                settings: revision,
              },
            ]
          : [];
      }),
    }));
  });
}

/** The advised program of each month, inside the days the system was running. */
function spellsOfAdvice(site: AdviceSite, running: readonly Dates[]): ProgramSpell[] {
  const advised = new Map<number, ProgramOnController[]>();
  const spells: ProgramSpell[] = [];
  for (const spell of running) {
    for (let from = spell.fromDate; from <= spell.toDate;) {
      const month = Number(from.slice(5, 7));
      const nextMonth =
        month === 12
          ? `${Number(from.slice(0, 4)) + 1}-01-01`
          : `${from.slice(0, 4)}-${String(month + 1).padStart(2, '0')}-01`;
      const lastOfMonth = addDays(nextMonth, -1);
      let programs = advised.get(month);
      if (!programs) {
        programs = recommendFor(site, month, from).programs.map((program, index) => ({
          ...program,
          programId: program.programId ?? `new-${index}`,
        }));
        advised.set(month, programs);
      }
      spells.push({ fromDate: from, toDate: lastOfMonth < spell.toDate ? lastOfMonth : spell.toDate, programs });
      from = nextMonth;
    }
  }
  return spells;
}

export const programsHandlers = {
  'program.history': programHistory,
  'program.week': programWeek,
  'program.recommend': programRecommend,
  'program.review': programReview,
  'zone.trace': zoneTrace,
};
export const programJobs = { 'program.reviewAll': programReviewAll };
