import type Database from 'better-sqlite3';
import { addMonths } from '../../core/dates.ts';

// The least that gives the home list and the list of what is due: prepared statements, plain objects, string
// comparison of dates. No contract, no query builder.

interface Sensor {
  id: string;
  propertyId: string;
  link: string;
  batteryCells: number;
  batteryDate: string | null;
  lastCheckDate: string | null;
  lastCheckPassed: number | null;
  cellsGood: number | null;
}
interface Season {
  propertyId: string;
  year: number;
  startedUpOn: string | null;
  winterizedOn: string | null;
}
interface Planned {
  id: string;
  propertyId: string;
  kind: string;
  date: string;
}
interface Facts {
  servicesStartUp: number;
  servicesWinterization: number;
  backflowTestDue: string | null;
  sensors: Sensor[];
  seasons: Season[];
  planned: Planned[];
}
interface Found {
  kind: string;
  dueOn: string;
  booked: boolean;
}

export interface BareSettings {
  batteryLifeMonths: number;
  sensorCheckMonths: number;
  startUpFrom: string;
  startUpTo: string;
  winterizationFrom: string;
  winterizationTo: string;
}

const SEEN_TO_BY: Record<string, readonly string[]> = {
  battery: ['battery-swap', 'sensor-check'],
  'sensor-check': ['sensor-check', 'start-up'],
  'backflow-test': ['backflow-test'],
  'start-up': ['start-up'],
  winterization: ['winterization'],
  'overdue-visit': [],
};

/** What is due at a property, kind and date only. */
export function bareJudge(onDate: string, until: string, settings: BareSettings): (facts: Facts) => Found[] {
  const year = Number(onDate.slice(0, 4));
  const later = new Map<string, string>();
  const plus = (date: string, months: number) => {
    const key = `${date}+${months}`;
    let value = later.get(key);
    if (value === undefined) later.set(key, (value = addMonths(date, months)));
    return value;
  };
  return (facts) => {
    const found: Found[] = [];
    const add = (kind: string, dueOn: string) => {
      if (dueOn <= until)
        found.push({
          kind,
          dueOn,
          booked: facts.planned.some((visit) => visit.date >= onDate && SEEN_TO_BY[kind]!.includes(visit.kind)),
        });
    };
    for (const sensor of facts.sensors) {
      if (sensor.link === 'wireless')
        add(
          'battery',
          sensor.batteryDate === null || (sensor.cellsGood !== null && sensor.cellsGood < sensor.batteryCells)
            ? onDate
            : plus(sensor.batteryDate, settings.batteryLifeMonths),
        );
      add(
        'sensor-check',
        sensor.lastCheckPassed === 0 || sensor.lastCheckDate === null
          ? onDate
          : plus(sensor.lastCheckDate, settings.sensorCheckMonths),
      );
    }
    if (facts.backflowTestDue !== null) add('backflow-test', facts.backflowTestDue);
    for (let at = year - 1; at <= Number(until.slice(0, 4)); at += 1) {
      const season = facts.seasons.find((one) => one.year === at);
      const before = facts.seasons.find((one) => one.year === at - 1);
      const started = season?.startedUpOn ?? null;
      const winterized = season?.winterizedOn ?? null;
      if (
        at >= year &&
        facts.servicesStartUp === 1 &&
        started === null &&
        winterized === null &&
        `${at}-${settings.startUpFrom}` <= until &&
        onDate < `${at}-${settings.winterizationFrom}`
      )
        found.push({
          kind: 'start-up',
          dueOn: `${at}-${settings.startUpTo}`,
          booked: facts.planned.some((visit) => visit.date >= onDate && visit.kind === 'start-up'),
        });
      const drained = facts.servicesStartUp === 1 && started === null && (before?.winterizedOn ?? null) !== null;
      if (
        facts.servicesWinterization === 1 &&
        winterized === null &&
        !drained &&
        `${at}-${settings.winterizationFrom}` <= until &&
        onDate < `${at + 1}-03-01`
      )
        found.push({
          kind: 'winterization',
          dueOn: `${at}-${settings.winterizationTo}`,
          booked: facts.planned.some((visit) => visit.date >= onDate && visit.kind === 'winterization'),
        });
    }
    for (const visit of facts.planned) if (visit.date < onDate) add('overdue-visit', visit.date);
    return found;
  };
}

