import { fold } from '../store/search-text.ts';

// Addresses: splitting a one-column address, and the form in which two spellings of one street are the same.

const SHORT: Record<string, string> = {
  street: 'st',
  str: 'st',
  saint: 'st',
  avenue: 'ave',
  av: 'ave',
  aven: 'ave',
  boulevard: 'blvd',
  boul: 'blvd',
  road: 'rd',
  drive: 'dr',
  drv: 'dr',
  lane: 'ln',
  court: 'ct',
  circle: 'cir',
  circ: 'cir',
  place: 'pl',
  highway: 'hwy',
  parkway: 'pkwy',
  pky: 'pkwy',
  terrace: 'ter',
  terr: 'ter',
  trail: 'trl',
  square: 'sq',
  crescent: 'cres',
  point: 'pt',
  ridge: 'rdg',
  heights: 'hts',
  mount: 'mt',
  mountain: 'mtn',
  fort: 'ft',
  expressway: 'expy',
  junction: 'jct',
  cove: 'cv',
  loop: 'loop',
  north: 'n',
  south: 's',
  east: 'e',
  west: 'w',
  northeast: 'ne',
  northwest: 'nw',
  southeast: 'se',
  southwest: 'sw',
  apartment: 'unit',
  apt: 'unit',
  suite: 'unit',
  ste: 'unit',
  no: 'unit',
  lot: 'unit',
  '#': 'unit',
  first: '1st',
  second: '2nd',
  third: '3rd',
  fourth: '4th',
  fifth: '5th',
  sixth: '6th',
  seventh: '7th',
  eighth: '8th',
  ninth: '9th',
  tenth: '10th',
};

let lastStreet = '';
let lastKey = '';

/** Street and unit in the form in which "12 North Oak Street, Apt. 4" and "12 N. Oak St #4" are the same. */
export function streetKey(street: string): string {
  // A row asks for its street's key several times in a row.
  if (street === lastStreet) return lastKey;
  const words = wordsOfStreet(fold(street));
  const out: string[] = [];
  for (const word of words) {
    if (word === '') continue;
    const short = Object.hasOwn(SHORT, word) ? SHORT[word]! : word;
    // "Unit #4" names the unit once.
    if (short === 'unit' && out.at(-1) === 'unit') continue;
    out.push(short);
  }
  lastStreet = street;
  return (lastKey = out.join(' '));
}

