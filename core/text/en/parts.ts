import type { Room } from '../room.ts';

export const parts = {
  'parts.undo': 'Undo',
  'parts.zones': (words, given: { count: number }) => words.plural(given.count, { one: '# zone', other: '# zones' }),
} satisfies Room;
