import type { ClientKind } from '../clients/contract.ts';
import type { EmissionDevice, PlantKind, Soil } from '../agronomy/contract.ts';
import type { KnownHow } from '../contract/parts.ts';
import type { Zone } from '../properties/contract.ts';
import { newZoneBase } from '../store/tables.ts';
import type { Chance } from './random.ts';

/** A zone with what the demo knows and the book may not: how it really waters, and the minutes before and after an adjustment. */
export interface ZonePlan {
  zone: Zone;
  /** What the office said of its rate. */
  base: ReturnType<typeof newZoneBase>;
  /** Which of a controller's programs runs it. */
  group: 'turf' | 'beds' | 'trees';
  foundMinutes: number;
  adjustedMinutes: number;
  cycleMinutes: number | null;
  /** Really flowing, gpm. */
  trueGpm: number;
}

interface Template {
  names: readonly string[];
  plant: PlantKind;
  device: EmissionDevice;
  area: readonly [number, number];
  rate: readonly [number, number];
  group: ZonePlan['group'];
  found: readonly [number, number];
  betweenHouses?: boolean;
  drip?: readonly [gph: number, emitterFt: number, rowFt: number];
}

const FRONT_SPRAY: Template = {
  names: [
    'Front lawn',
    'Front lawn, walk',
    'Parking strip',
    'Lawn by the drive',
    'Front lawn, east',
    'Front lawn, west',
  ],
  plant: 'cool-turf',
  device: 'pop-up-spray',
  area: [260, 1100],
  rate: [1.4, 2.1],
  group: 'turf',
  found: [12, 24],
};
const BACK_ROTOR: Template = {
  names: ['Back lawn', 'Back lawn, south', 'Back lawn, north', 'Big lawn', 'Slope lawn', 'Lawn by the fence'],
  plant: 'cool-turf',
  device: 'rotor',
  area: [1400, 5200],
  rate: [0.38, 0.7],
  group: 'turf',
  found: [35, 60],
};
const BACK_ROTARY: Template = {
  names: ['Back lawn, patio', 'Side lawn', 'Lower lawn', 'Upper lawn'],
  plant: 'cool-turf',
  device: 'rotary-nozzle',
  area: [700, 2400],
  rate: [0.36, 0.52],
  group: 'turf',
  found: [30, 50],
};
const STRIP: Template = {
  names: ['Strip between the houses', 'North side yard', 'South side yard', 'Narrow side strip'],
  plant: 'cool-turf',
  device: 'pop-up-spray',
  area: [90, 280],
  rate: [1.6, 2.3],
  group: 'turf',
  found: [8, 15],
  betweenHouses: true,
};
const SHRUB_DRIP: Template = {
  names: ['Shrubs, front', 'Shrubs, fence', 'Foundation bed', 'Hedge', 'Shrubs, drive'],
  plant: 'shrubs',
  device: 'drip-line',
  area: [140, 900],
  rate: [0.5, 1],
  group: 'beds',
  found: [30, 75],
  drip: [0.6, 1, 1.5],
};
const PERENNIAL_SOAKER: Template = {
  names: ['Perennials', 'Rose bed', 'Bed by the porch', 'Cutting bed'],
  plant: 'perennials',
  device: 'soaker-hose',
  area: [60, 320],
  rate: [0.7, 1.2],
  group: 'beds',
  found: [30, 60],
};
const TREE_BUBBLER: Template = {
  names: ['Trees, front', 'Trees, back', 'Orchard row', 'Street trees'],
  plant: 'trees',
  device: 'bubbler',
  area: [60, 260],
  rate: [1.4, 2.6],
  group: 'trees',
  found: [18, 40],
};
const TREE_EMITTER: Template = {
  names: ['Young trees', 'Trees, boundary'],
  plant: 'trees',
  device: 'drip-emitter',
  area: [80, 400],
  rate: [0.25, 0.5],
  group: 'trees',
  found: [60, 120],
};
const VEGETABLES: Template = {
  names: ['Vegetable beds', 'Raised beds'],
  plant: 'vegetables',
  device: 'drip-line',
  area: [60, 240],
  rate: [0.8, 1.1],
  group: 'beds',
  found: [30, 45],
  drip: [0.9, 1, 1.5],
};
const ANNUALS: Template = {
  names: ['Entry flowers', 'Sign bed', 'Pots and tubs'],
  plant: 'annuals',
  device: 'micro-spray',
  area: [40, 220],
  rate: [0.5, 0.9],
  group: 'beds',
  found: [15, 30],
};
const DRY_BED: Template = {
  names: ['Dry bed', 'Gravel garden', 'Bank planting'],
  plant: 'desert',
  device: 'drip-emitter',
  area: [200, 900],
  rate: [0.2, 0.4],
  group: 'beds',
  found: [45, 90],
};
const COVER: Template = {
  names: ['Ground cover, bank', 'Ground cover, north'],
  plant: 'ground-cover',
  device: 'rotary-nozzle',
  area: [300, 1200],
  rate: [0.36, 0.5],
  group: 'beds',
  found: [30, 45],
};
const WARM_LAWN: Template = {
  names: ['Meadow lawn', 'Native grass'],
  plant: 'warm-turf',
  device: 'rotor',
  area: [1500, 6000],
  rate: [0.38, 0.6],
  group: 'turf',
  found: [30, 50],
};
const OLD_IMPACT: Template = {
  names: ['Old field', 'Ball field'],
  plant: 'cool-turf',
  device: 'impact',
  area: [4000, 12000],
  rate: [0.3, 0.5],
  group: 'turf',
  found: [45, 75],
};

