import type { company as english } from '../en/company.ts';
import type { SameAs } from '../room.ts';

export const company: SameAs<typeof english> = {};
