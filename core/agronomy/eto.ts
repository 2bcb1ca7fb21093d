import type { Told } from '../contract/parts.ts';
import { fact, type Fact, type PlainKey } from '../text/say.ts';
import { isGiven } from './check.ts';
import { dayOfYear } from './day-of-year.ts';
import * as eq from './eto-equations.ts';
import { checkAgainstSun, checkEtoInput, chooseMethod } from './eto-input.ts';
import type { EtoInput, EtoMethod } from './eto-input.ts';

/** One intermediate value, so that a technician can follow and stand behind the result. */
export interface EtoStep {
  name: Told;
  symbol: string;
  value: number;
  unit: string;
  /** Where it comes from: the equation, or the estimate that stands in for a reading. */
  how: Told;
}

/** How a missing reading was replaced, or that it was measured. */
export interface EtoDataUsed {
  vapourPressure: 'measured' | 'dew-point' | 'rh-max-min' | 'rh-max' | 'rh-mean' | 'rh-min' | 'tmin' | 'not-used';
  solar: 'measured' | 'sunshine' | 'temperature-range' | 'not-used';
  wind: 'measured' | 'default' | 'not-used';
}

export interface EtoResult {
  etoMm: number;
  method: EtoMethod;
  dataUsed: EtoDataUsed;
  steps: EtoStep[];
}

/** A plain text of the catalogue, or a fact with figures. */
type How = PlainKey | Fact;
type Record1 = (name: PlainKey, symbol: string, value: number, unit: string, how: How) => number;

const PENMAN_MONTEITH = {
  'fao56-penman-monteith': 'eto.eq6',
  'asce-tall': 'eto.asceTall',
  'asce-short': 'eto.asceShort',
} as const satisfies Record<Exclude<EtoMethod, 'hargreaves-samani'>, PlainKey>;

/**
 * Reference evapotranspiration of one day, with every intermediate value.
 *
 * Method: FAO-56 Penman–Monteith (eq. 6) with its chapter 3 procedures for missing readings; ASCE-EWRI 2005 standardized
 * equation for the tall reference or on request; Hargreaves–Samani (eq. 52) where only Tmin and Tmax are known.
 * A negative result (dew) is reported as 0 mm, since no planting needs less than nothing.
 *
 * @param input °C, %, m/s, MJ m⁻² d⁻¹, hours; ranges on `EtoInput`.
 * @returns millimetres a day, never negative.
 * @throws BookError bad-input naming the field for impossible weather, place or date.
 */
