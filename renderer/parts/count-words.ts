/** A counter's name in words: 'ledgerEntries' or 'ledger_entry' → "ledger entries", "ledger entry". */
export function countWords(name: string): string {
  return name.replace(/([a-z])([A-Z])/g, '$1 $2').replaceAll(/[_-]/g, ' ').toLowerCase();
}
