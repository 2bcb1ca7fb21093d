import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

/** What a field should be, in a person's words. */
const KINDS: Record<string, string> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object with named fields',
  record: 'an object with named fields',
  null: 'empty (null)',
  date: 'a date',
};

/** A finding of a schema as one sentence: which field, what is wrong, what is allowed. */
export function sentenceOf(issue: Issue, moreIssues: number): { sentence: string; field: string | undefined } {
  const field = issue.path.map(String).join('.').slice(0, 200);
  const subject = field === '' ? 'The input' : `“${printable(field)}”`;
  const more = moreIssues > 0 ? ` (And ${moreIssues} more.)` : '';
  return { sentence: `${subject} ${predicate(issue)}.${more}`, field: field === '' ? undefined : field };
}

function predicate(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type': {
      const wanted = KINDS[issue.expected] ?? 'of another kind';
      if (issue.input === undefined && /received undefined/.test(issue.message))
        return `is missing: it must be ${wanted}`;
      return `must be ${wanted}`;
    }
    case 'too_small':
      if (own(issue.message)) return own(issue.message)!;
      if (issue.origin === 'string') return `must have at least ${count(issue.minimum, 'character')}`;
      if (issue.origin === 'array' || issue.origin === 'set')
        return `must hold at least ${count(issue.minimum, 'item')}`;
      return `must be ${issue.inclusive === false ? 'above' : 'at least'} ${issue.minimum}`;
    case 'too_big':
      if (own(issue.message)) return own(issue.message)!;
      if (issue.origin === 'string') return `must have at most ${count(issue.maximum, 'character')}`;
      if (issue.origin === 'array' || issue.origin === 'set')
        return `must hold at most ${count(issue.maximum, 'item')}`;
      return `must be ${issue.inclusive === false ? 'below' : 'at most'} ${issue.maximum}`;
    case 'invalid_value':
      return `must be one of: ${issue.values.map(String).join(', ')}`;
    case 'invalid_union': {
      const discriminator = (issue as { discriminator?: string }).discriminator;
      return discriminator ? `must carry a known “${discriminator}”` : 'fits none of the forms it may have';
    }
    case 'unrecognized_keys':
      return `has fields nobody knows: ${issue.keys.map((key) => printable(key)).join(', ')}`;
    case 'invalid_key':
      return 'has a field name that is not allowed';
    default:
      return own(issue.message) ?? 'is not of the form it must have';
  }
}

/** Our own messages are written as predicates; the library's are not shown. */
function own(message: string): string | null {
  return /^(must|may)\b/.test(message) ? message : null;
}

function count(n: number | bigint, noun: string): string {
  return `${n} ${noun}${Number(n) === 1 ? '' : 's'}`;
}

/** Names come from outside: control characters would break the one line a sentence is. */
function printable(text: string): string {
  return text.slice(0, 80).replace(/[\p{C}\p{Zl}\p{Zp}]/gu, '·');
}
