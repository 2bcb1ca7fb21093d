import type { reviewProgram as english } from '../en/review-program.ts';
import type { SameAs } from '../room.ts';

export const reviewProgram: SameAs<typeof english> = {};
