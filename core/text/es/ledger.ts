import type { ledger as english } from '../en/ledger.ts';
import type { SameAs } from '../room.ts';

export const ledger: SameAs<typeof english> = {};