const FACTS = {
  property: 'SELECT id, servicesStartUp, servicesWinterization, backflowTestDue FROM property',
  sensor:
    'SELECT id, propertyId, link, batteryCells, batteryDate, lastCheckDate, lastCheckPassed, cellsGood FROM sensor',
  season: 'SELECT propertyId, year, startedUpOn, winterizedOn FROM season',
  visit: 'SELECT id, propertyId, kind, date FROM visit',
};
const SOME = 'IN (SELECT value FROM json_each(?))';

/** The home list by search term, 100 rows, with what is due and how far the season is. */
export function bareClientList(
  raw: Database.Database,
  onDate: string,
  settings: BareSettings,
): (term: string) => { rows: { propertyId: string | null; due: string[] }[]; total: number } {
  const year = Number(onDate.slice(0, 4));
  const from = `FROM client c LEFT JOIN property p ON p.clientId = c.id LEFT JOIN season s ON s.propertyId = p.id AND s.year = ${year} WHERE c.archived = 0 AND (p.archived IS NULL OR p.archived = 0)`;
  const prepared = new Map<number, { page: Database.Statement; count: Database.Statement }>();
  const statements = (words: number) => {
    let both = prepared.get(words);
    if (!both) {
      const where = ' AND (c.searchText LIKE ? OR p.searchText LIKE ?)'.repeat(words);
      const begins = (text: string) => Array.from({ length: words }, () => `' ' || ${text} LIKE ?`).join(' AND ');
      // Whose name begins with what was typed stands first, as in the answer it is measured beside.
      const nearness =
        words === 0
          ? ''
          : `CASE WHEN c.sortName LIKE ? THEN 0 WHEN ${begins('c.sortName')} THEN 1 WHEN ${begins("c.searchText || ' ' || coalesce(p.searchText, '')")} THEN 2 ELSE 3 END, `;
      both = {
        page: raw.prepare(`SELECT c.id clientId, c.name clientName, c.phone, p.id propertyId, p.label, p.street, p.city, p.routeId, r.name routeName, s.startedUpOn, s.winterizedOn, p.servicesStartUp, p.servicesWinterization, p.backflowTestDue,
          (SELECT min(v.date) FROM visit v WHERE v.propertyId = p.id AND v.state = 'planned' AND v.date >= '${onDate}') nextVisitDate
          ${from.replace(' WHERE', ' LEFT JOIN route r ON r.id = p.routeId WHERE')}${where} ORDER BY ${nearness}c.sortName, c.id, p.street, p.id LIMIT 100`),
        count: raw.prepare(`SELECT count(*) ${from}${where}`).pluck(),
      };
      prepared.set(words, both);
    }
    return both;
  };
  const sensors = raw.prepare(`${FACTS.sensor} WHERE propertyId ${SOME} AND retired = 0`);
  const seasons = raw.prepare(`${FACTS.season} WHERE propertyId ${SOME}`);
  const planned = raw.prepare(`${FACTS.visit} WHERE propertyId ${SOME} AND state = 'planned' ORDER BY date`);
  const judge = bareJudge(onDate, onDate, settings);
  return (term) => {
    const words = term.toLowerCase().split(/\s+/).filter(Boolean);
    const likes = words.flatMap((word) => [`%${word}%`, `%${word}%`]);
    const { page, count } = statements(words.length);
    const starts = words.map((word) => `% ${word}%`);
    const rows = page.all([
      ...likes,
      ...(words.length === 0 ? [] : [`${words.join(' ')}%`, ...starts, ...starts]),
    ]) as (Facts & {
      clientId: string;
      clientName: string;
      phone: string;
      propertyId: string | null;
      startedUpOn: string | null;
      winterizedOn: string | null;
    })[];
    const total = rows.length < 100 ? rows.length : (count.get(likes) as number);
    const byId = new Map<string, Facts>();
    for (const row of rows) {
      Object.assign(row, { sensors: [], seasons: [], planned: [] });
      if (row.propertyId !== null) byId.set(row.propertyId, row);
    }
    const ids = JSON.stringify([...byId.keys()]);
    for (const one of sensors.all(ids) as Sensor[]) byId.get(one.propertyId)!.sensors.push(one);
    for (const one of seasons.all(ids) as Season[]) byId.get(one.propertyId)!.seasons.push(one);
    for (const one of planned.all(ids) as Planned[]) byId.get(one.propertyId)!.planned.push(one);
    return {
      total,
      rows: rows.map((row) => ({
        clientId: row.clientId,
        clientName: row.clientName,
        phone: row.phone,
        propertyId: row.propertyId,
        seasonState:
          row.winterizedOn !== null
            ? 'winterized'
            : row.startedUpOn !== null
              ? 'running'
              : row.servicesStartUp === 0 && row.servicesWinterization === 0
                ? 'not-serviced'
                : 'not-started',
        due: row.propertyId === null ? [] : [...new Set(judge(row).map((due) => due.kind))],
      })),
    };
  };
}

