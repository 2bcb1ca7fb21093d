import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  BACKFLOW_KINDS,
  PIPE_MATERIALS,
  propertySchema,
  WATER_SUPPLIES,
  type Property,
} from '../../core/properties/contract.ts';
import { CLIENT_KINDS, clientSchema, type Client } from '../../core/clients/contract.ts';
import { fitsClient, fitsProperty } from '../../core/import/fits.ts';
import { fold } from '../../core/store/search-text.ts';

const ID = '01J8ZQ4Y7M3N5P6R8S9T0V1W2X';
const client: Client = {
  id: ID,
  name: 'Ada Reed',
  kind: 'household',
  phone: '(303) 555-0101',
  phone2: '',
  email: 'ada@example.com',
  billingAddress: 'PO Box 1\nFairview',
  notes: '',
  accountNumber: 'A-1',
  archived: false,
};
const property: Omit<Property, 'timeZone'> = {
  id: ID,
  clientId: ID,
  label: '',
  street: '12 Oak St',
  city: 'Fairview',
  region: 'CO',
  postcode: '80501',
  latitudeDeg: null,
  longitudeDeg: -105.1,
  elevationFt: 5000,
  routeId: null,
  accessNotes: 'side gate',
  gateCode: '',
  dogNote: '',
  waterSupply: 'drinking',
  staticPressurePsi: 60,
  pipeMaterial: 'pvc',
  backflowKind: 'unknown',
  backflowLocation: '',
  backflowSerial: '',
  backflowTestDue: '2026-05-01',
  shutoffLocation: '',
  restrictionId: null,
  addressParity: 'auto',
  weatherStationId: null,
  servicesStartUp: true,
  servicesWinterization: false,
  archived: false,
};
const propertyCheck = propertySchema.omit({ timeZone: true });

/** Values of every kind and length that a field may or may not hold, in any field. */
const anything = fc.oneof(
  fc.constantFrom<unknown>(
    ID,
    ID.toLowerCase(),
    `8${ID.slice(1)}`,
    `${ID}\n`,
    '',
    ' ',
    ' a',
    'a ',
    'a\u00a0',
    '\ufeffa',
    'a\tb',
    'a\nb',
    'a\rb',
    'a\u0000b',
    'a\u007fb',
    'a\u0085b',
    'a\u000bb',
    'a@b',
    'a@b.c',
    'a b@c.d',
    '@',
    'a@b.c\n',
    null,
    undefined,
    0,
    -0,
    1,
    -90,
    90.0001,
    180,
    -181,
    300,
    301,
    -1400,
    -1401,
    20000,
    20001,
    NaN,
    Infinity,
    '5',
    true,
    false,
    1n,
    [],
    {},
    '2024-02-29',
    '2023-02-29',
    '2026-05-01',
    '2026-05-01\n',
    '1899-12-31',
    '2199-12-28',
    '2026-13-01',
    '2026-5-1',
    'auto',
    'odd',
    'even',
    'Auto',
    'toString',
    '__proto__',
    '\ud800',
    ...CLIENT_KINDS,
    ...WATER_SUPPLIES,
    ...PIPE_MATERIALS,
    ...BACKFLOW_KINDS,
  ),
  fc
    .constantFrom(20, 40, 60, 80, 120, 160, 200, 8000)
    .chain((length) => fc.constantFrom(length, length + 1).map((exact) => 'x'.repeat(exact))),
  fc.string({ unit: 'binary', maxLength: 6 }),
  fc.double(),
);

/** A good one in which up to three fields hold anything. */
const spoiled = <T extends object>(good: T) =>
  fc
    .array(fc.tuple(fc.constantFrom(...(Object.keys(good) as (keyof T)[])), anything), { maxLength: 3 })
    .map((changes) => Object.assign({ ...good }, Object.fromEntries(changes)) as T);

describe('what surely fits', () => {
  it('is the usual client and property, so that the schema is spared', () => {
    expect(fitsClient(client)).toBe(true);
    expect(fitsProperty(property)).toBe(true);
    expect(fitsClient({ ...client, email: '', phone: '' })).toBe(true);
    expect(fitsProperty({ ...property, backflowTestDue: null, longitudeDeg: null })).toBe(true);
  });

  it('a client passes only if the schema takes it and returns it unchanged', () => {
    let said = 0;
    fc.assert(
      fc.property(spoiled(client), (value) => {
        if (!fitsClient(value)) return;
        said += 1;
        expect(clientSchema.parse(value)).toStrictEqual(value);
      }),
      { numRuns: 20_000 },
    );
    expect(said).toBeGreaterThan(1000);
  });

  it('a property passes only if the schema takes it and returns it unchanged', () => {
    let said = 0;
    fc.assert(
      fc.property(spoiled(property), (value) => {
        if (!fitsProperty(value)) return;
        said += 1;
        expect(propertyCheck.parse(value)).toStrictEqual(value);
      }),
      { numRuns: 20_000 },
    );
    expect(said).toBeGreaterThan(1000);
  });

  it('looks at every field there is', () => {
    for (const key of Object.keys(clientSchema.shape))
      expect([key, fitsClient({ ...client, [key]: Symbol('no value') })]).toEqual([key, false]);
    for (const key of Object.keys(propertyCheck.shape))
      expect([key, fitsProperty({ ...property, [key]: Symbol('no value') } as never)]).toEqual([key, false]);
    expect(Object.keys(client).sort()).toEqual(Object.keys(clientSchema.shape).sort());
    expect(Object.keys(property).sort()).toEqual(Object.keys(propertyCheck.shape).sort());
  });
});

it('folding plain text by the short way is folding it by the long way', () => {
  const long = (text: string) =>
    text
      .normalize('NFKD')
      .replace(/[\u0300-\u036f]/g, '')
      .toLowerCase()
      .replace(/\s+/g, ' ')
      .trim();
  const text = fc
    .array(
      fc.oneof(
        fc.constantFrom(' ', '  ', '\t', '\n', '\u00a0', 'É', 'ﬁ', 'İ', 'A', 'z', '~', '\u007f'),
        fc.string({ unit: 'binary', maxLength: 3 }),
      ),
    )
    .map((parts) => parts.join(''));
  fc.assert(
    fc.property(text, (one) => {
      expect(fold(one)).toBe(long(one));
    }),
    { numRuns: 5000 },
  );
});
