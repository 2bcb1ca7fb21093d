/** A counter's name beside its figure: 1 client, 8 technicians, 3 ledger entries. */
export function countedWords(name: string, count: number): string {
  const words = countWords(name);
  return count === 1 || words.endsWith('s')
    ? words
    : words.endsWith('y') && !words.endsWith('day')
      ? `${words.slice(0, -1)}ies`
      : `${words}s`;
}

/** A counter's name in words: 'ledgerEntries' or 'ledger_entry' → "ledger entries", "ledger entry". */
export function countWords(name: string): string {
  return name
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .replaceAll(/[_-]/g, ' ')
    .toLowerCase();
}
