/**
 * The equations of reference evapotranspiration, one function each, in SI units.
 * Source: Allen, Pereira, Raes, Smith, "Crop evapotranspiration", FAO Irrigation and Drainage Paper 56 (1998), chapters 2 to 4;
 * ASCE-EWRI, "The ASCE standardized reference evapotranspiration equation" (2005) for `ReferenceConstants`.
 * Equation numbers are FAO-56's. Both the explained single day (`eto.ts`) and the fast series (`eto-series.ts`)
 * call these, so that the two can never disagree. Nothing here checks its input; the callers do.
 *
 * Numbers used once a day of a series (0.408 = 1 / latent heat 2.45 MJ/kg, albedo 0.23, the floor 0.3) stand as literals:
 * a module's constant is read from memory on every call, which made the Hargreaves series 2.5 times slower.
 */

/** Solar constant, MJ m⁻² min⁻¹ (FAO-56 eq. 21). */
const SOLAR_CONSTANT = 0.082;
/** Wind at 2 m assumed where nothing is known, m/s (FAO-56 chapter 3, average of stations world-wide). */
export const DEFAULT_WIND_MPS = 2;
/** Angström coefficients where none are calibrated (FAO-56 eq. 35). */
export const ANGSTROM_A = 0.25;
export const ANGSTROM_B = 0.5;
/** Hargreaves radiation coefficient, °C^−0.5 (FAO-56 eq. 50). */
export const KRS_INTERIOR = 0.16;
export const KRS_COASTAL = 0.19;

/** Constants that make the one equation a short (grass) or tall (alfalfa) daily reference. */
export interface ReferenceConstants {
  /** Numerator of eq. 13: FAO-56 writes 4098 × 0.6108, ASCE-EWRI (its eq. 5) rounds that to 2503. */
  readonly slope: number;
  readonly numerator: number;
  readonly denominator: number;
  readonly stefanBoltzmann: number;
}
/** FAO-56 eq. 6; Stefan–Boltzmann as in eq. 39, MJ K⁻⁴ m⁻² d⁻¹. */
export const FAO56_SHORT: ReferenceConstants = {
  slope: 4098 * 0.6108,
  numerator: 900,
  denominator: 0.34,
  stefanBoltzmann: 4.903e-9,
};
/** ASCE-EWRI 2005 table 1, daily. */
export const ASCE_SHORT: ReferenceConstants = {
  slope: 2503,
  numerator: 900,
  denominator: 0.34,
  stefanBoltzmann: 4.901e-9,
};
export const ASCE_TALL: ReferenceConstants = {
  slope: 2503,
  numerator: 1600,
  denominator: 0.38,
  stefanBoltzmann: 4.901e-9,
};

/** Eq. 7: air pressure, kPa, at an elevation in m. */
export function pressureKpa(elevationM: number): number {
  return 101.3 * Math.pow((293 - 0.0065 * elevationM) / 293, 5.26);
}

/** Eq. 8: psychrometric constant, kPa/°C. */
export function psychrometricConstant(pressure: number): number {
  return 0.000665 * pressure;
}

/** Eq. 11: saturation vapour pressure, kPa, at a temperature in °C. */
export function saturationKpa(tempC: number): number {
  return 0.6108 * Math.exp((17.27 * tempC) / (tempC + 237.3));
}

/** Eq. 13: slope of the saturation curve, kPa/°C; `numerator` as in `ReferenceConstants.slope`. */
export function saturationSlope(tempC: number, numerator = FAO56_SHORT.slope): number {
  const shifted = tempC + 237.3;
  return (numerator * Math.exp((17.27 * tempC) / shifted)) / (shifted * shifted);
}

/** Eq. 15 with eq. 16: actual vapour pressure, kPa, from wet and dry bulb. Coefficient 0.000662 ventilated, 0.0008 natural, 0.0012 indoor. */
export function vapourFromPsychrometer(tdryC: number, twetC: number, pressure: number, coefficient = 0.000662): number {
  return saturationKpa(twetC) - coefficient * pressure * (tdryC - twetC);
}

/** Eq. 17: actual vapour pressure, kPa, from both humidities in %. */
export function vapourFromRhMaxMin(e0Tmax: number, e0Tmin: number, rhMaxPct: number, rhMinPct: number): number {
  return (e0Tmin * rhMaxPct + e0Tmax * rhMinPct) / 200;
}

/** Eq. 18: actual vapour pressure, kPa, from the greatest humidity alone. */
export function vapourFromRhMax(e0Tmin: number, rhMaxPct: number): number {
  return (e0Tmin * rhMaxPct) / 100;
}

/** Eq. 19: actual vapour pressure, kPa, from mean humidity; `es` is the mean saturation pressure. */
export function vapourFromRhMean(es: number, rhMeanPct: number): number {
  return (es * rhMeanPct) / 100;
}

/** Eq. 23: inverse relative distance between Earth and sun, for a day of the year. */
export function inverseDistance(day: number): number {
  return 1 + 0.033 * Math.cos(((2 * Math.PI) / 365) * day);
}

/** Eq. 24: solar declination, rad. */
export function declinationRad(day: number): number {
  return 0.409 * Math.sin(((2 * Math.PI) / 365) * day - 1.39);
}

/** Eq. 25: sunset hour angle, rad. Beyond the polar circles the argument leaves −1…1; clamped it gives 0 (no day) or π (no night). */
export function sunsetAngleRad(latitudeRad: number, declination: number): number {
  const argument = -Math.tan(latitudeRad) * Math.tan(declination);
  return Math.acos(Math.min(1, Math.max(-1, argument)));
}

