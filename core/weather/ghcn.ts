/** One element of one day, in the unit of the file (tenths); `flagged`: it failed a quality check. */
interface GhcnReading {
  stationId: string;
  date: string;
  element: string;
  tenths: number | null;
  flagged: boolean;
}

type GhcnFormat = 'dly' | 'by-station' | 'access';

/** What an element is in this book. Temperatures °C, rain mm, wind m/s, all of them tenths in the files. */
const GHCN_ELEMENTS = ['TMAX', 'TMIN', 'PRCP', 'AWND'] as const;
type GhcnElement = (typeof GHCN_ELEMENTS)[number];

const MISSING = -9999;
const STATION = '[A-Z]{2}[A-Z0-9_-]{9}';
const DLY = new RegExp(`^${STATION}\\d{6}[A-Z0-9]{4}`);
const BY_STATION = new RegExp(`^${STATION},\\d{8},[A-Z0-9]{4},`);
const isWanted = (element: string): element is GhcnElement => (GHCN_ELEMENTS as readonly string[]).includes(element);

/**
 * Which form of GHCN-Daily a file has by its first lines; null: none of them.
 * Access CSV is told by its columns of attributes; with a decimal point in its figures it was ordered in other units, and is
 * not of this form.
 */
export function ghcnFormatOf(firstLines: readonly string[]): GhcnFormat | null {
  const [first = '', second = ''] = firstLines;
  if (DLY.test(first)) return 'dly';
  if (BY_STATION.test(first) || (/^"?ID"?,"?DATE"?,"?ELEMENT"?,/.test(first) && BY_STATION.test(second)))
    return 'by-station';
  const columns = cellsOf(first);
  if (columns[0] !== 'STATION' || columns[1] !== 'DATE') return null;
  const wanted = columns.flatMap((name, at) =>
    isWanted(name) && columns[at + 1] === `${name}_ATTRIBUTES` ? [at] : [],
  );
  const rows = firstLines.slice(1).map(cellsOf);
  const areTenths = rows.every((row) => wanted.every((at) => /^\s*(-?\d+)?\s*$/.test(row[at] ?? '')));
  return wanted.length > 0 && rows.length > 0 && areTenths ? 'access' : null;
}

/**
 * Readings of TMAX, TMIN, PRCP and AWND, line by line; −9999 and blank are null, and other elements are left out. Measurement and
 * source flags are not looked at: a trace is 0, and where a figure came from changes nothing.
 * The .dly form and the units are those of NOAA's readme of GHCN-Daily, section III; the two CSV forms are from memory: by_station
 * is ID, YYYYMMDD, element, value, measurement, quality, source flag, hour; access has "M,Q,S,hour" beside each element.
 * @returns for each line its readings; null for a line that is not of the form
 */
function* readGhcn(lines: Iterable<string>, format: GhcnFormat): Generator<GhcnReading[] | null> {
  let columns: string[] | null = null;
  for (const line of lines) {
    if (line.trim() === '') continue;
    if (format === 'dly') yield dlyLine(line);
    else if (format === 'by-station') {
      if (!/^"?ID"?,/.test(line)) yield byStationLine(line);
    } else if (columns === null) columns = cellsOf(line);
    else yield accessLine(cellsOf(line), columns);
  }
}

function dlyLine(line: string): GhcnReading[] | null {
  if (!DLY.test(line)) return null;
  const element = line.slice(17, 21);
  if (!isWanted(element)) return [];
  const readings: GhcnReading[] = [];
  for (let day = 1; day <= 31; day += 1) {
    const at = 21 + (day - 1) * 8;
    const tenths = wholeOf(line.slice(at, at + 5));
    if (tenths === undefined) return null;
    const date = realDate(line.slice(11, 15), line.slice(15, 17), String(day).padStart(2, '0'));
    // The days that a month lacks stand there as missing.
    if (date === null) {
      if (tenths !== null) return null;
      continue;
    }
    const flagged = (line[at + 6] ?? ' ') !== ' ';
    readings.push({ stationId: line.slice(0, 11), date, element, tenths, flagged });
  }
  return readings;
}

function byStationLine(line: string): GhcnReading[] | null {
  if (!BY_STATION.test(line)) return null;
  const [stationId = '', day = '', element = '', value = '', , quality = ''] = line.split(',');
  if (!isWanted(element)) return [];
  const tenths = wholeOf(value);
  const date = realDate(day.slice(0, 4), day.slice(4, 6), day.slice(6, 8));
  if (tenths === undefined || date === null) return null;
  return [{ stationId, date, element, tenths, flagged: quality.trim() !== '' }];
}

function accessLine(cells: readonly string[], columns: readonly string[]): GhcnReading[] | null {
  const [stationId = '', day = ''] = cells;
  const date = /^\d{4}-\d\d-\d\d$/.test(day) ? realDate(day.slice(0, 4), day.slice(5, 7), day.slice(8, 10)) : null;
  if (date === null || stationId === '') return null;
  const readings: GhcnReading[] = [];
  for (const [at, element] of columns.entries()) {
    if (!isWanted(element)) continue;
    const tenths = wholeOf(cells[at] ?? '');
    if (tenths === undefined) return null;
    const quality = columns[at + 1] === `${element}_ATTRIBUTES` ? ((cells[at + 1] ?? '').split(',')[1] ?? '') : '';
    readings.push({ stationId, date, element, tenths, flagged: quality.trim() !== '' });
  }
  return readings;
}

/** Null: missing; undefined: not a whole number. */
function wholeOf(text: string): number | null | undefined {
  const trimmed = text.trim();
  if (trimmed === '') return null;
  if (!/^-?\d+$/.test(trimmed)) return undefined;
  const value = Number(trimmed);
  return value === MISSING ? null : value;
}

function realDate(year: string, month: string, day: string): string | null {
  const date = `${year}-${month}-${day}`;
  const at = new Date(`${date}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(date) ? date : null;
}

/** The cells of a line whose quoted cells hold no quotation mark, as NOAA writes them. */
function cellsOf(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^",]*))/g)].map((found) => (found[1] ?? found[2] ?? '').trim());
}

interface GhcnDays {
  stationIds: string[];
  /** Date → tenths by element. */
  days: Map<string, Partial<Record<GhcnElement, number>>>;
  /** Readings that failed a quality check, missing ones, ones that an earlier line had told, and lines of another form. */
  flagged: number;
  missing: number;
  repeated: number;
  badLines: number;
}

/** Gathers a file's readings by day. A reading that failed a quality check is not used; of two for a day the first counts. `tick` is called for every line. */
export function gatherGhcn(lines: Iterable<string>, format: GhcnFormat, tick: () => void): GhcnDays {
  const gathered: GhcnDays = { stationIds: [], days: new Map(), flagged: 0, missing: 0, repeated: 0, badLines: 0 };
  for (const readings of readGhcn(lines, format)) {
    tick();
    if (readings === null) gathered.badLines += 1;
    for (const { stationId, date, element, tenths, flagged } of readings ?? []) {
      if (!gathered.stationIds.includes(stationId)) gathered.stationIds.push(stationId);
      let day = gathered.days.get(date);
      if (day === undefined) gathered.days.set(date, (day = {}));
      if (tenths === null) gathered.missing += 1;
      else if (flagged) gathered.flagged += 1;
      else if (day[element as GhcnElement] !== undefined) gathered.repeated += 1;
      else day[element as GhcnElement] = tenths;
    }
  }
  return gathered;
}
