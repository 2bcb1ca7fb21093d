import type { shell as english } from '../en/shell.ts';
import type { SameAs } from '../room.ts';

export const shell: SameAs<typeof english> = {};
