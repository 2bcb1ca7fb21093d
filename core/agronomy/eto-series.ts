import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { requireRange } from './check.ts';
import * as eq from './eto-equations.ts';
import { SOLAR_SLACK_MJ, SUNSHINE_SLACK_HOURS } from './eto-input.ts';
import type { EtoMethodChoice } from './eto-input.ts';

/** What stays the same for all days of a series. Ranges as in `EtoInput`. */
export interface EtoSite {
  latitudeDeg: number;
  elevationM: number;
  /** Height of the anemometer, m; 2 where not given. */
  windHeightM?: number;
  coastal?: boolean;
  reference?: 'short' | 'tall';
  /** Without it each day's readings decide, as in `computeEto`. */
  method?: EtoMethodChoice;
}

/** One column a reading, one row a day; a missing column or a NaN is a missing reading. */
export interface EtoColumns {
  /** 1…366. */
  dayOfYear: ArrayLike<number>;
  tmaxC: Float64Array;
  tminC: Float64Array;
  tdewC?: Float64Array;
  rhMaxPct?: Float64Array;
  rhMinPct?: Float64Array;
  rhMeanPct?: Float64Array;
  windMps?: Float64Array;
  solarMjM2?: Float64Array;
  sunshineHours?: Float64Array;
}

/**
 * Reference evapotranspiration of many days at one place: the arithmetic of `computeEto` without its explanation.
 * Nothing is allocated a day. Chooses day by day, so a gap in one instrument's record costs only accuracy on those days.
 * @returns millimetres a day in `out` (made when not given); NaN where that day's readings are impossible or a
 *   temperature is missing, that is exactly where `computeEto` would refuse the day.
 * @throws BookError bad-input for an impossible site, or columns of unequal length.
 */
export function etoSeries(
  site: EtoSite,
  columns: EtoColumns,
  out: Float64Array = new Float64Array(columns.tmaxC.length),
): Float64Array {
  checkSite(site, columns, out);
  const { dayOfYear, tmaxC, tminC, tdewC, rhMaxPct, rhMinPct, rhMeanPct, windMps, solarMjM2, sunshineHours } = columns;
  const days = tmaxC.length;
  const sun = sunTables(site.latitudeDeg);
  const tall = site.reference === 'tall';
  const onlyHargreaves = site.method === 'hargreaves';
  const mayHargreaves = site.method === undefined && !tall;
  const onlyTemperatures = Object.keys(columns).every(
    (name) => ALWAYS_NEEDED.has(name) || columns[name as keyof EtoColumns] === undefined,
  );
  if (onlyTemperatures && (onlyHargreaves || mayHargreaves)) return hargreavesSeries(columns, sun.ra, out);
  const reference = tall ? eq.ASCE_TALL : site.method === 'asce' ? eq.ASCE_SHORT : eq.FAO56_SHORT;
  const gamma = eq.psychrometricConstant(eq.pressureKpa(site.elevationM));
  const clearSkyShare = eq.clearSkyMj(site.elevationM, 1);
  const krs = site.coastal === true ? eq.KRS_COASTAL : eq.KRS_INTERIOR;
  const height = site.windHeightM ?? 2;
  const windFactor = height === 2 ? 1 : eq.windHeightFactor(height);

  for (let i = 0; i < days; i++) {
    const tmax = tmaxC[i]!;
    const tmin = tminC[i]!;
    const day = dayOfYear[i]!;
    const dew = tdewC === undefined ? NaN : tdewC[i]!;
    const high = rhMaxPct === undefined ? NaN : rhMaxPct[i]!;
    const low = rhMinPct === undefined ? NaN : rhMinPct[i]!;
    const mean = rhMeanPct === undefined ? NaN : rhMeanPct[i]!;
    const wind = windMps === undefined ? NaN : windMps[i]!;
    const solar = solarMjM2 === undefined ? NaN : solarMjM2[i]!;
    const sunshine = sunshineHours === undefined ? NaN : sunshineHours[i]!;
    // The comparisons are written so that NaN, a missing reading, passes where it is allowed and fails where it is not.
    const possible =
      tmin >= -90 &&
      tmin <= tmax &&
      tmax <= 60 &&
      day >= 1 &&
      day <= 366 &&
      !(dew < -90 || dew > tmax) &&
      !(high < 0 || high > 100) &&
      !(low < 0 || low > 100 || low > high) &&
      !(mean < 0 || mean > 100) &&
      !(wind < 0 || wind > 60) &&
      !(solar < 0 || solar > 50) &&
      !(sunshine < 0 || sunshine > 24);
    if (!possible) {
      out[i] = NaN;
      continue;
    }
    const ra = sun.ra[day]!;
    const daylight = sun.daylight[day]!;
    if (solar > ra + SOLAR_SLACK_MJ || sunshine > daylight + SUNSHINE_SLACK_HOURS) {
      out[i] = NaN;
      continue;
    }
    const tmean = (tmax + tmin) / 2;
    // x === x is false for NaN alone: the cheapest test for "was measured".
    const anyReading =
      dew === dew ||
      high === high ||
      low === low ||
      mean === mean ||
      wind === wind ||
      solar === solar ||
      sunshine === sunshine;
    if (onlyHargreaves || (mayHargreaves && !anyReading)) {
      out[i] = Math.max(0, eq.hargreavesMm(tmean, tmax, tmin, ra));
      continue;
    }
    const e0Tmax = eq.saturationKpa(tmax);
    const e0Tmin = eq.saturationKpa(tmin);
    const es = (e0Tmax + e0Tmin) / 2;
    let ea = e0Tmin;
    if (dew === dew) ea = eq.saturationKpa(dew);
    else if (high === high)
      ea = low === low ? eq.vapourFromRhMaxMin(e0Tmax, e0Tmin, high, low) : eq.vapourFromRhMax(e0Tmin, high);
    else if (mean === mean) ea = eq.vapourFromRhMean(es, mean);
    else if (low === low) ea = (e0Tmax * low) / 100;
    const rso = clearSkyShare * ra;
    let rs = solar;
    if (solar !== solar) {
      rs =
        sunshine === sunshine
          ? eq.solarFromSunshine(sunshine, daylight, ra, eq.ANGSTROM_A, eq.ANGSTROM_B)
          : eq.solarFromRange(tmax, tmin, ra, rso, krs);
    }
    const rnl = eq.netLongwaveMj(tmax, tmin, ea, eq.clearness(rs, rso), reference.stefanBoltzmann);
    const rn = eq.netShortwaveMj(rs) - rnl;
    const u2 = wind === wind ? wind * windFactor : eq.DEFAULT_WIND_MPS;
    out[i] = Math.max(
      0,
      eq.penmanMonteithMm(
        eq.saturationSlope(tmean, reference.slope),
        gamma,
        rn,
        0,
        tmean,
        u2,
        Math.max(0, es - ea),
        reference,
      ),
    );
  }
  return out;
}

