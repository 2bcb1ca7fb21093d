// Chance that repeats: the same words and numbers always give the same stream, on every machine.

/** A stream of chance. */
export interface Chance {
  /** 0 ≤ x < 1. */
  next(): number;
  /** A whole number from `from` to `to`, both included. */
  int(from: number, to: number): number;
  /** A figure between two, rounded to so many decimals. */
  range(from: number, to: number, decimals?: number): number;
  /** True in this share of cases. */
  yes(share: number): boolean;
  pick<T>(list: readonly T[]): T;
  /** One of several, each with its weight. */
  weighted<T>(choices: readonly (readonly [T, number])[]): T;
  /** Normally distributed. */
  normal(mean: number, deviation: number): number;
  /** A ULID of this moment. */
  ulid(milliseconds: number): string;
}

/** 32-bit words of a text (the published cyrb128 mixing steps), to seed a stream. */
function seedWords(text: string): [number, number, number, number] {
  let [a, b, c, d] = [1779033703, 3144134277, 1013904242, 2773480762];
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    a = b ^ Math.imul(a ^ code, 597399067);
    b = c ^ Math.imul(b ^ code, 2869860233);
    c = d ^ Math.imul(c ^ code, 951274213);
    d = a ^ Math.imul(d ^ code, 2716044179);
  }
  return [a >>> 0, b >>> 0, c >>> 0, d >>> 0];
}

const CROCKFORD = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** The stream of these words: `chance(7, 'property', 12)` does not depend on how many properties there are. */
export function chance(...words: (string | number)[]): Chance {
  let [a, b, c, d] = seedWords(words.join('/'));
  // sfc32: small, fast, long period.
  const word = (): number => {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + t) | 0;
    return t >>> 0;
  };
  for (let warm = 0; warm < 12; warm += 1) word();
  const next = () => word() / 4294967296;
  let lastMoment = -1;
  let lastPrefix = '';
  const self: Chance = {
    next,
    int: (from, to) => from + Math.floor(next() * (to - from + 1)),
    range(from, to, decimals = 2) {
      const scale = 10 ** decimals;
      return Math.round((from + next() * (to - from)) * scale) / scale;
    },
    yes: (share) => next() < share,
    pick: (list) => list[Math.floor(next() * list.length)]!,
    weighted(choices) {
      let total = 0;
      for (const [, weight] of choices) total += weight;
      let at = next() * total;
      for (const [value, weight] of choices) if ((at -= weight) < 0) return value;
      return choices[choices.length - 1]![0];
    },
    normal(mean, deviation) {
      const u = 1 - next();
      return mean + deviation * Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * next());
    },
    ulid(milliseconds) {
      if (milliseconds !== lastMoment) {
        lastMoment = milliseconds;
        lastPrefix = '';
        for (let rest = Math.floor(milliseconds), at = 0; at < 10; at += 1, rest = Math.floor(rest / 32))
          lastPrefix = CROCKFORD[rest % 32] + lastPrefix;
      }
      let id = lastPrefix;
      for (let part = 0; part < 4; part += 1) {
        const bits = word();
        id +=
          CROCKFORD[bits & 31]! +
          CROCKFORD[(bits >>> 5) & 31] +
          CROCKFORD[(bits >>> 10) & 31] +
          CROCKFORD[(bits >>> 15) & 31];
      }
      return id;
    },
  };
  return self;
}
