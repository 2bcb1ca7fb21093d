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
  readonly #passings: readonly Passing[];
  /** By test file: what it imports, and what those import. */
  readonly #reach: ReadonlyMap<string, ReadonlySet<string>>;
  readonly #askedWhole = new Set<string>();
  readonly #fileSeconds = new Map<string, number>();
  /** How many mutants a file comes past in all. */
  readonly #comesPast: ReadonlyMap<string, number>;
  /** Mutants that a file came past while it was loaded: once for all files of the process, whichever was first. */
  readonly #atLoad: ReadonlySet<number>;

  /**
   * @param text a line of JSON for each passing
   * @param reach by test file, all that it imports
   */
  constructor(text: string, checkout: string, reach: ReadonlyMap<string, ReadonlySet<string>>) {
    this.#reach = reach;
    this.#passings = text
      .split('\n')
      .filter(Boolean)
      .map((line) => JSON.parse(line) as Passing)
      .map((passing) => ({ ...passing, file: path.relative(checkout, passing.file).split(path.sep).join('/') }));
    for (const { file, when, milliseconds } of this.#passings)
      if (when !== 'load') this.#fileSeconds.set(file, (this.#fileSeconds.get(file) ?? 0) + milliseconds / 1000);
    this.seconds = [...this.#fileSeconds.values()].reduce((sum, seconds) => sum + seconds, 0);
    const past = Map.groupBy(this.#passings, ({ file }) => file);
    this.#comesPast = new Map(
      [...past].map(([file, passings]) => [file, new Set(passings.flatMap(({ mutants }) => mutants)).size]),
    );
    this.#atLoad = new Set(this.#passings.filter(({ when }) => when === 'load').flatMap(({ mutants }) => mutants));
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
    const byFile = new Map<string, Passing[]>();
    for (const passing of this.#passings)
      if (passing.when !== 'load' && passing.mutants.includes(number))
        byFile.set(passing.file, [...(byFile.get(passing.file) ?? []), passing]);
    const chosen = [...byFile].map(([file, passings]) => this.#chosen(file, passings));
    if (this.#atLoad.has(number))
      for (const [file, reached] of this.#reach)
        if (reached.has(source) && !byFile.has(file)) chosen.push(this.#whole(file));
    const upTo = (most: number, files: readonly Timed[], sum = 0) =>
      files.filter(({ seconds }, at) => (sum + seconds <= most || at === 0) && (sum += seconds) > 0);
    const first = upTo(
      FIRST_SECONDS,
      chosen.toSorted((a, b) => a.seconds - b.seconds),
    );
    const nearness = ({ file }: Timed) => this.#comesPast.get(file) ?? Infinity;
    const rest = chosen.filter((each) => !first.includes(each)).sort((a, b) => nearness(a) - nearness(b));
    return [first, upTo(mostSeconds - FIRST_SECONDS, rest)].filter((group) => group.length > 0);
  }

  #whole(file: string): Timed {
    return { file, seconds: this.#fileSeconds.get(file) ?? 1 };
  }
  #chosen(file: string, passings: readonly Passing[]): Timed {
    const whole = this.#whole(file);
    const isWhole = whole.seconds < WHOLE_UNDER_SECONDS || this.#askedWhole.has(file);
    if (isWhole || passings.some(({ when }) => when === 'between')) return whole;
    const seconds = passings.reduce((total, { milliseconds }) => total + milliseconds / 1000, 0);
    return { file, seconds, names: passings.map(({ test }) => test) };
  }
}
