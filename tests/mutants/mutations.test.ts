import { expect, test } from 'vitest';
import { mutantsOf, mutated } from './mutations.ts';

const SOURCE = `import { BookError } from '../errors.ts';
/** 2 of them. */
const SHARE = 0.5;
export interface Row { kind: 'a' | 'b'; size: 3 }
export function rate(rows: readonly Row[], top = 10): number {
  if (!rows.some((row) => row.size > top)) throw new BookError('bad-input', 'x' + top);
  let sum = 0;
  for (const row of rows) sum += row.size * SHARE;
  note(sum);
  return rows.length === 0 || sum < 1 ? -sum : Math.min(sum, top as 10);
}
`;

test('every mutant is one change of a rule: types, texts and imports stay', () => {
  const mutants = mutantsOf('rule.ts', SOURCE);
  expect(mutants.map(({ line, was, becomes }) => `${line}: ${was} → ${becomes}`)).toEqual([
    '3: 0.5 → 0.55',
    '5: 10 → 11',
    '6: !rows.some((row) => row.size > top) → !(!rows.some((row) => row.size > top))',
    '6: ! → ',
    '6: some → every',
    '6: > → >=',
    '7: 0 → 1',
    '8: sum += row.size * SHARE; → ;',
    '8: += → -=',
    '8: * → /',
    '9: note(sum); → ;',
    '10: rows.length === 0 || sum < 1 → !(rows.length === 0 || sum < 1)',
    '10: || → &&',
    '10: === → !==',
    '10: 0 → 1',
    '10: < → <=',
    '10: 1 → 2',
    '10: - → ',
    '10: min → max',
  ]);
  for (const mutant of mutants) {
    const text = mutated(SOURCE, mutant);
    expect(text).not.toBe(SOURCE);
    expect(() => mutantsOf('rule.ts', text)).not.toThrow();
  }
});

test('a source that does not parse is said to be that', () => {
  expect(() => mutantsOf('rule.ts', 'const = 3')).toThrow(/rule\.ts/);
});
