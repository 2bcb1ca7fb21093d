import { z } from 'zod';
import {
  clockTimeSchema,
  fullPathSchema,
  lineSchema,
  monthDaySchema,
  nameSchema,
  notesSchema,
  plainDateSchema,
  ulidSchema,
  weekdaysSchema,
} from './parts.ts';

// The things a book holds, as they cross the contract. Stored units: inches, feet, ft², gallons, gpm, psi, °F, minutes.

export const CLIENT_KINDS = ['household', 'association', 'business'] as const;
export const WATER_SUPPLIES = ['drinking', 'reclaimed', 'well', 'pond', 'unknown'] as const;
export const BACKFLOW_KINDS = [
  'none',
  'pressure-vacuum-breaker',
  'reduced-pressure',
  'double-check',
  'atmospheric-vacuum-breaker',
  'unknown',
] as const;
export const PIPE_MATERIALS = ['pvc', 'polyethylene', 'copper', 'mixed', 'unknown'] as const;
export type PipeMaterial = (typeof PIPE_MATERIALS)[number];
export const PLANT_KINDS = [
  'cool-turf',
  'warm-turf',
  'annuals',
  'perennials',
  'shrubs',
  'ground-cover',
  'trees',
  'vegetables',
  'desert',
] as const;
export const EMISSION_DEVICES = [
  'pop-up-spray',
  'rotary-nozzle',
  'rotor',
  'impact',
  'bubbler',
  'micro-spray',
  'drip-line',
  'drip-emitter',
  'soaker-hose',
] as const;
export const SOILS = ['sand', 'loamy-sand', 'sandy-loam', 'loam', 'silt-loam', 'clay-loam', 'clay'] as const;
export const SUN_EXPOSURES = ['full-sun', 'part-shade', 'shade'] as const;
/** How a figure is known. A guess looks like a guess on every screen. */
export const KNOWN_HOW = ['measured', 'chart', 'guess'] as const;
export const VISIT_KINDS = [
  'start-up',
  'winterization',
  'sensor-check',
  'battery-swap',
  'program-adjustment',
  'repair',
  'backflow-test',
  'walk-through',
] as const;
/** As many visits as one technician's day, or the day of visits without a technician, can hold. */
export const MAX_VISITS_A_DAY = 10_000;
export const VISIT_STATES = ['planned', 'done', 'cancelled'] as const;
export const SEASON_STATES = ['not-started', 'running', 'winterized', 'not-serviced'] as const;
export const SKILLS = ['start-up', 'winterization', 'repair', 'backflow-tester', 'electrical', 'drip'] as const;

export type ClientKind = (typeof CLIENT_KINDS)[number];
export type PlantKind = (typeof PLANT_KINDS)[number];
export type EmissionDevice = (typeof EMISSION_DEVICES)[number];
export type Soil = (typeof SOILS)[number];
export type KnownHow = (typeof KNOWN_HOW)[number];
export type VisitKind = (typeof VISIT_KINDS)[number];
export type VisitState = (typeof VISIT_STATES)[number];
export type SeasonState = (typeof SEASON_STATES)[number];

const nullable = <T extends z.ZodType>(schema: T) => schema.nullable().default(null);
const measure = (min: number, max: number, unit: string) =>
  z.number().min(min, `must be ${min} to ${max} ${unit}`).max(max, `must be ${min} to ${max} ${unit}`);

export const clientSchema = z.object({
  id: ulidSchema,
  name: nameSchema(160),
  kind: z.enum(CLIENT_KINDS).default('household'),
  phone: lineSchema(40).default(''),
  phone2: lineSchema(40).default(''),
  email: lineSchema(160)
    .refine((text) => text === '' || /^[^\s@]+@[^\s@]+\.[^\s@]+$/.test(text), 'must be an e-mail address or empty')
    .default(''),
  billingAddress: notesSchema.default(''),
  notes: notesSchema.default(''),
  /** The number this client has in another list (an import's key). */
  accountNumber: lineSchema(60).default(''),
  archived: z.boolean().default(false),
});
export type Client = z.infer<typeof clientSchema>;

