import fc from 'fast-check';
import { z } from 'zod';

// Inputs for any request, made from its own schema: mostly of the right shape, then spoiled in a few places.

type JsonSchema = Record<string, any>;

const ULID_CHARS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const ulid = fc
  .tuple(fc.constantFrom(...'01234567'), fc.array(fc.constantFrom(...ULID_CHARS), { minLength: 25, maxLength: 25 }))
  .map(([first, rest]) => first + rest.join(''));

/** Text that has broken programs before. */
export const nasty: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom<unknown>(
    '',
    ' ',
    '\u0000',
    '\uFEFF',
    '\uD800',
    "'; DROP TABLE client; --",
    '%',
    '_',
    '\\',
    '../../etc/passwd',
    '=1+1',
    '<img src=x onerror=1>',
    '٣',
    '𝟙',
    'NaN',
    '__proto__',
    'constructor',
    'a'.repeat(10_000),
    -1,
    0,
    -0,
    1e308,
    Number.MAX_SAFE_INTEGER,
    0.1,
    true,
    false,
    null,
    [],
    {},
    [[]],
    '2026-02-30',
    '0000-00-00',
    '24:00',
    '99999999999999999999999999',
  ),
  fc.string({ unit: 'binary', maxLength: 40 }),
  fc.double(),
  fc.dictionary(fc.string({ maxLength: 8 }), fc.integer(), { maxKeys: 3 }),
);

/** Ids that exist in the book by the name of the field they fit; all of them under ''. */
export type KnownIds = ReadonlyMap<string, readonly string[]>;

/** A value that mostly fits a JSON schema; `name` is the field it is for. */
function fitting(schema: JsonSchema, known: KnownIds, name = ''): fc.Arbitrary<unknown> {
  if (schema.const !== undefined) return fc.constant(schema.const);
  if (schema.enum) return fc.constantFrom(...schema.enum);
  const either = schema.anyOf ?? schema.oneOf;
  if (either) return fc.oneof(...either.map((one: JsonSchema) => fitting(one, known, name)));
  if (schema.allOf) return fitting(schema.allOf[0], known, name);
  switch (schema.type) {
    case 'object': {
      const fields = Object.fromEntries(
        Object.entries(schema.properties ?? {}).map(([field, one]) => [
          field,
          fitting(one as JsonSchema, known, field),
        ]),
      );
      return fc.record(fields, { requiredKeys: (schema.required ?? []) as never[] });
    }
    case 'array':
      return fc.array(fitting(schema.items ?? {}, known, name), {
        minLength: Math.min(schema.minItems ?? 0, 14),
        maxLength: Math.max(schema.minItems ?? 0, Math.min(schema.maxItems ?? 3, 3)),
      });
    case 'integer':
      return fc.integer({ min: Math.max(schema.minimum ?? -1000, -1e6), max: Math.min(schema.maximum ?? 1000, 1e6) });
    case 'number':
      return fc.double({ min: schema.minimum ?? -1000, max: schema.maximum ?? 1000, noNaN: true });
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    case 'string':
      if (String(schema.pattern ?? '').includes('HJKMNP'))
        return fc.oneof(
          { weight: 5, arbitrary: fc.constantFrom(...idsFor(name, known)) },
          { weight: 1, arbitrary: ulid },
        );
      if (schema.format === 'date')
        return fc
          .date({ min: new Date('1995-01-01'), max: new Date('2090-01-01'), noInvalidDate: true })
          .map((date) => date.toISOString().slice(0, 10));
      if (schema.format === 'base64' || schema.contentEncoding === 'base64')
        return fc.uint8Array({ maxLength: 300 }).map((bytes) => Buffer.from(bytes).toString('base64'));
      if (String(schema.pattern ?? '').includes('[01]'))
        return fc
          .tuple(fc.integer({ min: 0, max: 23 }), fc.integer({ min: 0, max: 59 }))
          .map(([h, m]) => `${String(h).padStart(2, '0')}:${String(m).padStart(2, '0')}`);
      return fc.string({ maxLength: Math.min(schema.maxLength ?? 30, 30) });
    default:
      return nasty;
  }
}

/** Ids that fit a field, and a few that belong to something else. */
function idsFor(name: string, known: KnownIds): readonly string[] {
  const fits = known.get(name) ?? [];
  const all = known.get('') ?? [];
  return fits.length === 0 ? all : [...fits, ...fits.slice(0, 4), ...all.slice(0, 2)];
}

/** Puts a nasty value at one place inside a value. */
function spoil(value: unknown, path: number[], poison: unknown): unknown {
  if (typeof value !== 'object' || value === null || path.length === 0) return poison;
  const keys = Object.keys(value);
  if (keys.length === 0) return poison;
  const key = keys[path[0]! % keys.length]!;
  const copy: any = Array.isArray(value) ? [...value] : { ...value };
  copy[key] = path[0]! % 5 === 0 ? poison : spoil(copy[key], path.slice(1), poison);
  return copy;
}

/** Inputs that fit a request's schema as far as its JSON form tells. */
export const fittingInputs = (schema: z.ZodType, known: KnownIds): fc.Arbitrary<unknown> =>
  fitting(z.toJSONSchema(schema, { io: 'input' }), known);

/** Inputs for a request's schema: a third fitting, the rest spoiled somewhere. */
export function inputsFor(schema: z.ZodType, known: KnownIds): fc.Arbitrary<unknown> {
  const fit = fittingInputs(schema, known);
  return fc.oneof(
    fit,
    fc
      .tuple(fit, fc.array(fc.nat(30), { minLength: 1, maxLength: 4 }), nasty)
      .map(([value, path, poison]) => spoil(value, path, poison)),
    fc
      .tuple(
        fit,
        fc.array(fc.nat(30), { minLength: 1, maxLength: 4 }),
        nasty,
        fc.array(fc.nat(30), { minLength: 1, maxLength: 4 }),
        nasty,
      )
      .map(([value, a, x, b, y]) => spoil(spoil(value, a, x), b, y)),
    nasty,
  );
}
