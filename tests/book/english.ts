import { isFact, PLAIN_READER, sayFact } from '../../core/text/say.ts';

type English<T> = T extends { key: string } ? string : T extends object ? { [K in keyof T]: English<T[K]> } : T;

/** An answer with every fact in it said in English, as a log would say it. */
export function english<T>(value: T): English<T> {
  if (isFact(value)) return sayFact(PLAIN_READER, value) as English<T>;
  if (Array.isArray(value)) return value.map(english) as English<T>;
  if (typeof value !== 'object' || value === null) return value as English<T>;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, english(one)])) as English<T>;
}
