import people from '../../assets/demo/people.json' with { type: 'json' };
import places from '../../assets/demo/places.json' with { type: 'json' };
import weather from '../../assets/demo/weather.json' with { type: 'json' };
import { settingsSchema, type Restriction, type Settings, type ThumbRule } from '../settings/contract.ts';
import { SKILLS, type Route, type Technician, type Truck } from '../people/contract.ts';
import type { WeatherStation } from '../weather/contract.ts';
import { DEFAULT_THUMB_RULES } from '../settings/index.ts';
import { dayOf, dayOn, millisecondsOf, weekdayOfDay, yearOfDay } from './days.ts';
import { chance } from './random.ts';

export type Neighbourhood = (typeof places)['neighbourhoods'][number];

/** What all properties of the demo company share. */
export interface World {
  seed: number;
  /** Day numbers: three years of history end the day before `today`. */
  today: number;
  start: number;
  year: number;
  settings: Settings;
  technicians: Technician[];
  /** Places in `technicians` of those licensed to test backflow assemblies. */
  testers: number[];
  trucks: Truck[];
  routes: Route[];
  /** Places in `technicians` of who works a route. */
  crewOfRoute: number[][];
  restriction: Restriction;
  stations: WeatherStation[];
  /** Each property has exactly so many ledger entries; null = as many as the work of three years makes. */
  entriesPerProperty: number | null;
}

/** The company: people, trucks, routes, rules and stations. The number of technicians follows the number of properties. */
export function makeWorld(options: {
  seed: number;
  today: string;
  properties: number;
  entriesPerProperty: number | null;
}): World {
  const { seed, properties } = options;
  const today = dayOf(options.today);
  const year = yearOfDay(today);
  const start = dayOn(year - 3, Number(options.today.slice(5, 7)), Math.min(28, Number(options.today.slice(8))));
  const rng = chance(seed, 'world');
  const born = millisecondsOf(start, 50_000);
  const technicianCount =
    properties <= 25
      ? 3
      : properties <= 120
        ? 4
        : properties <= 300
          ? 5
          : properties <= 800
            ? 6
            : properties <= 2000
              ? 8
              : 16;

  const trucks: Truck[] = [];
  const technicians: Technician[] = [];
  for (let index = 0; index < technicianCount; index += 1) {
    const truck: Truck = {
      id: rng.ulid(born),
      name: `Truck ${index + 1}`,
      compressorCfm: index % 4 === 3 ? 30 : index % 2 === 0 ? 185 : 110,
      active: true,
    };
    trucks.push(truck);
    // Every technician works today, whatever weekday it is, so that the field desk has a day to show.
    const ordinary = index % 3 === 2 ? [2, 3, 4, 5, 6] : [1, 2, 3, 4, 5];
    const weekday = weekdayOfDay(today);
    technicians.push({
      id: rng.ulid(born),
      name: people.technicians[index]!,
      phone: `(${places.areaCodes[0]}) 555-01${String(80 + index)}`,
      skills: SKILLS.filter(
        (skill) =>
          skill === 'start-up' ||
          skill === 'winterization' ||
          (skill === 'backflow-tester'
            ? index % 3 === 0
            : skill === 'electrical'
              ? index % 3 === 1
              : skill === 'repair'
                ? index % 4 !== 3
                : index % 2 === 0),
      ),
      workWeekdays: ordinary.includes(weekday) ? ordinary : [...ordinary.slice(1), weekday].sort((a, b) => a - b),
      dayStart: index % 2 === 0 ? '07:30' : '08:00',
      dayEnd: index % 2 === 0 ? '16:00' : '16:30',
      truckId: truck.id,
      active: true,
    });
  }
  const crewOfRoute = places.routes.map((_, route) =>
    technicians.flatMap((_technician, index) =>
      (
        technicianCount >= places.routes.length
          ? index % places.routes.length === route
          : route % technicianCount === index
      )
        ? [index]
        : [],
    ),
  );
  return {
    seed,
    today,
    start,
    year,
    settings: settingsSchema.parse({
      companyName: 'Larkbend Irrigation Care (demo)',
      startUpFrom: '04-01',
      startUpTo: '05-31',
      winterizationFrom: '09-25',
      winterizationTo: '11-15',
    }),
    technicians,
    trucks,
    crewOfRoute,
    testers: technicians.flatMap((technician, index) => (technician.skills.includes('backflow-tester') ? [index] : [])),
    routes: places.routes.map((name, route) => ({
      id: rng.ulid(born),
      name,
      technicianId: technicians[crewOfRoute[route]![0]!]!.id,
    })),
    restriction: { id: rng.ulid(born), currentStage: 0, ...places.restriction } as Restriction,
    stations: weather.stations.map((station) => ({
      id: rng.ulid(born),
      name: station.name,
      latitudeDeg: station.latitudeDeg,
      longitudeDeg: station.longitudeDeg,
      elevationFt: station.elevationFt,
      source: station.source,
      normals: station.tmaxF.map((tmaxF, month) => ({
        tmaxF,
        tminF: station.tminF[month]!,
        rainInches: station.rainInches[month]!,
        rhMeanPct: station.rhMeanPct[month]!,
        windMph: station.windMph[month]!,
        solarMjM2: station.solarMjM2[month]!,
      })),
    })),
    entriesPerProperty: options.entriesPerProperty,
  };
}

/** The company's rules of thumb: those every book starts with. */
export function thumbRulesOf(world: World): (ThumbRule & { position: number })[] {
  const rng = chance(world.seed, 'thumb');
  return DEFAULT_THUMB_RULES.map((rule, position) => ({
    id: rng.ulid(millisecondsOf(world.start, 50_000)),
    ...rule,
    position,
  }));
}
