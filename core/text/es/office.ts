import type { office as english } from '../en/office.ts';
import type { SameAs } from '../room.ts';

export const office: SameAs<typeof english> = {};
