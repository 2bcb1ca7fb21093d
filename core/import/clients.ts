import { clientSchema, type Client } from '../clients/contract.ts';
import { controllerSchema, propertySchema, sensorSchema, type Property } from '../properties/contract.ts';
import { clientsToMatch, propertiesToMatch, routesToMatch } from './queries.ts';
import { clientSearchText, fold, propertySearchText, sortName } from '../store/search-text.ts';
import { newSensorBase, toRow } from '../store/tables.ts';
import { accountKey, ClientIndex, type ClientRef } from './client-index.ts';
import { readClient, readControllerAndSensor, readPlace, type ClientReading, type PlaceReading } from './client-row.ts';
import { fitsClient, fitsProperty } from './fits.ts';
import { checked, idMaker, type Planning } from './plan.ts';
import { isTotalsRow } from './source.ts';
import { fact } from '../text/say.ts';

const clientCheck = clientSchema;
// The time zone is looked at once for each different one, not for every row: asking the machine for one is slow.
const propertyCheck = propertySchema.omit({ timeZone: true });

/** The book's clients and properties, ready to be matched against. */
export async function loadClientIndex(planning: Pick<Planning, 'db'>): Promise<ClientIndex> {
  const index = new ClientIndex();
  const byId = new Map<string, ClientRef>();
  for (const client of await clientsToMatch(planning.db)) {
    byId.set(
      client.id,
      index.addClient(
        client.id,
        {
          name: client.name,
          account: client.accountNumber,
          phones: [client.phone, client.phone2],
          email: client.email,
        },
        null,
      ),
    );
  }
  for (const place of await propertiesToMatch(planning.db)) {
    const client = byId.get(place.clientId);
    if (client) index.addPlace(client, place.id, place.street, place.city, place.postcode, null);
  }
  return index;
}

/** Plans a client list: a row is one client and one of its properties. What is in the book already is never changed. */
export async function planClients(planning: Planning): Promise<void> {
  const { plan, reader, source, findings } = planning;
  const index = await loadClientIndex(planning);
  const routes = new Map((await routesToMatch(planning.db)).map((route) => [fold(route.name), route.id]));
  const makeId = idMaker();
  const rows = { route: [], client: [], property: [], controller: [], sensor: [] } as Record<
    'route' | 'client' | 'property' | 'controller' | 'sensor',
    Record<string, unknown>[]
  >;
  for (const table of ['route', 'client', 'property', 'controller', 'sensor'] as const)
    plan.inserts.push({ table, rows: rows[table] });

  for (const record of source.rows) {
    const wait = planning.tick();
    if (wait) await wait;
    reader.at(record);
    const place = readPlace(planning);
    if (
      isTotalsRow(record.cells) &&
      (place.street === '' || !/\d/.test(place.street) || (place.city === '' && reader.line('phone') === ''))
    ) {
      findings.ignore(record.row, fact('import.why.totals'));
      continue;
    }
    const client = readClient(planning, place);
    const extras = readControllerAndSensor(planning);
    if (client.name === '') reader.problem('clientName', fact('import.why.noClientName'), '');
    if (place.street === '')
      reader.problem(reader.has('street') ? 'street' : 'fullAddress', fact('import.why.noStreet'), '');
    if (client.name === '' || place.street === '') continue;

    const identity = {
      name: client.name,
      account: client.accountNumber,
      phones: [client.phone, client.phone2],
      email: client.email,
    };
    const match = index.findClient(identity, place);
    const known = match ? index.findPlace(match.client, place) : null;
    const clientId = match?.client.id ?? makeId();
    const clientEntity = match
      ? null
      : checked(clientCheck, clientOf(clientId, client), reader, clientField, fitsClient);
    const propertyEntity = checked(
      propertyCheck,
      propertyOf(makeId(), clientId, place, match ? [...client.leftovers, client.notes] : []),
      reader,
      placeField,
      fitsProperty,
    );
    const controller =
      extras.controller && propertyEntity
        ? checked(
            controllerSchema,
            { id: makeId(), propertyId: propertyEntity.id, ...extras.controller },
            reader,
            (key) =>
              key === 'stationCount' ? 'zoneCount' : key === 'location' ? 'controllerLocation' : 'controllerName',
          )
        : null;
    const sensor =
      extras.sensor && propertyEntity
        ? checked(
            sensorSchema,
            { id: makeId(), propertyId: propertyEntity.id, controllerId: controller?.id ?? null, ...extras.sensor },
            reader,
            (key) => (key === 'batteryType' || key === 'batteryDate' ? key : 'sensor'),
          )
        : null;
    if (findings.badRows.has(record.row) || !propertyEntity || (!match && !clientEntity)) continue;

    const what = `${client.name}, ${place.street}`;
    if (match && known) {
      plan.outcome(
        record.row,
        'skipped',
        known.row === null
          ? fact('import.did.inBook', { what })
          : fact('import.did.sameProperty', { what, row: known.row }),
      );
      if (
        match.by === 'place' &&
        client.accountNumber !== '' &&
        match.client.account !== '' &&
        accountKey(client.accountNumber) !== match.client.account
      ) {
        findings.warn(record.row, fact('import.why.otherAccount'));
      } else if (known.row !== null) findings.warn(record.row, fact('import.why.propertyAbove'));
      continue;
    }
    if (match) tellOfJoin(planning, match, client);
    else tellOfNamesakes(planning, index, client);
    const elsewhere = index.findPlaceAnywhere(place);
    if (elsewhere) findings.warn(record.row, fact('import.why.addressOfOther'));

    const owner = match?.client ?? index.addClient(clientId, identity, record.row);
    if (clientEntity) {
      const row = toRow('client', clientEntity);
      row.version = 1;
      row.searchText = clientSearchText(clientEntity);
      row.sortName = sortName(clientEntity.name);
      rows.client.push(row);
      plan.count('clients');
    }
    let routeId: string | null = null;
    if (place.route !== '') {
      routeId = routes.get(fold(place.route)) ?? null;
      if (routeId === null) {
        routeId = makeId();
        routes.set(fold(place.route), routeId);
        rows.route.push({ id: routeId, name: place.route, technicianId: null });
        plan.count('routes');
      }
    }
    index.addPlace(
      owner,
      propertyEntity.id,
      propertyEntity.street,
      propertyEntity.city,
      propertyEntity.postcode,
      record.row,
    );
    const row = toRow('property', propertyEntity);
    row.timeZone = place.timeZone;
    row.routeId = routeId;
    row.version = 1;
    row.searchText = propertySearchText(propertyEntity);
    row.baseBackflowTestDue = propertyEntity.backflowTestDue;
    rows.property.push(row);
    plan.count('properties');
    if (controller) {
      rows.controller.push(toRow('controller', controller));
      plan.count('controllers');
    }
    if (sensor) {
      rows.sensor.push({ ...toRow('sensor', sensor), ...newSensorBase(sensor) });
      plan.count('sensors');
    }
    plan.outcome(
      record.row,
      match ? 'joined' : 'added',
      match ? fact('import.did.joinedTo', { what, client: match.client.name }) : fact('import.did.plain', { what }),
    );
    plan.show(() => sampleOf(clientEntity, client, propertyEntity, place.route));
  }
}

