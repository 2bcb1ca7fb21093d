import { BookError } from '../errors.ts';
import { mustExist } from '../store/rows.ts';
import { putWeatherDays, weatherDaysOf } from './queries.ts';
import type { BookTables } from '../store/tables.ts';
import { dateOf, type Planning } from './plan.ts';
import { isTotalsRow } from './source.ts';
import { readNumber } from './cell-values.ts';
import { MM_PER_INCH, toFahrenheit, toMph } from '../units.ts';
import { fact } from '../text/say.ts';

type Day = BookTables['weatherDay'];
type Figure = Exclude<keyof Day, 'stationId' | 'date'>;

interface Source {
  field: string;
  figure: Figure;
  toStored: (value: number) => number;
  min: number;
  max: number;
  unit: string;
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));
const celsius = (value: number): number => round(toFahrenheit(value), 4);
const SOURCES: readonly Source[] = [
  { field: 'tmaxF', figure: 'tmaxF', toStored: (value) => value, min: -76, max: 140, unit: '°F' },
  { field: 'tmaxC', figure: 'tmaxF', toStored: celsius, min: -60, max: 60, unit: '°C' },
  { field: 'tminF', figure: 'tminF', toStored: (value) => value, min: -76, max: 140, unit: '°F' },
  { field: 'tminC', figure: 'tminF', toStored: celsius, min: -60, max: 60, unit: '°C' },
  { field: 'rainInches', figure: 'rainInches', toStored: (value) => value, min: 0, max: 80, unit: 'in' },
  {
    field: 'rainMm',
    figure: 'rainInches',
    toStored: (value) => round(value / MM_PER_INCH, 6),
    min: 0,
    max: 2032,
    unit: 'mm',
  },
  { field: 'rhMeanPct', figure: 'rhMeanPct', toStored: (value) => value, min: 0, max: 100, unit: '%' },
  { field: 'windMph', figure: 'windMph', toStored: (value) => value, min: 0, max: 250, unit: 'mph' },
  {
    field: 'windMps',
    figure: 'windMph',
    toStored: (value) => round(toMph(value), 4),
    min: 0,
    max: 110,
    unit: 'm/s',
  },
  { field: 'solarMjM2', figure: 'solarMjM2', toStored: (value) => value, min: 0, max: 45, unit: 'MJ/m²' },
];
/** What records write for "no reading". */
const MISSING = new Set([
  '',
  'na',
  'n/a',
  'nan',
  'null',
  'none',
  'm',
  '-',
  '--',
  '*',
  '.',
  '-99',
  '-999',
  '-9999',
  '-99.9',
  '-999.9',
  '9999',
  '99999',
]);

/** A figure that the list does not have stays as the book has it: rain alone must not take the temperatures of its days. */
function merged(before: Day | undefined, day: Day): Day {
  if (before === undefined) return day;
  const figures = Object.entries(day).filter(([, value]) => value !== null);
  return { ...before, ...Object.fromEntries(figures) };
}

