import { fromStored, toStored, unitDigits, unitLabel, type Quantity, type UnitSystem } from '../../core/units.ts';
import { words } from '../state/say.ts';

/** What a technician types, and how it is shown, stepped and stored. */
export interface FieldMeasure {
  show(stored: number | null): number | null;
  store(shown: number | null): number | null;
  words(stored: number): string;
  bounds(
    minStored: number,
    maxStored: number,
  ): { min: number; max: number; step: number; unit: string; digits: number };
}

interface Kind {
  quantity: Quantity;
  usStep: number;
  metricStep: number;
  usDigits?: number;
  metricDigits?: number;
  /** A larger unit than the one screens use elsewhere: water meters here count m³, not litres. */
  metricUnit?: string;
  metricPer?: number;
}

const KINDS = {
  pressure: { quantity: 'pressure', usStep: 5, metricStep: 25 },
  temperature: { quantity: 'temperature', usStep: 1, metricStep: 0.5, metricDigits: 1 },
  rainDepth: { quantity: 'depth', usStep: 0.05, metricStep: 1, usDigits: 3, metricDigits: 1 },
  volume: {
    quantity: 'volume',
    usStep: 100,
    metricStep: 1,
    usDigits: 1,
    metricDigits: 3,
    metricUnit: 'm³',
    metricPer: 1000,
  },
} as const satisfies Record<string, Kind>;

/** One quantity in the units people read. */
export function measureOf(name: keyof typeof KINDS, system: UnitSystem): FieldMeasure {
  const kind: Kind = KINDS[name];
  const per = system === 'metric' ? (kind.metricPer ?? 1) : 1;
  const digits = (system === 'metric' ? kind.metricDigits : kind.usDigits) ?? unitDigits(kind.quantity, system);
  const unit =
    system === 'metric' ? (kind.metricUnit ?? unitLabel(kind.quantity, system)) : unitLabel(kind.quantity, system);
  const round = (value: number) => Number(value.toFixed(digits));
  const show = (stored: number) => round(fromStored(kind.quantity, stored, system) / per);
  return {
    show: (stored) => (stored === null ? null : show(stored)),
    // Without the dust of the conversion, which would put a bound just out of bounds.
    store: (shown) => (shown === null ? null : Number(toStored(kind.quantity, shown * per, system).toFixed(6))),
    words: (stored) => `${words().number(show(stored), digits)} ${unit}`,
    // Rounded towards the inside, so that the bound typed in shown units never oversteps the stored one.
    bounds: (min, max) => ({
      min: inside(fromStored(kind.quantity, min, system) / per, digits, Math.ceil),
      max: inside(fromStored(kind.quantity, max, system) / per, digits, Math.floor),
      step: system === 'metric' ? kind.metricStep : kind.usStep,
      unit,
      digits,
    }),
  };
}

function inside(value: number, digits: number, round: (value: number) => number): number {
  const scale = 10 ** digits;
  return round(Number((value * scale).toFixed(6))) / scale;
}
