/** Whether an address counts as odd or even under a watering rule; null = its number is not known. */
export type Parity = 'odd' | 'even';

// A number after one of these words is not a house number.
const NOT_BEFORE_HOUSE_NUMBER = new Set([
  'apt',
  'apartment',
  'unit',
  'suite',
  'ste',
  'lot',
  'box',
  'floor',
  'fl',
  'building',
  'bldg',
  'room',
  'rm',
  '#',
  'highway',
  'hwy',
  'route',
  'rte',
  'rt',
  'interstate',
  'us',
  'sr',
  'cr',
  'fm',
  'road',
  'rd',
  'county',
  'state',
]);

/**
 * Reads odd or even from the house number of a street line: the first number that stands as one. "12-14 Oak" is even, "1207B Elm"
 * odd, "4 1/2 Mill" even, "W156N8480 Ridge" even. null where there is none ("Oak Court"), where the only number is that of a
 * street, flat, box or highway ("5th Avenue", "PO Box 12"), or where a range spans both: then somebody has to say it by hand.
 */
export function addressParity(street: string): Parity | null {
  const words = street
    .toLowerCase()
    .split(/[\s,;]+/)
    .map((word) => word.replace(/[.()]/g, ''))
    .filter((word) => word !== '');
  for (const [index, word] of words.entries()) {
    const before = words[index - 1];
    if (before !== undefined && NOT_BEFORE_HOUSE_NUMBER.has(before)) continue;
    // Grid addresses name a distance along two axes; the last of them is the house.
    const grid = /^[nsew]\d+(?:[nsew](\d+))?$/.exec(word);
    if (grid) return parityOf(grid[1] ?? word.slice(1));
    const range = /^(\d+)[a-z]?(?:[-–/&+](\d+)[a-z]?)?$/.exec(word);
    if (!range) continue;
    const first = parityOf(range[1]!);
    if (range[2] !== undefined && parityOf(range[2]) !== first) return null;
    return first;
  }
  return null;
}

/** The parity a property counts with: set by hand, or read from its street. */
export function propertyParity(property: { addressParity: 'auto' | Parity; street: string }): Parity | null {
  return property.addressParity === 'auto' ? addressParity(property.street) : property.addressParity;
}

function parityOf(digits: string): Parity {
  return Number(digits.at(-1)) % 2 === 0 ? 'even' : 'odd';
}
