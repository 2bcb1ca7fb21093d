import type { calendar as english } from '../en/calendar.ts';
import type { SameAs } from '../room.ts';

export const calendar: SameAs<typeof english> = {};
