import { seasonOn, dueJudge, readDueFacts, type Site, dueItem } from '../due/index.ts';
import type { Handler } from '../context.ts';
import { listClients, readClient, propertiesOfClient, saveClient } from './queries.ts';
import { readSettings } from '../settings/index.ts';
import { openFindingIds, latestEntries, readEntries } from '../ledger/index.ts';
import { readPrograms } from '../programs/index.ts';
import {
  readControllers,
  readProperty,
  readRestriction,
  readRoute,
  readSensors,
  readSiblings,
  readZones,
} from '../properties/index.ts';
import { readVisitsOfProperty } from '../visits/index.ts';

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

export const clientsHandlers = {
  'client.list': clientList,
  'client.open': clientOpen,
  'client.save': clientSave,
  'property.open': propertyOpen,
};
