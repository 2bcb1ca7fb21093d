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
    this.#atLoad = new Set(this.#passings.filter(({ when }) => when === 'load').flatMap(({ mutants }) => mutants));
  }

  /** From now on a file is asked for all its tests: one of them does not pass without those before it. */
  askWhole(file: string): void {
    this.#askedWhole.add(file);
  }

  /** The tests to ask about a mutant, in the order to ask them. */
  groupsFor(number: number, { file: source }: Mutant): Timed[][] {
    const byFile = new Map<string, Passing[]>();
    for (const passing of this.#passings)
      if (passing.when !== 'load' && passing.mutants.includes(number))
        byFile.set(passing.file, [...(byFile.get(passing.file) ?? []), passing]);
    const chosen = [...byFile].map(([file, passings]) => this.#chosen(file, passings));
    if (this.#atLoad.has(number))
      for (const [file, reached] of this.#reach)
        if (reached.has(source) && !byFile.has(file)) chosen.push(this.#whole(file));
    chosen.sort((a, b) => a.seconds - b.seconds);
    let sum = 0;
    const first = chosen.filter(({ seconds }, at) => (sum += seconds) <= FIRST_SECONDS || at === 0);
    return [first, chosen.filter((each) => !first.includes(each))].filter((group) => group.length > 0);
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