const MIX: Record<ClientKind, readonly (readonly [Template, number])[]> = {
  household: [
    [FRONT_SPRAY, 26],
    [BACK_ROTOR, 15],
    [BACK_ROTARY, 9],
    [STRIP, 10],
    [SHRUB_DRIP, 15],
    [PERENNIAL_SOAKER, 9],
    [TREE_BUBBLER, 6],
    [TREE_EMITTER, 3],
    [VEGETABLES, 4],
    [DRY_BED, 2],
    [COVER, 2],
  ],
  association: [
    [FRONT_SPRAY, 22],
    [BACK_ROTOR, 30],
    [BACK_ROTARY, 8],
    [SHRUB_DRIP, 16],
    [TREE_BUBBLER, 7],
    [TREE_EMITTER, 3],
    [ANNUALS, 4],
    [WARM_LAWN, 5],
    [OLD_IMPACT, 3],
    [COVER, 4],
  ],
  business: [
    [FRONT_SPRAY, 30],
    [BACK_ROTOR, 12],
    [BACK_ROTARY, 8],
    [SHRUB_DRIP, 20],
    [ANNUALS, 8],
    [TREE_BUBBLER, 8],
    [DRY_BED, 8],
    [COVER, 6],
  ],
};

/** How many zones a property of this kind has: about twelve on average over the company. */
export function zoneCountOf(rng: Chance, kind: ClientKind): number {
  if (kind === 'household') return Math.min(18, Math.max(4, Math.round(rng.normal(10, 2.9))));
  if (kind === 'business') return Math.min(24, Math.max(4, Math.round(rng.normal(12.5, 4))));
  return Math.min(36, Math.max(6, Math.round(rng.normal(17, 6))));
}

