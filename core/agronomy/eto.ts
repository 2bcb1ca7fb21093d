import { isGiven } from './check.ts';
import { dayOfYear } from './day-of-year.ts';
import * as eq from './eto-equations.ts';
import { checkAgainstSun, checkEtoInput, chooseMethod } from './eto-input.ts';
import type { EtoInput, EtoMethod } from './eto-input.ts';

/** One intermediate value, so that a technician can follow and stand behind the result. */
export interface EtoStep {
  name: string;
  symbol: string;
  value: number;
  unit: string;
  /** Where it comes from: the equation, or the estimate that stands in for a reading. */
  how: string;
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

type Record1 = (name: string, symbol: string, value: number, unit: string, how: string) => number;

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
    steps.push({ name, symbol, value, unit, how });
    return value;
  };

  const { ra, daylight } = recordSun(input, day, record);
  checkAgainstSun(input, daylight, ra);
  const tmean = record(
    'Mean temperature',
    'Tmean',
    (input.tmaxC + input.tminC) / 2,
    '°C',
    'eq. 9: mean of Tmax and Tmin',
  );

  if (method === 'hargreaves-samani') {
    const raw = eq.hargreavesMm(tmean, input.tmaxC, input.tminC, ra);
    const etoMm = record(
      'Reference evapotranspiration',
      'ETo',
      Math.max(0, raw),
      'mm/d',
      'eq. 52: Hargreaves–Samani with 0.408 Ra; not below 0',
    );
    return { etoMm, method, dataUsed: { vapourPressure: 'not-used', solar: 'not-used', wind: 'not-used' }, steps };
  }

  const reference = method === 'asce-tall' ? eq.ASCE_TALL : method === 'asce-short' ? eq.ASCE_SHORT : eq.FAO56_SHORT;
  const pressure = record('Air pressure', 'P', eq.pressureKpa(input.elevationM), 'kPa', 'eq. 7: from elevation');
  const gamma = record('Psychrometric constant', 'γ', eq.psychrometricConstant(pressure), 'kPa/°C', 'eq. 8');
  const slope = record(
    'Slope of the vapor pressure curve',
    'Δ',
    eq.saturationSlope(tmean, reference.slope),
    'kPa/°C',
    'eq. 13 at Tmean',
  );
  const e0Tmax = record('Saturation pressure at Tmax', 'e°(Tmax)', eq.saturationKpa(input.tmaxC), 'kPa', 'eq. 11');
  const e0Tmin = record('Saturation pressure at Tmin', 'e°(Tmin)', eq.saturationKpa(input.tminC), 'kPa', 'eq. 11');
  const es = record('Mean saturation pressure', 'es', (e0Tmax + e0Tmin) / 2, 'kPa', 'eq. 12');
  const vapour = actualVapour(input, e0Tmax, e0Tmin, es);
  const ea = record('Actual vapor pressure', 'ea', vapour.ea, 'kPa', vapour.how);
  // A dew point above the day's mean (fog, or a faulty sensor within its tolerance) must not count as negative drying.
  const deficit = record('Vapor pressure deficit', 'es − ea', Math.max(0, es - ea), 'kPa', 'es − ea, not below 0');

  const full = input.clearSky === 'full';
  const rso = record(
    'Clear-sky radiation',
    'Rso',
    full
      ? eq.clearSkyFullMj((input.latitudeDeg * Math.PI) / 180, day, pressure, ea, ra)
      : eq.clearSkyMj(input.elevationM, ra),
    'MJ/m²/d',
    full ? 'ASCE-EWRI appendix D: sun height and water in the air' : 'eq. 37: (0.75 + 2·10⁻⁵ z) Ra',
  );
  const solar = solarRadiation(input, ra, rso, daylight);
  const rs = record('Solar radiation', 'Rs', solar.rs, 'MJ/m²/d', solar.how);
  const clear = record(
    'Relative shortwave radiation',
    'Rs/Rso',
    eq.clearness(rs, rso),
    '',
    'limited to 0.3…1 (ASCE-EWRI; upper limit FAO-56)',
  );
  const rns = record('Net shortwave radiation', 'Rns', eq.netShortwaveMj(rs), 'MJ/m²/d', 'eq. 38: albedo 0.23');
  const rnl = record(
    'Net longwave radiation',
    'Rnl',
    eq.netLongwaveMj(input.tmaxC, input.tminC, ea, clear, reference.stefanBoltzmann),
    'MJ/m²/d',
    'eq. 39',
  );
  const rn = record('Net radiation', 'Rn', rns - rnl, 'MJ/m²/d', 'eq. 40: Rns − Rnl');
  const heat = soilHeat(input, tmean);
  const g = record('Soil heat flux', 'G', heat.g, 'MJ/m²/d', heat.how);
  const wind = windAt2m(input);
  const u2 = record('Wind at 2 m', 'u2', wind.u2, 'm/s', wind.how);

  const raw = eq.penmanMonteithMm(slope, gamma, rn, g, tmean, u2, deficit, reference);
  const how =
    method === 'fao56-penman-monteith'
      ? 'eq. 6: FAO-56 Penman–Monteith; not below 0'
      : `ASCE-EWRI eq. 1, ${method === 'asce-tall' ? 'tall (Cn 1600, Cd 0.38)' : 'short (Cn 900, Cd 0.34)'}; not below 0`;
  const etoMm = record(
    'Reference evapotranspiration',
    method === 'asce-tall' ? 'ETr' : 'ETo',
    Math.max(0, raw),
    'mm/d',
    how,
  );
  return { etoMm, method, dataUsed: { vapourPressure: vapour.source, solar: solar.source, wind: wind.source }, steps };
}

