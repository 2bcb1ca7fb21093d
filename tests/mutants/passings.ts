import path from 'node:path';
import type { Mutant } from './mutations.ts';
import type { Passing } from './setup.ts';
import type { Chosen } from './warm.ts';

/** Files that take longer are asked only for the tests that come past a mutant; of others it is not worth choosing. */
const WHOLE_UNDER_SECONDS = 3;
/** The shortest go first, up to so many seconds of them; only who survives those meets all others. */
const FIRST_SECONDS = 6;

export type Timed = Chosen & { seconds: number };

/** Which tests come past which mutants, and how long they take, from a run without a mutant. */
export class Passings {
  readonly seconds: number;
  /** By test file, in order, without what it came past while it was loaded. */
  readonly #byFile: ReadonlyMap<string, readonly Passing[]>;
  /** By test file: what it imports, and what those import. */
  readonly #reach: ReadonlyMap<string, ReadonlySet<string>>;
  readonly #askedWhole = new Set<string>();
  /** Mutants that a file came past while it was loaded: once for all files of the process, whichever was first. */
  readonly #atLoad: ReadonlySet<number>;

  /**
   * @param text a line of JSON for each passing
   * @param reach by test file, all that it imports
   */
  constructor(text: string, checkout: string, reach: ReadonlyMap<string, ReadonlySet<string>>) {
    this.#reach = reach;
    const all = text
      .split('\n')
      .filter(Boolean)
      .map((line) => JSON.parse(line) as Passing)
      .map((passing) => ({ ...passing, file: path.relative(checkout, passing.file).split(path.sep).join('/') }));
    const run = all.filter(({ when }) => when !== 'load');
    this.#byFile = Map.groupBy(run, ({ file }) => file);
    this.seconds = run.reduce((sum, { milliseconds }) => sum + milliseconds / 1000, 0);
    this.#atLoad = new Set(all.filter(({ when }) => when === 'load').flatMap(({ mutants }) => mutants));
  }

  /** From now on a file is asked for all its tests: one of them does not pass without those before it. */
  askWhole(file: string): void {
    this.#askedWhole.add(file);
  }

  /**
   * The tests to ask about a mutant, in the order to ask them: what is soon done, then what comes past the fewest others.
   * @param mostSeconds of them all; one is asked in any case
   */
  groupsFor(number: number, { file: source }: Mutant, mostSeconds: number): Timed[][] {
    const past = new Map(
      [...this.#byFile]
        .map(([file, passings]) => [file, passings.filter(({ mutants }) => mutants.includes(number))] as const)
        .filter(([, passings]) => passings.length > 0),
    );
    const units = [...past].flatMap(([file, passings]) => this.#unitsOf(file, passings));
    if (this.#atLoad.has(number))
      for (const [file, reached] of this.#reach)
        if (reached.has(source) && !past.has(file)) units.push(...this.#unitsOf(file, []));
    const upTo = (most: number, some: readonly Unit[]) => {
      let left = most;
      return some.filter(({ seconds }) => seconds <= left && (left -= seconds) >= 0);
    };
    const inOrder = units.toSorted((a, b) => a.seconds - b.seconds);
    const soon = upTo(FIRST_SECONDS, inOrder);
    const first = soon.length > 0 ? soon : inOrder.slice(0, 1);
    const rest = units.filter((unit) => !first.includes(unit)).sort((a, b) => a.comesPast - b.comesPast);
    return [first, upTo(mostSeconds - FIRST_SECONDS, rest)].map(joined).filter((group) => group.length > 0);
  }

  /** What can be asked by itself: a file, or each test of one that takes long. */
  #unitsOf(file: string, passings: readonly Passing[]): Unit[] {
    const all = this.#byFile.get(file) ?? [];
    const seconds = all.reduce((sum, { milliseconds }) => sum + milliseconds / 1000, 0);
    const isWhole =
      seconds < WHOLE_UNDER_SECONDS ||
      this.#askedWhole.has(file) ||
      passings.length === 0 ||
      passings.some(({ when }) => when === 'between');
    if (isWhole) return [{ file, seconds, comesPast: new Set(all.flatMap(({ mutants }) => mutants)).size }];
    return passings.map(({ test, milliseconds, mutants }) => ({
      file,
      test,
      seconds: milliseconds / 1000,
      comesPast: mutants.length,
    }));
  }
}

interface Unit {
  file: string;
  test?: string;
  seconds: number;
  /** How many mutants it comes past: few means that it looks at little else. */
  comesPast: number;
}

function joined(units: readonly Unit[]): Timed[] {
  return [...Map.groupBy(units, ({ file }) => file)].map(([file, own]) => ({
    file,
    seconds: own.reduce((sum, { seconds }) => sum + seconds, 0),
    ...(own[0]!.test === undefined ? {} : { names: own.map(({ test }) => test!) }),
  }));
}
