import type { Chance } from '../../core/demo/random.ts';

// One wrong thing in an input that was right: out of range, of another type, missing, too much, a word that programs
// trip over, a day no year has, an id that belongs to something else.

const NUMBERS = [
  -1,
  0,
  -0,
  0.1,
  1e308,
  -1e308,
  5e-324,
  1e21,
  2 ** 31,
  2 ** 53,
  2 ** 53 + 2,
  1.0000000001,
  -0.5,
  366,
  10_000_001,
];
const NUMBER_WORDS = ['NaN', 'Infinity', '-Infinity', '1e999', '0x10', '', ' 7 ', '٣', '1,5'];
const DATES = [
  '2026-02-30',
  '2026-11-31',
  '2025-02-29',
  '0000-00-00',
  '1899-12-31',
  '2200-01-01',
  '1900-01-01',
  '2199-12-31',
  '2024-02-29',
  '+012026-01-01',
  '2026-6-1',
  '2026-13-01',
  '2026-01-01T00:00:00Z',
  '02-30',
  '11-31',
  '02-29',
  '12-31',
  '24:00',
  '23:60',
  '00:00',
  '23:59',
];
const WORDS = [
  '',
  ' ',
  '\u0000',
  '\ufeff',
  '\ud800',
  '\udfff\ud800',
  '\u202e',
  '\u200b',
  '\u2028',
  '\n',
  '\r\n',
  '\t',
  '\u0085',
  '\u007f',
  '𝟙',
  'ß',
  'İ',
  'ﬀ',
  'e\u0301'.repeat(50),
  '👩‍👩‍👧‍👦',
  '%',
  '_',
  '\\',
  '"',
  "'; DROP TABLE client; --",
  '../../etc/passwd',
  '=1+1',
  '<img src=x onerror=1>',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  '$&',
  'null',
  'undefined',
  '99999999999999999999999999',
  '00000000000000000000000000',
  '7ZZZZZZZZZZZZZZZZZZZZZZZZZ',
  'america/denver',
  'Etc/GMT+12',
];
const PROTOTYPE_KEYS = ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty', 'toJSON', 'then', ''];

type Box = Record<string, unknown> | unknown[];
const isBox = (value: unknown): value is Box => typeof value === 'object' && value !== null;

/** Every place inside a value, as the box and the key in it. */
function placesOf(value: unknown, found: [Box, string][] = []): [Box, string][] {
  if (isBox(value))
    for (const key of Object.keys(value)) {
      found.push([value, key]);
      placesOf((value as any)[key], found);
    }
  return found;
}

/** A copy with one to three wrong things in it. `ids` are ids of everything in the book. */
export function spoil(input: unknown, chance: Chance, ids: readonly string[]): unknown {
  const copy = structuredClone(input);
  for (
    let times = chance.weighted([
      [1, 6],
      [2, 2],
      [3, 1],
    ]);
    times > 0;
    times -= 1
  ) {
    const places = placesOf(copy);
    if (places.length === 0 || chance.yes(0.08)) {
      if (isBox(copy)) addField(copy, chance);
      continue;
    }
    const [box, key] = chance.pick(places);
    const place = box as Record<string, unknown>;
    if (chance.yes(0.12)) {
      if (Array.isArray(box)) box.splice(Number(key), 1);
      else delete place[key];
    } else if (Array.isArray(box) && chance.yes(0.2))
      box.push(...(Array.from({ length: chance.pick([1, 2, 250]) }).fill(box[0]) as unknown[]));
    else place[key] = wrong(place[key], chance, ids);
  }
  return copy;
}

function addField(box: Box, chance: Chance): void {
  const key = chance.yes(0.6) ? chance.pick(PROTOTYPE_KEYS) : `extra${chance.int(1, 9)}`;
  // Written so that even "__proto__" becomes a field of its own, as it does when JSON is read.
  Object.defineProperty(box, key, {
    value: chance.pick<unknown>([1, 'x', { polluted: true }, null, []]),
    enumerable: true,
    configurable: true,
    writable: true,
  });
}

function wrong(value: unknown, chance: Chance, ids: readonly string[]): unknown {
  // A path stays inside the folder it names, or is no path at all: the fuzz writes nothing outside.
  if (typeof value === 'string' && value.startsWith('/'))
    return chance.pick<unknown>([
      `${value}${chance.pick(WORDS.filter((word) => !word.includes('..')))}`,
      `${value}/in-a-file.valvebook`,
      `${value}${'x'.repeat(chance.pick([250, 5000]))}`,
      `${value}/nowhere/${'y'.repeat(20)}`,
      value.slice(1),
      'C:relative',
      '/dev/null',
      '/dev/full',
      '/dev/zero',
      '/',
      '/proc/self/mem',
      '',
      null,
      7,
    ]);
  if (chance.yes(0.25))
    return chance.pick<unknown>([
      null,
      true,
      false,
      0,
      1,
      '',
      'x',
      [],
      {},
      [[]],
      [null],
      { kind: 'none' },
      1e99,
      [value],
      { value },
    ]);
  if (typeof value === 'number')
    return chance.weighted<unknown>([
      [chance.pick(NUMBERS), 6],
      [value * chance.pick([-1, 1000, 1e-9]), 2],
      [value + 0.5, 1],
      [String(value), 1],
      [chance.pick(NUMBER_WORDS), 2],
    ]);
  if (typeof value === 'boolean') return chance.pick<unknown>(['true', 0, 1, !value, null]);
  if (typeof value !== 'string')
    return chance.pick<unknown>([null, [], {}, 'x', 3, value === null ? 'x' : [value, value]]);
  if (/^[0-7][0-9A-HJKMNP-TV-Z]{25}$/.test(value))
    return chance.weighted<unknown>([
      [chance.pick(ids), 6],
      [value.toLowerCase(), 1],
      [`${value}0`, 1],
      [value.slice(1), 1],
      [chance.pick(WORDS), 1],
    ]);
  if (/^\d\d(\d\d)?[-:]\d\d/.test(value)) return chance.pick(DATES);
  return chance.weighted<unknown>([
    [chance.pick(WORDS), 5],
    [value + chance.pick(WORDS), 3],
    ['y'.repeat(chance.pick([61, 201, 8001, 100_000])), 1],
    [`${value}A`, 1],
    [chance.pick(NUMBER_WORDS), 1],
  ]);
}
