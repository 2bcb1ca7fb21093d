import type { WeatherStation } from './contract.ts';
import { toEntity, type Db } from '../store/tables.ts';
import { upsert } from '../store/rows.ts';

export type StationRow = WeatherStation & { dailyRecords: number; firstDate: string | null; lastDate: string | null };

/** All stations; counting their daily records takes a walk through them and can be left out. */
export async function readStations(db: Db, withCounts = true): Promise<StationRow[]> {
  const rows = await db.selectFrom('weatherStation').selectAll().orderBy('name').execute();
  const spans = !withCounts
    ? []
    : await db
        .selectFrom('weatherDay')
        .select([
          'stationId',
          (eb) => eb.fn.countAll().as('n'),
          (eb) => eb.fn.min('date').as('firstDate'),
          (eb) => eb.fn.max('date').as('lastDate'),
        ])
        .groupBy('stationId')
        .execute();
  return rows.map((row) => {
    const span = spans.find((one) => one.stationId === row.id);
    return {
      ...toEntity<WeatherStation>('weatherStation', row),
      dailyRecords: Number(span?.n ?? 0),
      firstDate: span?.firstDate ?? null,
      lastDate: span?.lastDate ?? null,
    };
  });
}

export async function saveStation(db: Db, station: WeatherStation): Promise<void> {
  await upsert(db, 'weatherStation', station);
}

export interface WeatherDay {
  date: string;
  tmaxF: number | null;
  tminF: number | null;
  rainInches: number | null;
  rhMeanPct: number | null;
  windMph: number | null;
  solarMjM2: number | null;
}

export async function readWeatherDays(
  db: Db,
  stationId: string,
  fromDate: string,
  toDate: string,
): Promise<WeatherDay[]> {
  return db
    .selectFrom('weatherDay')
    .select(['date', 'tmaxF', 'tminF', 'rainInches', 'rhMeanPct', 'windMph', 'solarMjM2'])
    .where('stationId', '=', stationId)
    .where('date', '>=', fromDate)
    .where('date', '<=', toDate)
    .orderBy('date')
    .execute();
}

/** Every day of a station with its lowest temperature, °F. */
export function readLows(db: Db, stationId: string): Promise<{ date: string; tminF: number | null }[]> {
  return db
    .selectFrom('weatherDay')
    .select(['date', 'tminF'])
    .where('stationId', '=', stationId)
    .orderBy('date')
    .execute();
}