/** Eq. 21: extraterrestrial radiation, MJ m⁻² d⁻¹. */
export function extraterrestrialMj(
  latitudeRad: number,
  distance: number,
  declination: number,
  sunsetAngle: number,
): number {
  const geometry =
    sunsetAngle * Math.sin(latitudeRad) * Math.sin(declination) +
    Math.cos(latitudeRad) * Math.cos(declination) * Math.sin(sunsetAngle);
  return Math.max(0, ((24 * 60) / Math.PI) * SOLAR_CONSTANT * distance * geometry);
}

/** Eq. 34: daylight hours. */
export function daylightHours(sunsetAngle: number): number {
  return (24 / Math.PI) * sunsetAngle;
}

/** Eq. 35: solar radiation, MJ m⁻² d⁻¹, from hours of sunshine. */
export function solarFromSunshine(sunshineHours: number, daylight: number, ra: number, a: number, b: number): number {
  const share = daylight > 0 ? Math.min(1, sunshineHours / daylight) : 0;
  return (a + b * share) * ra;
}

/** Eq. 37: clear-sky radiation, MJ m⁻² d⁻¹. */
export function clearSkyMj(elevationM: number, ra: number): number {
  return (0.75 + 2e-5 * elevationM) * ra;
}

/**
 * Clear-sky radiation, MJ m⁻² d⁻¹, with the sun's height and the water in the air counted: ASCE-EWRI (2005) appendix D,
 * eq. D.1 to D.5 (the "full" form; from memory; the Fallon check in tests/published agrees to 0.1 %).
 * For clean air, turbidity 1.
 */
export function clearSkyFullMj(latitudeRad: number, day: number, pressure: number, ea: number, ra: number): number {
  const seasonal = 0.3 * latitudeRad * Math.sin(((2 * Math.PI) / 365) * day - 1.39);
  const sunHeight = Math.max(0.01, Math.sin(0.85 + seasonal - 0.42 * latitudeRad * latitudeRad));
  const waterMm = 0.14 * ea * pressure + 2.1;
  const beam = 0.98 * Math.exp((-0.00146 * pressure) / sunHeight - 0.075 * Math.pow(waterMm / sunHeight, 0.4));
  const diffuse = beam >= 0.15 ? 0.35 - 0.36 * beam : 0.18 + 0.82 * beam;
  return (beam + diffuse) * ra;
}

/** Eq. 50: solar radiation, MJ m⁻² d⁻¹, from the temperature range; FAO-56 caps it at clear sky. */
export function solarFromRange(tmaxC: number, tminC: number, ra: number, rso: number, krs: number): number {
  return Math.min(rso, krs * Math.sqrt(tmaxC - tminC) * ra);
}

/** Eq. 38: net shortwave radiation, MJ m⁻² d⁻¹; the reference crop reflects 0.23. */
export function netShortwaveMj(rs: number): number {
  return (1 - 0.23) * rs;
}

/**
 * Relative shortwave radiation Rs/Rso as eq. 39 uses it, 0.3…1. ASCE-EWRI limits the ratio so; FAO-56 states only the
 * upper limit, but below about 0.26 its eq. 39 would let the sky warm the ground, so the same floor serves both.
 * In polar night, where Rso is 0, the floor is used.
 */
export function clearness(rs: number, rso: number): number {
  if (!(rso > 0)) return 0.3;
  return Math.min(1, Math.max(0.3, rs / rso));
}

/** Eq. 39: net longwave radiation going out, MJ m⁻² d⁻¹. */
export function netLongwaveMj(
  tmaxC: number,
  tminC: number,
  ea: number,
  clear: number,
  stefanBoltzmann: number,
): number {
  const warm = tmaxC + 273.16;
  const cool = tminC + 273.16;
  const warm2 = warm * warm;
  const cool2 = cool * cool;
  return (
    stefanBoltzmann * ((warm2 * warm2 + cool2 * cool2) / 2) * (0.34 - 0.14 * Math.sqrt(ea)) * (1.35 * clear - 0.35)
  );
}

/** Eq. 43: monthly soil heat flux, MJ m⁻² d⁻¹, from the mean temperatures of the month before and the month after. */
export function monthlySoilHeat(previousMonthC: number, nextMonthC: number): number {
  return 0.07 * (nextMonthC - previousMonthC);
}

/** Eq. 44: monthly soil heat flux, MJ m⁻² d⁻¹, where the month after is not known yet. */
export function monthlySoilHeatFromPrevious(previousMonthC: number, thisMonthC: number): number {
  return 0.14 * (thisMonthC - previousMonthC);
}

/** Eq. 47: factor that brings wind measured at a height in m to 2 m above grass. */
export function windHeightFactor(heightM: number): number {
  return 4.87 / Math.log(67.8 * heightM - 5.42);
}

/** Eq. 6 (and ASCE-EWRI eq. 1): reference evapotranspiration, mm/d. */
export function penmanMonteithMm(
  slope: number,
  gamma: number,
  rn: number,
  g: number,
  tmeanC: number,
  u2: number,
  deficitKpa: number,
  reference: ReferenceConstants,
): number {
  const energy = 0.408 * slope * (rn - g);
  const air = gamma * (reference.numerator / (tmeanC + 273)) * u2 * deficitKpa;
  return (energy + air) / (slope + gamma * (1 + reference.denominator * u2));
}

/** Eq. 52 (Hargreaves–Samani): reference evapotranspiration, mm/d, from temperatures and Ra in MJ m⁻² d⁻¹. */
export function hargreavesMm(tmeanC: number, tmaxC: number, tminC: number, ra: number): number {
  return 0.0023 * (tmeanC + 17.8) * Math.sqrt(tmaxC - tminC) * 0.408 * ra;
}
