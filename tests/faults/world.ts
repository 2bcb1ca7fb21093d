import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';
import type { LedgerEntry } from '../../core/ledger/entry-contract.ts';
import type { Visit } from '../../core/visits/contract.ts';
import type { HostClient } from './host-client.ts';

// What a sender of requests knows of the book it talks to: enough to ask sensible things.

type Site = OutputOf<'property.open'>;

export interface World {
  sites: Map<string, Site>;
  clients: Map<string, { client: OutputOf<'client.open'>['client']; version: number }>;
  planned: Map<string, Visit>;
  cancelled: Map<string, Visit>;
  /** Entries nobody corrected yet. */
  entries: Map<string, LedgerEntry>;
  people: OutputOf<'people.list'>;
  rules: OutputOf<'rules.list'>;
  stations: OutputOf<'station.list'>['stations'];
  settings: OutputOf<'settings.get'>;
  /** Good backups of this book, and the folder where files may be written. */
  backups: string[];
  folder: string;
}

export async function ask<N extends RequestName>(client: HostClient, name: N, input: InputOf<N>): Promise<OutputOf<N>> {
  const reply = await client.call(name, input);
  if (!reply.ok) throw new Error(`${name}: ${reply.error.code}: ${reply.error.message}`);
  return reply.data as OutputOf<N>;
}

/** Reads a small book through its host. */
export async function readWorld(client: HostClient, folder: string, backups: string[]): Promise<World> {
  const { rows } = await ask(client, 'client.list', { limit: 40 });
  const sites = new Map<string, Site>();
  const clients: World['clients'] = new Map();
  const planned = new Map<string, Visit>();
  const cancelled = new Map<string, Visit>();
  for (const row of rows) {
    if (row.propertyId !== null)
      sites.set(row.propertyId, await ask(client, 'property.open', { propertyId: row.propertyId }));
    clients.set(row.clientId, await ask(client, 'client.open', { clientId: row.clientId }));
  }
  for (const site of sites.values()) {
    for (const visit of site.visits) {
      if (visit.state === 'planned') planned.set(visit.id, visit);
      if (visit.state === 'cancelled') cancelled.set(visit.id, visit);
    }
  }
  const { entries } = await ask(client, 'ledger.list', { limit: 200 });
  return {
    sites,
    clients,
    planned,
    cancelled,
    entries: new Map(entries.map((entry) => [entry.id, entry])),
    people: await ask(client, 'people.list', {}),
    rules: await ask(client, 'rules.list', {}),
    stations: (await ask(client, 'station.list', {})).stations,
    settings: await ask(client, 'settings.get', {}),
    backups,
    folder,
  };
}

/** Ids by the name of the field they fit; under '' every id there is. */
export function idsOf(world: World): Map<string, string[]> {
  const sites = [...world.sites.values()];
  const ids = new Map<string, string[]>([
    ['propertyId', sites.map((site) => site.property.id)],
    ['clientId', [...world.clients.keys()]],
    ['controllerId', sites.flatMap((site) => site.controllers.map((one) => one.id))],
    ['zoneId', sites.flatMap((site) => site.zones.map((one) => one.id))],
    ['programId', sites.flatMap((site) => site.programs.map((one) => one.id))],
    ['sensorId', sites.flatMap((site) => site.sensors.map((one) => one.id))],
    ['technicianId', world.people.technicians.map((one) => one.id)],
    ['truckId', world.people.trucks.map((one) => one.id)],
    ['routeId', world.people.routes.map((one) => one.id)],
    ['restrictionId', world.rules.restrictions.map((one) => one.id)],
    ['stationId', world.stations.map((one) => one.id)],
    ['weatherStationId', world.stations.map((one) => one.id)],
    ['visitId', [...world.planned.keys()]],
    ['correctsId', [...world.entries.keys()]],
    ['historyOfId', [...world.entries.keys()]],
  ]);
  ids.set('', [...new Set([...ids.values()].flat())]);
  return ids;
}

/** Keeps the world true after a request that succeeded. */
export function learn(world: World, name: string, input: any, data: any): void {
  switch (name as RequestName) {
    case 'client.save':
      world.clients.set(data.clientId, { client: input.client, version: data.version });
      return;
    case 'property.save': {
      const site = world.sites.get(data.propertyId);
      if (site) site.version = data.version;
      return;
    }
    case 'visit.book':
      world.planned.set(data.visit.id, data.visit);
      return;
    case 'visit.move':
      if (world.planned.has(data.visit.id)) world.planned.set(data.visit.id, data.visit);
      return;
    case 'visit.cancel':
      (data.visit.state === 'cancelled' ? world.planned : world.cancelled).delete(data.visit.id);
      (data.visit.state === 'cancelled' ? world.cancelled : world.planned).set(data.visit.id, data.visit);
      return;
    case 'visit.record':
      for (const entry of data.entries as LedgerEntry[]) world.entries.set(entry.id, entry);
      if (data.visit) world.planned.delete(data.visit.id);
      return;
    case 'ledger.correct':
      world.entries.delete(input.correctsId);
      if (data.entry.correction !== 'void') world.entries.set(data.entry.id, data.entry);
      return;
    case 'settings.save':
      world.settings = data;
      return;
    default:
  }
}
