import type { Failure } from '../../core/errors.ts';
import { sayError } from '../state/say.ts';

/** Puts a failure beside its field: asked for every field by its path, it remembers which were asked and knows what is left over. */
export function placedErrors(failure: Failure | null): {
  at: (path: string) => string | null;
  rest: () => Failure | null;
} {
  let placed = false;
  return {
    at: (path) => {
      if (failure?.field !== path) return null;
      placed = true;
      return sayError(failure);
    },
    rest: () => (placed ? null : failure),
  };
}
