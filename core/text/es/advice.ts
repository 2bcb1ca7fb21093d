import type { advice as english } from '../en/advice.ts';
import type { SameAs } from '../room.ts';

export const advice: SameAs<typeof english> = {};
