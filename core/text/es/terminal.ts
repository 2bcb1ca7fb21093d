import type { terminal as english } from '../en/terminal.ts';
import type { SameAs } from '../room.ts';

export const terminal: SameAs<typeof english> = {};