/** What is due in the whole company: counts by kind and the first page. */
export function bareDueList(
  raw: Database.Database,
  onDate: string,
  until: string,
  settings: BareSettings,
): () => {
  total: number;
  counts: Record<string, number>;
  items: { propertyId: string; street: string; kind: string; dueOn: string }[];
} {
  const properties = raw.prepare(
    'SELECT p.id, p.servicesStartUp, p.servicesWinterization, p.backflowTestDue, p.street, p.city, c.id clientId, c.name clientName, c.phone, r.name routeName FROM property p JOIN client c ON c.id = p.clientId LEFT JOIN route r ON r.id = p.routeId WHERE p.archived = 0 AND c.archived = 0',
  );
  const sensors = raw.prepare(`${FACTS.sensor} WHERE retired = 0`);
  const seasons = raw.prepare(FACTS.season);
  const planned = raw.prepare(`${FACTS.visit} WHERE state = 'planned' ORDER BY date`);
  return () => {
    const judge = bareJudge(onDate, until, settings);
    const byId = new Map<string, Facts & { id: string; street: string }>();
    for (const row of properties.all() as (Facts & { id: string; street: string })[])
      byId.set(row.id, Object.assign(row, { sensors: [], seasons: [], planned: [] }));
    for (const one of sensors.all() as Sensor[]) byId.get(one.propertyId)?.sensors.push(one);
    for (const one of seasons.all() as Season[]) byId.get(one.propertyId)?.seasons.push(one);
    for (const one of planned.all() as Planned[]) byId.get(one.propertyId)?.planned.push(one);
    const counts: Record<string, number> = {};
    const found: { propertyId: string; street: string; kind: string; dueOn: string }[] = [];
    for (const facts of byId.values()) {
      for (const due of judge(facts)) {
        if (due.booked) continue;
        counts[due.kind] = (counts[due.kind] ?? 0) + 1;
        found.push({ propertyId: facts.id, street: facts.street, kind: due.kind, dueOn: due.dueOn });
      }
    }
    found.sort((a, b) =>
      a.dueOn < b.dueOn ? -1 : a.dueOn > b.dueOn ? 1 : a.street < b.street ? -1 : a.street > b.street ? 1 : 0,
    );
    return { total: found.length, counts, items: found.slice(0, 100) };
  };
}
