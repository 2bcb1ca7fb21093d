import type { UnitSystem } from '../units.ts';
import { en } from './en.ts';
import { es } from './es.ts';
import type { Room, Telling } from './room.ts';
import { wordsFor, type Language } from './words.ts';

// One door to every text a person reads: screen, command line, paper and log alike.

export type Texts = typeof en;
export type TextKey = keyof Texts;
/** What a text must be given; `undefined` for a plain one. */
export type GivenOf<K extends TextKey> = Texts[K] extends (words: never, given: infer G) => string ? G : undefined;
/**
 * A text's key with what it tells: what core hands out in place of a sentence. Made by `fact`, which holds what is given
 * against the key; a union over every key is more than the compiler can carry.
 */
export interface Fact {
  key: TextKey;
  given?: unknown;
}
export type PlainKey = { [K in TextKey]: GivenOf<K> extends undefined ? K : never }[TextKey];

/** Who reads: their language and their units. */
export interface Reader {
  language: Language;
  units: UnitSystem;
}
/** Logs, tests and terminals without a choice. */
export const PLAIN_READER: Reader = { language: 'en', units: 'us' };

const catalogues: Record<Language, Room> = { en, es };

/** Says a text of the catalogue. An unknown key (an answer from a newer version) is shown as itself, never as nothing. */
export function say<K extends TextKey>(
  reader: Reader,
  key: K,
  ...given: GivenOf<K> extends undefined ? [] : [given: GivenOf<K>]
): string {
  return sayLoose(reader, key, given[0]);
}

/** Says a fact that core handed out. */
export function sayFact(reader: Reader, told: { key: string; given?: unknown }): string {
  return sayLoose(reader, told.key, told.given);
}

/** Is a value of an answer a fact of this catalogue? */
export function isFact(value: unknown): value is Fact {
  return (
    typeof value === 'object' &&
    value !== null &&
    'key' in value &&
    typeof value.key === 'string' &&
    Object.hasOwn(en, value.key)
  );
}

/** A fact, checked by its key's own type. */
export function fact<K extends TextKey>(
  key: K,
  ...given: GivenOf<K> extends undefined ? [] : [given: GivenOf<K>]
): Fact {
  return { key, given: given[0] } as Fact;
}

/** A fact that tells another (or several) as its `inner`: each is said to the same reader before the outer one is. */
export function factAround<K extends TextKey>(
  key: K,
  inner: Fact | readonly Fact[],
  ...given: GivenOf<K> extends { inner: unknown }
    ? keyof GivenOf<K> extends 'inner'
      ? []
      : [given: Omit<GivenOf<K>, 'inner'>]
    : [never]
): Fact {
  return { key, given: { ...given[0], inner } } as Fact;
}

function withInner(reader: Reader, given: unknown): unknown {
  if (typeof given !== 'object' || given === null || !('inner' in given)) return given;
  const { inner } = given;
  return {
    ...given,
    inner: Array.isArray(inner) ? inner.map((one: Fact) => sayFact(reader, one)) : sayFact(reader, inner as Fact),
  };
}

function sayLoose(reader: Reader, key: string, given: unknown): string {
  const text = catalogues[reader.language][key] ?? en[key as TextKey];
  if (text === undefined) return key;
  if (typeof text === 'string') return text;
  const said = (text as Telling)(wordsFor(reader.language, reader.units), withInner(reader, given) ?? {});
  // The point of “a. m.” is the sentence's own where it ends one.
  return reader.language === 'es' ? said.replaceAll(/([ap]\. m\.)\./g, '$1') : said;
}
