import { expect, test } from 'vitest';
import { equivalents, type Equivalent } from './equivalent.ts';
import { instrumented, NAMES } from './instrument.ts';
import { mutantsOf, mutated, type Mutant } from './mutations.ts';
import { Passings } from './passings.ts';

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

const CALLED = `export function called(list, range, note) {
  const table = { 2: 'two', 0.5: 'half' };
  let sum = 0;
  for (let at = 0; at < list.length; at += 1) sum += list[at];
  list[0] *= 3;
  range.min ??= 4;
  range?.far.some((one) => one > 1);
  note?.far?.round(5);
  while (!(sum > 100 && list.length > 0)) sum++;
  note.last = -sum;
  return [table[2], Math.max(sum, 7) / 2, Math.round(sum / 4), list.every((one) => one >= 1 || sum < 5), list[0], range.min ? 1 : 0, list.map(Math.floor)];
}
`;

function resultOf(source: string, inForce: number): unknown {
  const body = source.replace(/^import .*?; /, '').replace('export ', '');
  let turns = 0;
  const turn = () => {
    if ((turns += 1) > 1000) throw new Error('no end');
  };
  try {
    const make = new Function(NAMES.at, NAMES.turn, `${body}; return called;`) as (
      at: (number: number) => boolean,
      turn: () => void,
    ) => (...given: unknown[]) => unknown;
    const note = { last: 0, far: { round: (to: number) => (note.last += to) } };
    const list = [4, 2.5, -1];
    const range = { far: [1, 2] };
    const called = make((number) => number === inForce, turn);
    return JSON.stringify([
      called(list, range, note),
      called(list, { min: 0, far: [] }, { last: 0 }),
      note.last,
      range,
      list,
    ]);
  } catch (cause) {
    return String(cause);
  }
}

test('one instrumented source stands for the source and for each of its mutants', () => {
  const mutants = mutantsOf('rule.js', CALLED);
  const source = instrumented(CALLED, mutants, (mutant) => mutants.indexOf(mutant), './in-force.ts');
  const plain = instrumented(CALLED, [], () => 0, './in-force.ts');
  expect(resultOf(source, -1)).toBe(resultOf(CALLED, -1));
  expect(resultOf(source, -1)).toMatch(/^\[\[/);
  for (const [number, mutant] of mutants.entries()) {
    // With one operator changed in the text, its neighbors may bind otherwise; the instrumented source keeps them apart.
    if (mutant.was === '&&' || mutant.was === '||') continue;
    const alone = instrumented(mutated(CALLED, mutant), [], () => 0, './in-force.ts');
    expect([mutant, resultOf(source, number)]).toEqual([mutant, resultOf(alone, -1)]);
  }
  const noticed = mutants.filter((_, number) => resultOf(source, number) !== resultOf(plain, -1));
  expect(noticed.length).toBeGreaterThan(mutants.length / 2);
});

test('an entry of the list fits one mutant, or it is said to be stale', () => {
  const source = 'const a = (x) => x + 1;\nconst b = (x) => x + 1;\nconst c = 5;\n';
  const mutants = mutantsOf('rule.ts', source);
  const entry = (changes: Partial<Equivalent>): Equivalent => ({
    file: 'rule.ts',
    line: 'const c = 5;',
    was: '5',
    becomes: '6',
    why: 'nobody reads c',
    ...changes,
  });
  const second = entry({ line: 'const b = (x) => x + 1;', was: '1', becomes: '2' });
  const stale = [
    entry({ line: 'const c = 4;' }),
    entry({ becomes: '7' }),
    entry({ file: 'other.ts' }),
    entry({ nth: 2 }),
  ];
  const judged = equivalents([entry({}), second, ...stale], mutants, new Map([['rule.ts', source]]));
  expect([...judged.found.keys()].map(({ line, was }) => `${line} ${was}`)).toEqual(['3 5', '2 1']);
  expect(judged.stale).toEqual(stale);

  const twice = 'f(1, 1);\n';
  const twins = mutantsOf('rule.ts', twice);
  const like = entry({ line: 'f(1, 1);', was: '1', becomes: '2' });
  const ambiguous = equivalents([like], twins, new Map([['rule.ts', twice]]));
  expect(ambiguous.stale).toEqual([like]);
  const chosen = equivalents([{ ...like, nth: 2 }], twins, new Map([['rule.ts', twice]]));
  expect([...chosen.found.keys()].map(({ start }) => start)).toEqual([5]);
});

test('a mutant is put to the tests that come past it, the shortest first, and to all that load it where it works at load', () => {
  const passing = (file: string, when: string, name: string, milliseconds: number, mutants: number[]) =>
    JSON.stringify({ file: `/copy/${file}`, when, test: name, milliseconds, turns: 0, mutants });
  const text = [
    passing('tests/quick.test.ts', 'load', '', 900, [1]),
    passing('tests/quick.test.ts', 'test', 'adds', 100, [2]),
    passing('tests/quick.test.ts', 'test', 'takes', 100, []),
    passing('tests/long.test.ts', 'test', 'one', 5000, [2]),
    passing('tests/long.test.ts', 'test', 'two', 4000, [2, 3]),
    passing('tests/long.test.ts', 'between', '', 1, [4]),
    passing('tests/long.test.ts', 'test', 'three', 9000, [4]),
  ].join('\n');
  const reach = new Map([
    ['tests/quick.test.ts', new Set(['core/rule.ts'])],
    ['tests/long.test.ts', new Set(['core/rule.ts'])],
    ['tests/other.test.ts', new Set<string>()],
  ]);
  const passings = new Passings(text, '/copy', reach);
  const mutant = { file: 'core/rule.ts' } as Mutant;
  const asked = (number: number, patience = 60) =>
    passings.groupsFor(number, mutant, patience).map((group) => group.map(({ file, names }) => [file, names]));
  expect(asked(5)).toEqual([]);
  expect(asked(3)).toEqual([[['tests/long.test.ts', ['two']]]]);
  const soon = [
    ['tests/quick.test.ts', undefined],
    ['tests/long.test.ts', ['two']],
  ];
  expect(asked(2)).toEqual([soon, [['tests/long.test.ts', ['one']]]]);
  expect(asked(1)).toEqual([[['tests/quick.test.ts', undefined]], [['tests/long.test.ts', undefined]]]);
  // Of a long file as many tests as there is time for; one is asked in any case, however long it takes.
  expect(asked(2, 10)).toEqual([soon]);
  expect(asked(4, 1)).toEqual([[['tests/long.test.ts', undefined]]]);
  // What a file comes past between its tests belongs to any of them.
  expect(asked(4)).toEqual([[['tests/long.test.ts', undefined]]]);
  passings.askWhole('tests/long.test.ts');
  expect(asked(3)).toEqual([[['tests/long.test.ts', undefined]]]);
});
