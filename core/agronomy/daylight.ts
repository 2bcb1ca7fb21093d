import { requireRange } from './check.ts';
import { dayOfYear } from './day-of-year.ts';

/** Sun at a place on a day, in minutes after local midnight; may lie outside 0…1440 where the clock is far from the sun. */
export interface Daylight {
  kind: 'normal' | 'polar-day' | 'polar-night';
  /** null in polar day and night. */
  sunriseMinutes: number | null;
  sunsetMinutes: number | null;
  solarNoonMinutes: number;
  dayLengthMinutes: number;
}

/**
 * Sunrise and sunset by the local clock, good to a few minutes: enough for a mark in the water week.
 * Source: US NOAA Global Monitoring Division, "General Solar Position Calculations" (fractional year, equation of time,
 * zenith 90.833° for refraction and the sun's radius) (from memory).
 * @param latitudeDeg −90…90. @param longitudeDeg −180…180, west negative. @param date 'YYYY-MM-DD'.
 * @param utcOffsetMinutes of the local clock on that day, −840…840; summer time included by the caller.
 * @throws BookError bad-input naming the field.
 */
export function daylight(latitudeDeg: number, longitudeDeg: number, date: string, utcOffsetMinutes: number): Daylight {
  requireRange(latitudeDeg, 'latitudeDeg', -90, 90, 'degrees');
  requireRange(longitudeDeg, 'longitudeDeg', -180, 180, 'degrees');
  requireRange(utcOffsetMinutes, 'utcOffsetMinutes', -840, 840, 'minutes');
  const year = ((2 * Math.PI) / 365) * (dayOfYear(date) - 1);
  const equationOfTime =
    229.18 *
    (0.000075 +
      0.001868 * Math.cos(year) -
      0.032077 * Math.sin(year) -
      0.014615 * Math.cos(2 * year) -
      0.040849 * Math.sin(2 * year));
  const declination =
    0.006918 -
    0.399912 * Math.cos(year) +
    0.070257 * Math.sin(year) -
    0.006758 * Math.cos(2 * year) +
    0.000907 * Math.sin(2 * year) -
    0.002697 * Math.cos(3 * year) +
    0.00148 * Math.sin(3 * year);
  const latitude = (latitudeDeg * Math.PI) / 180;
  const zenith = (90.833 * Math.PI) / 180;
  const cosHourAngle =
    Math.cos(zenith) / (Math.cos(latitude) * Math.cos(declination)) - Math.tan(latitude) * Math.tan(declination);
  const solarNoonMinutes = 720 - 4 * longitudeDeg - equationOfTime + utcOffsetMinutes;
  if (cosHourAngle <= -1)
    return { kind: 'polar-day', sunriseMinutes: null, sunsetMinutes: null, solarNoonMinutes, dayLengthMinutes: 1440 };
  if (cosHourAngle >= 1)
    return { kind: 'polar-night', sunriseMinutes: null, sunsetMinutes: null, solarNoonMinutes, dayLengthMinutes: 0 };
  const half = (4 * Math.acos(cosHourAngle) * 180) / Math.PI;
  return {
    kind: 'normal',
    sunriseMinutes: solarNoonMinutes - half,
    sunsetMinutes: solarNoonMinutes + half,
    solarNoonMinutes,
    dayLengthMinutes: 2 * half,
  };
}
