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

const MEASURES = {
  depth: { us: 'in', metric: 'mm', factor: 25.4, usDigits: 2, metricDigits: 0 },
  rate: { us: 'in/h', metric: 'mm/h', factor: 25.4, usDigits: 2, metricDigits: 1 },
  length: { us: 'ft', metric: 'm', factor: 0.3048, usDigits: 0, metricDigits: 1 },
  area: { us: 'ft²', metric: 'm²', factor: 0.09290304, usDigits: 0, metricDigits: 0 },
  volume: { us: 'gal', metric: 'L', factor: 3.785411784, usDigits: 0, metricDigits: 0 },
  flow: { us: 'gpm', metric: 'L/min', factor: 3.785411784, usDigits: 1, metricDigits: 1 },
  emitterFlow: { us: 'gal/h', metric: 'L/h', factor: 3.785411784, usDigits: 2, metricDigits: 1 },
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
