import { z } from 'zod';
import { LANGUAGES } from '../text/words.ts';
import {
  clockTimeSchema,
  nameSchema,
  weekdaysSchema,
  nullable,
  lineSchema,
  ulidSchema,
  fullPathSchema,
  monthDaySchema,
  isTimeZone,
  measure,
} from '../contract/parts.ts';
import { EMISSION_DEVICES, PLANT_KINDS } from '../agronomy/contract.ts';
import { defineRequest } from '../contract/define-request.ts';

/** One stage of a water provider's rule. */
export const restrictionStageSchema = z.object({
  title: nameSchema(80),
  dayRule: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('any-day') }),
    z.object({ kind: z.literal('weekdays'), oddAddress: weekdaysSchema, evenAddress: weekdaysSchema }),
    /** Odd addresses on odd dates, even addresses on even dates. */
    z.object({ kind: z.literal('date-parity') }),
    z.object({ kind: z.literal('no-watering') }),
  ]),
  maxDaysPerWeek: nullable(z.int().min(0).max(7)),
  /** Local clock spells when spray may not run; to earlier than from runs over midnight. */
  forbiddenHours: z
    .array(z.object({ from: clockTimeSchema, to: clockTimeSchema }))
    .max(6)
    .default([]),
  /** Drip and soaker hose are outside the rule. */
  dripExempt: z.boolean().default(true),
});

export type RestrictionStage = z.infer<typeof restrictionStageSchema>;

export const restrictionSchema = z.object({
  id: ulidSchema,
  name: nameSchema(120),
  area: lineSchema(120).default(''),
  source: lineSchema(300).default(''),
  currentStage: z.int().min(0).max(20).default(0),
  stages: z.array(restrictionStageSchema).min(1, 'must hold at least one stage').max(20),
});

export type Restriction = z.infer<typeof restrictionSchema>;

export const settingsSchema = z.object({
  companyName: nameSchema(120).default('My company'),
  units: z.enum(['us', 'metric']).default('us'),
  language: z.enum(LANGUAGES).default('en'),
  timeZone: z.string().refine(isTimeZone, 'must be an IANA time zone').default('America/Denver'),
  phoneRegion: z
    .string()
    .regex(/^[A-Z]{2}$/, 'must be a two-letter country code')
    .default('US'),
  batteryLifeMonths: z.int().min(1).max(120).default(12),
  sensorCheckMonths: z.int().min(1).max(60).default(12),
  startUpFrom: monthDaySchema.default('03-15'),
  startUpTo: monthDaySchema.default('05-31'),
  winterizationFrom: monthDaySchema.default('09-20'),
  winterizationTo: monthDaySchema.default('11-15'),
  /** The hour by which the last zone should have ended. */
  waterEndsBy: clockTimeSchema.default('07:00'),
  /** Share by which physics and rule of thumb may differ before both are shown side by side. */
  thumbDiffersShare: z.number().min(0.05).max(2).default(0.25),
  /** Controllers round scaled run times to this many minutes. */
  roundToMinutes: z
    .number()
    .min(1 / 60)
    .max(5)
    .default(1),
  /** Backups that Valvebook makes by itself. */
  backups: z
    .object({
      automatic: z.boolean().default(true),
      /** One backup each is kept for this many days, weeks and months. */
      keepDays: z.int().min(1, 'must be 1 to 366').max(366, 'must be 1 to 366').default(7),
      keepWeeks: z.int().min(0, 'must be 0 to 104').max(104, 'must be 0 to 104').default(4),
      keepMonths: z.int().min(0, 'must be 0 to 120').max(120, 'must be 0 to 120').default(12),
      /** A folder on another disk or share that each is copied to as well; '' = none. */
      secondFolder: z.union([z.literal(''), fullPathSchema]).default(''),
    })
    .prefault({}),
});

export type Settings = z.infer<typeof settingsSchema>;

/** One company rule of thumb: usual minutes for a device in a place. */
export const thumbRuleSchema = z.object({
  id: ulidSchema,
  emissionDevice: z.enum(EMISSION_DEVICES).nullable().default(null),
  plantKind: z.enum(PLANT_KINDS).nullable().default(null),
  betweenHouses: z.boolean().nullable().default(null),
  minutesFrom: measure(0, 720, 'min'),
  minutesTo: measure(0, 720, 'min'),
  note: lineSchema(200).default(''),
});

export type ThumbRule = z.infer<typeof thumbRuleSchema>;

export const settingsGet = defineRequest({
  name: 'settings.get',
  kind: 'read',
  title: "The company's settings.",
  topics: ['settings'],
  input: z.object({}),
  output: settingsSchema,
});

export const settingsSave = defineRequest({
  name: 'settings.save',
  kind: 'write',
  title: "Saves the company's settings.",
  topics: ['settings'],
  input: z.object({ writeId: ulidSchema, settings: settingsSchema }),
  output: settingsSchema,
});

export const rulesList = defineRequest({
  name: 'rules.list',
  kind: 'read',
  title: "Watering restrictions and the company's rules of thumb.",
  topics: ['rules'],
  input: z.object({}),
  output: z.object({ restrictions: z.array(restrictionSchema), thumbRules: z.array(thumbRuleSchema) }),
});

export const rulesSave = defineRequest({
  name: 'rules.save',
  kind: 'write',
  title: 'Adds or saves watering restrictions; replaces the table of thumb rules where one is given.',
  topics: ['rules'],
  input: z.object({
    writeId: ulidSchema,
    restrictions: z.array(restrictionSchema).max(200).default([]),
    thumbRules: z.array(thumbRuleSchema).max(200).optional(),
  }),
  output: z.object({ saved: z.int() }),
});
