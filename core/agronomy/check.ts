import { BookError } from '../errors.ts';

/** Refuses a number that is missing, not finite or outside `min`…`max`; the sentence names the field and what is allowed. */
export function requireRange(
  value: unknown,
  field: string,
  min: number,
  max: number,
  unit: string,
): asserts value is number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new BookError(
      'bad-input',
      `${field} must be a number from ${min} to ${max}${unit && ` ${unit}`}, but none was given.`,
      field,
    );
  }
  if (value < min || value > max) {
    throw new BookError(
      'bad-input',
      `${field} is ${value}, but must be from ${min} to ${max}${unit && ` ${unit}`}.`,
      field,
    );
  }
}

/** As `requireRange`, but the lower end itself is not allowed: a zero area or rate has no meaning to divide by. */
export function requireAbove(
  value: unknown,
  field: string,
  min: number,
  max: number,
  unit: string,
): asserts value is number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new BookError(
      'bad-input',
      `${field} must be a number above ${min} and up to ${max}${unit && ` ${unit}`}, but none was given.`,
      field,
    );
  }
  if (value <= min || value > max) {
    throw new BookError(
      'bad-input',
      `${field} is ${value}, but must be above ${min} and at most ${max}${unit && ` ${unit}`}.`,
      field,
    );
  }
}

/** True where an optional reading is there: `undefined`, `null` and NaN all mean "not measured". */
export function isGiven(value: number | null | undefined): value is number {
  return value !== undefined && value !== null && !Number.isNaN(value);
}
