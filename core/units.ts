/** Which units people read and type; the book always stores the US ones. */
export type UnitSystem = 'us' | 'metric';

interface Measure {
  us: string;
  metric: string;
  /** metric = stored × factor + offset */
  factor: number;
  offset?: number;
  /** Decimals that carry meaning on a screen. */
  usDigits: number;
  metricDigits: number;
}

// Exact by definition (NIST Handbook 44, appendix C; NIST SP 811, appendix B): inch, foot, mile and US gallon.
export const MM_PER_INCH = 25.4;
export const METERS_PER_FOOT = 0.3048;
/** Square feet × inches to gallons rests on this too: a gallon is 231 cubic inches. */
export const LITERS_PER_GALLON = 3.785411784;
const METERS_PER_MILE = 1609.344;
const SECONDS_PER_HOUR = 3600;

const MEASURES = {
  depth: { us: 'in', metric: 'mm', factor: MM_PER_INCH, usDigits: 2, metricDigits: 0 },
  rate: { us: 'in/h', metric: 'mm/h', factor: MM_PER_INCH, usDigits: 2, metricDigits: 1 },
  length: { us: 'ft', metric: 'm', factor: METERS_PER_FOOT, usDigits: 0, metricDigits: 1 },
  area: { us: 'ft²', metric: 'm²', factor: METERS_PER_FOOT ** 2, usDigits: 0, metricDigits: 0 },
  volume: { us: 'gal', metric: 'L', factor: LITERS_PER_GALLON, usDigits: 0, metricDigits: 0 },
  flow: { us: 'gpm', metric: 'L/min', factor: LITERS_PER_GALLON, usDigits: 1, metricDigits: 1 },
  emitterFlow: { us: 'gal/h', metric: 'L/h', factor: LITERS_PER_GALLON, usDigits: 2, metricDigits: 1 },
  pressure: { us: 'psi', metric: 'kPa', factor: 6.894757293168361, usDigits: 0, metricDigits: 0 },
  temperature: { us: '°F', metric: '°C', factor: 5 / 9, offset: -160 / 9, usDigits: 0, metricDigits: 1 },
} as const satisfies Record<string, Measure>;

export type Quantity = keyof typeof MEASURES;

/** The unit's sign, as it stands in a column head or after a figure. */
export function unitLabel(quantity: Quantity, system: UnitSystem): string {
  return MEASURES[quantity][system];
}

/** Decimals worth showing for a quantity. */
export function unitDigits(quantity: Quantity, system: UnitSystem): number {
  const measure: Measure = MEASURES[quantity];
  return system === 'us' ? measure.usDigits : measure.metricDigits;
}

/** A stored (US) figure in the units the reader uses. */
export function fromStored(quantity: Quantity, value: number, system: UnitSystem): number {
  if (system === 'us') return value;
  const measure: Measure = MEASURES[quantity];
  return value * measure.factor + (measure.offset ?? 0);
}

/** What a reader typed, in the units the book stores. */
export function toStored(quantity: Quantity, value: number, system: UnitSystem): number {
  if (system === 'us') return value;
  const measure: Measure = MEASURES[quantity];
  return (value - (measure.offset ?? 0)) / measure.factor;
}

/** °F as °C. */
export const toCelsius = (tempF: number): number => ((tempF - 32) * 5) / 9;
/** °C as °F. */
export const toFahrenheit = (tempC: number): number => (tempC * 9) / 5 + 32;
/** Feet as meters. */
export const toMeters = (feet: number): number => feet * METERS_PER_FOOT;
/** Meters as feet. */
export const toFeet = (meters: number): number => meters / METERS_PER_FOOT;
/** Miles an hour as meters a second. */
export const toMps = (mph: number): number => (mph * METERS_PER_MILE) / SECONDS_PER_HOUR;
/** Meters a second as miles an hour. */
export const toMph = (metersPerSecond: number): number => (metersPerSecond * SECONDS_PER_HOUR) / METERS_PER_MILE;
