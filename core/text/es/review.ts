import type { review as english } from '../en/review.ts';
import type { SameAs } from '../room.ts';

export const review: SameAs<typeof english> = {};
