import type { errors as english } from '../en/errors.ts';
import type { SameAs } from '../room.ts';

export const errors: SameAs<typeof english> = {};