function wordsOfStreet(folded: string): string[] {
  if (/^[a-z0-9 ]*$/.test(folded)) return folded.split(' ');
  const apart = folded.replace(/#/g, ' # ').replace(/['’.]/g, '');
  // The wider class costs ten times as much, and only text beyond ASCII needs it.
  return apart.split(/^[ -~]*$/.test(apart) ? /[^a-z0-9#]+/ : /[^\p{L}\p{N}#]+/u);
}

/** A unit beside its street, in one line. */
export function withUnit(street: string, unit: string): string {
  if (unit === '') return street;
  const named = /^[#\d]*[a-z]?$/i.test(unit) && !unit.startsWith('#') ? `Unit ${unit}` : unit;
  return streetKey(street).endsWith(streetKey(named)) ? street : `${street}, ${named}`;
}

export interface AddressParts {
  street: string;
  city: string;
  region: string;
  postcode: string;
}

const STREET_ENDS = new Set([
  'st',
  'ave',
  'blvd',
  'rd',
  'dr',
  'ln',
  'ct',
  'cir',
  'pl',
  'hwy',
  'pkwy',
  'ter',
  'trl',
  'sq',
  'cres',
  'way',
  'loop',
  'run',
  'path',
  'row',
  'cv',
  'pt',
  'rdg',
]);
const COUNTRY = /^(u\.?s\.?a?\.?|united states( of america)?|canada)$/i;
const US_TAIL = /^(.*?)[\s,]*\b([A-Za-z]{2}|[A-Z][a-z]+(?: [A-Z][a-z]+)?)\.?[\s,]+(\d{5}(?:-\d{4})?|\d{4})$/;
const CA_TAIL = /^(.*?)[\s,]*\b([A-Z]{2})[\s,]+([A-Z]\d[A-Z] ?\d[A-Z]\d)$/i;
const CODE_FIRST = /^(\d{4,5}) (\D+)$/;

/** Cuts "12 Oak St, Fairview, CO 80501" into its parts; what cannot be cut stays in the street. */
export function splitAddress(text: string): AddressParts {
  const parts = text
    .split(/\s*[,\n;]\s*/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
  if (parts.length > 1 && COUNTRY.test(parts.at(-1)!)) parts.pop();
  if (parts.length === 0) return { street: '', city: '', region: '', postcode: '' };
  if (parts.length === 1) return splitWithoutCommas(parts[0]!);
  let last = parts.pop()!;
  let postcode = '';
  if (/^(\d{5}(-\d{4})?|\d{4}|[A-Z]\d[A-Z] ?\d[A-Z]\d)$/i.test(last)) {
    postcode = last;
    last = parts.length > 1 ? parts.pop()! : '';
    const rest = splitTail(last);
    return finish(parts, rest.city, rest.region, postcode);
  }
  const tail = US_TAIL.exec(last) ?? CA_TAIL.exec(last);
  if (tail && isRegion(tail[2]!)) return finish(parts, tail[1]!, tail[2]!, tail[3]!);
  const codeFirst = CODE_FIRST.exec(last);
  if (codeFirst) return finish(parts, codeFirst[2]!, '', codeFirst[1]!);
  const rest = splitTail(last);
  return finish(parts, rest.city, rest.region, '');
}

/** "Fairview CO" or "CO" or "Fairview". */
function splitTail(text: string): { city: string; region: string } {
  const both = /^(.*?)\s*\b([A-Z]{2})\.?$/.exec(text);
  return both && isRegion(both[2]!) ? { city: both[1]!, region: both[2]! } : { city: text, region: '' };
}

function finish(parts: string[], city: string, region: string, postcode: string): AddressParts {
  let town = city.trim();
  // The last part held no town ("…, Fairview, CO 80501"): it is the part before it, unless that is the street itself.
  if (town === '' && parts.length > 1) town = parts.pop()!;
  return {
    street: parts.join(', '),
    city: town,
    region: region.length === 2 ? region.toUpperCase() : region,
    postcode,
  };
}

/** "12 Oak St Fairview CO 80501": cut at the end of the street, when there is one. */
function splitWithoutCommas(text: string): AddressParts {
  const tail = US_TAIL.exec(text) ?? CA_TAIL.exec(text);
  if (!tail || !isRegion(tail[2]!) || tail[1]!.trim() === '')
    return { street: text, city: '', region: '', postcode: '' };
  const words = tail[1]!.split(' ');
  for (let at = words.length - 2; at >= 1; at -= 1) {
    if (!STREET_ENDS.has(streetKey(words[at]!))) continue;
    return {
      street: words.slice(0, at + 1).join(' '),
      city: words.slice(at + 1).join(' '),
      region: tail[2]!.toUpperCase(),
      postcode: tail[3]!,
    };
  }
  return { street: tail[1]!.trim(), city: '', region: tail[2]!.toUpperCase(), postcode: tail[3]! };
}

const REGIONS = new Set(
  'al ak az ar ca co ct de fl ga hi id il in ia ks ky la me md ma mi mn ms mo mt ne nv nh nj nm ny nc nd oh ok or pa ri sc sd tn tx ut vt va wa wv wi wy dc pr ab bc mb nb nl ns on pe qc sk nt nu yt'.split(
    ' ',
  ),
);
const REGION_NAMES = new Set([
  'alabama',
  'alaska',
  'arizona',
  'arkansas',
  'california',
  'colorado',
  'connecticut',
  'delaware',
  'florida',
  'georgia',
  'hawaii',
  'idaho',
  'illinois',
  'indiana',
  'iowa',
  'kansas',
  'kentucky',
  'louisiana',
  'maine',
  'maryland',
  'massachusetts',
  'michigan',
  'minnesota',
  'mississippi',
  'missouri',
  'montana',
  'nebraska',
  'nevada',
  'new hampshire',
  'new jersey',
  'new mexico',
  'new york',
  'north carolina',
  'north dakota',
  'ohio',
  'oklahoma',
  'oregon',
  'pennsylvania',
  'rhode island',
  'south carolina',
  'south dakota',
  'tennessee',
  'texas',
  'utah',
  'vermont',
  'virginia',
  'washington',
  'west virginia',
  'wisconsin',
  'wyoming',
]);

/** Is this a state or province, by code or by name? */
export function isRegion(text: string): boolean {
  const folded = fold(text);
  return REGIONS.has(folded) || REGION_NAMES.has(folded);
}
