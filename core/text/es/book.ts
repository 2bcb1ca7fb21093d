import type { book as english } from '../en/book.ts';
import type { SameAs } from '../room.ts';

export const book: SameAs<typeof english> = {};