export function computeEto(input: EtoInput): EtoResult {
  checkEtoInput(input);
  const day = dayOfYear(input.date);
  const method = chooseMethod(input);
  const steps: EtoStep[] = [];
  const record: Record1 = (name, symbol, value, unit, how) => {
    steps.push({ name: { key: name }, symbol, value, unit, how: typeof how === 'string' ? { key: how } : how });
    return value;
  };

  const { ra, daylight } = recordSun(input, day, record);
  checkAgainstSun(input, daylight, ra);
  const tmean = record('eto.meanTemperature', 'Tmean', (input.tmaxC + input.tminC) / 2, '°C', 'eto.eq9');

  if (method === 'hargreaves-samani') {
    const raw = eq.hargreavesMm(tmean, input.tmaxC, input.tminC, ra);
    const etoMm = record('eto.reference', 'ETo', Math.max(0, raw), 'mm/d', 'eto.eq52');
    return { etoMm, method, dataUsed: { vapourPressure: 'not-used', solar: 'not-used', wind: 'not-used' }, steps };
  }

  const reference = method === 'asce-tall' ? eq.ASCE_TALL : method === 'asce-short' ? eq.ASCE_SHORT : eq.FAO56_SHORT;
  const pressure = record('eto.airPressure', 'P', eq.pressureKpa(input.elevationM), 'kPa', 'eto.eq7');
  const gamma = record('eto.psychrometric', 'γ', eq.psychrometricConstant(pressure), 'kPa/°C', 'eto.eq8');
  const slope = record('eto.slope', 'Δ', eq.saturationSlope(tmean, reference.slope), 'kPa/°C', 'eto.eq13');
  const e0Tmax = record('eto.saturationTmax', 'e°(Tmax)', eq.saturationKpa(input.tmaxC), 'kPa', 'eto.eq11');
  const e0Tmin = record('eto.saturationTmin', 'e°(Tmin)', eq.saturationKpa(input.tminC), 'kPa', 'eto.eq11');
  const es = record('eto.meanSaturation', 'es', (e0Tmax + e0Tmin) / 2, 'kPa', 'eto.eq12');
  const vapour = actualVapour(input, e0Tmax, e0Tmin, es);
  const ea = record('eto.vapor', 'ea', vapour.ea, 'kPa', vapour.how);
  // A dew point above the day's mean (fog, or a faulty sensor within its tolerance) must not count as negative drying.
  const deficit = record('eto.deficit', 'es − ea', Math.max(0, es - ea), 'kPa', 'eto.deficitHow');

  const full = input.clearSky === 'full';
  const rso = record(
    'eto.clearSky',
    'Rso',
    full
      ? eq.clearSkyFullMj((input.latitudeDeg * Math.PI) / 180, day, pressure, ea, ra)
      : eq.clearSkyMj(input.elevationM, ra),
    'MJ/m²/d',
    full ? 'eto.appendixD' : 'eto.eq37',
  );
  const solar = solarRadiation(input, ra, rso, daylight);
  const rs = record('eto.solar', 'Rs', solar.rs, 'MJ/m²/d', solar.how);
  const clear = record('eto.relativeShortwave', 'Rs/Rso', eq.clearness(rs, rso), '', 'eto.limited');
  const rns = record('eto.netShortwave', 'Rns', eq.netShortwaveMj(rs), 'MJ/m²/d', 'eto.eq38');
  const rnl = record(
    'eto.netLongwave',
    'Rnl',
    eq.netLongwaveMj(input.tmaxC, input.tminC, ea, clear, reference.stefanBoltzmann),
    'MJ/m²/d',
    'eto.eq39',
  );
  const rn = record('eto.netRadiation', 'Rn', rns - rnl, 'MJ/m²/d', 'eto.eq40');
  const heat = soilHeat(input, tmean);
  const g = record('eto.soilHeat', 'G', heat.g, 'MJ/m²/d', heat.how);
  const wind = windAt2m(input);
  const u2 = record('eto.wind', 'u2', wind.u2, 'm/s', wind.how);

  const raw = eq.penmanMonteithMm(slope, gamma, rn, g, tmean, u2, deficit, reference);
  const how = PENMAN_MONTEITH[method];
  const etoMm = record('eto.reference', method === 'asce-tall' ? 'ETr' : 'ETo', Math.max(0, raw), 'mm/d', how);
  return { etoMm, method, dataUsed: { vapourPressure: vapour.source, solar: solar.source, wind: wind.source }, steps };
}

function recordSun(input: EtoInput, day: number, record: Record1): { ra: number; daylight: number } {
  record('eto.dayOfYear', 'J', day, '', 'eto.fromDate');
  const latitude = record('eto.latitude', 'φ', (input.latitudeDeg * Math.PI) / 180, 'rad', 'eto.eq22');
  const distance = record('eto.distance', 'dr', eq.inverseDistance(day), '', 'eto.eq23');
  const declination = record('eto.declination', 'δ', eq.declinationRad(day), 'rad', 'eto.eq24');
  const sunset = record('eto.sunset', 'ωs', eq.sunsetAngleRad(latitude, declination), 'rad', 'eto.eq25');
  const ra = record(
    'eto.extraterrestrial',
    'Ra',
    eq.extraterrestrialMj(latitude, distance, declination, sunset),
    'MJ/m²/d',
    'eto.eq21',
  );
  const daylight = record('eto.daylight', 'N', eq.daylightHours(sunset), 'h', 'eto.eq34');
  return { ra, daylight };
}

