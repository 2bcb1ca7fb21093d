import type { property as english } from '../en/property.ts';
import type { SameAs } from '../room.ts';

export const property: SameAs<typeof english> = {};
