import type { Mutant } from './mutations.ts';

// Mutants after which the program does the same as before, so that no test can notice them. They are never counted as
// noticed: the report tells them apart, each with its reason. Whoever adds one says why no input and no stored book can
// tell the two apart, not that it is hard to test.

export interface Equivalent {
  file: string;
  /** The line it stands on, as it is in the file, without the blanks around it. */
  line: string;
  was: string;
  becomes: string;
  /** Which of several like it in the file, from 1. */
  nth?: number;
  why: string;
}

export const EQUIVALENT: readonly Equivalent[] = [];

const flat = (text: string) => text.replaceAll(/\s+/g, ' ').trim();

/**
 * The entry for each mutant that has one.
 * @param sources text by file
 * @returns also what is listed and fits no mutant, or more than one: the source has moved on
 */
export function equivalents(
  listed: readonly Equivalent[],
  mutants: readonly Mutant[],
  sources: ReadonlyMap<string, string>,
): { found: Map<Mutant, Equivalent>; stale: Equivalent[] } {
  const found = new Map<Mutant, Equivalent>();
  const lines = new Map([...sources].map(([file, source]) => [file, source.split('\n')]));
  const stale = listed.filter((entry) => {
    const like = mutants.filter(
      (mutant) =>
        mutant.file === entry.file &&
        flat(mutant.was) === flat(entry.was) &&
        flat(mutant.becomes) === flat(entry.becomes) &&
        flat(lines.get(mutant.file)![mutant.line - 1]!) === flat(entry.line),
    );
    const mutant = entry.nth === undefined && like.length > 1 ? undefined : like[(entry.nth ?? 1) - 1];
    if (mutant !== undefined) found.set(mutant, entry);
    return mutant === undefined;
  });
  return { found, stale };
}
