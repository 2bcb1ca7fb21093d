import { sayFact, type Reader } from './say.ts';

/**
 * What Valvebook itself writes into a book's free texts (who made a revision, why something was taken back): always these
 * words, whoever's screen wrote them, and said to each reader in their own language. What somebody typed stays as typed.
 */
export const STORED = {
  office: 'office',
  import: 'import',
  changedOnSite: 'changed on site',
  workVoided: 'Nothing was done: the work logged for it was declared void.',
  undoneAfterSaving: 'undone right after saving',
  bookingTakenBack: 'booking taken back',
  revisionTakenBack: 'taken back',
  acceptanceTakenBack: 'Acceptance of a program review taken back',
  testTakenBack: 'Catch-can test taken back',
} as const;

const IDS = new Map<string, string>(Object.entries(STORED).map(([id, text]) => [text, id]));

/** A stored text to one reader: said in their language where Valvebook wrote it, else as it stands. */
export function sayStored(reader: Reader, text: string): string {
  const id = IDS.get(text);
  return id === undefined ? text : sayFact(reader, { key: `stored.${id}` });
}

/** A text on its way into a book: what Valvebook offered in the reader's language, and the reader left so, is kept as its own words. */
export function keepStored(reader: Reader, text: string): string {
  for (const [own, id] of IDS) if (text === sayFact(reader, { key: `stored.${id}` })) return own;
  return text;
}
