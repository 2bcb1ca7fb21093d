import type { Handler } from '../context.ts';
import { freezeDates } from './freeze-dates.ts';
import { mustExist } from '../store/rows.ts';
import { readLows, readStations, saveStation } from './queries.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

const stationList: Handler<'station.list'> = async ({ db }) => ({ stations: await readStations(db) });

const stationSave: Handler<'station.save'> = async ({ db }, { station }) => {
  for (const [month, normal] of station.normals.entries()) {
    if (normal.tminF > normal.tmaxF)
      throw new BookError(
        'bad-input',
        fact('errors.meanMinimum', {
          lowest: { quantity: 'temperature', value: normal.tminF },
          highest: { quantity: 'temperature', value: normal.tmaxF },
        }),
        `station.normals.${month}.tminF`,
      );
  }
  await saveStation(db, station);
  return { stationId: station.id };
};

const weatherFreezeDates: Handler<'weather.freezeDates'> = async ({ db }, input) => {
  const { records, stationId, thresholdF, fromYear = null, toYear = null } = input;
  if (stationId !== undefined) await mustExist(db, 'weatherStation', stationId, 'stationId', 'weather station');
  const lows = stationId === undefined ? (records ?? []) : await readLows(db, stationId);
  return freezeDates(lows, thresholdF, { from: fromYear, to: toYear });
};

export const weatherHandlers = {
  'station.list': stationList,
  'station.save': stationSave,
  'weather.freezeDates': weatherFreezeDates,
};
