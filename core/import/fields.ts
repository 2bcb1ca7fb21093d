import type { IMPORT_TARGETS } from './contract.ts';
import { CLIENT_FIELDS } from './fields-clients.ts';
import { WORK_FIELDS, ZONE_FIELDS } from './fields-ground.ts';
import { fact, type Fact, type TextKey } from '../text/say.ts';

export type ImportTarget = (typeof IMPORT_TARGETS)[number];

export interface Field {
  name: string;
  label: Fact;
  required?: boolean;
  /** Header words that mean this field, lower case; '~' before them: also as part of a longer header. */
  words: readonly string[];
  /** Several columns may be matched to it; their texts are joined by this. */
  join?: string;
}

const WEATHER_FIELDS: readonly Field[] = [
  {
    name: 'date',
    label: fact('import.field.date'),
    words: ['date', 'day date', 'obs date', 'observation date', 'datum', '~date'],
  },
  { name: 'year', label: fact('import.field.year'), words: ['year', 'yr', 'yyyy'] },
  { name: 'month', label: fact('import.field.month'), words: ['month', 'mon', 'mm', 'mo'] },
  { name: 'day', label: fact('import.field.dayOfTheMonth'), words: ['day', 'dd', 'day of month'] },
  {
    name: 'tmaxF',
    label: fact('import.field.highestTemperatureF'),
    words: ['tmax f', 'max temp f', 'temp max f', 'high f', 'maximum temperature f', '~tmax f', '~max temp f'],
  },
  {
    name: 'tmaxC',
    label: fact('import.field.highestTemperatureC'),
    words: ['tmax c', 'max temp c', 'temp max c', 'high c', 'maximum temperature c', '~tmax c', '~max temp c'],
  },
  {
    name: 'tminF',
    label: fact('import.field.lowestTemperatureF'),
    words: ['tmin f', 'min temp f', 'temp min f', 'low f', 'minimum temperature f', '~tmin f', '~min temp f'],
  },
  {
    name: 'tminC',
    label: fact('import.field.lowestTemperatureC'),
    words: ['tmin c', 'min temp c', 'temp min c', 'low c', 'minimum temperature c', '~tmin c', '~min temp c'],
  },
  {
    name: 'rainInches',
    label: fact('import.field.rainInches'),
    words: [
      'rain in',
      'rain inches',
      'prcp in',
      'precipitation in',
      'precipitation inches',
      'precip in',
      'rainfall in',
      '~rain in',
      '~precip in',
    ],
  },
  {
    name: 'rainMm',
    label: fact('import.field.rainMillimetres'),
    words: ['rain mm', 'prcp mm', 'precipitation mm', 'precip mm', 'rainfall mm', '~rain mm', '~precip mm'],
  },
  {
    name: 'rhMeanPct',
    label: fact('import.field.meanRelativeHumidityPercent'),
    words: ['rh', 'rh mean', 'humidity', 'relative humidity', 'mean humidity', '~relative humidity'],
  },
  {
    name: 'windMph',
    label: fact('import.field.windMph'),
    words: ['wind mph', 'windspeed mph', 'wind speed mph', '~wind mph', '~wind speed mph'],
  },
  {
    name: 'windMps',
    label: fact('import.field.windMps'),
    words: ['wind mps', 'wind m s', 'wind speed m s', 'wind ms', '~wind m s'],
  },
  {
    name: 'solarMjM2',
    label: fact('import.field.solarRadiationMJADay'),
    words: ['solar', 'solar mj m2', 'radiation', 'solar radiation', 'srad', '~solar radiation'],
  },
];

const FIELDS: Record<ImportTarget, readonly Field[]> = {
  clients: CLIENT_FIELDS,
  zones: ZONE_FIELDS,
  work: WORK_FIELDS,
  weather: WEATHER_FIELDS,
};

/** The fields a list of this kind can fill. */
export function fieldsOf(target: ImportTarget): readonly Field[] {
  return FIELDS[target];
}

/** A field's words for people. */
export function labelOf(target: ImportTarget, name: string): Fact {
  return FIELDS[target].find((field) => field.name === name)?.label ?? { key: name as TextKey };
}

/** What a row cannot do without: one of each group must be matched. */
export const NEEDED: Record<ImportTarget, readonly (readonly string[])[]> = {
  clients: [
    ['clientName', 'lastName', 'companyName', 'firstName'],
    ['street', 'fullAddress'],
  ],
  zones: [
    ['accountNumber', 'clientName', 'street'],
    ['station', 'name'],
  ],
  work: [['accountNumber', 'clientName', 'street'], ['date'], ['kind']],
  weather: [
    ['date', 'year'],
    ['tmaxF', 'tmaxC', 'tminF', 'tminC', 'rainInches', 'rainMm'],
  ],
};
