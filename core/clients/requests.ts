import { seasonOn, dueJudge, type Due, type DueFacts } from '../ledger/due.ts';
import type { Handler } from '../context.ts';
import type { DueItem } from '../contract/clients.ts';
import { listClients, readClient, saveClient } from '../store/client-queries.ts';
import { readDueFacts } from '../store/due-queries.ts';
import { openFindingIds } from '../store/finding-queries.ts';
import { latestEntries, readEntries } from '../store/ledger-queries.ts';
import { readPrograms } from '../store/program-queries.ts';
import {
  dueSites,
  propertiesOfClient,
  readControllers,
  readProperty,
  readRestriction,
  readRoute,
  readSensors,
  readSiblings,
  readZones,
  saveProperty,
} from '../store/property-queries.ts';
import { readSettings } from '../store/setting-queries.ts';
import { readVisitsOfProperty } from '../store/visit-queries.ts';

const clientList: Handler<'client.list'> = async ({ db, today }, input) => {
  const onDate = input.onDate ?? today;
  const judge = dueJudge(onDate, 0, await readSettings(db));
  let among: string[] | null = null;
  if (input.due !== null) {
    among = [];
    for (const facts of (await readDueFacts(db, null)).values()) {
      if (judge(facts).some((due) => due.kind === input.due)) among.push(facts.propertyId);
    }
  }
  const { rows, total } = await listClients(db, input, onDate, among);
  const facts = await readDueFacts(
    db,
    rows.flatMap((row) => row.propertyId ?? []),
  );
  return {
    total,
    rows: rows.map((row) => {
      const known = row.propertyId === null ? undefined : facts.get(row.propertyId);
      return {
        clientId: row.clientId,
        clientName: row.clientName,
        phone: row.phone,
        propertyId: row.propertyId,
        label: row.label ?? '',
        street: row.street ?? '',
        city: row.city ?? '',
        routeId: row.routeId,
        routeName: row.routeName,
        nextVisitDate: row.nextVisitDate,
        seasonState: known ? seasonOn(onDate, known).state : null,
        due: known ? [...new Set(judge(known).map((due) => due.kind))] : [],
        archived: row.clientArchived === 1 || row.propertyArchived === 1,
      };
    }),
  };
};

const clientOpen: Handler<'client.open'> = async ({ db }, { clientId }) => ({
  ...(await readClient(db, clientId)),
  properties: await propertiesOfClient(db, clientId),
});

const clientSave: Handler<'client.save'> = async ({ db }, { client, version }) => ({
  clientId: client.id,
  version: await saveClient(db, client, version),
});

const propertyOpen: Handler<'property.open'> = async ({ db, today }, { propertyId, onDate = today, ledgerLimit }) => {
  const { property, version } = await readProperty(db, propertyId);
  const { client } = await readClient(db, property.clientId);
  const facts = (await readDueFacts(db, [propertyId])).get(propertyId)!;
  const route = await readRoute(db, property.routeId);
  const judge = dueJudge(onDate, 0, await readSettings(db));
  const site: Site = {
    clientId: client.id,
    clientName: client.name,
    phone: client.phone,
    street: property.street,
    city: property.city,
    routeName: route?.name ?? null,
  };
  const { entries, total } = await latestEntries(db, propertyId, ledgerLimit);
  return {
    property,
    version,
    client,
    controllers: await readControllers(db, propertyId),
    zones: await readZones(db, propertyId),
    programs: await readPrograms(db, propertyId, onDate),
    sensors: await readSensors(db, propertyId),
    restriction: await readRestriction(db, property.restrictionId),
    route,
    season: seasonOn(onDate, facts),
    due: judge(facts).map((due) => dueItem(propertyId, site, due)),
    visits: await readVisitsOfProperty(db, propertyId, 12),
    ledger: entries,
    ledgerTotal: total,
    openFindings: await readEntries(db, await openFindingIds(db, propertyId)),
    siblings: await readSiblings(db, property.clientId, propertyId),
  };
};

const propertySave: Handler<'property.save'> = async ({ db, today }, input) => ({
  propertyId: input.property.id,
  version: await saveProperty(db, input, today),
});

interface Site {
  clientId: string;
  clientName: string;
  phone: string;
  street: string;
  city: string;
  routeName: string | null;
}

const dueItem = (propertyId: string, site: Site, due: Due): DueItem => ({ propertyId, ...site, ...due });

const dueList: Handler<'due.list'> = async ({ db, today }, input) => {
  const onDate = input.onDate ?? today;
  const judge = dueJudge(onDate, input.horizonDays, await readSettings(db));
  const facts = await readDueFacts(db, null);
  const sites = await dueSites(db, input.routeId);
  const counts: Record<string, number> = {
    battery: 0,
    'sensor-check': 0,
    'backflow-test': 0,
    'start-up': 0,
    winterization: 0,
    'overdue-visit': 0,
  };
  const found: { facts: DueFacts; site: Site; due: Due }[] = [];
  for (const one of facts.values()) {
    const site = sites.get(one.propertyId);
    if (!site) continue;
    for (const due of judge(one)) {
      if (due.bookedVisitId !== null && !input.includeBooked) continue;
      counts[due.kind] = (counts[due.kind] ?? 0) + 1;
      if (input.kinds === undefined || input.kinds.includes(due.kind)) found.push({ facts: one, site, due });
    }
  }
  found.sort(
    (a, b) =>
      b.due.daysLate - a.due.daysLate ||
      a.site.street.localeCompare(b.site.street) ||
      a.due.kind.localeCompare(b.due.kind),
  );
  return {
    onDate,
    items: found
      .slice(input.offset, input.offset + input.limit)
      .map(({ facts: { propertyId }, site, due }) => dueItem(propertyId, site, due)),
    total: found.length,
    counts: counts as Record<Due['kind'], number>,
  };
};

export const clientHandlers = {
  'client.list': clientList,
  'client.open': clientOpen,
  'client.save': clientSave,
  'property.open': propertyOpen,
  'property.save': propertySave,
  'due.list': dueList,
};
