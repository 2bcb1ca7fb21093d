import type { Handler } from '../context.ts';
import { readStations, saveStation } from './queries.ts';
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

export const weatherHandlers = {
  'station.list': stationList,
  'station.save': stationSave,
};
