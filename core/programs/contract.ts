import { z } from 'zod';
import {
  ulidSchema,
  measure,
  nullable,
  wateringDaysSchema,
  startTimesSchema,
  plainDateSchema,
  nameSchema,
  toldSchema,
  reckonedDateSchema,
  nullableNumber,
} from '../contract/parts.ts';
import { defineRequest } from '../contract/define-request.ts';
import { GUESSED_FIELDS, MEASUREMENTS } from '../text/advice-facts.ts';

export const programRunSchema = z.object({
  zoneId: ulidSchema,
  /** Minutes at 100 %. 0 = the zone is off in this program. */
  runMinutes: measure(0, 720, 'min'),
  /** Longest cycle before a soak, after the seasonal percentage; null = one cycle. */
  cycleMinutes: nullable(measure(1, 720, 'min')),
  soakMinutes: nullable(measure(0, 720, 'min')),
});

export type ProgramRun = z.infer<typeof programRunSchema>;

/** What a controller is told: one program as set on one day. */
export const programSettingsSchema = z.object({
  days: wateringDaysSchema,
  startTimes: startTimesSchema,
  seasonalPercent: z.int().min(0, 'must be 0 to 300 %').max(300, 'must be 0 to 300 %').default(100),
  runs: z
    .array(programRunSchema)
    .max(99)
    .refine((runs) => new Set(runs.map((run) => run.zoneId)).size === runs.length, 'must not name a zone twice'),
  enabled: z.boolean().default(true),
});

export type ProgramSettings = z.infer<typeof programSettingsSchema>;

export const programRevisionSchema = programSettingsSchema.extend({
  id: ulidSchema,
  programId: ulidSchema,
  revisionNumber: z.int(),
  effectiveDate: plainDateSchema,
  recordedAt: z.string(),
  madeBy: z.string(),
  reason: z.string(),
});

export type ProgramRevision = z.infer<typeof programRevisionSchema>;

export const programSchema = z.object({
  id: ulidSchema,
  propertyId: ulidSchema,
  controllerId: ulidSchema,
  name: nameSchema(40),
  revision: programRevisionSchema,
  revisionCount: z.int(),
});

export type Program = z.infer<typeof programSchema>;

const minuteOfDay = z.number();

export const breachSchema = z.object({
  code: z.enum(['forbidden-day', 'date-parity', 'forbidden-hours', 'too-many-days', 'no-watering']),
  date: z.string(),
  zoneId: ulidSchema,
  startMinute: minuteOfDay,
  text: toldSchema,
});

export const waterWeekSchema = z.object({
  weekStart: reckonedDateSchema,
  days: z.array(
    z.object({
      date: reckonedDateSchema,
      weekday: z.int(),
      blocks: z.array(
        z.object({
          zoneId: ulidSchema,
          station: z.int(),
          zoneName: z.string(),
          programName: z.string(),
          /** Minutes from local midnight of this date; a run may end after 1440. */
          startMinute: minuteOfDay,
          runMinutes: z.number(),
          cycle: z.int(),
          soakAfterMinutes: z.number(),
        }),
      ),
      forbidden: z.array(z.object({ fromMinute: minuteOfDay, toMinute: minuteOfDay })),
      forbiddenAllDay: z.boolean(),
      sunriseMinute: nullableNumber,
    }),
  ),
  totals: z.array(
    z.object({
      zoneId: ulidSchema,
      station: z.int(),
      zoneName: z.string(),
      minutesPerWeek: z.number(),
      runsPerWeek: z.int(),
      gallonsPerWeek: nullableNumber,
    }),
  ),
  breaches: z.array(breachSchema),
});

export type WaterWeek = z.infer<typeof waterWeekSchema>;

export const programHistory = defineRequest({
  name: 'program.history',
  kind: 'read',
  title: 'All revisions of a program, newest first.',
  topics: ['program', 'property'],
  input: z.object({ programId: ulidSchema }),
  output: z.object({
    programName: z.string(),
    /** Void = the ledger entry that made it was corrected or declared not to have happened: it is never in force. */
    revisions: z.array(programRevisionSchema.extend({ isVoid: z.boolean() })),
  }),
});

