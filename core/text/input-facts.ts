// What a schema says of an input that does not fit, as facts.

export type Wanted = 'text' | 'number' | 'whole' | 'boolean' | 'list' | 'object' | 'empty' | 'date' | 'other';

export type Unfit =
  | { is: 'missing' | 'kind'; wanted: Wanted }
  | { is: 'short' | 'long' | 'few' | 'many'; count: number }
  | { is: 'at-least' | 'above' | 'at-most' | 'below'; value: string }
  | { is: 'one-of' | 'unknown-fields'; names: readonly string[] }
  | { is: 'no-known'; field: string }
  | { is: 'no-form' | 'bad-field-name' | 'malformed' }
  /** One of our schemas' own sentences, in English: it begins with “must” or “may”. */
  | { is: 'own'; says: string };

export interface UnfitInput {
  /** The dotted path of the field; null = the input as a whole. */
  field: string | null;
  unfit: Unfit;
  /** How many more findings there are. */
  more: number;
}

const RANGE = /^must be (-?[\d.]+) to (-?[\d.]+)(?: (.+))?$/;

/** “must be 0 to 300 psi” in its parts; null for any other sentence. */
export function rangeOf(says: string): { from: number; to: number; unit: string } | null {
  const found = RANGE.exec(says);
  return found === null ? null : { from: Number(found[1]), to: Number(found[2]), unit: found[3] ?? '' };
}
