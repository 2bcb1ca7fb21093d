import type { imports as english } from '../en/import.ts';
import type { SameAs } from '../room.ts';

export const imports: SameAs<typeof english> = {};
