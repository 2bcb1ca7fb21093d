import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { isGiven, requireRange } from './check.ts';

/** Which equation to use; without it the readings decide. */
export type EtoMethodChoice = 'fao56' | 'asce' | 'hargreaves';
/** The equation that was used. Stable identifiers: they are stored and shown. */
export type EtoMethod = 'fao56-penman-monteith' | 'asce-short' | 'asce-tall' | 'hargreaves-samani';

/** One day at one place. Only the temperatures are needed; each further reading replaces an estimate. */
export interface EtoInput {
  /** −90…90, south negative. */
  latitudeDeg: number;
  /** −500…6000 m. */
  elevationM: number;
  /** Plain date 'YYYY-MM-DD'. */
  date: string;
  tmaxC: number;
  tminC: number;
  rhMaxPct?: number | null;
  rhMinPct?: number | null;
  rhMeanPct?: number | null;
  tdewC?: number | null;
  /** Measured actual vapour pressure, kPa; comes before every other humidity. */
  vapourPressureKpa?: number | null;
  windMps?: number | null;
  /** Height of the anemometer, m; 2 where not given. */
  windHeightM?: number | null;
  solarMjM2?: number | null;
  sunshineHours?: number | null;
  reference?: 'short' | 'tall' | null;
  method?: EtoMethodChoice | null;
  /** Near a large body of water: radiation from the temperature range uses 0.19 instead of 0.16. */
  coastal?: boolean | null;
  /** Clear-sky radiation: 'simple' (eq. 37, the default) or 'full' (ASCE-EWRI appendix D). */
  clearSky?: 'simple' | 'full' | null;
  angstromA?: number | null;
  angstromB?: number | null;
  /** Mean temperature of the month before; with it, the day stands for a month and soil heat is counted. */
  previousMonthMeanC?: number | null;
  /** Mean temperature of the month after (eq. 43); without it eq. 44 is used. */
  nextMonthMeanC?: number | null;
}

/** Readings that, when one is there, make Penman–Monteith worth its estimates (FAO-56 chapter 3). */
export function hasMoreThanTemperature(input: EtoInput): boolean {
  return (
    isGiven(input.vapourPressureKpa) ||
    isGiven(input.tdewC) ||
    isGiven(input.rhMaxPct) ||
    isGiven(input.rhMinPct) ||
    isGiven(input.rhMeanPct) ||
    isGiven(input.windMps) ||
    isGiven(input.solarMjM2) ||
    isGiven(input.sunshineHours)
  );
}

/**
 * Picks the equation: what the caller asks for; else Hargreaves–Samani where only temperatures are known,
 * ASCE for the tall reference (FAO-56 and Hargreaves have none), FAO-56 for all else.
 * @throws BookError bad-input where the asked method has no tall reference.
 */
export function chooseMethod(input: EtoInput): EtoMethod {
  const tall = input.reference === 'tall';
  if (input.method === 'asce' || (tall && !input.method)) return tall ? 'asce-tall' : 'asce-short';
  if (tall) {
    throw new BookError('bad-input', fact('agronomy.noTallReference', { method: String(input.method) }), 'method');
  }
  if (input.method === 'hargreaves') return 'hargreaves-samani';
  if (input.method === 'fao56') return 'fao56-penman-monteith';
  return hasMoreThanTemperature(input) ? 'fao56-penman-monteith' : 'hargreaves-samani';
}

const HUMIDITIES = ['rhMaxPct', 'rhMinPct', 'rhMeanPct'] as const;

/**
 * Refuses impossible weather before anything is computed; what depends on the sun (daylight, Ra) is checked later.
 * @throws BookError bad-input naming the field and what is allowed.
 */
export function checkEtoInput(input: EtoInput): void {
  requireRange(input.latitudeDeg, 'latitudeDeg', -90, 90, 'degrees');
  requireRange(input.elevationM, 'elevationM', -500, 6000, 'm');
  requireRange(input.tmaxC, 'tmaxC', -90, 60, '°C');
  requireRange(input.tminC, 'tminC', -90, 60, '°C');
  if (input.tminC > input.tmaxC) {
    throw new BookError(
      'bad-input',
      fact('agronomy.notAboveOther', {
        field: 'tminC',
        value: input.tminC,
        other: 'tmaxC',
        most: input.tmaxC,
        unit: '°C',
      }),
      'tminC',
    );
  }
  for (const field of HUMIDITIES) {
    if (isGiven(input[field])) requireRange(input[field], field, 0, 100, '%');
  }
  if (isGiven(input.rhMaxPct) && isGiven(input.rhMinPct) && input.rhMinPct > input.rhMaxPct) {
    throw new BookError(
      'bad-input',
      fact('agronomy.notAboveOther', {
        field: 'rhMinPct',
        value: input.rhMinPct,
        other: 'rhMaxPct',
        most: input.rhMaxPct,
        unit: '%',
      }),
      'rhMinPct',
    );
  }
  if (isGiven(input.tdewC)) {
    requireRange(input.tdewC, 'tdewC', -90, 60, '°C');
    if (input.tdewC > input.tmaxC) {
      throw new BookError(
        'bad-input',
        fact('agronomy.notAboveOther', {
          field: 'tdewC',
          value: input.tdewC,
          other: 'tmaxC',
          most: input.tmaxC,
          unit: '°C',
        }),
        'tdewC',
      );
    }
  }
  if (isGiven(input.vapourPressureKpa)) requireRange(input.vapourPressureKpa, 'vapourPressureKpa', 0, 20, 'kPa');
  if (isGiven(input.windMps)) requireRange(input.windMps, 'windMps', 0, 60, 'm/s');
  if (isGiven(input.windHeightM)) requireRange(input.windHeightM, 'windHeightM', 0.5, 100, 'm');
  if (isGiven(input.solarMjM2)) requireRange(input.solarMjM2, 'solarMjM2', 0, 50, 'mj-a-day');
  if (isGiven(input.sunshineHours)) requireRange(input.sunshineHours, 'sunshineHours', 0, 24, 'hours');
  if (isGiven(input.angstromA)) requireRange(input.angstromA, 'angstromA', 0, 1, '');
  if (isGiven(input.angstromB)) requireRange(input.angstromB, 'angstromB', 0, 1, '');
  if (isGiven(input.previousMonthMeanC)) requireRange(input.previousMonthMeanC, 'previousMonthMeanC', -90, 60, '°C');
  if (isGiven(input.nextMonthMeanC)) requireRange(input.nextMonthMeanC, 'nextMonthMeanC', -90, 60, '°C');
}

/** Slack for a sunshine recorder against the astronomical day, which leaves out refraction and twilight, h. */
export const SUNSHINE_SLACK_HOURS = 0.25;
/** Slack for a pyranometer's offset, MJ m⁻² d⁻¹. */
export const SOLAR_SLACK_MJ = 1;

/** Refuses sunshine longer than the day and more sun than reaches the top of the air. @throws BookError bad-input */
export function checkAgainstSun(input: EtoInput, daylight: number, ra: number): void {
  if (isGiven(input.sunshineHours) && input.sunshineHours > daylight + SUNSHINE_SLACK_HOURS) {
    throw new BookError(
      'bad-input',
      fact('agronomy.tooMuchSunshine', { hours: input.sunshineHours, daylightHours: daylight }),
      'sunshineHours',
    );
  }
  if (isGiven(input.solarMjM2) && input.solarMjM2 > ra + SOLAR_SLACK_MJ) {
    throw new BookError(
      'bad-input',
      fact('agronomy.tooMuchSun', { solarMjM2: input.solarMjM2, topMjM2: ra }),
      'solarMjM2',
    );
  }
}
