import { join } from 'node:path';
import type { RequestName } from '../../core/contract/index.ts';
import { anyOf, dayIn, newId, siteWith, workRecipes, type Recipe } from './recipes-work.ts';

// How to ask so that the book can say yes, for every request that chance alone would not get through.

const base64 = (text: string) => Buffer.from(text).toString('base64');

/** A small list of each kind that can be imported. */
const importInput: Recipe<'import.preview'> = (world, chance) => {
  const n = chance.int(1, 1e9);
  switch (chance.pick(['clients', 'zones', 'work', 'weather'])) {
    case 'clients':
      return {
        target: 'clients',
        bytesBase64: base64(`Client name,Phone,Street,City\r\nFuzz ${n},(970) 555-0133,${n} Quarry Lane,Tamsett\r\n`),
      };
    case 'weather':
      return {
        target: 'weather',
        stationId: anyOf(chance, new Map(world.stations.map((one) => [one.id, one])))?.id ?? null,
        bytesBase64: base64(`Date,Tmax F,Tmin F,Rain in\n${dayIn(chance, 2000, 2025)},80,50,0.1\n`),
      };
    case 'zones': {
      const site = siteWith(world, chance);
      return (
        site && {
          target: 'zones',
          bytesBase64: base64(
            `Street,City,Station,Zone name\n${site.property.street},${site.property.city},${chance.int(1, 40)},Strip ${n}\n`,
          ),
        }
      );
    }
    default: {
      const site = siteWith(world, chance);
      return (
        site && {
          target: 'work',
          bytesBase64: base64(
            `Date,Type of work,Street,City,Notes\n${dayIn(chance, 2020, 2025)},repair,${site.property.street},${site.property.city},fixed ${n}\n`,
          ),
        }
      );
    }
  }
};

const monthDay = (month: number, day: number) => `${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;

export const RECIPES: { [N in RequestName]?: Recipe<N> } = {
  ...workRecipes,
  'client.save': (world, chance) => {
    const known = chance.yes(0.5) ? anyOf(chance, world.clients) : undefined;
    return {
      writeId: newId(chance),
      client: { ...(known?.client ?? { id: newId(chance) }), name: `Household ${chance.int(1, 999)}`, notes: 'x' },
      ...(known ? { version: known.version } : {}),
    };
  },
  'property.save': (world, chance) => {
    const site = siteWith(world, chance);
    if (!site) return null;
    const { property, controllers, zones, sensors } = site;
    return {
      writeId: newId(chance),
      property: { ...property, gateCode: String(chance.int(0, 9999)) },
      version: site.version,
      controllers: chance.yes(0.3) ? controllers : [],
      zones: zones.slice(0, chance.int(0, 2)).map((zone) => ({ ...zone, areaFt2: chance.range(1, 5000) })),
      sensors: chance.yes(0.3) ? sensors : [],
      ...(chance.yes(0.5) ? { opened: { property, controllers, zones, sensors } } : {}),
    };
  },
  'agronomy.eto': (_world, chance) => {
    const tminC = chance.range(-20, 25);
    return {
      latitudeDeg: chance.range(-60, 60),
      elevationM: chance.range(-100, 3500),
      date: dayIn(chance, 1900, 2199),
      tmaxC: tminC + chance.range(0, 20),
      tminC,
      ...(chance.yes(0.5) ? { windMps: chance.range(0, 20), rhMeanPct: chance.range(1, 100) } : {}),
    };
  },
  'settings.save': (world, chance) => ({
    writeId: newId(chance),
    settings: {
      ...world.settings,
      companyName: `Company ${chance.int(1, 99)}`,
      units: chance.pick(['us', 'metric']),
      batteryLifeMonths: chance.int(1, 120),
      startUpFrom: monthDay(chance.int(1, 3), chance.int(1, 28)),
      startUpTo: monthDay(chance.int(4, 6), chance.int(1, 28)),
      roundToMinutes: chance.range(0.02, 5, 4),
      timeZone: chance.pick(['America/Denver', 'Pacific/Kiritimati', 'Asia/Kathmandu', 'UTC']),
    },
  }),
  'rules.save': (world, chance) => ({
    writeId: newId(chance),
    restrictions: world.rules.restrictions
      .slice(0, 1)
      .map((one) => ({ ...one, source: `letter ${chance.int(1, 99)}` })),
    ...(chance.yes(0.3) ? { thumbRules: world.rules.thumbRules } : {}),
  }),
  'station.save': (world, chance) => {
    const { id, name, latitudeDeg, longitudeDeg, elevationFt, normals } = chance.pick(world.stations);
    return {
      writeId: newId(chance),
      station: { id, name, latitudeDeg, longitudeDeg, elevationFt, source: `book ${chance.int(1, 99)}`, normals },
    };
  },
  'people.save': (world, chance) => ({
    writeId: newId(chance),
    technicians: [{ ...chance.pick(world.people.technicians), phone: `(970) 555-01${chance.int(10, 99)}` }],
    routes: chance.yes(0.3) ? world.people.routes.slice(0, 2) : [],
    trucks: [],
  }),
  'book.check': () => ({}),
  'book.backup': (world, chance) =>
    chance.yes(0.5) ? {} : { toPath: join(world.folder, 'out', `copy-${newId(chance)}.valvebook`) },
  'export.book': (world, chance) =>
    chance.yes(0.5) ? {} : { toPath: join(world.folder, 'out', `export-${newId(chance)}.zip`) },
  'book.restore': (world, chance) => ({ fromPath: chance.pick(world.backups) }),
  'import.preview': importInput,
  'import.apply': (world, chance) => {
    const input = importInput(world, chance);
    return input && { ...input, mode: chance.pick(['good-rows', 'all-or-none']) };
  },
};
