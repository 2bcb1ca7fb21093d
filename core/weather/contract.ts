import { z } from 'zod';
import { measure, lineSchema, nameSchema, plainDateSchema, ulidSchema } from '../contract/parts.ts';
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

/** Dates (MM-DD) by chance, of seasons that had such a day or not. */
const freezeSideSchema = z.object({
  /** Autumn: the date (MM-DD) with a 10, 50 and 90 % chance of one earlier; spring: of one later. Null: the chance is smaller. */
  p10: z.string().nullable(),
  p50: z.string().nullable(),
  p90: z.string().nullable(),
  /** Seasons used, with and without such a day. */
  seasons: z.int(),
  /** Seasons used that had no such day. */
  seasonsWithout: z.int(),
  /** Seasons not used: more than ten of their days have no reading. */
  seasonsSkipped: z.int(),
  byDate: z.array(z.object({ chance: z.int(), date: z.string().nullable() })),
});
export type FreezeSide = z.infer<typeof freezeSideSchema>;

const freezeDatesSchema = z.object({
  firstAutumn: freezeSideSchema,
  lastSpring: freezeSideSchema,
  /** One of the two rests on fewer than ten seasons. */
  thin: z.boolean(),
  /** Days of the seasons used that have no reading. */
  skippedDays: z.int(),
  /** Records of a day that an earlier record had told; the first counts. */
  repeatedDays: z.int(),
});
export type FreezeDates = z.infer<typeof freezeDatesSchema>;

export const weatherFreezeDates = defineRequest({
  name: 'weather.freezeDates',
  kind: 'read',
  title:
    'Dates of the first autumn and the last spring freeze by chance, of given daily lows or of those of a station.',
  topics: ['weather'],
  input: z
    .object({
      records: z
        .array(z.object({ date: plainDateSchema, tminF: measure(-130, 140, '°F').nullable() }))
        .max(80_000, 'must be at most 80,000 days')
        .optional(),
      stationId: ulidSchema.optional(),
      /** A day counts that is this cold or colder, as recorded. */
      thresholdF: measure(-40, 70, '°F'),
      /** Seasons looked at; an autumn is that of the year of its August. */
      fromYear: z.int().min(1900).max(2199).optional(),
      toYear: z.int().min(1900).max(2199).optional(),
    })
    .refine(({ records, stationId }) => (records === undefined) !== (stationId === undefined), {
      error: 'must come alone: either records or a station',
      path: ['records'],
    }),
  output: freezeDatesSchema,
});
