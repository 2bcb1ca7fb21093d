import { useMemo } from 'react';
import { create } from 'zustand';
import { sayFailure, type Failure } from '../../core/errors.ts';
import { say, sayFact, type GivenOf, type Reader, type TextKey } from '../../core/text/say.ts';
import { wordsFor, LANGUAGES, type Language, type Words } from '../../core/text/words.ts';
import type { UnitSystem } from '../../core/units.ts';
import { useSettings } from './use-settings.ts';

// The reader's language and units: chosen on this machine, else the company's.

interface Choice {
  language: Language | null;
  units: UnitSystem | null;
}
const KEPT_AS = 'valvebook.reader';

function kept(): Choice {
  try {
    const value = JSON.parse(localStorage.getItem(KEPT_AS) ?? '{}') as Record<string, unknown>;
    return {
      language: LANGUAGES.find((one) => one === value['language']) ?? null,
      units: value['units'] === 'us' || value['units'] === 'metric' ? value['units'] : null,
    };
  } catch {
    return { language: null, units: null };
  }
}

const useChoice = create<Choice>(() => kept());

/** Keeps this machine's choice; null = as the company has it. */
export function chooseReader(choice: Partial<Choice>): void {
  useChoice.setState(choice);
  localStorage.setItem(KEPT_AS, JSON.stringify(useChoice.getState()));
}

/** This machine's own choice, null where it follows the company. */
export function useReaderChoice(): Choice {
  return useChoice();
}

/** Who reads this screen. */
export function useReader(): Reader {
  const { language, units } = useChoice();
  const settings = useSettings();
  const said = language ?? settings?.language ?? 'en';
  const measured = units ?? settings?.units ?? 'us';
  return useMemo(() => ({ language: said, units: measured }), [said, measured]);
}

/** Says texts of the catalogue to this screen's reader. */
export interface Say {
  <K extends TextKey>(key: K, ...given: GivenOf<K> extends undefined ? [] : [given: GivenOf<K>]): string;
  /** A fact that core handed out. */
  fact(fact: { key: string; given?: unknown }): string;
  failure(failure: Failure): string;
  words: Words;
}

/** Words for one reader, without a hook: for plain functions that are handed a `Say`. */
export function sayTo(reader: Reader): Say {
  const speak = <K extends TextKey>(key: K, ...given: GivenOf<K> extends undefined ? [] : [given: GivenOf<K>]) =>
    say(reader, key, ...given);
  return Object.assign(speak, {
    fact: (told: { key: string; given?: unknown }) => sayFact(reader, told),
    failure: (failure: Failure) => sayFailure(reader, failure),
    words: wordsFor(reader.language, reader.units),
  });
}

export function useSay(): Say {
  const reader = useReader();
  return useMemo(() => sayTo(reader), [reader]);
}