export const programWeek = defineRequest({
  name: 'program.week',
  kind: 'read',
  title: 'The exact runs of one week at a property, with what a restriction forbids and every breach.',
  topics: ['program', 'client', 'property', 'rules', 'settings'],
  input: z.object({
    propertyId: ulidSchema,
    /** Any day of the wanted week (weeks start on Monday); today when left out. */
    date: plainDateSchema.optional(),
    /** Settings to draw in place of what is in force: a proposal. */
    instead: z
      .array(
        z.object({
          programId: ulidSchema,
          name: z.string().max(40).default(''),
          controllerId: ulidSchema.nullable().default(null),
          settings: programSettingsSchema,
        }),
      )
      .max(20)
      .default([]),
  }),
  output: waterWeekSchema,
});

export const reasonSchema = z.object({ code: z.string(), text: toldSchema });

export const guessSchema = z.object({
  field: z.enum(GUESSED_FIELDS),
  used: toldSchema,
  /** Between what it may plausibly lie. */
  range: toldSchema,
  /** Share by which the run minutes may move. */ effectShare: z.number(),
  /** What would settle it. */
  measurement: z.enum(MEASUREMENTS),
});

/** One zone's row in a review. Minutes are those at 100 % unless the name says otherwise. */
export const reviewRowSchema = z.object({
  zoneId: ulidSchema,
  controllerId: ulidSchema,
  station: z.int(),
  zoneName: z.string(),
  plantKind: z.string(),
  emissionDevice: z.string(),
  soil: z.string(),
  betweenHouses: z.boolean(),
  now: z.object({
    programNames: z.array(z.string()),
    runMinutes: z.number(),
    daysPerWeek: z.number(),
    minutesPerWeek: z.number(),
    inchesPerWeek: nullableNumber,
    gallonsPerWeek: nullableNumber,
  }),
  advice: z.object({
    runMinutes: z.number(),
    lowerMinutes: z.number(),
    upperMinutes: z.number(),
    daysPerWeek: z.number(),
    minutesPerWeek: z.number(),
    inchesPerWeek: nullableNumber,
    gallonsPerWeek: nullableNumber,
    cycles: z.int(),
    cycleMinutes: nullableNumber,
    soakMinutes: nullableNumber,
  }),
  thumb: z
    .object({ minutesFrom: z.number(), minutesTo: z.number(), note: z.string(), differs: z.boolean() })
    .nullable(),
  needInchesPerWeek: z.number(),
  precipitationRateInPerHour: z.number(),
  /** Where the rate comes from. */
  prHow: toldSchema,
  distributionUniformity: z.number(),
  reasons: z.array(reasonSchema),
  guesses: z.array(guessSchema),
  bestMeasurement: z.enum(MEASUREMENTS).nullable(),
});

export type ReviewRow = z.infer<typeof reviewRowSchema>;

/** A program the recommender would set: settings for an existing program, or for a new one (ids made by the caller on accept). */
export const proposedProgramSchema = z.object({
  programId: ulidSchema.nullable(),
  controllerId: ulidSchema,
  name: z.string(),
  settings: programSettingsSchema,
});

/** The weather a month's advice rests on. */
const monthWeatherSchema = z.object({
  stationName: z.string(),
  etoInchesPerMonth: z.number(),
  rainInchesPerMonth: z.number(),
  effectiveRainInchesPerMonth: z.number(),
  method: z.string(),
  isGuess: z.boolean(),
});

/** Seasonal percentage by month against the month advised as the base, January first. */
const seasonalTableSchema = z.array(
  z.object({
    month: z.int(),
    percent: z.int(),
    unclampedPercent: z.number(),
    etoInches: z.number(),
    rainInches: z.number(),
    zoneMinutes: z.array(z.object({ zoneId: ulidSchema, runMinutes: z.number() })),
  }),
);

