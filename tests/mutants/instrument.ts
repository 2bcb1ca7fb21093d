import { parseSync } from 'vite';
import type { Mutant, Span } from './mutations.ts';

// All mutants of a file at once: each expression that has any becomes "that of the mutant in force, else what stands here".
// So nothing is built anew from one mutant to the next, and a run without one tells which tests come past which mutant.

/** What the written source imports: `at(number)` says whether that mutant is in force, `turn()` counts a loop's turns. */
export const NAMES = { at: '$mutantAt', turn: '$mutantTurn' };

interface Place extends Span {
  isKey: boolean;
  isLoop: boolean;
  /** By the mutant's number. */
  instead: [number, string][];
}

/**
 * A source with its mutants in it, none in force until the environment says so.
 * @param numberOf the number by which a mutant is put in force
 * @param from where `at` and `turn` are imported from, as the file would say it
 */
export function instrumented(
  source: string,
  mutants: readonly Mutant[],
  numberOf: (mutant: Mutant) => number,
  from: string,
): string {
  const places = new Map<string, Place>();
  const placeOf = ({ start, end }: Span) => {
    const key = `${start}-${end}`;
    const place = places.get(key) ?? { start, end, isKey: false, isLoop: false, instead: [] };
    places.set(key, place);
    return place;
  };
  for (const mutant of mutants) {
    const place = placeOf(mutant.around);
    place.isKey = mutant.around.isKey;
    place.instead.push([numberOf(mutant), mutant.instead]);
  }
  for (const test of loopTests(parseSync('source.ts', source).program)) placeOf(test).isLoop = true;
  const inOrder = [...places.values()].toSorted((a, b) => a.start - b.start || b.end - a.end);

  let next = 0;
  const between = (start: number, end: number): string => {
    let text = '';
    let at = start;
    for (let place = inOrder[next]; place !== undefined && place.start < end; place = inOrder[next]) {
      next += 1;
      text += source.slice(at, place.start) + exchanged(place, between(place.start, place.end));
      at = place.end;
    }
    return text + source.slice(at, end);
  };
  return `import { at as ${NAMES.at}, turn as ${NAMES.turn} } from '${from}'; ${between(0, source.length)}`;
}

function exchanged({ isKey, isLoop, instead }: Place, text: string): string {
  const cases = instead.map(([number, other]) => `${NAMES.at}(${number}) ? (${other}) : `).join('');
  const all = `${isLoop ? `${NAMES.turn}(), ` : ''}${cases}(${text})`;
  return isKey ? `[${all}]` : `(${all})`;
}

function loopTests(program: unknown): Span[] {
  const found: Span[] = [];
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) return value.forEach(visit);
    if (typeof value !== 'object' || value === null) return;
    const node = value as Record<string, unknown>;
    if (/^(For|While|DoWhile)Statement$/.test(String(node['type'])) && node['test'] != null)
      found.push(node['test'] as Span);
    for (const [key, part] of Object.entries(node)) if (key !== 'parent') visit(part);
  };
  visit(program);
  return found;
}
