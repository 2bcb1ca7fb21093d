import type { IMPORT_TARGETS } from '../../contract/book.ts';
import { CLIENT_FIELDS } from './fields-clients.ts';
import { WORK_FIELDS, ZONE_FIELDS } from './fields-ground.ts';

export type ImportTarget = (typeof IMPORT_TARGETS)[number];

export interface Field {
  name: string;
  label: string;
  required?: boolean;
  /** Header words that mean this field, lower case; '~' before them: also as part of a longer header. */
  words: readonly string[];
  /** Several columns may be matched to it; their texts are joined by this. */
  join?: string;
}

const WEATHER_FIELDS: readonly Field[] = [
  { name: 'date', label: 'Date', words: ['date', 'day date', 'obs date', 'observation date', 'datum', '~date'] },
  { name: 'year', label: 'Year', words: ['year', 'yr', 'yyyy'] },
  { name: 'month', label: 'Month', words: ['month', 'mon', 'mm', 'mo'] },
  { name: 'day', label: 'Day of the month', words: ['day', 'dd', 'day of month'] },
  {
    name: 'tmaxF',
    label: 'Highest temperature, °F',
    words: ['tmax f', 'max temp f', 'temp max f', 'high f', 'maximum temperature f', '~tmax f', '~max temp f'],
  },
  {
    name: 'tmaxC',
    label: 'Highest temperature, °C',
    words: ['tmax c', 'max temp c', 'temp max c', 'high c', 'maximum temperature c', '~tmax c', '~max temp c'],
  },
  {
    name: 'tminF',
    label: 'Lowest temperature, °F',
    words: ['tmin f', 'min temp f', 'temp min f', 'low f', 'minimum temperature f', '~tmin f', '~min temp f'],
  },
  {
    name: 'tminC',
    label: 'Lowest temperature, °C',
    words: ['tmin c', 'min temp c', 'temp min c', 'low c', 'minimum temperature c', '~tmin c', '~min temp c'],
  },
  {
    name: 'rainInches',
    label: 'Rain, inches',
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
    label: 'Rain, millimetres',
    words: ['rain mm', 'prcp mm', 'precipitation mm', 'precip mm', 'rainfall mm', '~rain mm', '~precip mm'],
  },
  {
    name: 'rhMeanPct',
    label: 'Mean relative humidity, %',
    words: ['rh', 'rh mean', 'humidity', 'relative humidity', 'mean humidity', '~relative humidity'],
  },
  {
    name: 'windMph',
    label: 'Wind, mph',
    words: ['wind mph', 'windspeed mph', 'wind speed mph', '~wind mph', '~wind speed mph'],
  },
  { name: 'windMps', label: 'Wind, m/s', words: ['wind mps', 'wind m s', 'wind speed m s', 'wind ms', '~wind m s'] },
  {
    name: 'solarMjM2',
    label: 'Solar radiation, MJ/m² a day',
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
export function labelOf(target: ImportTarget, name: string): string {
  return FIELDS[target].find((field) => field.name === name)?.label ?? name;
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
