import type { parts as english } from '../en/parts.ts';
import type { SameAs } from '../room.ts';

export const parts: SameAs<typeof english> = {
  'parts.undo': 'Deshacer',
  'parts.zones': (words, given) => words.plural(given.count, { one: '# zona', other: '# zonas' }),
};