const ALWAYS_NEEDED: ReadonlySet<string> = new Set(['dayOfYear', 'tmaxC', 'tminC']);

/** The common record of temperatures alone: the general loop would spend most of its time asking for absent readings. */
function hargreavesSeries(columns: EtoColumns, ra: Float64Array, out: Float64Array): Float64Array {
  const { dayOfYear, tmaxC, tminC } = columns;
  for (let i = 0; i < tmaxC.length; i++) {
    const tmax = tmaxC[i]!;
    const tmin = tminC[i]!;
    const day = dayOfYear[i]!;
    let eto = NaN;
    if (tmin >= -90 && tmin <= tmax && tmax <= 60 && day >= 1 && day <= 366) {
      eto = eq.hargreavesMm((tmax + tmin) / 2, tmax, tmin, ra[day]!);
      // Also turns −0 into 0, as the single day does.
      if (eto <= 0) eto = 0;
    }
    out[i] = eto;
  }
  return out;
}

/** Ra and daylight for days 1…366: they depend on latitude and day alone, so a long series computes them once. */
function sunTables(latitudeDeg: number): { ra: Float64Array; daylight: Float64Array } {
  const latitude = (latitudeDeg * Math.PI) / 180;
  const ra = new Float64Array(367);
  const daylight = new Float64Array(367);
  for (let day = 1; day <= 366; day++) {
    const declination = eq.declinationRad(day);
    const sunset = eq.sunsetAngleRad(latitude, declination);
    ra[day] = eq.extraterrestrialMj(latitude, eq.inverseDistance(day), declination, sunset);
    daylight[day] = eq.daylightHours(sunset);
  }
  return { ra, daylight };
}

function checkSite(site: EtoSite, columns: EtoColumns, out: Float64Array): void {
  requireRange(site.latitudeDeg, 'latitudeDeg', -90, 90, 'degrees');
  requireRange(site.elevationM, 'elevationM', -500, 6000, 'm');
  if (site.windHeightM !== undefined) requireRange(site.windHeightM, 'windHeightM', 0.5, 100, 'm');
  if (site.reference === 'tall' && (site.method === 'fao56' || site.method === 'hargreaves')) {
    throw new BookError('bad-input', fact('agronomy.noTallReference', { method: site.method }), 'method');
  }
  const days = columns.tmaxC.length;
  for (const [name, column] of Object.entries({ ...columns, out })) {
    if (column !== undefined && (column as ArrayLike<number>).length !== days) {
      throw new BookError(
        'bad-input',
        fact('agronomy.unequalDays', {
          field: name,
          days: (column as ArrayLike<number>).length,
          other: 'tmaxC',
          needed: days,
        }),
        name,
      );
    }
  }
}
