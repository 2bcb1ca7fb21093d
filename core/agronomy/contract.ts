import { z } from 'zod';
import { defineRequest } from '../contract/define-request.ts';
import { plainDateSchema, toldSchema } from '../contract/parts.ts';

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

export type PlantKind = (typeof PLANT_KINDS)[number];

export type EmissionDevice = (typeof EMISSION_DEVICES)[number];

export type Soil = (typeof SOILS)[number];

// ---- water science ------------------------------------------------------------
export const agronomyEto = defineRequest({
  name: 'agronomy.eto',
  kind: 'read',
  title: 'Reference evapotranspiration of one day from the weather that is known, with every intermediate value.',
  topics: [],
  input: z.object({
    latitudeDeg: z.number(),
    elevationM: z.number(),
    date: plainDateSchema,
    tmaxC: z.number(),
    tminC: z.number(),
    rhMaxPct: z.number().optional(),
    rhMinPct: z.number().optional(),
    rhMeanPct: z.number().optional(),
    tdewC: z.number().optional(),
    windMps: z.number().optional(),
    windHeightM: z.number().optional(),
    solarMjM2: z.number().optional(),
    sunshineHours: z.number().optional(),
    reference: z.enum(['short', 'tall']).optional(),
  }),
  output: z.object({
    etoMm: z.number(),
    method: z.string(),
    steps: z.array(
      z.object({ name: toldSchema, symbol: z.string(), value: z.number(), unit: z.string(), how: toldSchema }),
    ),
  }),
});

export const zoneAudit = defineRequest({
  name: 'zone.audit',
  kind: 'read',
  title: 'Precipitation rate and uniformity from catch cans. (Recording it is a ledger entry of kind zone-audit.)',
  topics: [],
  input: z.object({
    // The ranges of a recorded zone-audit: what can be worked out can also be logged.
    volumesMl: z
      .array(z.number().min(0, 'must be 0 to 5000 mL').max(5000, 'must be 0 to 5000 mL'))
      .min(4, 'must hold at least 4 cans')
      .max(400),
    throatAreaIn2: z.number().min(0.5, 'must be 0.5 to 500 in²').max(500, 'must be 0.5 to 500 in²'),
    runMinutes: z.number().min(0.5, 'must be 0.5 to 240 min').max(240, 'must be 0.5 to 240 min'),
  }),
  output: z.object({
    precipitationRateInPerHour: z.number(),
    distributionUniformity: z.number(),
    meanMl: z.number(),
    lowQuarterMeanMl: z.number(),
    schedulingMultiplier: z.number(),
    /** Depth in each can, in, in the order given. */ depthsInches: z.array(z.number()),
    findings: z.array(toldSchema),
  }),
});
