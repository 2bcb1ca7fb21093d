import type { Words } from './words.ts';

// What a catalogue is made of. A text is plain, or a function of what it tells; one room of the program is one file a language.

/** A text that tells something: it is given the reader's words and typed facts, and never reads a clock or a setting. */
export type Telling = (words: Words, given: any) => string;
export type Room = Record<string, string | Telling>;

/** The other language's form of a room: every key, plain where it is plain, told from the same facts where it tells. */
export type SameAs<R extends Room> = { [K in keyof R]: R[K] extends string ? string : R[K] };