/** Plans daily records of one station: new dates are added, others joined figure by figure, days that say nothing new skipped. */
export async function planWeather(planning: Planning): Promise<void> {
  const { plan, reader, source, findings, stationId } = planning;
  if (stationId === null) throw new BookError('bad-input', fact('errors.stationNeeded'), 'stationId');
  await mustExist(planning.db, 'weatherStation', stationId, 'stationId', 'weather station');
  const inBook = new Map((await weatherDaysOf(planning.db, stationId)).map((day) => [day.date, day]));
  const inList = new Map<string, number>();
  const days: Day[] = [];
  const sources = chooseRain(
    planning,
    SOURCES.filter((one) => reader.has(one.field)),
  );

  for (const record of source.rows) {
    await planning.tick();
    reader.at(record);
    if (isTotalsRow(record.cells)) {
      findings.ignore(record.row, fact('import.why.totals'));
      continue;
    }
    const date = readDay(planning);
    const listed: Day = {
      stationId,
      date: date ?? '',
      tmaxF: null,
      tminF: null,
      rainInches: null,
      rhMeanPct: null,
      windMph: null,
      solarMjM2: null,
    };
    for (const one of sources) listed[one.figure] = readFigure(planning, one) ?? listed[one.figure];
    const before = date === null ? undefined : inBook.get(date);
    const day = merged(before, listed);
    if (day.tmaxF !== null && day.tminF !== null && day.tminF > day.tmaxF)
      reader.problem(
        ['tminF', 'tminC', 'tmaxF'].find((field) => reader.has(field)) ?? 'tmaxC',
        fact('import.why.lowAboveHigh'),
      );
    if (date === null || findings.badRows.has(record.row)) continue;
    const above = inList.get(date);
    if (above !== undefined) {
      plan.outcome(record.row, 'skipped', fact('import.did.sameDay', { date, row: above }));
      reader.warn(fact('import.why.dayAbove'));
      continue;
    }
    inList.set(date, record.row);
    if (before && (Object.keys(day) as (keyof Day)[]).every((key) => before[key] === day[key])) {
      plan.outcome(record.row, 'skipped', fact('import.did.inBook', { what: date }));
      continue;
    }
    days.push(day);
    plan.count(before ? 'weatherDaysReplaced' : 'weatherDays');
    plan.outcome(
      record.row,
      before ? 'joined' : 'added',
      before ? fact('import.did.replaced', { date }) : fact('import.did.plain', { what: date }),
    );
    plan.show(() =>
      Object.fromEntries(
        Object.entries({ Date: date, 'Highest, °F': day.tmaxF, 'Lowest, °F': day.tminF, 'Rain, in': day.rainInches })
          .filter(([, value]) => value !== null)
          .map(([name, value]) => [name, String(value)]),
      ),
    );
  }
  plan.afterwards.push((db, before) => putWeatherDays(db, days, before));
}

function readDay(planning: Planning): string | null {
  const { reader } = planning;
  if (reader.has('date')) {
    const date = dateOf(planning, 'date');
    if (date === null) reader.problem('date', fact('import.why.noDate'), '');
    return date ?? null;
  }
  const [year, month, day] = ['year', 'month', 'day'].map((field) => Number(reader.line(field)));
  const last = month! >= 1 && month! <= 12 ? new Date(Date.UTC(year!, month!, 0)).getUTCDate() : 0;
  if (Number.isInteger(year) && year! >= 1900 && year! < 2200 && Number.isInteger(day) && day! >= 1 && day! <= last) {
    return `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
  }
  reader.problem(
    'year',
    fact('import.why.noRealDate'),
    ['year', 'month', 'day'].map((field) => reader.line(field)).join('-'),
  );
  return null;
}

function readFigure(planning: Planning, one: Source): number | null {
  const { reader } = planning;
  const text = reader.line(one.field);
  if (MISSING.has(text.toLowerCase())) return null;
  // A trace of rain is not a depth.
  if (/^(t|tr|trace)$/i.test(text) && one.figure === 'rainInches') return 0;
  const reading = readNumber(text);
  if (!reading.ok) {
    reader.problem(one.field, fact('import.why.notNumber'));
    return null;
  }
  if (reading.value === null) return null;
  if (reading.value < one.min || reading.value > one.max) {
    reader.problem(one.field, fact('input.own', { says: `must be ${one.min} to ${one.max} ${one.unit}` }));
    return null;
  }
  return one.toStored(reading.value);
}

/** Where both an inch and a millimetre column are matched, one is taken; figures that do not agree are told. */
function chooseRain(planning: Planning, sources: readonly Source[]): readonly Source[] {
  const { reader, source, findings } = planning;
  if (!sources.some((one) => one.field === 'rainInches') || !sources.some((one) => one.field === 'rainMm'))
    return sources;
  const ratios: number[] = [];
  for (const record of source.rows) {
    reader.at(record);
    const inches = Number(reader.line('rainInches') || NaN);
    const mm = Number(reader.line('rainMm') || NaN);
    if (inches > 0.05 && mm > 0) ratios.push(mm / inches);
    if (ratios.length >= 500) break;
  }
  ratios.sort((a, b) => a - b);
  const ratio = ratios[Math.floor(ratios.length / 2)];
  const inchesName = reader.column('rainInches');
  const mmName = reader.column('rainMm');
  if (ratio !== undefined && Math.abs(ratio / MM_PER_INCH - 1) > 0.05) {
    findings.tell(fact('import.why.rainUnits', { mm: mmName, inches: inchesName, times: ratio / MM_PER_INCH }));
  } else findings.tell(fact('import.why.rainTwice', { inches: inchesName }));
  return sources.filter((one) => one.field !== 'rainMm');
}
