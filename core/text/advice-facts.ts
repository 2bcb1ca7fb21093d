import type { RestrictionStage } from '../settings/contract.ts';
import type { Soil } from '../agronomy/contract.ts';
import type { WateringDays } from '../contract/parts.ts';
import type { Measured } from './words.ts';

// What the facts of advice tell: typed here once, told in each language in its own room.

/** A stage of a restriction. */
export interface Law {
  stage: string;
  restriction: string;
}

export type ParityOf = 'odd' | 'even';

/** The days a stage allows at addresses of one parity; null = the house number is not known. */
export interface AllowedDays {
  dayRule: RestrictionStage['dayRule'];
  parity: ParityOf | null;
}

/** A run that breaks a rule. */
export interface BreakingRun extends Law {
  station: number;
  zoneName: string;
  date: string;
  /** Whole minutes from midnight of `date`. */
  startMinute: number;
  /** The later day it runs on into, where that is the day on which the rule is broken. */
  until: string | null;
  /** Breaches of the zone in the week, where more than one stands behind this one. */
  breachesInWeek?: number;
}

export interface ThumbAgainst {
  runMinutes: number;
  minutesFrom: number;
  minutesTo: number;
}

export interface ZoneName {
  station: number;
  zoneName: string;
}

/** A fact inside another: told by its own key. */
export interface InnerFact<Key extends string, Given> {
  key: Key;
  given: Given;
}

export type RateFound = { rate: Measured; usual: Measured };
/** What settles a guess. */
export const MEASUREMENTS = ['catch-can-test', 'flow-reading', 'area-measure', 'soil-check'] as const;
export type Measurement = (typeof MEASUREMENTS)[number];
/** The figures behind advice that may be guessed: fields of a zone. */
export const GUESSED_FIELDS = [
  'precipitationRateInPerHour',
  'flowGpm',
  'areaFt2',
  'distributionUniformity',
  'soil',
  'rootDepthInches',
] as const;
export type GuessedField = (typeof GUESSED_FIELDS)[number];
export type { Soil, WateringDays };

/** The unit a request's own field is in, as its name says; bounds of such a field are told in it. */
export type BoundUnit =
  | ''
  | 'degrees'
  | 'hours'
  | 'minutes'
  | 'inches'
  | 'share'
  | 'share-of-eto'
  | 'share-not-percent'
  | 'mj-a-day'
  | 'inches-a-day'
  | 'gpm-per-100-ft'
  | 'm'
  | '°C'
  | '%'
  | 'kPa'
  | 'm/s'
  | 'gpm'
  | 'gph'
  | 'ft'
  | 'ft²'
  | 'in²'
  | 'in/in'
  | 'in/h'
  | 'mL';

/** The bounds of a field of a request. */
export interface Bounds {
  field: string;
  min: number;
  max: number;
  unit: BoundUnit;
}
