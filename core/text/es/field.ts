import type { field as english } from '../en/field.ts';
import type { SameAs } from '../room.ts';

export const field: SameAs<typeof english> = {};
