import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { stressFactor } from './soil-balance.ts';

/** Many root zones at once, one column a property of them, so that a whole company's year is one pass over memory. */
export interface ZoneColumns {
  /** Total and readily available water, inches; 0 < readily < total. */
  totalInches: Float64Array;
  readilyInches: Float64Array;
  /** Share of ETo each zone's planting needs. */
  plantFactor: Float64Array;
  /** Which weather station's row each zone reads. */
  station: Uint16Array | Uint32Array;
  /** Carried from day to day and changed in place, inches. */
  depletionInches: Float64Array;
  /** Sums since the caller last set them to 0, inches. */
  actualEtInches: Float64Array;
  drainageInches: Float64Array;
}

/** One day's weather by station, and what each zone was given. */
export interface ZoneDay {
  etoInches: Float64Array;
  rainInches: Float64Array;
  /** One value a zone. */
  irrigationInches: Float64Array;
}

/** Zone columns of a given count, all zero. */
export function makeZoneColumns(count: number): ZoneColumns {
  return {
    totalInches: new Float64Array(count),
    readilyInches: new Float64Array(count),
    plantFactor: new Float64Array(count),
    station: new Uint32Array(count),
    depletionInches: new Float64Array(count),
    actualEtInches: new Float64Array(count),
    drainageInches: new Float64Array(count),
  };
}

/**
 * Checks zone columns once, before a season is run over them: `advanceZones` itself trusts them.
 * @param stations how many stations the days will have.
 * @throws BookError bad-input naming the column and zone.
 */
export function checkZoneColumns(zones: ZoneColumns, stations: number): void {
  const count = zones.depletionInches.length;
  for (const [name, column] of Object.entries(zones) as [string, Float64Array][]) {
    if (column.length !== count)
      throw new BookError(
        'bad-input',
        fact('agronomy.unequalZones', { field: name, zones: column.length, needed: count }),
        name,
      );
  }
  for (let i = 0; i < count; i++) {
    const total = zones.totalInches[i]!;
    const fits =
      total > 0 &&
      zones.readilyInches[i]! > 0 &&
      zones.readilyInches[i]! < total &&
      zones.depletionInches[i]! >= 0 &&
      zones.depletionInches[i]! <= total &&
      zones.plantFactor[i]! >= 0 &&
      zones.plantFactor[i]! <= 2 &&
      zones.station[i]! < stations;
    if (!fits) {
      throw new BookError('bad-input', fact('agronomy.badZone', { field: `zones.${i}`, stations }), `zones.${i}`);
    }
  }
}

/**
 * Moves every zone one day on, in place: the same balance as `soilBalance` (FAO-56 eq. 84, 85, 88) without runoff.
 * Allocates nothing. The columns must have passed `checkZoneColumns`, and the day's depths must not be negative.
 */
export function advanceZones(zones: ZoneColumns, day: ZoneDay): void {
  const { totalInches, readilyInches, plantFactor, station, depletionInches, actualEtInches, drainageInches } = zones;
  const { etoInches, rainInches, irrigationInches } = day;
  const count = depletionInches.length;
  for (let i = 0; i < count; i++) {
    const at = station[i]!;
    const total = totalInches[i]!;
    const wetted = depletionInches[i]! - rainInches[at]! - irrigationInches[i]!;
    const ks = stressFactor(wetted, total, readilyInches[i]!);
    const actual = Math.min(ks * (etoInches[at]! * plantFactor[i]!), total - wetted);
    const after = wetted + actual;
    actualEtInches[i] = actualEtInches[i]! + actual;
    if (after < 0) {
      drainageInches[i] = drainageInches[i]! - after;
      depletionInches[i] = 0;
    } else {
      depletionInches[i] = after;
    }
  }
}
