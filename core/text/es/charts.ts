import type { charts as english } from '../en/charts.ts';
import type { SameAs } from '../room.ts';

export const charts: SameAs<typeof english> = {};
