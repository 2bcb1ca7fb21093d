/** Volumes out of a pasted list or table. A comma parts two cans, unless others part them and each comma has one digit after it: then it is a decimal sign. */
export function volumesIn(text: string): string[] {
  const parts = text.trim().split(/[\s;]+/);
  const isDecimal = parts.length > 1 && parts.every((part) => !part.includes(',') || /^\d+,\d$/.test(part));
  return (isDecimal ? parts.map((part) => part.replace(',', '.')) : text.split(/[\s,;]+/)).filter(
    (part) => part !== '',
  );
}

/** A typed volume in mL; null = nothing typed, NaN = no volume. */
export function readVolume(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  if (plain === '') return null;
  const value = Number(plain);
  return Number.isFinite(value) && value >= 0 && value <= 5000 ? value : Number.NaN;
}
