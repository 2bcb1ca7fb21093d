import { expect, test } from 'vitest';
import { sayingHowFar } from '../../electron/how-far.ts';

test('a start says a line when something begins and one for every tenth of it', () => {
  const said: string[] = [];
  const progress = sayingHowFar((text) => said.push(text));
  for (const label of ['Copying the book', 'Bringing the book up to date'])
    for (let done = 0; done <= 5000; done += 7) progress({ done, total: 5000, label });
  progress({ done: 0, total: 0, label: 'Looking at the copy' });
  expect(said).toHaveLength(2 * 10 + 1);
  expect(said.slice(0, 3)).toEqual(['Copying the book …', 'Copying the book: 10 %', 'Copying the book: 20 %']);
  expect(said.at(-1)).toBe('Looking at the copy …');
});
