import { BookError } from '../errors.ts';
import type { BoundUnit } from '../text/advice-facts.ts';
import { fact } from '../text/say.ts';

/** Refuses a number that is missing, not finite or outside `min`…`max`; the text names the field and what is allowed. */
export function requireRange(
  value: unknown,
  field: string,
  min: number,
  max: number,
  unit: BoundUnit,
): asserts value is number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new BookError('bad-input', fact('agronomy.noneFrom', { field, min, max, unit }), field);
  }
  if (value < min || value > max) {
    throw new BookError('bad-input', fact('agronomy.outside', { field, min, max, unit, value }), field);
  }
}

/** As `requireRange`, but the lower end itself is not allowed: a zero area or rate has no meaning to divide by. */
export function requireAbove(
  value: unknown,
  field: string,
  min: number,
  max: number,
  unit: BoundUnit,
): asserts value is number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new BookError('bad-input', fact('agronomy.noneAbove', { field, min, max, unit }), field);
  }
  if (value <= min || value > max) {
    throw new BookError('bad-input', fact('agronomy.notAbove', { field, min, max, unit, value }), field);
  }
}

/** True where an optional reading is there: `undefined`, `null` and NaN all mean "not measured". */
export function isGiven(value: number | null | undefined): value is number {
  return value !== undefined && value !== null && !Number.isNaN(value);
}
