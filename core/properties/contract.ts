import { z } from 'zod';
import {
  lineSchema,
  nameSchema,
  notesSchema,
  plainDateSchema,
  ulidSchema,
  nullable,
  measure,
  isTimeZone,
  KNOWN_HOW,
  version,
} from '../contract/parts.ts';
import { PLANT_KINDS, EMISSION_DEVICES, SOILS, SUN_EXPOSURES } from '../agronomy/contract.ts';
import { defineRequest } from '../contract/define-request.ts';

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

/** What a form of a property can change. */
export type EditedField = Exclude<
  keyof Property | keyof Controller | keyof Zone | keyof Sensor,
  'id' | 'propertyId' | 'clientId' | 'lastCheckDate' | 'lastCheckPassed' | 'lastSignal' | 'cellsGood'
>;

export const propertySave = defineRequest({
  name: 'property.save',
  kind: 'write',
  title:
    'Adds or saves a property, and with it any of its controllers, zones and sensors. Parts not named stay as they are; a part with history is retired, never deleted.',
  topics: ['property'],
  input: z.object({
    writeId: ulidSchema,
    property: propertySchema,
    version,
    controllers: z.array(controllerSchema).max(20).default([]),
    zones: z.array(zoneSchema).max(200).default([]),
    sensors: z.array(sensorSchema).max(20).default([]),
    /**
     * What the form showed of everything that is sent here and is in the book. Then what it left as it was stays as it is now,
     * and only a field that somebody else changed too is refused; without it, everything is where the version is another.
     */
    opened: z
      .object({
        property: propertySchema,
        controllers: z.array(controllerSchema).max(20).default([]),
        zones: z.array(zoneSchema).max(200).default([]),
        sensors: z.array(sensorSchema).max(20).default([]),
      })
      .optional(),
  }),
  output: z.object({ propertyId: ulidSchema, version: z.int() }),
});