function recordSun(input: EtoInput, day: number, record: Record1): { ra: number; daylight: number } {
  record('Day of the year', 'J', day, '', 'from the date');
  const latitude = record('Latitude', 'φ', (input.latitudeDeg * Math.PI) / 180, 'rad', 'eq. 22');
  const distance = record('Inverse relative distance Earth–sun', 'dr', eq.inverseDistance(day), '', 'eq. 23');
  const declination = record('Solar declination', 'δ', eq.declinationRad(day), 'rad', 'eq. 24');
  const sunset = record(
    'Sunset hour angle',
    'ωs',
    eq.sunsetAngleRad(latitude, declination),
    'rad',
    'eq. 25; 0 in polar night, π in polar day',
  );
  const ra = record(
    'Extraterrestrial radiation',
    'Ra',
    eq.extraterrestrialMj(latitude, distance, declination, sunset),
    'MJ/m²/d',
    'eq. 21',
  );
  const daylight = record('Daylight hours', 'N', eq.daylightHours(sunset), 'h', 'eq. 34');
  return { ra, daylight };
}

function actualVapour(
  input: EtoInput,
  e0Tmax: number,
  e0Tmin: number,
  es: number,
): { ea: number; how: string; source: EtoDataUsed['vapourPressure'] } {
  if (isGiven(input.vapourPressureKpa)) return { ea: input.vapourPressureKpa, how: 'measured', source: 'measured' };
  if (isGiven(input.tdewC))
    return { ea: eq.saturationKpa(input.tdewC), how: 'eq. 14: from dew point', source: 'dew-point' };
  const { rhMaxPct: high, rhMinPct: low, rhMeanPct: mean } = input;
  if (isGiven(high) && isGiven(low)) {
    return {
      ea: eq.vapourFromRhMaxMin(e0Tmax, e0Tmin, high, low),
      how: 'eq. 17: from RHmax and RHmin',
      source: 'rh-max-min',
    };
  }
  if (isGiven(high)) return { ea: eq.vapourFromRhMax(e0Tmin, high), how: 'eq. 18: from RHmax', source: 'rh-max' };
  if (isGiven(mean)) return { ea: eq.vapourFromRhMean(es, mean), how: 'eq. 19: from RHmean', source: 'rh-mean' };
  if (isGiven(low)) {
    // FAO-56 gives no procedure for RHmin alone; this is humidity's definition at the warmest hour.
    return { ea: (e0Tmax * low) / 100, how: 'e°(Tmax) × RHmin (no numbered equation)', source: 'rh-min' };
  }
  return { ea: e0Tmin, how: 'eq. 48: dew point taken as Tmin', source: 'tmin' };
}

function solarRadiation(
  input: EtoInput,
  ra: number,
  rso: number,
  daylight: number,
): { rs: number; how: string; source: EtoDataUsed['solar'] } {
  if (isGiven(input.solarMjM2)) return { rs: input.solarMjM2, how: 'measured', source: 'measured' };
  if (isGiven(input.sunshineHours)) {
    const a = input.angstromA ?? eq.ANGSTROM_A;
    const b = input.angstromB ?? eq.ANGSTROM_B;
    return {
      rs: eq.solarFromSunshine(input.sunshineHours, daylight, ra, a, b),
      how: `eq. 35: Angström with ${a} and ${b}`,
      source: 'sunshine',
    };
  }
  const krs = input.coastal === true ? eq.KRS_COASTAL : eq.KRS_INTERIOR;
  return {
    rs: eq.solarFromRange(input.tmaxC, input.tminC, ra, rso, krs),
    how: `eq. 50: temperature range with kRs ${krs}, at most Rso`,
    source: 'temperature-range',
  };
}

function soilHeat(input: EtoInput, tmean: number): { g: number; how: string } {
  if (!isGiven(input.previousMonthMeanC)) return { g: 0, how: 'eq. 42: a day: 0' };
  if (isGiven(input.nextMonthMeanC)) {
    return {
      g: eq.monthlySoilHeat(input.previousMonthMeanC, input.nextMonthMeanC),
      how: 'eq. 43: a month, from the months before and after',
    };
  }
  return {
    g: eq.monthlySoilHeatFromPrevious(input.previousMonthMeanC, tmean),
    how: 'eq. 44: a month, from the month before',
  };
}

function windAt2m(input: EtoInput): { u2: number; how: string; source: EtoDataUsed['wind'] } {
  if (!isGiven(input.windMps))
    return { u2: eq.DEFAULT_WIND_MPS, how: 'not measured: 2 m/s (FAO-56 chapter 3)', source: 'default' };
  const height = input.windHeightM ?? 2;
  // Eq. 47 gives 1.0001 at 2 m; a reading taken there needs no conversion.
  if (height === 2) return { u2: input.windMps, how: 'measured at 2 m', source: 'measured' };
  return {
    u2: input.windMps * eq.windHeightFactor(height),
    how: `eq. 47: measured at ${height} m`,
    source: 'measured',
  };
}
