import { expect, test } from 'vitest';
import { afterWords } from '../../renderer/parts/after-words.ts';

// What a form says of its visit before it is saved; that the book then does so is held in tests/desk/effects.test.ts.

test.each([
  [{ kind: 'repair', state: 'planned' }, ['not-done'], /^The visit is not closed: it stays to be booked again\.$/],
  [{ kind: 'repair', state: 'planned' }, ['not-done', 'winterization'], /^The visit is not closed: it stays/],
  [{ kind: 'winterization', state: 'planned' }, ['not-done'], /booked again, unless its winterization is logged/],
  [
    { kind: 'winterization', state: 'planned' },
    ['not-done', 'winterization'],
    /closed all the same: the winterization/,
  ],
  [{ kind: 'start-up', state: 'planned' }, ['start-up'], /closed all the same: the start-up/],
  [{ kind: 'repair', state: 'done' }, ['not-done'], /^The visit is done already/],
  [null, ['not-done'], /^No visit is named/],
  [{ kind: 'repair', state: 'planned' }, ['repair'], /^Untick when more follows$/],
] as const)('of %o with %o', (visit, kinds, said) => {
  expect(afterWords(visit, kinds, true)).toMatch(said);
});
