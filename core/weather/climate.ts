import { computeEto } from '../agronomy/index.ts';
import type { Property } from '../properties/contract.ts';
import type { WeatherStation } from './contract.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { MM_PER_INCH, toCelsius, toMeters, toMps } from '../units.ts';

/** One month of a station, as the water side of advice needs it. */
export interface MonthClimate {
  /** 1 January … 12 December. */
  month: number;
  daysInMonth: number;
  etoInches: number;
  rainInches: number;
  method: string;
}

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
/** Normals of wind come from masts of about this height (airports; World Meteorological Organization's standard exposure). */
export const STATION_WIND_HEIGHT_M = 10;

/** Twelve months of a station: ETo of the mean day of each month × its days (FAO-56 allows monthly means), and its rain. */
export function monthlyClimate(station: WeatherStation): MonthClimate[] {
  return station.normals.map((normal, index) => {
    const mean = (at: number) => {
      const one = station.normals[(at + 12) % 12]!;
      return toCelsius((one.tmaxF + one.tminF) / 2);
    };
    const eto = computeEto({
      latitudeDeg: station.latitudeDeg,
      elevationM: toMeters(station.elevationFt),
      date: `2025-${String(index + 1).padStart(2, '0')}-15`,
      tmaxC: toCelsius(normal.tmaxF),
      tminC: toCelsius(normal.tminF),
      ...(normal.rhMeanPct !== null ? { rhMeanPct: normal.rhMeanPct } : {}),
      ...(normal.windMph !== null ? { windMps: toMps(normal.windMph), windHeightM: STATION_WIND_HEIGHT_M } : {}),
      ...(normal.solarMjM2 !== null ? { solarMjM2: normal.solarMjM2 } : {}),
      ...(normal.rhMeanPct !== null || normal.windMph !== null || normal.solarMjM2 !== null
        ? { previousMonthMeanC: mean(index - 1), nextMonthMeanC: mean(index + 1) }
        : {}),
    });
    const daysInMonth = DAYS[index]!;
    return {
      month: index + 1,
      daysInMonth,
      etoInches: (eto.etoMm * daysInMonth) / MM_PER_INCH,
      rainInches: normal.rainInches,
      method: eto.method,
    };
  });
}

export interface ChosenStation<S extends WeatherStation> {
  station: S;
  isGuess: boolean;
}

/** Our own measure, no source: a thousand feet of height counts as much as so many miles of distance. */
const MILES_PER_1000_FT = 15;
const FAR_MILES = 30;

/**
 * The station a property's weather comes from: the one set on it, else the nearest by distance and height; a guess where the
 * place is not known or the nearest is far away or much higher or lower.
 * @throws BookError conflict where the book has no station.
 */
export function chooseStation<S extends WeatherStation>(
  property: Pick<Property, 'weatherStationId' | 'latitudeDeg' | 'longitudeDeg' | 'elevationFt'>,
  stations: readonly S[],
): ChosenStation<S> {
  const first = stations[0];
  if (!first) {
    throw new BookError('conflict', fact('agronomy.noStation'), 'weatherStationId');
  }
  const set = stations.find((station) => station.id === property.weatherStationId);
  if (set) return { station: set, isGuess: false };
  const { latitudeDeg, longitudeDeg } = property;
  if (latitudeDeg === null || longitudeDeg === null) {
    return { station: first, isGuess: true };
  }
  let nearest = first;
  let least = Infinity;
  for (const station of stations) {
    const heightFt = property.elevationFt === null ? 0 : Math.abs(property.elevationFt - station.elevationFt);
    const distance =
      greatCircleMiles(latitudeDeg, longitudeDeg, station.latitudeDeg, station.longitudeDeg) +
      (heightFt / 1000) * MILES_PER_1000_FT;
    if (distance < least) {
      least = distance;
      nearest = station;
    }
  }
  return { station: nearest, isGuess: least > FAR_MILES };
}

/** Great-circle distance in miles (haversine; mean earth radius 3958.8 mi). */
export function greatCircleMiles(latA: number, lonA: number, latB: number, lonB: number): number {
  const rad = Math.PI / 180;
  const half =
    Math.sin(((latB - latA) * rad) / 2) ** 2 +
    Math.cos(latA * rad) * Math.cos(latB * rad) * Math.sin(((lonB - lonA) * rad) / 2) ** 2;
  return 2 * 3958.8 * Math.asin(Math.min(1, Math.sqrt(half)));
}
