import people from '../../assets/demo/people.json' with { type: 'json' };
import places from '../../assets/demo/places.json' with { type: 'json' };
import texts from '../../assets/demo/texts.json' with { type: 'json' };
import type { Client, ClientKind } from '../clients/contract.ts';
import { digitsOf, fold } from '../store/search-text.ts';
import { millisecondsOf } from './days.ts';
import { chance, type Chance } from './random.ts';
import type { Neighbourhood, World } from './world.ts';

/** A client with how many properties it has and where they lie. */
export interface Owner {
  client: Client;
  properties: number;
  neighbourhood: Neighbourhood;
}

/** The first clients have set kinds, so that a small demo shows each kind. */
const FIRST_KINDS: readonly ClientKind[] = [
  'household',
  'household',
  'household',
  'business',
  'association',
  'household',
  'household',
  'household',
  'household',
  'household',
];
/** Two households with one name are ordinary: the office tells them apart by street. */
const TWINS = new Map([
  [1, 'Jonas Halvik'],
  [8, 'Jonas Halvik'],
  [13, 'Mei Tranquist'],
  [21, 'Mei Tranquist'],
]);

/** Client number `index`; it depends on nothing but the seed and its number. */
export function ownerOf(world: World, index: number): Owner {
  const rng = chance(world.seed, 'client', index);
  const kind =
    FIRST_KINDS[index] ??
    rng.weighted<ClientKind>([
      ['household', 86],
      ['association', 6],
      ['business', 8],
    ]);
  const neighbourhood = rng.weighted(places.neighbourhoods.map((one) => [one, one.weight] as const));
  const given = rng.pick(people.given);
  const family = rng.pick(people.family);
  const person =
    TWINS.get(index) ??
    (rng.yes(0.05)
      ? `${rng.pick(people.given.slice(0, 8))} ${rng.pick(people.family.slice(0, 8))}`
      : rng.yes(0.12)
        ? `${given} & ${rng.pick(people.given)} ${family}`
        : `${given} ${family}`);
  const name =
    kind === 'household'
      ? person
      : kind === 'association'
        ? `${rng.pick(neighbourhood.streets).replace(/ [A-Z][a-z]+$/, '')} ${rng.pick(texts.associations)}`
        : `${rng.pick(texts.businessFirst)} ${rng.pick(texts.businessSecond)}`;
  const client: Client = {
    id: rng.ulid(millisecondsOf(world.start, 52_000 + (index % 20_000))),
    name,
    kind,
    phone: phone(rng),
    phone2: rng.yes(0.2) ? phone(rng) : '',
    email: rng.yes(0.8) ? mailOf(kind === 'household' ? `${given}.${family}` : name) : '',
    billingAddress:
      kind === 'household'
        ? ''
        : `Office, ${rng.int(10, 990)} ${rng.pick(neighbourhood.streets)}, ${neighbourhood.city}`,
    notes: rng.yes(0.18) ? rng.pick(texts.clientNotes) : '',
    accountNumber: rng.yes(0.7) ? `C-${String(1000 + index)}` : '',
    archived: index > 10 && rng.yes(0.012),
  };
  const properties =
    kind === 'household'
      ? index > 10 && rng.yes(0.03)
        ? 2
        : 1
      : kind === 'business'
        ? rng.weighted([
            [1, 8],
            [2, 2],
            [3, 1],
          ])
        : index < 10
          ? 6
          : rng.int(1, 12);
  return { client, properties, neighbourhood };
}

function phone(rng: Chance): string {
  return `(${rng.pick(places.areaCodes)}) 555-01${String(rng.int(0, 79)).padStart(2, '0')}`;
}

function mailOf(name: string): string {
  const local = fold(name)
    .replace(/&/g, ' ')
    .replace(/[^a-z0-9.]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return `${local === '' ? `c${digitsOf(name)}` : local}@example.com`;
}