/** One zone; `taken` keeps names apart within a property. */
export function makeZone(
  rng: Chance,
  at: {
    id: string;
    propertyId: string;
    controllerId: string;
    station: number;
    kind: ClientKind;
    soil: Soil;
    soilKnown: KnownHow;
    slope: number;
    taken: Map<string, number>;
  },
): ZonePlan {
  const template = at.station === 1 ? FRONT_SPRAY : rng.weighted(MIX[at.kind]);
  const scale = at.kind === 'association' ? rng.range(1, 1.8) : 1;
  const area = Math.round((rng.range(template.area[0], template.area[1], 0) * scale) / 10) * 10;
  const drip = template.drip;
  const rate = drip ? (1.604 * drip[0]) / (drip[1] * drip[2]) : rng.range(template.rate[0], template.rate[1], 2);
  const trueGpm = (rate * area) / 96.25;
  const known = rng.weighted<KnownHow | 'unknown'>([
    ['measured', 14],
    ['chart', 40],
    ['guess', 33],
    ['unknown', 13],
  ]);
  const flowGpm =
    known === 'unknown'
      ? null
      : Math.max(
          0.1,
          Math.round(
            trueGpm * (known === 'guess' ? rng.range(0.65, 1.5) : known === 'chart' ? rng.range(0.92, 1.1) : 1) * 10,
          ) / 10,
        );
  const spacingKnown = !drip && template.device === 'pop-up-spray' && rng.yes(0.15);
  const name = rng.pick(template.names);
  const same = (at.taken.get(name) ?? 0) + 1;
  at.taken.set(name, same);
  const slopePercent = Math.max(
    0,
    Math.round(at.slope + (template.names === COVER.names || name.startsWith('Slope') ? 12 : rng.normal(0, 1.5))),
  );
  const clay = at.soil === 'clay' || at.soil === 'clay-loam';
  const spray = template.device === 'pop-up-spray';
  const zone: Zone = {
    id: at.id,
    propertyId: at.propertyId,
    controllerId: at.controllerId,
    station: at.station,
    name: same === 1 ? name : `${name} ${same}`,
    plantKind: template.plant,
    plantFactor: rng.yes(0.04) ? 0.7 : null,
    emissionDevice: template.device,
    flowGpm,
    flowKnown: known === 'unknown' ? 'guess' : known,
    areaFt2: rng.yes(0.06) ? null : Math.round((area * (known === 'guess' ? rng.range(0.8, 1.25) : 1)) / 10) * 10,
    areaKnown: known === 'guess' || known === 'unknown' ? 'guess' : rng.yes(0.7) ? 'chart' : 'measured',
    prMethod: drip ? 'drip' : spacingKnown ? 'spacing' : flowGpm !== null && rng.yes(0.75) ? 'flow-area' : 'table',
    prInputs: drip
      ? { emitterGph: drip[0], emitterSpacingFt: drip[1], rowSpacingFt: drip[2] }
      : spacingKnown
        ? { headGpm: Math.round(((rate * 144) / 96.25) * 100) / 100, headSpacingFt: 12, rowSpacingFt: 12 }
        : {},
    precipitationRateInPerHour: null,
    distributionUniformity: null,
    soil: at.soil,
    soilKnown: at.soilKnown,
    slopePercent: Math.min(35, slopePercent),
    sunExposure: rng.weighted([
      ['full-sun', 6],
      ['part-shade', 3],
      ['shade', 1],
    ]),
    rootDepthInches: rng.yes(0.1) ? rng.int(4, 9) : null,
    betweenHouses: template.betweenHouses ?? false,
    retired: false,
  };
  // Without an area the flow says nothing of the rate.
  if (zone.prMethod === 'flow-area' && zone.areaFt2 === null) zone.prMethod = 'table';
  return {
    zone,
    base: newZoneBase(zone),
    group: template.group,
    trueGpm,
    foundMinutes: rng.int(template.found[0], template.found[1]),
    adjustedMinutes: setMinutes(rng, template, rate),
    cycleMinutes: spray && (clay || slopePercent > 8) && !template.betweenHouses ? 7 : null,
  };
}

/** Inches a week the demo's town asks for at midsummer, roughly: what its technicians have learnt to aim at. */
const MIDSUMMER_INCHES: Record<PlantKind, number> = {
  'cool-turf': 1.3,
  'warm-turf': 0.95,
  annuals: 1.3,
  vegetables: 1.3,
  perennials: 0.85,
  shrubs: 0.8,
  'ground-cover': 0.8,
  trees: 0.75,
  desert: 0.45,
};
/** The percentage their programs stand at then; trees stay at 100 %. */
const MIDSUMMER_PERCENT = 1.35;

/** Minutes a technician of the company sets at 100 %: near need, by experience and not by sum, half between houses. */
function setMinutes(rng: Chance, template: Template, rateInPerHour: number): number {
  const waterings = template.group === 'trees' ? 1 : 2 * MIDSUMMER_PERCENT;
  const minutes =
    ((MIDSUMMER_INCHES[template.plant] / waterings / rateInPerHour) * 60 * rng.range(0.85, 1.3)) /
    (template.betweenHouses === true ? 2 : 1);
  return Math.max(3, Math.min(120, Math.round(minutes)));
}