export const propertySchema = z.object({
  id: ulidSchema,
  clientId: ulidSchema,
  label: lineSchema(120).default(''),
  street: nameSchema(200),
  city: lineSchema(120).default(''),
  region: lineSchema(60).default(''),
  postcode: lineSchema(20).default(''),
  latitudeDeg: nullable(measure(-90, 90, 'degrees')),
  longitudeDeg: nullable(measure(-180, 180, 'degrees')),
  elevationFt: nullable(measure(-1400, 20000, 'ft')),
  timeZone: z.string().refine(isTimeZone, 'must be an IANA time zone such as America/Denver').default('America/Denver'),
  routeId: nullable(ulidSchema),
  accessNotes: notesSchema.default(''),
  gateCode: lineSchema(60).default(''),
  dogNote: lineSchema(200).default(''),
  waterSupply: z.enum(WATER_SUPPLIES).default('unknown'),
  staticPressurePsi: nullable(measure(0, 300, 'psi')),
  pipeMaterial: z.enum(PIPE_MATERIALS).default('unknown'),
  backflowKind: z.enum(BACKFLOW_KINDS).default('unknown'),
  backflowLocation: lineSchema(200).default(''),
  backflowSerial: lineSchema(80).default(''),
  /** The date by which the assembly must be tested again; null = no test is required or not known. */
  backflowTestDue: nullable(plainDateSchema),
  shutoffLocation: lineSchema(200).default(''),
  restrictionId: nullable(ulidSchema),
  /** 'auto' reads it from the house number. */
  addressParity: z.enum(['auto', 'odd', 'even']).default('auto'),
  weatherStationId: nullable(ulidSchema),
  /** Does the company start this system up / winterize it? */
  servicesStartUp: z.boolean().default(true),
  servicesWinterization: z.boolean().default(true),
  archived: z.boolean().default(false),
});
export type Property = z.infer<typeof propertySchema>;

function isTimeZone(text: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    return /^[A-Za-z]/.test(text);
  } catch {
    return false;
  }
}

export const controllerSchema = z.object({
  id: ulidSchema,
  propertyId: ulidSchema,
  name: nameSchema(80),
  location: lineSchema(200).default(''),
  stationCount: z.int().min(1).max(99).default(8),
  retired: z.boolean().default(false),
});
export type Controller = z.infer<typeof controllerSchema>;

/** What PR is computed from; the method decides which of the others are read. Drip rates in gal/h per emitter. */
export const prInputsSchema = z.object({
  headGpm: measure(0.01, 100, 'gpm').optional(),
  headSpacingFt: measure(0.5, 120, 'ft').optional(),
  rowSpacingFt: measure(0.5, 120, 'ft').optional(),
  emitterGph: measure(0.05, 50, 'gal/h').optional(),
  emitterSpacingFt: measure(0.1, 20, 'ft').optional(),
});
export const PR_METHODS = ['catch-can', 'flow-area', 'spacing', 'drip', 'table'] as const;

export const zoneSchema = z.object({
  id: ulidSchema,
  propertyId: ulidSchema,
  controllerId: ulidSchema,
  station: z.int().min(1).max(99),
  name: nameSchema(120),
  plantKind: z.enum(PLANT_KINDS).default('cool-turf'),
  /** Replaces the table's plant factor; share of ETo. */
  plantFactor: nullable(measure(0.05, 1.5, '(share of ETo)')),
  emissionDevice: z.enum(EMISSION_DEVICES).default('pop-up-spray'),
  flowGpm: nullable(measure(0.01, 500, 'gpm')),
  flowKnown: z.enum(KNOWN_HOW).default('guess'),
  areaFt2: nullable(measure(1, 5_000_000, 'ft²')),
  areaKnown: z.enum(KNOWN_HOW).default('guess'),
  prMethod: z.enum(PR_METHODS).default('table'),
  prInputs: prInputsSchema.default({}),
  /** Measured by catch cans, or entered; null = computed by prMethod. */
  precipitationRateInPerHour: nullable(measure(0.01, 20, 'in/h')),
  /** Low-quarter distribution uniformity, share; null = the device's typical value. */
  distributionUniformity: nullable(measure(0.1, 1, '(share)')),
  soil: z.enum(SOILS).default('loam'),
  soilKnown: z.enum(KNOWN_HOW).default('guess'),
  slopePercent: measure(0, 100, '%').default(0),
  sunExposure: z.enum(SUN_EXPOSURES).default('full-sun'),
  rootDepthInches: nullable(measure(1, 120, 'in')),
  /** Neighbours water this strip too: common practice cuts its run time. */
  betweenHouses: z.boolean().default(false),
  retired: z.boolean().default(false),
});
export type Zone = z.infer<typeof zoneSchema>;

