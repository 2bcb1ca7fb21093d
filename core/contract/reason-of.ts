import { fact, type Fact } from '../text/say.ts';

/** A schema's finding in the words of a list: our own messages as they are, the library's in plain ones. */
export function reasonOf(issue: { code?: string; message: string; minimum?: unknown; maximum?: unknown }): Fact {
  if (/^(must|may)\b/.test(issue.message)) return fact('input.own', { says: issue.message });
  if (issue.code === 'too_small') return fact('input.own', { says: `must be at least ${String(issue.minimum)}` });
  if (issue.code === 'too_big') return fact('input.own', { says: `must be at most ${String(issue.maximum)}` });
  return fact('import.why.malformed');
}
