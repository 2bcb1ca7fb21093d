import { isRegion } from './address.ts';
import type { ImportTarget } from './fields.ts';
import { orderOf, readDate } from './dates.ts';
import { readNumber } from './cell-values.ts';

interface Column {
  index: number;
  matched: boolean;
  /** No header, or one that says nothing ("Column 3"). */
  generic: boolean;
  header: string;
}

const share = (cells: readonly string[], test: (cell: string) => boolean): number =>
  cells.filter(test).length / Math.max(1, cells.length);
const isEmail = (cell: string): boolean => /^[^\s@]+@[^\s@]+\.[^\s@]+$/.test(cell);
const isPhone = (cell: string): boolean =>
  /^[+(]?[\d][\d\s().\-/x+]{6,22}$/i.test(cell) &&
  !/^\d{5}-\d{4}$/.test(cell) &&
  [7, 10, 11, 12].includes(cell.replace(/x.*$/i, '').replace(/\D/g, '').length) &&
  !/^\d{4}-\d\d-\d\d$/.test(cell);
const isZip = (cell: string): boolean => /^(\d{5}(-\d{4})?|[A-Z]\d[A-Z] ?\d[A-Z]\d)$/i.test(cell);
const isStreet = (cell: string): boolean => /^\d+[a-z]?(-\d+)?\s+\S*[a-z]{2}/i.test(cell) && !cell.includes('@');
const isFullAddress = (cell: string): boolean => isStreet(cell) && /[,\n].*\d{4,5}/s.test(cell);
const isWords = (cell: string): boolean => /\p{L}{2}/u.test(cell) && !/\d/.test(cell) && cell.length <= 80;

/** Guesses fields from what the cells look like, for columns whose header did not tell. */
export function contentGuess(
  target: ImportTarget,
  columns: readonly Column[],
  taken: (field: string) => boolean,
  cellsOf: (index: number) => string[],
): Map<number, string> {
  const guesses = new Map<number, string>();
  const used = new Set<string>();
  const free = (field: string): boolean => !taken(field) && !used.has(field);
  const put = (index: number, field: string): void => {
    guesses.set(index, field);
    used.add(field);
  };
  const open = columns.filter((column) => !column.matched);
  if (target === 'weather') {
    guessWeather(open, free, put, cellsOf);
    return guesses;
  }
  if (target !== 'clients') return guesses;
  for (const column of open) {
    const cells = cellsOf(column.index);
    if (cells.length === 0) continue;
    const least = column.generic ? 0.6 : 0.85;
    if (free('email') && share(cells, isEmail) >= least) put(column.index, 'email');
    else if (column.generic && share(cells, isZip) >= least && free('postcode')) put(column.index, 'postcode');
    else if (share(cells, isPhone) >= least && (free('phone') || free('phone2'))) {
      // A long account number looks like a telephone number: punctuation or a header has to say which.
      if (column.generic && share(cells, (cell) => /[()\s.-]/.test(cell)) > 0.3)
        put(column.index, free('phone') ? 'phone' : 'phone2');
    } else if (share(cells, isFullAddress) >= least && free('fullAddress') && free('street'))
      put(column.index, 'fullAddress');
    else if (share(cells, isStreet) >= least && free('street') && free('fullAddress')) put(column.index, 'street');
    else if (column.generic && share(cells, isRegion) >= 0.8 && free('region')) put(column.index, 'region');
  }
  const named = ['clientName', 'lastName', 'companyName'].every(free);
  const words = open.filter(
    (column) => column.generic && !guesses.has(column.index) && share(cellsOf(column.index), isWords) >= 0.7,
  );
  const variety = (column: Column): number =>
    new Set(cellsOf(column.index)).size / Math.max(1, cellsOf(column.index).length);
  if (named && words.length > 0) {
    // Names differ from row to row; towns repeat.
    const name = words.find((column) => variety(column) >= 0.6) ?? words[0]!;
    put(name.index, 'clientName');
  }
  const town = words.find((column) => !guesses.has(column.index) && variety(column) < 0.6);
  if (town && free('city') && free('fullAddress')) put(town.index, 'city');
  return guesses;
}

/** Weather columns whose header names no unit ("TMAX", "temp_max", "PRCP"): the size of the figures tells Fahrenheit from Celsius. */
function guessWeather(
  open: readonly Column[],
  free: (field: string) => boolean,
  put: (index: number, field: string) => void,
  cellsOf: (index: number) => string[],
): void {
  const kindOf = (header: string): 'tmax' | 'tmin' | 'rain' | 'wind' | null => {
    const words = ` ${header} `;
    if (/ (tmax|tmx|temp max|max temp|temperature max|maximum temperature|high|t max|maxt) /.test(words)) return 'tmax';
    if (/ (tmin|tmn|temp min|min temp|temperature min|minimum temperature|low|t min|mint) /.test(words)) return 'tmin';
    if (/ (prcp|precip|precipitation|rain|rainfall|ppt) /.test(words)) return 'rain';
    if (/ (wind|awnd|wind speed) /.test(words)) return 'wind';
    return null;
  };
  const largest = (index: number): number =>
    Math.max(
      0,
      ...cellsOf(index)
        .map((cell) => readNumber(cell))
        .map((reading) => (reading.ok && reading.value !== null && Math.abs(reading.value) < 900 ? reading.value : 0)),
    );
  const temperatures = open.filter((column) => ['tmax', 'tmin'].includes(kindOf(column.header) ?? ''));
  const warmest = Math.max(0, ...temperatures.map((column) => largest(column.index)));
  const bySize = warmest > 55;
  /** The unit that a heading states goes before the size of the figures. */
  const isFahrenheit = (header: string): boolean => {
    // First, since of “rain in mm” only the last word is a unit.
    if (/\b(c|degc|deg c|celsius|centigrade|mm|millimeters|millimetres|m s)\b/.test(header)) return false;
    if (/\b(f|degf|deg f|fahrenheit|in|inch|inches|mph)\b/.test(header)) return true;
    return bySize;
  };
  for (const column of open) {
    const kind = kindOf(column.header);
    const fahrenheit = isFahrenheit(column.header);
    if (kind === 'tmax' && free('tmaxF') && free('tmaxC')) put(column.index, fahrenheit ? 'tmaxF' : 'tmaxC');
    else if (kind === 'tmin' && free('tminF') && free('tminC')) put(column.index, fahrenheit ? 'tminF' : 'tminC');
    // A list in Fahrenheit has its rain in inches; a column that says so itself was matched by its header.
    else if (kind === 'rain' && free('rainInches')) {
      if (fahrenheit) put(column.index, 'rainInches');
      else if (free('rainMm')) put(column.index, 'rainMm');
    } else if (kind === 'wind' && !fahrenheit && free('windMps') && free('windMph')) put(column.index, 'windMps');
    else if (column.generic && free('date') && free('year')) {
      const cells = cellsOf(column.index);
      const { order } = orderOf(cells);
      if (cells.length > 0 && share(cells, (cell) => cell.length >= 6 && readDate(cell, order, '2030-01-01').ok) >= 0.8)
        put(column.index, 'date');
    }
  }
}