export const programRecommend = defineRequest({
  name: 'program.recommend',
  kind: 'read',
  title: 'The program the physics would set at a property in a month, inside its watering restriction.',
  topics: ['program', 'client', 'property', 'rules', 'weather', 'settings'],
  input: z.object({ propertyId: ulidSchema, month: z.int().min(1).max(12) }),
  output: z.object({
    programs: z.array(proposedProgramSchema),
    findings: z.array(reasonSchema),
    weather: monthWeatherSchema,
    week: waterWeekSchema,
    /** Seasonal percentage by month against this month as the base, January first. */
    seasonalTable: seasonalTableSchema,
  }),
});

export const programReview = defineRequest({
  name: 'program.review',
  kind: 'read',
  title:
    'Current program against the recommended one, per zone, with reasons and the estimated gallons a week now and then.',
  topics: ['program', 'client', 'property', 'rules', 'weather', 'settings'],
  input: z.object({ propertyId: ulidSchema, month: z.int().min(1).max(12), onDate: plainDateSchema.optional() }),
  output: z.object({
    rows: z.array(reviewRowSchema),
    proposed: z.array(proposedProgramSchema),
    weekNow: waterWeekSchema,
    weekThen: waterWeekSchema,
    findings: z.array(reasonSchema),
    weather: monthWeatherSchema,
    gallonsPerWeekNow: nullableNumber,
    gallonsPerWeekThen: nullableNumber,
    seasonalTable: seasonalTableSchema,
  }),
});

export const programReviewAll = defineRequest({
  name: 'program.reviewAll',
  kind: 'job',
  title: "Reviews every property's program for a month, the furthest from need first.",
  topics: ['program', 'property', 'rules', 'weather', 'settings'],
  input: z.object({
    month: z.int().min(1).max(12),
    routeId: ulidSchema.nullable().default(null),
    limit: z.int().min(1).max(10_000).default(500),
  }),
  output: z.object({
    reviewed: z.int(),
    notReviewed: z.array(z.object({ propertyId: ulidSchema, street: z.string(), why: toldSchema })),
    notReviewedTotal: z.int(),
    rows: z.array(
      z.object({
        propertyId: ulidSchema,
        clientName: z.string(),
        street: z.string(),
        zones: z.int(),
        gallonsPerWeekNow: nullableNumber,
        gallonsPerWeekThen: nullableNumber,
        minutesPerWeekNow: z.number(),
        minutesPerWeekThen: z.number(),
        /** Σ|now − advice| inches weighted by area over need: 0 = as advised. */
        distanceFromNeed: z.number(),
        breaches: z.int(),
        guesses: z.int(),
        /** The first reason of the zone that is furthest off; null = all as advised. */
        worst: z.object({ station: z.int(), zoneName: z.string(), code: z.string(), text: toldSchema }).nullable(),
      }),
    ),
    gallonsPerWeekNow: z.number(),
    gallonsPerWeekThen: z.number(),
  }),
});

export const zoneTrace = defineRequest({
  name: 'zone.trace',
  kind: 'read',
  title:
    "A zone's soil moisture by day: rain, irrigation by the program in force, evapotranspiration and the refill point.",
  slow: true,
  topics: ['program', 'client', 'property', 'ledger', 'rules', 'weather', 'settings'],
  input: z.object({
    zoneId: ulidSchema,
    fromDate: plainDateSchema,
    toDate: plainDateSchema,
    /** 'in-force' = the revisions as dated; 'advice' = the recommended program of each month. */
    programs: z.enum(['in-force', 'advice']).default('in-force'),
  }),
  output: z.object({
    zoneName: z.string(),
    availableWaterInches: z.number(),
    allowedDepletionInches: z.number(),
    weather: z.object({ stationName: z.string(), method: toldSchema, isGuess: z.boolean() }),
    days: z.array(
      z.object({
        date: plainDateSchema,
        depletionInches: z.number(),
        etInches: z.number(),
        rainInches: z.number(),
        irrigationInches: z.number(),
        drainageInches: z.number(),
      }),
    ),
    totals: z.object({
      etInches: z.number(),
      rainInches: z.number(),
      irrigationInches: z.number(),
      drainageInches: z.number(),
      storeChangeInches: z.number(),
      daysBelowRefill: z.int(),
    }),
  }),
});
