import { dayOfYear } from '../agronomy/index.ts';
import { etoSeries } from '../agronomy/index.ts';
import type { WeatherStation } from './contract.ts';
import { datesFrom } from '../dates.ts';
import { MM_PER_INCH, toCelsius, toMeters, toMps } from '../units.ts';
import { monthlyClimate, STATION_WIND_HEIGHT_M } from './climate.ts';

interface Record_ {
  date: string;
  tmaxF: number | null;
  tminF: number | null;
  rainInches: number | null;
  rhMeanPct: number | null;
  windMph: number | null;
  solarMjM2: number | null;
}

export interface DailyWeather {
  days: { date: string; etoInches: number; rainInches: number }[];
  /** How many days had no record of their own and took the month's normal. */
  filledDays: number;
}

/** ETo and rain for every day of a span: from the station's records, and where a day has none, from the month's normals. */
export function dailyWeather(
  station: WeatherStation,
  records: readonly Record_[],
  fromDate: string,
  toDate: string,
): DailyWeather {
  const dates = datesFrom(fromDate, toDate);
  const byDate = new Map(records.map((record) => [record.date, record]));
  const normals = monthlyClimate(station);
  const column = (pick: (record: Record_) => number | null) =>
    Float64Array.from(dates, (date) => {
      const record = byDate.get(date);
      return (record && pick(record)) ?? Number.NaN;
    });
  const eto = etoSeries(
    { latitudeDeg: station.latitudeDeg, elevationM: toMeters(station.elevationFt), windHeightM: STATION_WIND_HEIGHT_M },
    {
      dayOfYear: Float64Array.from(dates, (date) => dayOfYear(date)),
      tmaxC: column((record) => (record.tmaxF === null ? null : toCelsius(record.tmaxF))),
      tminC: column((record) => (record.tminF === null ? null : toCelsius(record.tminF))),
      rhMeanPct: column((record) => record.rhMeanPct),
      windMps: column((record) => (record.windMph === null ? null : toMps(record.windMph))),
      solarMjM2: column((record) => record.solarMjM2),
    },
  );
  let filledDays = 0;
  const days = dates.map((date, index) => {
    const month = normals[Number(date.slice(5, 7)) - 1]!;
    const measured = eto[index]!;
    const rain = byDate.get(date)?.rainInches ?? null;
    if (!Number.isFinite(measured) || rain === null) filledDays++;
    return {
      date,
      etoInches: Number.isFinite(measured) ? measured / MM_PER_INCH : month.etoInches / month.daysInMonth,
      rainInches: rain ?? month.rainInches / month.daysInMonth,
    };
  });
  return { days, filledDays };
}
