import type { z } from 'zod';
import type { Unfit, UnfitInput, Wanted } from '../text/input-facts.ts';

type Issue = z.core.$ZodIssue;

/** What a field should be, by the schema's name for it. */
const KINDS: Record<string, Wanted> = {
  string: 'text',
  number: 'number',
  int: 'whole',
  boolean: 'boolean',
  array: 'list',
  object: 'object',
  record: 'object',
  null: 'empty',
  date: 'date',
};

/** A finding of a schema as a fact: which field, what is wrong, what is allowed. */
export function unfitOf(issue: Issue, moreIssues: number): { told: UnfitInput; field: string | undefined } {
  const field = issue.path.map(String).join('.').slice(0, 200);
  return {
    told: { field: field === '' ? null : printable(field), unfit: predicate(issue), more: moreIssues },
    field: field === '' ? undefined : field,
  };
}

function predicate(issue: Issue): Unfit {
  switch (issue.code) {
    case 'invalid_type': {
      const wanted = KINDS[issue.expected] ?? 'other';
      return { is: issue.input === undefined && /received undefined/.test(issue.message) ? 'missing' : 'kind', wanted };
    }
    case 'too_small':
      if (own(issue.message)) return { is: 'own', says: issue.message };
      if (issue.origin === 'string') return { is: 'short', count: Number(issue.minimum) };
      if (issue.origin === 'array' || issue.origin === 'set') return { is: 'few', count: Number(issue.minimum) };
      return { is: issue.inclusive === false ? 'above' : 'at-least', value: String(issue.minimum) };
    case 'too_big':
      if (own(issue.message)) return { is: 'own', says: issue.message };
      if (issue.origin === 'string') return { is: 'long', count: Number(issue.maximum) };
      if (issue.origin === 'array' || issue.origin === 'set') return { is: 'many', count: Number(issue.maximum) };
      return { is: issue.inclusive === false ? 'below' : 'at-most', value: String(issue.maximum) };
    case 'invalid_value':
      return { is: 'one-of', names: issue.values.map(String) };
    case 'invalid_union': {
      const discriminator = (issue as { discriminator?: string }).discriminator;
      return discriminator ? { is: 'no-known', field: discriminator } : { is: 'no-form' };
    }
    case 'unrecognized_keys':
      return { is: 'unknown-fields', names: issue.keys.map((key) => printable(key)) };
    case 'invalid_key':
      return { is: 'bad-field-name' };
    default:
      return own(issue.message) ? { is: 'own', says: issue.message } : { is: 'malformed' };
  }
}

/** Our own messages are written as predicates; the library's are not shown. */
const own = (message: string): boolean => /^(must|may)\b/.test(message);

/** Names come from outside: control characters would break the one line a sentence is. */
function printable(text: string): string {
  return text.slice(0, 80).replace(/[\p{C}\p{Zl}\p{Zp}]/gu, '·');
}
