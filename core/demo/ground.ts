import places from '../../assets/demo/places.json' with { type: 'json' };
import texts from '../../assets/demo/texts.json' with { type: 'json' };
import type { Controller, Property, Sensor } from '../properties/contract.ts';
import type { KnownHow } from '../contract/parts.ts';
import type { Soil } from '../agronomy/contract.ts';
import { dateOf, dayOn, millisecondsOf } from './days.ts';
import { newSensorBase } from '../store/tables.ts';
import type { Owner } from './owners.ts';
import { chance, type Chance } from './random.ts';
import type { World } from './world.ts';
import { makeZone, zoneCountOf, type ZonePlan } from './zones.ts';

/** What is in the ground at one property, before any work is done on it. */
export interface Ground {
  index: number;
  owner: Owner;
  property: Property;
  baseBackflowTestDue: string | null;
  controllers: Controller[];
  zones: ZonePlan[];
  sensors: (Sensor & ReturnType<typeof newSensorBase>)[];
  /** The day the company took the system over. */
  since: number;
  /** Place in world.technicians of who usually comes. */
  technician: number;
  restricted: boolean;
  odd: boolean;
  /** The day's share by which height makes spring later and autumn earlier. */
  lateDays: number;
}

const STATIONS_PER_CONTROLLER = 24;
const TESTED = ['pressure-vacuum-breaker', 'reduced-pressure', 'double-check'] as const;

/** Property number `index`. Only its house number looks at earlier properties: two never share one address. */
export function groundOf(world: World, owner: Owner, index: number, ordinal: number, addresses: Set<string>): Ground {
  const rng = chance(world.seed, 'property', index);
  const { neighbourhood: place, client } = owner;
  const since = rng.yes(0.8) ? world.start : world.start + rng.int(30, 900);
  const born = millisecondsOf(Math.min(since, world.today - 1), 54_000 + (index % 20_000));
  const propertyId = rng.ulid(born);
  const street = houseOf(rng, place.streets, addresses);
  const east = rng.range(-0.009, 0.009, 5);
  const elevationFt = Math.round(Math.min(6400, Math.max(4700, place.elevationFt + east * 9000 + rng.normal(0, 25))));
  const backflowKind = rng.weighted<Property['backflowKind']>([
    ['pressure-vacuum-breaker', 52],
    ['reduced-pressure', 16],
    ['double-check', 12],
    ['atmospheric-vacuum-breaker', 8],
    ['unknown', 9],
    ['none', 3],
  ]);
  const tested = (TESTED as readonly string[]).includes(backflowKind);
  const base = tested && rng.yes(0.92) ? dateOf(since + rng.int(20, 330)) : null;
  const pipeMaterial = rng.weighted<Property['pipeMaterial']>([
    ['pvc', 40],
    ['polyethylene', 34],
    ['mixed', 12],
    ['unknown', 11],
    ['copper', 3],
  ]);
  const property: Property = {
    id: propertyId,
    clientId: client.id,
    label: owner.properties > 1 ? texts.labels[ordinal % texts.labels.length]! : '',
    street,
    city: place.city,
    region: places.region,
    postcode: place.postcode,
    latitudeDeg: Math.round((place.latitudeDeg + rng.range(-0.007, 0.007, 5)) * 1e5) / 1e5,
    longitudeDeg: Math.round((place.longitudeDeg + east) * 1e5) / 1e5,
    elevationFt: rng.yes(0.97) ? elevationFt : null,
    timeZone: 'America/Denver',
    routeId: rng.yes(0.985) ? world.routes[place.route]!.id : null,
    accessNotes: rng.yes(0.4) ? rng.pick(texts.accessNotes) : '',
    gateCode: rng.yes(0.35) ? `${rng.int(1000, 9999)}${rng.yes(0.3) ? '#' : ''}` : '',
    dogNote: rng.yes(0.18) ? rng.pick(texts.dogNotes) : '',
    waterSupply: rng.weighted([
      ['drinking', 80],
      ['reclaimed', 7],
      ['well', 6],
      ['pond', 2],
      ['unknown', 5],
    ]),
    staticPressurePsi: rng.yes(0.75) ? Math.round(rng.normal(68, 12)) : null,
    pipeMaterial,
    backflowKind,
    backflowLocation: backflowKind === 'none' || backflowKind === 'unknown' ? '' : rng.pick(texts.backflowLocations),
    backflowSerial: tested ? `BF-${rng.int(10_000, 99_999)}` : '',
    backflowTestDue: base,
    shutoffLocation: rng.yes(0.9) ? rng.pick(texts.shutoffs) : '',
    restrictionId: place.restricted ? world.restriction.id : null,
    addressParity: 'auto',
    weatherStationId: world.stations[place.station]!.id,
    servicesStartUp: !rng.yes(0.06),
    servicesWinterization: !rng.yes(0.035),
    archived: client.archived,
  };

  const count = zoneCountOf(rng, client.kind);
  const controllerCount = Math.ceil(count / STATIONS_PER_CONTROLLER);
  const controllers = Array.from({ length: controllerCount }, (_, at): Controller => {
    const stations = Math.min(STATIONS_PER_CONTROLLER, count - at * STATIONS_PER_CONTROLLER);
    return {
      id: rng.ulid(born),
      propertyId,
      name: controllerCount === 1 ? 'Controller' : `Controller ${String.fromCharCode(65 + at)}`,
      location: rng.pick(texts.controllerLocations),
      stationCount: [6, 8, 12, 16, 24].find((size) => size >= stations)!,
      retired: false,
    };
  });
  const soil: Soil = rng.yes(place.clay)
    ? rng.weighted<Soil>([
        ['clay-loam', 4],
        ['clay', 1],
      ])
    : rng.weighted<Soil>([
        ['loam', 4],
        ['sandy-loam', 3],
        ['silt-loam', 2],
        ['loamy-sand', 1],
      ]);
  const soilKnown: KnownHow = rng.weighted([
    ['guess', 5],
    ['chart', 4],
    ['measured', 1],
  ]);
  const slope = Math.abs(rng.normal(place.elevationFt > 5500 ? 6 : 2, 3));
  const taken = new Map<string, number>();
  const zones = Array.from({ length: count }, (_, at) =>
    makeZone(rng, {
      id: rng.ulid(born),
      propertyId,
      controllerId: controllers[Math.floor(at / STATIONS_PER_CONTROLLER)]!.id,
      station: (at % STATIONS_PER_CONTROLLER) + 1,
      kind: client.kind,
      soil,
      soilKnown,
      slope,
      taken,
    }),
  );

  return {
    index,
    owner,
    property,
    baseBackflowTestDue: base,
    controllers,
    zones,
    sensors: sensorsOf(world, rng, propertyId, controllers, since, born),
    since,
    technician: rng.pick(world.crewOfRoute[place.route]!),
    restricted: place.restricted,
    odd: Number.parseInt(street, 10) % 2 === 1,
    lateDays: Math.round(((elevationFt - 5000) / 1000) * 7),
  };
}