export const wateringDaysSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('weekdays'), weekdays: weekdaysSchema }),
  /** Odd dates. 31st followed by the 1st puts two watering days side by side; 'skip' leaves the 31st (and 29 February) out, as many controllers do. */
  z.object({ kind: z.literal('odd'), monthEnd: z.enum(['water', 'skip']).default('skip') }),
  z.object({ kind: z.literal('even') }),
  z.object({ kind: z.literal('interval'), everyDays: z.int().min(1).max(31), startDate: plainDateSchema }),
]);
export type WateringDays = z.infer<typeof wateringDaysSchema>;

export const programRunSchema = z.object({
  zoneId: ulidSchema,
  /** Minutes at 100 %. 0 = the zone is off in this program. */
  runMinutes: measure(0, 720, 'min'),
  /** Longest cycle before a soak, after the seasonal percentage; null = one cycle. */
  cycleMinutes: nullable(measure(1, 720, 'min')),
  soakMinutes: nullable(measure(0, 720, 'min')),
});
export type ProgramRun = z.infer<typeof programRunSchema>;

/** A program's starts: a controller takes each clock time once. */
export const startTimesSchema = z
  .array(clockTimeSchema)
  .max(8, 'may hold at most 8 start times')
  .refine((times) => new Set(times).size === times.length, 'must not name a start time twice');

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

export const sensorSchema = z.object({
  id: ulidSchema,
  propertyId: ulidSchema,
  controllerId: nullable(ulidSchema),
  senses: z.enum(['rain', 'freeze', 'rain-and-freeze']).default('rain-and-freeze'),
  link: z.enum(['wireless', 'wired']).default('wireless'),
  model: lineSchema(80).default(''),
  location: lineSchema(200).default(''),
  /** IEC size such as CR2032; empty on a wired sensor. */
  batteryType: lineSchema(40).default(''),
  batteryCells: z.int().min(0).max(8).default(1),
  /** Projection of the ledger: the last battery swap (or what an import said). */
  batteryDate: nullable(plainDateSchema),
  rainSetPointInches: nullable(measure(0, 3, 'in')),
  freezeSetPointF: nullable(measure(20, 60, '°F')),
  /** Projections of the last sensor check. */
  lastCheckDate: nullable(plainDateSchema),
  lastCheckPassed: nullable(z.boolean()),
  lastSignal: nullable(z.enum(['strong', 'weak', 'none'])),
  cellsGood: nullable(z.int().min(0).max(8)),
  retired: z.boolean().default(false),
});
export type Sensor = z.infer<typeof sensorSchema>;

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

export const truckSchema = z.object({
  id: ulidSchema,
  name: nameSchema(80),
  compressorCfm: nullable(measure(1, 1000, 'cfm')),
  active: z.boolean().default(true),
});
export type Truck = z.infer<typeof truckSchema>;

export const technicianSchema = z.object({
  id: ulidSchema,
  name: nameSchema(120),
  phone: lineSchema(40).default(''),
  skills: z.array(z.enum(SKILLS)).max(SKILLS.length).default([]),
  workWeekdays: weekdaysSchema.default([1, 2, 3, 4, 5]),
  dayStart: clockTimeSchema.default('07:30'),
  dayEnd: clockTimeSchema.default('16:00'),
  truckId: nullable(ulidSchema),
  active: z.boolean().default(true),
});
export type Technician = z.infer<typeof technicianSchema>;

export const routeSchema = z.object({
  id: ulidSchema,
  name: nameSchema(80),
  technicianId: nullable(ulidSchema),
});
export type Route = z.infer<typeof routeSchema>;

export const visitSchema = z.object({
  id: ulidSchema,
  propertyId: ulidSchema,
  kind: z.enum(VISIT_KINDS),
  state: z.enum(VISIT_STATES),
  date: plainDateSchema,
  windowFrom: nullable(clockTimeSchema),
  windowTo: nullable(clockTimeSchema),
  technicianId: nullable(ulidSchema),
  /** Order within the technician's day, from 1. Work that nobody had booked, and visits without a technician, may be many on one day. */
  orderInDay: z.int().min(1).max(MAX_VISITS_A_DAY),
  expectedMinutes: z.int().min(5).max(600),
  locked: z.boolean().default(false),
  note: notesSchema.default(''),
  doneOn: nullable(plainDateSchema),
  cancelReason: z.string().default(''),
});
export type Visit = z.infer<typeof visitSchema>;

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

export const settingsSchema = z.object({
  companyName: nameSchema(120).default('My company'),
  units: z.enum(['us', 'metric']).default('us'),
  language: z.enum(['en', 'es']).default('en'),
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

/** A figure that may not be known. */
export const nullableNumber = z.number().nullable();
