import { z } from 'zod';
import { measure, lineSchema, nameSchema, ulidSchema } from '../contract/parts.ts';
import { defineRequest } from '../contract/define-request.ts';

export const monthlyNormalSchema = z.object({
  /** Mean daily maximum and minimum, °F. */
  tmaxF: measure(-60, 130, '°F'),
  tminF: measure(-60, 130, '°F'),
  rainInches: measure(0, 60, 'in a month'),
  rhMeanPct: measure(1, 100, '%').nullable().default(null),
  windMph: measure(0, 60, 'mph').nullable().default(null),
  solarMjM2: measure(0, 45, 'MJ/m² a day').nullable().default(null),
});

export type MonthlyNormal = z.infer<typeof monthlyNormalSchema>;

export const weatherStationSchema = z.object({
  id: ulidSchema,
  name: nameSchema(120),
  latitudeDeg: measure(-66, 66, 'degrees'),
  longitudeDeg: measure(-180, 180, 'degrees'),
  elevationFt: measure(-1400, 20000, 'ft'),
  source: lineSchema(300).default(''),
  /** January … December. */
  normals: z.array(monthlyNormalSchema).length(12, 'must hold twelve months'),
});

export type WeatherStation = z.infer<typeof weatherStationSchema>;

export const stationList = defineRequest({
  name: 'station.list',
  kind: 'read',
  title: 'Weather stations with their monthly normals and how many days of records they hold.',
  topics: ['weather'],
  input: z.object({}),
  output: z.object({
    stations: z.array(
      weatherStationSchema.extend({
        dailyRecords: z.int(),
        firstDate: z.string().nullable(),
        lastDate: z.string().nullable(),
      }),
    ),
  }),
});

export const stationSave = defineRequest({
  name: 'station.save',
  kind: 'write',
  title: 'Adds or saves a weather station with its twelve monthly normals.',
  topics: ['weather'],
  input: z.object({ writeId: ulidSchema, station: weatherStationSchema }),
  output: z.object({ stationId: ulidSchema }),
});
