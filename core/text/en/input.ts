import { rangeOf, type Unfit, type UnfitInput, type Wanted } from '../input-facts.ts';
import type { Room } from '../room.ts';
import { rangeIn, type Words } from '../words.ts';

const WANTED: Record<Wanted, string> = {
  text: 'text',
  number: 'a number',
  whole: 'a whole number',
  boolean: 'true or false',
  list: 'a list',
  object: 'an object with named fields',
  empty: 'empty (null)',
  date: 'a date',
  other: 'of another kind',
};

function predicate(words: Words, unfit: Unfit): string {
  switch (unfit.is) {
    case 'missing':
      return `is missing: it must be ${WANTED[unfit.wanted]}`;
    case 'kind':
      return `must be ${WANTED[unfit.wanted]}`;
    case 'short':
      return `must have at least ${words.plural(unfit.count, { one: '# character', other: '# characters' })}`;
    case 'long':
      return `must have at most ${words.plural(unfit.count, { one: '# character', other: '# characters' })}`;
    case 'few':
      return `must hold at least ${words.plural(unfit.count, { one: '# item', other: '# items' })}`;
    case 'many':
      return `must hold at most ${words.plural(unfit.count, { one: '# item', other: '# items' })}`;
    case 'at-least':
      return `must be at least ${unfit.value}`;
    case 'above':
      return `must be above ${unfit.value}`;
    case 'at-most':
      return `must be at most ${unfit.value}`;
    case 'below':
      return `must be below ${unfit.value}`;
    case 'one-of':
      return `must be one of: ${unfit.names.join(', ')}`;
    case 'unknown-fields':
      return `has fields nobody knows: ${unfit.names.join(', ')}`;
    case 'no-known':
      return `must carry a known “${unfit.field}”`;
    case 'no-form':
      return 'fits none of the forms it may have';
    case 'bad-field-name':
      return 'has a field name that is not allowed';
    case 'malformed':
      return 'is not of the form it must have';
    case 'own':
      return own(words, unfit.says);
  }
}

function own(words: Words, says: string): string {
  const range = words.units === 'us' ? null : rangeOf(says);
  return range === null ? says : `must be ${rangeIn(words, range, 'to')}`;
}

export const input = {
  'input.unfit': (words, given: UnfitInput) =>
    `${given.field === null ? 'The input' : `“${given.field}”`} ${predicate(words, given.unfit)}.${given.more > 0 ? ` (And ${given.more} more.)` : ''}`,
  'input.own': (words, given: { says: string }) => own(words, given.says),
} satisfies Room;