function actualVapour(
  input: EtoInput,
  e0Tmax: number,
  e0Tmin: number,
  es: number,
): { ea: number; how: How; source: EtoDataUsed['vapourPressure'] } {
  if (isGiven(input.vapourPressureKpa)) return { ea: input.vapourPressureKpa, how: 'eto.measured', source: 'measured' };
  if (isGiven(input.tdewC)) return { ea: eq.saturationKpa(input.tdewC), how: 'eto.eq14', source: 'dew-point' };
  const { rhMaxPct: high, rhMinPct: low, rhMeanPct: mean } = input;
  if (isGiven(high) && isGiven(low)) {
    return {
      ea: eq.vapourFromRhMaxMin(e0Tmax, e0Tmin, high, low),
      how: 'eto.eq17',
      source: 'rh-max-min',
    };
  }
  if (isGiven(high)) return { ea: eq.vapourFromRhMax(e0Tmin, high), how: 'eto.eq18', source: 'rh-max' };
  if (isGiven(mean)) return { ea: eq.vapourFromRhMean(es, mean), how: 'eto.eq19', source: 'rh-mean' };
  if (isGiven(low)) {
    // FAO-56 gives no procedure for RHmin alone; this is humidity's definition at the warmest hour.
    return { ea: (e0Tmax * low) / 100, how: 'eto.rhMin', source: 'rh-min' };
  }
  return { ea: e0Tmin, how: 'eto.eq48', source: 'tmin' };
}

function solarRadiation(
  input: EtoInput,
  ra: number,
  rso: number,
  daylight: number,
): { rs: number; how: How; source: EtoDataUsed['solar'] } {
  if (isGiven(input.solarMjM2)) return { rs: input.solarMjM2, how: 'eto.measured', source: 'measured' };
  if (isGiven(input.sunshineHours)) {
    const a = input.angstromA ?? eq.ANGSTROM_A;
    const b = input.angstromB ?? eq.ANGSTROM_B;
    return {
      rs: eq.solarFromSunshine(input.sunshineHours, daylight, ra, a, b),
      how: fact('eto.eq35', { a, b }),
      source: 'sunshine',
    };
  }
  const krs = input.coastal === true ? eq.KRS_COASTAL : eq.KRS_INTERIOR;
  return {
    rs: eq.solarFromRange(input.tmaxC, input.tminC, ra, rso, krs),
    how: fact('eto.eq50', { krs }),
    source: 'temperature-range',
  };
}

function soilHeat(input: EtoInput, tmean: number): { g: number; how: How } {
  if (!isGiven(input.previousMonthMeanC)) return { g: 0, how: 'eto.eq42' };
  if (isGiven(input.nextMonthMeanC)) {
    return {
      g: eq.monthlySoilHeat(input.previousMonthMeanC, input.nextMonthMeanC),
      how: 'eto.eq43',
    };
  }
  return {
    g: eq.monthlySoilHeatFromPrevious(input.previousMonthMeanC, tmean),
    how: 'eto.eq44',
  };
}

function windAt2m(input: EtoInput): { u2: number; how: How; source: EtoDataUsed['wind'] } {
  if (!isGiven(input.windMps)) return { u2: eq.DEFAULT_WIND_MPS, how: 'eto.windDefault', source: 'default' };
  const height = input.windHeightM ?? 2;
  // Eq. 47 gives 1.0001 at 2 m; a reading taken there needs no conversion.
  if (height === 2) return { u2: input.windMps, how: 'eto.windAt2m', source: 'measured' };
  return {
    u2: input.windMps * eq.windHeightFactor(height),
    how: fact('eto.eq47', { heightM: height }),
    source: 'measured',
  };
}