function clientOf(id: string, client: ClientReading): Client {
  return {
    id,
    name: client.name,
    kind: client.kind,
    phone: client.phone,
    phone2: client.phone2,
    email: client.email,
    billingAddress: client.billingAddress,
    notes: joined(client.notes, client.leftovers),
    accountNumber: client.accountNumber,
    archived: false,
  };
}

function propertyOf(
  id: string,
  clientId: string,
  place: PlaceReading,
  notes: readonly string[],
): Omit<Property, 'timeZone'> {
  // Named one by one: copying "all but two" costs more than all the checks of a row.
  return {
    id,
    clientId,
    label: place.label,
    street: place.street,
    city: place.city,
    region: place.region,
    postcode: place.postcode,
    latitudeDeg: place.latitudeDeg,
    longitudeDeg: place.longitudeDeg,
    elevationFt: place.elevationFt,
    routeId: null,
    accessNotes: joined(place.accessNotes, notes),
    gateCode: place.gateCode,
    dogNote: place.dogNote,
    waterSupply: place.waterSupply,
    staticPressurePsi: place.staticPressurePsi,
    pipeMaterial: place.pipeMaterial,
    backflowKind: place.backflowKind,
    backflowLocation: place.backflowLocation,
    backflowSerial: place.backflowSerial,
    backflowTestDue: place.backflowTestDue,
    shutoffLocation: place.shutoffLocation,
    restrictionId: null,
    addressParity: 'auto',
    weatherStationId: null,
    servicesStartUp: place.servicesStartUp,
    servicesWinterization: place.servicesWinterization,
    archived: false,
  };
}

/** Notes one below the other, empty ones left out. */
function joined(first: string, more: readonly string[]): string {
  return more.length === 0 ? first : [first, ...more].filter((note) => note !== '').join('\n');
}

const CLIENT_FIELD_OF: Record<string, string> = { name: 'clientName', notes: 'clientNotes' };
const clientField = (key: string): string => CLIENT_FIELD_OF[key] ?? key;
const PLACE_FIELD_OF: Record<string, string> = {
  label: 'propertyLabel',
  servicesStartUp: 'startUp',
  servicesWinterization: 'winterize',
};
const placeField = (key: string): string => PLACE_FIELD_OF[key] ?? key;

function tellOfJoin(
  planning: Planning,
  match: NonNullable<ReturnType<ClientIndex['findClient']>>,
  client: ClientReading,
): void {
  const { findings, reader } = planning;
  if (match.by === 'name') findings.warn(reader.row, fact('import.why.nameAlone'));
  if (match.by === 'account' && fold(match.client.name) !== fold(client.name))
    findings.warn(reader.row, fact('import.why.accountOf', { client: match.client.name }));
  if (client.accountNumber !== '' && match.client.account !== '' && match.by === 'contact')
    findings.warn(reader.row, fact('import.why.otherNumber'));
}

function tellOfNamesakes(planning: Planning, index: ClientIndex, client: ClientReading): void {
  if (index.hasName(client.name)) {
    planning.findings.warn(planning.reader.row, fact('import.why.namesake'));
  }
}

function sampleOf(
  entity: Client | null,
  client: ClientReading,
  property: Omit<Property, 'timeZone'>,
  route: string,
): Record<string, string> {
  const shown: Record<string, string> = {
    'Client name': client.name,
    Phone: entity?.phone ?? client.phone,
    'E-mail': client.email,
    'Account number': client.accountNumber,
    Street: property.street,
    City: property.city,
    'State or region': property.region,
    Postcode: property.postcode,
    Route: route,
    'Backflow assembly': property.backflowKind === 'unknown' ? '' : property.backflowKind,
    'Gate code': property.gateCode,
  };
  return Object.fromEntries(Object.entries(shown).filter(([, value]) => value !== ''));
}
