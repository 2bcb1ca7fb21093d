import { create } from 'zustand';
import { sayFailure, type Failure } from '../../core/errors.ts';
import {
  PLAIN_READER,
  say as sayTo,
  sayFact,
  type GivenOf,
  type PlainKey,
  type Reader,
  type TextKey,
} from '../../core/text/say.ts';
import { sayStored as sayStoredTo } from '../../core/text/stored.ts';
import { LANGUAGES, wordsFor, type Language, type Words } from '../../core/text/words.ts';
import type { UnitSystem } from '../../core/units.ts';

// The reader's language and units: chosen on this machine, else the company's. One page has one reader, so every text is
// said by a plain function; when the reader changes, the app draws itself anew (app.tsx).

interface Choice {
  /** null = as the company has it. */
  language: Language | null;
  units: UnitSystem | null;
}
const KEPT_AS = 'valvebook-reader';

function keptChoice(): Choice {
  try {
    const value = JSON.parse(window.localStorage.getItem(KEPT_AS) ?? '{}') as Record<string, unknown>;
    return {
      language: LANGUAGES.find((one) => one === value['language']) ?? null,
      units: value['units'] === 'us' || value['units'] === 'metric' ? value['units'] : null,
    };
  } catch {
    return { language: null, units: null };
  }
}

/** What this machine's reader chose. */
export const useReaderChoice = create<Choice>(() => keptChoice());

/** Keeps a choice on this machine. @public */
export function chooseReader(choice: Partial<Choice>): void {
  useReaderChoice.setState(choice);
  try {
    window.localStorage.setItem(KEPT_AS, JSON.stringify(useReaderChoice.getState()));
  } catch {
    // A browser that keeps nothing asks again next time.
  }
}

/** Before the company's choice is known, and where the book is not opened at all: this machine's, else the browser's language. */
function firstReader(): Reader {
  const { language, units } = useReaderChoice.getState();
  const browsers = LANGUAGES.find((one) => globalThis.navigator?.language?.split('-')[0] === one);
  return { language: language ?? browsers ?? PLAIN_READER.language, units: units ?? PLAIN_READER.units };
}
let reader: Reader = firstReader();
let sent: Reader | undefined;

/** Sets who reads from here on. Called before anything is drawn for that reader, by the app alone. */
export function setReader(next: Reader): void {
  // The desktop window's menu and dialogs are not the page's.
  if (next.language !== sent?.language || next.units !== sent.units) window.valvebook?.reader(next);
  sent = next;
  reader = next;
  document.documentElement.lang = next.language;
}

/** Who reads. */
export const currentReader = (): Reader => reader;

/** Numbers, dates and measures as the reader writes them. */
export const words = (): Words => wordsFor(reader.language, reader.units);

/** Says a text of the catalogue to this page's reader. */
export function say<K extends TextKey>(
  key: K,
  ...given: GivenOf<K> extends undefined ? [] : [given: GivenOf<K>]
): string {
  return sayTo(reader, key, ...given);
}

/** Says a fact that core handed out. */
export const sayTold = (told: { key: string; given?: unknown }): string => sayFact(reader, told);

/** Says a free text of the book: in the reader's language where Valvebook itself wrote it. */
export const sayStored = (text: string): string => sayStoredTo(reader, text);

/** Says what went wrong. */
export const sayError = (failure: Failure): string => sayFailure(reader, failure);

/** Texts by id, said when they are read: for lists and tables that stand outside a component. */
export function texts<K extends string>(keys: Readonly<Record<K, PlainKey>>): Readonly<Record<K, string>> {
  const said = {} as Record<K, string>;
  for (const id of Object.keys(keys) as K[]) {
    Object.defineProperty(said, id, {
      enumerable: true,
      get: () => sayFact(reader, { key: keys[id] }),
    });
  }
  return said;
}