function houseOf(rng: Chance, streets: readonly string[], addresses: Set<string>): string {
  const street = rng.pick(streets);
  let number = rng.int(101, 2990);
  while (addresses.has(`${number} ${street}`)) number += 2;
  addresses.add(`${number} ${street}`);
  return `${number} ${street}`;
}

function sensorsOf(
  world: World,
  rng: Chance,
  propertyId: string,
  controllers: Controller[],
  since: number,
  born: number,
): Ground['sensors'] {
  if (!rng.yes(0.8)) return [];
  return controllers.map((controller) => {
    const wireless = rng.yes(0.76);
    const model = rng.pick(wireless ? texts.sensorModels.wireless : texts.sensorModels.wired);
    const rainOnly = !model.includes('freeze');
    const cells = wireless ? rng.int(1, 2) : 0;
    const base =
      wireless && rng.yes(0.85) ? dateOf(Math.max(dayOn(world.year - 4, 1, 1), since - rng.int(0, 300))) : null;
    const sensor = {
      id: rng.ulid(born),
      propertyId,
      controllerId: controller.id,
      senses: rainOnly ? ('rain' as const) : ('rain-and-freeze' as const),
      link: wireless ? ('wireless' as const) : ('wired' as const),
      model,
      location: rng.pick(texts.sensorLocations),
      batteryType: wireless ? 'CR2032' : '',
      batteryCells: cells,
      batteryDate: base,
      rainSetPointInches: rng.pick([0.125, 0.25, 0.25, 0.5]),
      freezeSetPointF: rainOnly ? null : rng.pick([37, 37, 38, 41]),
      lastCheckDate: null,
      lastCheckPassed: null,
      lastSignal: null,
      cellsGood: null,
      retired: false,
    };
    return { ...sensor, ...newSensorBase(sensor) };
  });
}
